import { useState } from 'react';
import { Link } from 'wouter';
import { judgeContext, judgeReading } from '../../course/build-sheet.ts';
import type { ClassState } from '../../course/class-state.ts';
import type { ShownVerdict } from '../../course/reading-verdict.ts';
import { platesNow, type StationBatch } from '../../course/station-batch.ts';
import { parseLength } from '../../quantity/length.ts';
import { sizesIn } from '../../quantity/print-length.ts';
import { apart } from '../../settings/make-setting.ts';
import { usePreferences } from '../frame/preferences.ts';
import { measuredText } from '../parts/amount-text.ts';
import { GateMark } from '../parts/gate.tsx';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import { doneStep, shopStream } from './acts.ts';
import { patternOfBuild } from './build-context.ts';
import { buildName, operationName } from './class-names.ts';
import { keptVerdict } from './parse-reading.ts';

/** What was handed in last, with its verdict. */
export interface HandedIn {
  readonly build: string;
  readonly words: string;
  readonly verdict: ShownVerdict | undefined;
}

interface PassesProps {
  readonly state: ClassState;
  readonly station: string;
  readonly part: string;
  readonly batch: StationBatch;
  readonly isDemo: boolean;
  readonly onHandedIn: (last: HandedIn) => void;
}

/** A batch at the sander: the number to type, what is fed at it, one touch for the next; the thicknesses at the end. */
export function StationPasses({ state, station, part, batch, isDemo, onHandedIn }: PassesProps) {
  const { largeUnit } = usePreferences();
  const [asDrawn, takeAsDrawn] = useState(false);
  const isBegun = batch.lastTypedMm !== undefined;
  const unknown = batch.plates.filter((p) => !p.isMeasured);
  if (!isBegun && !asDrawn && unknown.length > 0)
    return <FirstMeasure state={state} batch={batch} asDrawn={() => takeAsDrawn(true)} />;
  const step = batch.steps[batch.now];
  const next = batch.steps[batch.now + 1];
  const set = (typeMm: number) =>
    enter([
      {
        stream: shopStream(isDemo),
        kind: 'station-set',
        body: {
          station,
          setting: batch.op,
          value: typeMm,
          unit: 'mm',
          builds: batch.plates.map((p) => p.build),
        },
      },
    ]);
  const big = step ? apart(step.pass.text) : { text: '', unit: '' };
  // the machine's own unit is the large one; the other stands beside
  const other = big.unit === 'mm' ? 'in' : 'mm';
  return (
    <section className="passes" data-pass={batch.now}>
      <h2 className="nm">{operationName(state, batch.op)}</h2>
      {step ? (
        <>
          <p className="q">
            Type this, pass {batch.now + 1} of {batch.steps.length},{' '}
            {step.pass.face === 'inside' ? 'INSIDE up' : `face ${step.pass.face} up`}
          </p>
          {!isBegun && unknown.length > 0 && (
            <p className="says bad">
              Taken as drawn, not measured: {unknown.map((p) => buildName(state, p.build)).join(', ')}. A
              thicker plate gets too deep a first cut: open the machine wider until nothing touches, then come
              down.
            </p>
          )}
          <p className="now-number">
            <span className="number">{big.text}</span>
            <span className="unit">
              {big.unit}
              <span className="small">{sizesIn(other).one(step.pass.typeMm, 2)}</span>
            </span>
          </p>
          {step.out.map((o) => (
            <p key={o.id} className="says bad">
              Stop for {buildName(state, o.id)}: {o.reason}.
            </p>
          ))}
          <ol className="plates">
            {platesNow(batch).map((p) => (
              <li key={p.id}>
                <strong>{buildName(state, p.id)}</strong>
                <span>
                  {measuredText(p.nowMm, 'mm', largeUnit)} now,{' '}
                  {p.passesLeft === 1 ? 'last pass' : `${p.passesLeft} passes left`}
                </span>
              </li>
            ))}
          </ol>
          {step.wait.length > 0 && (
            <p className="q">
              Wait, they are thinner than this number:{' '}
              {step.wait.map((id) => buildName(state, id)).join(', ')}.
            </p>
          )}
          <button type="button" className="btn go next-pass" onClick={() => void set(step.pass.typeMm)}>
            {next ? `Next pass: type ${next.pass.text}` : 'Last pass done: measure'}
          </button>
        </>
      ) : (
        <Measured state={state} batch={batch} part={part} onHandedIn={onHandedIn} />
      )}
    </section>
  );
}

/** Plates whose thickness nobody has read: one question each before the first number. */
function FirstMeasure({
  state,
  batch,
  asDrawn,
}: Pick<PassesProps, 'state' | 'batch'> & { readonly asDrawn: () => void }) {
  const { largeUnit } = usePreferences();
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const plate = batch.plates.find((p) => !p.isMeasured);
  const { before } = batch;
  if (!plate || !before) return null;
  const name = buildName(state, plate.build);
  const drawn = sizesIn(largeUnit).one(plate.thicknessMm, 2);
  const keep = async () => {
    const read = parseLength(text, {
      unit: largeUnit,
      lowMm: plate.targetMm / 2,
      highMm: plate.targetMm * 4,
      what: `The thickness of ${name}`,
    });
    if (read.kind !== 'length') {
      setSays(read.text);
      return;
    }
    setText('');
    setSays('');
    const stream = `build:${plate.build}` as const;
    await enter([
      before.reading
        ? {
            stream,
            kind: 'reading',
            body: { op: before.op, reading: before.reading.id, value: read.valueMm, unit: 'mm', said: text },
          }
        : {
            stream,
            kind: 'own-figure-set',
            body: {
              figure: before.figure,
              value: read.valueMm,
              unit: 'mm',
              reason: 'measured before the first cut',
            },
          },
    ]);
  };
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        void keep();
      }}
    >
      <h2 className="nm">{operationName(state, batch.op)}</h2>
      <p className="what">
        How thick is <strong>{name}</strong> at its thickest place, {largeUnit}? Nobody has read it yet; drawn
        it is {drawn}.
      </p>
      <input
        className="fld huge"
        inputMode="decimal"
        autoComplete="off"
        aria-label={`Thickest place of ${name}, ${largeUnit}`}
        value={text}
        onChange={(e) => setText(e.target.value)}
      />
      <Says words={says} isFault />
      <button type="submit" className="btn go next-pass" disabled={text.trim() === ''}>
        {text.trim() === '' ? 'Type what the calliper shows' : `Keep ${text}`}
      </button>
      <button type="button" className="btn as-drawn" onClick={asDrawn}>
        Go on with what is drawn
      </button>
    </form>
  );
}

/** One typed thickness per plate at the end. */
function Measured({
  state,
  batch,
  part,
  onHandedIn,
}: Pick<PassesProps, 'state' | 'batch' | 'part' | 'onHandedIn'>) {
  const plate = batch.plates.find((p) => p.doneMm === undefined);
  const [text, setText] = useState('');
  const [says, setSays] = useState('');
  const { largeUnit } = usePreferences();
  const facts = plate && state.builds.get(plate.build);
  if (!plate || !facts) return <p className="what">All plates of this batch are measured.</p>;
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
    const { reading, op } = batch;
    const judge = judgeContext(
      state.route,
      patternOfBuild(state, facts),
      facts,
      [...state.builds.values()],
      largeUnit,
    );
    const verdict = judgeReading(judge, reading, read.valueMm);
    onHandedIn({ build: plate.build, words: measuredText(read.valueMm, 'mm', largeUnit), verdict });
    setText('');
    setSays('');
    await enter([
      {
        stream: `build:${plate.build}`,
        kind: 'reading',
        body: {
          op,
          reading: reading.id,
          value: read.valueMm,
          unit: 'mm',
          said: text,
          ...(reading.toolId ? { tool: reading.toolId } : {}),
          ...(verdict ? { verdict: keptVerdict(verdict) } : {}),
        },
      },
    ]);
    await doneStep(state, [plate.build], op, part);
  };
  return (
    <form
      onSubmit={(e) => {
        e.preventDefault();
        void handIn();
      }}
    >
      <p className="what">
        Thickness of <strong>{buildName(state, plate.build)}</strong>, {largeUnit}, at the thinnest spot
        {batch.op.startsWith('T') && ' by the bridge'}
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

/** The plate before: its verdict, and the way to its rescue. */
export function LastHandedIn({ state, build, words, verdict }: HandedIn & { readonly state: ClassState }) {
  const isBroken = verdict?.state === 'broken';
  return (
    <p className={isBroken ? 'says bad' : 'says'} role="status">
      {verdict && <GateMark state={verdict.state} />} {buildName(state, build)}: {verdict?.words ?? words}{' '}
      {isBroken && (
        <Link className="link" href={`/bench/${build}`}>
          Stop and look at the rescue
        </Link>
      )}
    </p>
  );
}
