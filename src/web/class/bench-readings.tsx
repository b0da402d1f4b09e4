import { useState } from 'react';
import type { BuildFacts } from '../../course/build-facts.ts';
import { judgeReading, limitsInBuild, readingNumber } from '../../course/build-sheet.ts';
import { type ClassState, planOf } from '../../course/class-state.ts';
import type { OutsideReading } from '../../course/tonight.ts';
import { capital } from '../../quantity/words.ts';
import type { PlannedOperation } from '../../route/planned-route.ts';
import type { Reading } from '../../route/route-types.ts';
import { bandOf, Gate } from '../parts/gate.tsx';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import type { BuildComputed } from './build-context.ts';
import { operationName } from './class-names.ts';
import { Keypad } from './keypad.tsx';
import { keptVerdict, parseReading, readingText, typedUnit } from './parse-reading.ts';
import { Rescues } from './rescues.tsx';

interface ReadingsProps {
  readonly state: ClassState;
  readonly build: string;
  readonly facts: BuildFacts;
  readonly planned: PlannedOperation;
  readonly computed: BuildComputed;
  readonly canWrite: boolean;
  readonly isTeacher: boolean;
}

/** Readings of a step: those that feed a computation or a hold point are asked, the rest wait behind "more". */
export function BenchReadings(props: ReadingsProps) {
  const { planned, computed } = props;
  const own = planned.op.readings.filter(
    (r) => !r.instruments || r.instruments.includes(computed.pattern.instrument),
  );
  const asked = own.filter((r) => r.need !== 'may' && r.kind !== 'record' && !r.computed);
  const more = own.filter((r) => !asked.includes(r) && !r.computed);
  if (own.length === 0) return null;
  return (
    <section className="readings">
      <h2 className="hd">Readings</h2>
      {asked.map((r) => (
        <OneReading key={r.id} {...props} reading={r} />
      ))}
      {more.length > 0 && (
        <details>
          <summary>More readings, if you like ({more.length})</summary>
          {more.map((r) => (
            <OneReading key={r.id} {...props} reading={r} />
          ))}
        </details>
      )}
    </section>
  );
}

/** Readings of steps that lie behind, outside their limits and not decided on: each with its rescues. */
export function OutsideReadings(
  props: Omit<ReadingsProps, 'planned'> & { readonly outside: readonly OutsideReading[] },
) {
  const { state, facts, outside, isTeacher } = props;
  return (
    <section className="outside" aria-label="Outside its limits">
      <h2 className="hd">{isTeacher ? 'To decide' : 'Outside its limits: stop here and ask the teacher'}</h2>
      {outside.map((o) => {
        const planned = planOf(state, facts).byId.get(o.op);
        const reading = planned?.op.readings.find((r) => r.id === o.reading);
        return planned && reading ? (
          <div key={o.reading}>
            <p className="q">{operationName(state, o.op)}</p>
            <OneReading {...props} planned={planned} reading={reading} />
          </div>
        ) : null;
      })}
    </section>
  );
}

function OneReading({
  state,
  build,
  facts,
  planned,
  computed,
  canWrite,
  isTeacher,
  reading,
}: ReadingsProps & { readonly reading: Reading }) {
  const limits = limitsInBuild(computed.judge, reading);
  const unit = computed.judge.lengthUnit;
  const kept = facts.readings.get(reading.id) ?? [];
  const spots = reading.spots ? reading.spots.names.slice(0, reading.spots.default) : [];
  const open = spots.find((s) => !kept.some((k) => k.spot === s));
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const value = readingNumber(reading, kept);
  const draft = text === '' ? undefined : parseReading(reading, limits, text, unit);
  const shown = draft && 'value' in draft ? draft.value : value;
  const verdict = shown === undefined ? undefined : judgeReading(computed.judge, reading, shown);
  const isAsked = canWrite && (kept.length === 0 || open !== undefined || text !== '');
  const handIn = async () => {
    const read = parseReading(reading, limits, text, unit);
    if ('says' in read) {
      setSays(read.says);
      return;
    }
    const judged = judgeReading(computed.judge, reading, read.value);
    await enter([
      {
        stream: `build:${build}`,
        kind: 'reading',
        body: {
          op: planned.op.id,
          reading: reading.id,
          value: read.value,
          unit: reading.unit,
          said: text,
          ...(open === undefined ? {} : { spot: open }),
          ...(reading.toolId ? { tool: reading.toolId } : {}),
          ...(judged ? { verdict: keptVerdict(judged) } : {}),
        },
      },
    ]);
    setText('');
    setSays('');
  };
  const tick = () =>
    enter([
      {
        stream: `build:${build}`,
        kind: 'reading',
        body: { op: planned.op.id, reading: reading.id, said: 'checked' },
      },
    ]);
  return (
    <div className="one-reading" data-reading={reading.id}>
      <h3 className="nm">
        {capital(reading.name)}{' '}
        <span className="q">{[reading.tool, typedUnit(reading, unit)].filter(Boolean).join(', ')}</span>
      </h3>
      {reading.kind === 'check' ? (
        <button
          type="button"
          className="btn"
          disabled={!canWrite || kept.length > 0}
          onClick={() => void tick()}
        >
          {kept.length > 0 ? 'Checked' : (reading.expected ?? 'Checked')}
        </button>
      ) : (
        <>
          {open !== undefined && (
            <p className="q">
              Spot {spots.indexOf(open) + 1} of {spots.length}: {open}
            </p>
          )}
          {verdict && (verdict.low !== undefined || verdict.high !== undefined) && (
            <>
              <Gate
                value={verdict.value}
                hard={bandOf(verdict.low, verdict.high)}
                soft={bandOf(verdict.softLow, verdict.softHigh)}
                state={verdict.state}
                label={verdict.words}
              />
              <p className={`says${verdict.state === 'broken' ? ' bad' : ''}`} role="status">
                {verdict.words}
              </p>
            </>
          )}
          {isAsked ? (
            <Keypad
              value={text}
              label={`${reading.name}, ${typedUnit(reading, unit)}`}
              canBeNegative={(limits.hard.low ?? 0) < 0 || limits.hard.low === undefined}
              isInches={typedUnit(reading, unit) === 'in'}
              onChange={(t) => {
                setText(t);
                setSays('');
              }}
              onDone={() => void handIn()}
              doneWords={text === '' ? 'Hand in' : `Hand in ${text}`}
            />
          ) : (
            canWrite && (
              <button
                type="button"
                className="btn sm"
                onClick={() => setText(value === undefined ? '' : readingText(reading, value, unit))}
              >
                Read it again
              </button>
            )
          )}
          <Says words={says} isFault />
          {value !== undefined && (
            <Rescues
              state={state}
              build={build}
              facts={facts}
              computed={computed}
              op={planned.op.id}
              reading={reading}
              value={value}
              canDecide={isTeacher}
            />
          )}
        </>
      )}
    </div>
  );
}
