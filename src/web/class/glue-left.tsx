import { useState } from 'react';
import type { ShopFacts } from '../../course/shop-facts.ts';
import { HOUR_MS } from '../../quantity/time.ts';
import { type Glue, glueLeft, glues, glueTimes } from '../../route/glues.ts';
import { clock } from './clock-words.ts';
import { useCourse } from './use-course.ts';

const KEY = 'bracewright-glue';
const FRESH_MS = 6 * HOUR_MS;

/** The glue last picked on this device. */
function rememberedGlue(): Glue {
  const usual = glues[0] as Glue;
  try {
    return glues.find((g) => g.id === localStorage.getItem(KEY)) ?? usual;
  } catch {
    return usual;
  }
}

function rememberGlue(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // it is asked again on the next page
  }
}

/** Temperature of the room as last read, unless that is long ago. */
function roomC(shop: ShopFacts | undefined, nowMs: number): number | undefined {
  const last = shop?.climate.findLast((c) => c.tempC !== undefined);
  const isFresh = last !== undefined && nowMs - last.atMs < FRESH_MS;
  return isFresh && last.tempC !== undefined && last.tempC >= -10 && last.tempC <= 45
    ? last.tempC
    : undefined;
}

const minutes = (min: number): string => (min < 2 ? min.toFixed(1) : String(Math.floor(min)));

/** Which glue, how long it stays open in this room, and the minutes left since it went on. */
export function GlueLeft({ glueMs, nowMs }: { readonly glueMs: number | undefined; readonly nowMs: number }) {
  const { state } = useCourse();
  const [glue, pick] = useState(rememberedGlue);
  const tempC = roomC(state?.shop, nowMs);
  const times = glueTimes(glue, tempC);
  const left = glueMs === undefined ? undefined : glueLeft(times, nowMs - glueMs);
  return (
    <div className="glue-left">
      <label>
        Glue{' '}
        <select
          className="pick"
          value={glue.id}
          onChange={(e) => {
            rememberGlue(e.target.value);
            pick(glues.find((g) => g.id === e.target.value) ?? glue);
          }}
        >
          {glues.map((g) => (
            <option key={g.id} value={g.id}>
              {g.name}
            </option>
          ))}
        </select>
      </label>
      <p>
        Parts together within {minutes(times.openMin)} min, clamps closed by {minutes(times.closeByMin)} min,{' '}
        {tempC === undefined ? 'at 20 °C: the room was not read' : `at ${tempC} °C as read in the room`} (
        {glue.note}). Common practice; the label of your glue comes first.
      </p>
      {times.says && <p className="says bad">{times.says}</p>}
      {left && glueMs !== undefined && (
        <p className={`says${left.stage === 'over' ? ' bad' : ''}`} role="status">
          {left.stage === 'open'
            ? `On since ${clock(glueMs)}: ${left.leftMin} min left to bring the parts together.`
            : left.stage === 'closing'
              ? `On since ${clock(glueMs)}: ${left.leftMin} min left to close the clamps.`
              : `On since ${clock(glueMs)}: the time to close is over. Not closed yet? Take it apart, clean both faces, ask for the teacher.`}
        </p>
      )}
    </div>
  );
}
