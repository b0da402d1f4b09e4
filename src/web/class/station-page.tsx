import { useState } from 'react';
import { Link } from 'wouter';
import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { type StationBatch, stationBatch } from '../../course/station-batch.ts';
import { opening, sessionFromMs } from '../../course/tonight.ts';
import { isFinding } from '../../quantity/finding.ts';
import { parseLength } from '../../quantity/length.ts';
import { capital } from '../../quantity/words.ts';
import { apart } from '../../settings/make-setting.ts';
import { usePreferences } from '../frame/preferences.ts';
import { measuredText } from '../parts/amount-text.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import { doneStep, shopStream } from './acts.ts';
import { BenchSettings } from './bench-settings.tsx';
import { useBrightPaper } from './bright-paper.ts';
import { patternOfBuild, useBuildComputed } from './build-context.ts';
import { buildName, operationName, placeName } from './class-names.ts';
import { DemoMark } from './demo-mark.tsx';
import { NoCourse } from './no-course.tsx';
import './station.css';
import { ProveOffset } from './prove-offset.tsx';
import { useCourse } from './use-course.ts';

/** A tablet at the machine: the number now, what is fed, one touch for the next. */
export function StationPage({ station }: { readonly station: string }) {
  const course = useCourse();
  useBrightPaper();
  if (course.record.state === 'loading') return <main id="main" className="station" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  return <AtStation state={course.state} station={station} nowMs={course.nowMs} isDemo={course.isDemo} />;
}

function AtStation({
  state,
  station,
  nowMs,
  isDemo,
}: {
  readonly state: ClassState;
  readonly station: string;
  readonly nowMs: number;
  readonly isDemo: boolean;
}) {
  const known = state.route.stations.find((s) => s.id === station);
  const view = opening(state, nowMs);
  const sinceMs = sessionFromMs(view.session, nowMs);
  const lists = [...view.batches, ...view.catchUp].filter((b) => b.station === station);
  const [picked, pick] = useState(0);
  const list = lists[Math.min(picked, lists.length - 1)];
  const batch = list
    ? stationBatch(state, station, list.op, list.builds, sinceMs, (f) => patternOfBuild(state, f))
    : undefined;
  if (!known)
    return (
      <main id="main" className="station" data-state="empty">
        <p className="says bad">There is no station under that address; go back to the board.</p>
        <Link className="btn" href="/session">
          To the board
        </Link>
      </main>
    );
  return (
    <main id="main" className="station" data-state="ready">
      <header>
        <h1>
          {capital(known.name)} <DemoMark isDemo={isDemo} />
        </h1>
        {known.protect.length > 0 && (
          <p className="q">
            Wear: {known.protect.join(', ')}. The shop’s own rules and the maker’s manual come first.
          </p>
        )}
        {lists.length > 1 && (
          <div className="picks">
            {lists.map((l, i) => (
              <button
                key={`${l.op}${l.part}${l.isCatchUp}`}
                type="button"
                className="pick-name"
                aria-pressed={l === list}
                onClick={() => pick(i)}
              >
                {operationName(state, l.op)}
                {l.isCatchUp ? ', catch-up' : ''}
              </button>
            ))}
          </div>
        )}
      </header>
      {!list && <p className="what">Nobody’s next step is at the {placeName(state, station)} just now.</p>}
      {batch && isFinding(batch) && <p className="says bad">{batch.text}</p>}
      {list && batch && !isFinding(batch) && (
        <Passes state={state} station={station} part={list.part} batch={batch} isDemo={isDemo} />
      )}
      {list && !batch && <PlainStation state={state} op={list.op} part={list.part} builds={list.builds} />}
      <ul className="cautions">
        {known.cautions.map((c) => (
          <li key={c}>{c}.</li>
        ))}
      </ul>
      {station === 'thickness-sander' && <ProveOffset state={state} station={station} isDemo={isDemo} />}
    </main>
  );
}

function Passes({
  state,
  station,
  part,
  batch,
  isDemo,
}: {
  readonly state: ClassState;
  readonly station: string;
  readonly part: string;
  readonly batch: StationBatch;
  readonly isDemo: boolean;
}) {
  const { largeUnit } = usePreferences();
  const step = batch.steps[batch.now];
  const next = batch.steps[batch.now + 1];
  const set = (typeMm: number) =>
    enter([
      {
        stream: shopStream(isDemo),
        kind: 'station-set',
        body: { station, setting: batch.op, value: typeMm, unit: 'mm' },
      },
    ]);
  const big = step ? apart(step.pass.text) : { text: '', unit: '' };
  // the machine's own unit is the large one; the other stands beside
  const other = big.unit === 'mm' ? 'in' : 'mm';
  const waiting = batch.plates.filter((p) => p.doneMm === undefined);
  return (
    <section className="passes" data-pass={batch.now}>
      <h2 className="nm">{operationName(state, batch.op)}</h2>
      {step ? (
        <>
          <p className="q">
            Type this, pass {batch.now + 1} of {batch.steps.length},{' '}
            {step.pass.face === 'inside' ? 'INSIDE up' : `face ${step.pass.face} up`}
          </p>
          <p className="now-number">
            <span className="number">{big.text}</span>
            <span className="unit">
              {big.unit}
              <span className="small">{measuredText(step.pass.typeMm, 'mm', other)}</span>
            </span>
          </p>
          <ol className="plates">
            {step.feed.map((id) => (
              <li key={id}>
                <strong>{buildName(state, id)}</strong>{' '}
                {measuredText(batch.plates.find((p) => p.id === id)?.thicknessMm ?? 0, 'mm', largeUnit)} at
                the start
              </li>
            ))}
          </ol>
          {step.wait.length > 0 && (
            <p className="q">
              Wait, they are thinner than this number:{' '}
              {step.wait.map((id) => buildName(state, id)).join(', ')}.
            </p>
          )}
          {step.out.map((o) => (
            <p key={o.id} className="says bad">
              Stop for {buildName(state, o.id)}: {o.reason}.
            </p>
          ))}
          <button type="button" className="btn go next-pass" onClick={() => void set(step.pass.typeMm)}>
            {next ? `Next pass: type ${next.pass.text}` : 'Last pass done: measure'}
          </button>
        </>
      ) : waiting.length > 0 ? (
        <Measured state={state} batch={batch} part={part} />
      ) : (
        <p className="what">All plates of this batch are measured.</p>
      )}
    </section>
  );
}

/** One typed thickness per plate at the end. */
function Measured({
  state,
  batch,
  part,
}: {
  readonly state: ClassState;
  readonly batch: StationBatch;
  readonly part: string;
}) {
  const plate = batch.plates.find((p) => p.doneMm === undefined);
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const { largeUnit } = usePreferences();
  if (!plate) return null;
  const handIn = async () => {
    const read = parseLength(text, {
      unit: largeUnit,
      lowMm: batch.targetMm / 3,
      highMm: batch.targetMm * 3,
      what: `The thickness of ${buildName(state, plate.build)}`,
    });
    if (read.kind !== 'length') {
      setSays(read.text);
      return;
    }
    await enter([
      {
        stream: `build:${plate.build}`,
        kind: 'reading',
        body: {
          op: batch.op,
          reading: batch.reading.id,
          value: read.valueMm,
          unit: 'mm',
          said: text,
          ...(batch.reading.toolId ? { tool: batch.reading.toolId } : {}),
        },
      },
    ]);
    await doneStep(state, [plate.build], batch.op, part);
    setText('');
    setSays(
      read.valueMm < plate.lowMm
        ? `${buildName(state, plate.build)}: ${measuredText(read.valueMm, 'mm', largeUnit)} is under the low limit ${measuredText(plate.lowMm, 'mm', largeUnit)}. Stop and ask; the bench page has the rescue.`
        : '',
    );
  };
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        void handIn();
      }}
    >
      <p className="what">
        Thickness of <strong>{buildName(state, plate.build)}</strong>, {largeUnit}, at the thinnest spot by
        the bridge
      </p>
      <input
        className="fld huge"
        inputMode="decimal"
        autoComplete="off"
        aria-label={`Thickness of ${buildName(state, plate.build)}, ${largeUnit}`}
        value={text}
        onChange={(e) => setText(e.target.value)}
      />
      <Says words={says} isFault />
      <button type="submit" className="btn go next-pass" disabled={text.trim() === ''}>
        {text.trim() === '' ? 'Hand in' : `Hand in ${text}`}
      </button>
    </form>
  );
}

/** A station without passes: its settings and one gesture that marks the step done for those in the batch. */
function PlainStation({
  state,
  op,
  part,
  builds,
}: {
  readonly state: ClassState;
  readonly op: string;
  readonly part: string;
  readonly builds: readonly string[];
}) {
  const facts = state.builds.get(builds[0] ?? '');
  if (!facts) return null;
  return (
    <section className="passes">
      <h2 className="nm">{operationName(state, op)}</h2>
      <Cards state={state} facts={facts} op={op} />
      <ol className="plates">
        {builds.map((b) => (
          <li key={b}>
            <strong>{buildName(state, b)}</strong>
            <button type="button" className="btn" onClick={() => void doneStep(state, [b], op, part)}>
              Done
            </button>
          </li>
        ))}
      </ol>
      <button
        type="button"
        className="btn go next-pass"
        onClick={() => void doneStep(state, builds, op, part)}
      >
        Done for all {builds.length}
      </button>
    </section>
  );
}

function Cards({
  state,
  facts,
  op,
}: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly op: string;
}) {
  const { cards } = useBuildComputed(state, facts);
  return (
    <BenchSettings cards={cards.filter((c) => c.operations.includes(op))} unit={shopOfCourse(state).unit} />
  );
}
