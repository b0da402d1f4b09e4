import type { BuildFacts, ReadingFact } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { capital } from '../../quantity/words.ts';
import { readingOf } from '../../route/reading-of.ts';
import { operationName } from '../class/class-names.ts';
import { when } from '../class/clock-words.ts';
import { usePreferences } from '../frame/preferences.ts';
import { measuredText } from '../parts/amount-text.ts';
import { bandOf, Gate, GateMark, stateWords } from '../parts/gate.tsx';

/** Readings of a build as gates, each with the verdict that was shown when it was read. */
export function KeptReadings(props: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly nowMs: number;
}) {
  const { state, facts, nowMs } = props;
  const all = [...facts.readings.values()].flat().sort((a, b) => a.atMs - b.atMs);
  const ops = [...new Set(all.map((r) => r.op))].reverse();
  const outside = all.filter((r) => r.verdict?.state === 'broken').length;
  return (
    <section>
      <h2 className="hd">
        Readings <span className="q">{all.length} kept</span>
      </h2>
      {all.length === 0 && <p>Nothing read yet.</p>}
      {outside > 0 && <p>{outside} were outside their limits when they were read.</p>}
      {ops.map((op, i) => (
        <OneOperation
          key={op}
          state={state}
          op={op}
          list={all.filter((r) => r.op === op)}
          nowMs={nowMs}
          isOpen={i === 0}
        />
      ))}
    </section>
  );
}

function OneOperation(props: {
  readonly state: ClassState;
  readonly op: string;
  readonly list: readonly ReadingFact[];
  readonly nowMs: number;
  readonly isOpen: boolean;
}) {
  const { state, op, list, nowMs, isOpen } = props;
  const found = worst(list);
  return (
    <details open={isOpen}>
      <summary>
        {operationName(state, op)} <span className="q">{list.length}</span>
        {found && (
          <>
            {' '}
            <GateMark state={found} /> {stateWords[found]}
          </>
        )}
      </summary>
      <ul className="kept-readings">
        {list.map((r) => (
          <li key={r.event}>
            <OneReading state={state} reading={r} nowMs={nowMs} />
          </li>
        ))}
      </ul>
    </details>
  );
}

/** The worst verdict that is not met. */
function worst(list: readonly ReadingFact[]): 'doubtful' | 'broken' | undefined {
  const states = list.map((r) => r.verdict?.state);
  return states.includes('broken') ? 'broken' : states.includes('doubtful') ? 'doubtful' : undefined;
}

function OneReading(props: {
  readonly state: ClassState;
  readonly reading: ReadingFact;
  readonly nowMs: number;
}) {
  const { state, reading: r, nowMs } = props;
  const name = readingOf(state.route, r.reading)?.name ?? r.reading;
  const tool = state.route.measuringTools.find((t) => t.id === r.tool)?.name;
  const { largeUnit } = usePreferences();
  const v = r.verdict;
  return (
    <>
      <p>
        {capital(name)}
        {r.spot ? `, ${r.spot}` : ''}:{' '}
        <strong className="n">
          {r.value === undefined ? (r.said ?? 'checked') : measuredText(r.value, r.unit ?? '', largeUnit)}
        </strong>
        <span className="q">
          {tool ? `, ${tool}` : ''}, {when(r.atMs, nowMs)}
        </span>
      </p>
      {v && r.value !== undefined && (
        <Gate
          value={r.value}
          hard={bandOf(v.low, v.high)}
          soft={bandOf(v.softLow, v.softHigh)}
          state={v.state}
          label={v.words}
        />
      )}
      {v && (
        <p className="q2 verdict">
          <GateMark state={v.state} /> {v.words}
        </p>
      )}
    </>
  );
}
