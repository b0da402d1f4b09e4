import { useCallback, useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { topDome } from '../../figures/dome.ts';
import { tilt } from '../../figures/load.ts';
import { boxFactor, structureRules } from '../../figures/structure.ts';
import { topInput } from '../../figures/top-input.ts';
import { judge } from '../../graph/rule.ts';
import { cellOf, figureValue, numberOf, type Sheet } from '../../graph/sheet.ts';
import { topModelLimits } from '../../mechanics/top-answer.ts';
import type { TopInput } from '../../mechanics/top-problem.ts';
import { isFinding } from '../../quantity/finding.ts';
import { patternOfDraft } from '../pattern/draft.ts';
import { type PatternSource, usePatternSource } from '../pattern/source.ts';
import { useSheet } from '../pattern/use-numbers.ts';
import { BoardPanel } from './board-panel.tsx';
import { BracePicture, BraceTable } from './brace-shares.tsx';
import { changedTop, type TopChange } from './change-top.ts';
import { ContourPicture } from './contour-picture.tsx';
import type { SolvedTop } from './messages.ts';
import { Profile } from './profile.tsx';
import { RoomChart } from './room-chart.tsx';
import { SeasonsPanel } from './seasons-panel.tsx';
import './structure.css';
import { useEngine } from './use-engine.ts';

/** Will this top carry its strings: slope, lift, resonances, braces, one board, the air of the room. */
export function StructurePage({ patternId }: { readonly patternId: string }) {
  const loading = usePatternSource(patternId);
  if (loading.state === 'ready') return <Structure source={loading.source} />;
  return (
    <main id="main" className="leafpage" data-state={loading.state === 'loading' ? 'loading' : 'ready'}>
      <p role="status">
        {loading.state === 'loading'
          ? 'Reading the pattern.'
          : loading.state === 'missing'
            ? `No pattern is called "${patternId}".`
            : loading.sentence}
      </p>
    </main>
  );
}

function Structure({ source }: { readonly source: PatternSource }) {
  const { base, draft, patternId } = source;
  const pattern = useMemo(() => patternOfDraft(base, draft.now), [base, draft.now]);
  const sheet = useSheet(pattern);
  const drawn = figureValue(sheet, topInput);
  return (
    <>
      {drawn ? (
        <TopView sheet={sheet} drawn={drawn} name={pattern.name} patternId={patternId} />
      ) : (
        <main id="main" className="leafpage" data-state="ready">
          <h1>Structure of {pattern.name}</h1>
          <p role="status">{whyNot(sheet)}</p>
        </main>
      )}
    </>
  );
}

function whyNot(sheet: Sheet): string {
  const cell = cellOf(sheet, topInput.id);
  return isFinding(cell)
    ? cell.text
    : 'The pattern does not give enough of its top yet; give outline, braces, bridge and strings.';
}

function TopView(props: {
  readonly sheet: Sheet;
  readonly drawn: TopInput;
  readonly name: string;
  readonly patternId: string;
}) {
  const { sheet, drawn, name, patternId } = props;
  const [change, setChange] = useState<TopChange>({ thicknessMm: drawn.thicknessMm, heightsMm: new Map() });
  const [solved, setSolved] = useState<SolvedTop>();
  const [refused, setRefused] = useState<string>();
  const { progress, ask, cancel } = useEngine(
    useCallback((told) => {
      if (told.kind === 'top') {
        setSolved(told.solved);
        setRefused(undefined);
      } else if (told.kind === 'refused') setRefused(told.sentence);
    }, []),
  );
  const top = useMemo(() => changedTop(drawn, change), [drawn, change]);
  useEffect(() => ask({ kind: 'top', top: drawn, fineness: 'fine' }), [ask, drawn]);
  const set = (next: TopChange, isLive: boolean): void => {
    setChange(next);
    ask({ kind: 'top', top: changedTop(drawn, next), fineness: isLive ? 'coarse' : 'fine' });
  };
  const factor = figureValue(sheet, boxFactor) ?? 1;
  const state = progress ? 'working' : refused ? 'refused' : solved ? 'ready' : 'stopped';
  return (
    <main id="main" className="leafpage wide structure" data-state={state} data-fineness={solved?.fineness}>
      <p className="noprint">
        <Link href={`/pattern/${patternId}`}>Back to the pattern</Link>
      </p>
      <h1>Structure of {name}</h1>
      <div className="enginebar" role="status">
        {progress ? (
          <>
            <progress value={progress.partFrac} max={1} aria-label="How far the analysis is" />
            <span>{progress.stage}</span>
          </>
        ) : (
          <span>
            {refused ??
              (solved
                ? solved.fineness === 'fine'
                  ? `Computed on ${solved.unknownCount} unknowns.`
                  : `Quick answer on a coarse mesh, slope within about 5 %.`
                : 'Stopped. Move a slider to begin again.')}
          </span>
        )}
        {progress ? (
          <button type="button" className="btn sm" onClick={cancel}>
            Stop
          </button>
        ) : null}
      </div>
      <div className="s-columns">
        <section aria-label="Slope and lift">
          <h2>Under the strings</h2>
          <Slope sheet={sheet} solved={solved} factor={factor} />
          <label className="slide wide">
            Thickness of the top <b className="n">{change.thicknessMm.toFixed(2)} mm</b>
            <input
              type="range"
              aria-label="Thickness of the top"
              min={(drawn.thicknessMm * 0.6).toFixed(2)}
              max={(drawn.thicknessMm * 1.5).toFixed(2)}
              step={0.05}
              value={change.thicknessMm}
              onChange={(e) => set({ ...change, thicknessMm: e.target.valueAsNumber }, true)}
              onPointerUp={(e) => set({ ...change, thicknessMm: e.currentTarget.valueAsNumber }, false)}
              onKeyUp={(e) => set({ ...change, thicknessMm: e.currentTarget.valueAsNumber }, false)}
            />
          </label>
          <p>
            <button
              type="button"
              className="btn sm"
              onClick={() => set({ thicknessMm: drawn.thicknessMm, heightsMm: new Map() }, false)}
            >
              As drawn
            </button>{' '}
            <span className="q2">Sliders try something out; the pattern stays as it is.</span>
          </p>
          {solved ? <Movement solved={solved} /> : null}
        </section>
        <section aria-label="Braces">
          <h2>Braces</h2>
          <div className="s-braces">
            <BracePicture top={top} solved={solved} />
            <BraceTable
              top={top}
              drawn={drawn}
              solved={solved}
              boxFactor={factor}
              onHeight={(id, mm, isLive) =>
                set({ ...change, heightsMm: new Map(change.heightsMm).set(id, mm) }, isLive)
              }
            />
          </div>
        </section>
      </div>
      {solved && solved.fineness === 'fine' ? <Modes solved={solved} /> : null}
      <section aria-label="What is left out">
        <h2>What the model leaves out</h2>
        <p>{topModelLimits}</p>
        <p>
          The slope on the finished box is the computed one times {factor.toFixed(1)}: a box gives at its
          sides, creeps and is not glued from perfect wood. The factor puts the starting pattern in the middle
          of the aim; it serves to compare tops, until your shop has measured its own boxes.
        </p>
        <p>{structureRules[0]?.why}</p>
      </section>
      <BoardPanel top={drawn} sheet={sheet} />
      <SeasonsPanel top={top} domeRadiusMm={figureValue(sheet, topDome)?.radiusMm} />
      <RoomChart />
    </main>
  );
}

function Slope(props: {
  readonly sheet: Sheet;
  readonly solved: SolvedTop | undefined;
  readonly factor: number;
}) {
  const { sheet, solved, factor } = props;
  const limit = (f: { readonly id: string }) => numberOf(sheet, f.id) ?? 0;
  const hard = { low: limit(tilt.low), high: limit(tilt.high) };
  const soft = { low: limit(tilt.aimLow), high: limit(tilt.aimHigh) };
  const beamDeg = numberOf(sheet, 'structure.tilt.by_beam');
  if (!solved)
    return (
      <p className="q2">
        {beamDeg === undefined
          ? ''
          : `By the plain beam rule the flat top tilts ${beamDeg.toFixed(2)} degrees.`}
      </p>
    );
  const boxDeg = solved.answer.tiltDeg * factor;
  return (
    <dl className="s-facts">
      <div>
        <dt>Bridge slope on the finished box</dt>
        <dd>
          <b className="n" data-number="slope">
            {boxDeg.toFixed(2)} degrees
          </b>{' '}
          <span data-number="verdict">{judge(boxDeg, hard, soft)}</span>
          <span className="q2">
            {' '}
            aim {soft.low} to {soft.high}, limits {hard.low} to {hard.high}; creep adds 30 to 100 % in the
            first years, allowed for with half: {(boxDeg * 1.5).toFixed(1)}
          </span>
        </dd>
      </div>
      <div>
        <dt>Flat elastic plate</dt>
        <dd className="n">
          {solved.answer.tiltDeg.toFixed(3)} degrees
          {beamDeg === undefined ? null : (
            <span className="q2"> (as drawn by the beam rule {beamDeg.toFixed(2)})</span>
          )}
        </dd>
      </div>
      <div>
        <dt>Highest lift, deepest sink</dt>
        <dd className="n">
          {solved.answer.liftMm.toFixed(2)} mm, {solved.answer.sinkMm.toFixed(2)} mm
        </dd>
      </div>
    </dl>
  );
}

function Movement({ solved }: { readonly solved: SolvedTop }) {
  const values = solved.shapes.loadsMm[0];
  if (!values) return null;
  const { liftMm, sinkMm } = solved.answer;
  return (
    <>
      <h3>Along the centre line</h3>
      <Profile
        shapes={solved.shapes}
        values={values}
        words={`Lift and sink along the centre line: sinks ${sinkMm.toFixed(2)} mm before the bridge, lifts ${liftMm.toFixed(2)} mm behind it`}
      />
      <h3>Over the whole top</h3>
      <ContourPicture
        shapes={solved.shapes}
        values={values}
        words="Lift and sink of the whole top, seen from the front; a line at each fifth of the largest"
      />
    </>
  );
}

function Modes({ solved }: { readonly solved: SolvedTop }) {
  return (
    <section aria-label="Resonances">
      <h2>Resonances of the top without the air</h2>
      <p className="q2">
        The two colours move against each other; the thick line stands still. Names say how many fields swing
        along and across.
      </p>
      <ol className="s-modes">
        {solved.answer.modes.map((mode, k) => {
          const values = solved.shapes.modes[k];
          return (
            <li key={mode.frequencyHz} data-mode={k + 1}>
              <p>
                <b className="n">{mode.frequencyHz.toFixed(0)} Hz</b> {mode.name}
              </p>
              {values ? (
                <ContourPicture
                  shapes={solved.shapes}
                  values={values}
                  isSwinging
                  widthPx={128}
                  words={`Mode ${k + 1}, ${mode.frequencyHz.toFixed(0)} Hz, ${mode.name}`}
                />
              ) : null}
            </li>
          );
        })}
      </ol>
    </section>
  );
}
