import { useCallback, useDeferredValue, useEffect, useMemo, useReducer, useRef, useState } from 'react';
import { Link } from 'wouter';
import { allRules } from '../../figures/catalogue.ts';
import { compareRules, compareSheets } from '../../graph/compare.ts';
import type { Mending } from '../../graph/remedy.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { usePreferences } from '../frame/preferences.ts';
import { keepDraft } from '../keeping/device.ts';
import { onSent, sendOrKeep } from '../keeping/sending.ts';
import { askRevisions, type SendResult } from '../keeping/server.ts';
import type { Grips } from '../parts/drawing-view/grip-marks.tsx';
import { Switch } from '../parts/switch.tsx';
import { BARS_ID, changeByType } from './bar-inputs.ts';
import { beginDesk, deskAfter } from './desk-state.ts';
import { isEmptyState, patternOfDraft, textOfDraft, toKept } from './draft.ts';
import { changeByDrag, draggableOf } from './drag.ts';
import { DrawingPanel } from './drawing-panel.tsx';
import { numbersOf } from './figure-list.ts';
import { HistoryDialog } from './history-dialog.tsx';
import { NumbersPanel } from './numbers-panel.tsx';
import { RevisionDialog } from './revision-dialog.tsx';
import { RulesPanel } from './rules-panel.tsx';
import type { PatternSource } from './source.ts';
import { TouchesPanel } from './touches-panel.tsx';
import { useJudged, useSettingChanges, useSheet } from './use-numbers.ts';

type Panel = 'numbers' | 'rules' | 'touches';
type Look = { readonly kind: 'rule' | 'figure'; readonly id: string };
const NO_NUMBERS: ReadonlyMap<string, number | string> = new Map();

const SMALL_COUNTS = ['No value', 'One value', 'Two values', 'Three values', 'Four values', 'Five values'];

/** The pattern page once everything is loaded. */
export function Desk({ source }: { readonly source: PatternSource }) {
  const { patternId } = source;
  const { largeUnit } = usePreferences();
  const [state, act] = useReducer(deskAfter, source, beginDesk);
  const { base, draft, revisions } = state;
  const [isDragging, setDragging] = useState(false);
  const [look, setLook] = useState<Look>();
  const [panel, setPanel] = useState<Panel>('numbers');
  const [dialog, setDialog] = useState<'revision' | 'history'>();
  const [comparedIndex, setComparedIndex] = useState<number>();

  const pattern = useMemo(() => patternOfDraft(base, draft.now), [base, draft.now]);
  const sheet = useSheet(pattern);
  const standsOnIndex = revisions.findLastIndex((r) => r.hash === draft.parent);
  const compared = revisions[comparedIndex ?? standsOnIndex];
  const before = useSheet(useMemo(() => (compared ? readPattern(compared.text) : base), [compared, base]));
  // the drawing follows at once; lists may come a frame later
  const present = useMemo(() => ({ sheet, pattern, state: draft.now }), [sheet, pattern, draft.now]);
  const late = useDeferredValue(present);
  const lateSheet = late.sheet;
  const judged = useJudged(lateSheet);
  const changes = useMemo(() => compareSheets(before, lateSheet), [before, lateSheet]);
  const ruleChanges = useMemo(() => compareRules(before, lateSheet, allRules), [before, lateSheet]);
  const settingChanges = useSettingChanges(before, lateSheet, isDragging);
  const numbersBefore = useMemo(
    () => (before === lateSheet ? NO_NUMBERS : numbersOf(before)),
    [before, lateSheet],
  );

  useKeeping(patternId, draft, isDragging);
  useEffect(
    () =>
      onSent((id, result) => {
        if (id === patternId && 'hash' in result) act({ kind: 'sent', hash: result.hash });
      }),
    [patternId],
  );
  useUndoKeys(
    () => act({ kind: 'undo' }),
    () => act({ kind: 'redo' }),
  );

  const number = revisions.length + 1;
  const isDraft = !isEmptyState(draft.now);
  const beforeIndex = comparedIndex ?? standsOnIndex;
  const beforeName = `revision ${beforeIndex + 1}`;
  const typedCount = draft.now.typed.size + draft.now.bars.size;

  const patternNow = useRef(pattern);
  patternNow.current = pattern;
  const onType = useCallback(
    (id: string, value: number, text?: string) =>
      act({ kind: 'change', change: changeByType(patternNow.current, id, value, text) }),
    [],
  );
  const onConfirm = useCallback(
    (ids: readonly string[]) => act({ kind: 'change', change: { kind: 'mine', ids } }),
    [],
  );
  const onLookFigure = useCallback(
    (id: string | undefined) => setLook(id === undefined ? undefined : { kind: 'figure', id }),
    [],
  );
  const openFigure = useCallback((id: string) => {
    setLook({ kind: 'figure', id });
    setPanel('numbers');
    requestAnimationFrame(() =>
      document.querySelector(`[data-figure="${CSS.escape(id)}"]`)?.scrollIntoView({ block: 'center' }),
    );
  }, []);
  const onMend = useCallback(({ inputId, to }: Mending) => onType(inputId, to), [onType]);
  const onLookRule = useCallback(
    (id: string | undefined) => setLook(id === undefined ? undefined : { kind: 'rule', id }),
    [],
  );
  const context = useMemo(
    () => ({
      sheet: late.sheet,
      mine: late.pattern.mine,
      before: numbersBefore,
      typed: new Set([
        ...late.state.typed.keys(),
        ...[...late.state.bars.keys()].map((id) => `${BARS_ID}.${id}`),
      ]),
    }),
    [late, numbersBefore],
  );

  const grips: Grips = {
    draggable: (id) => draggableOf(pattern, id, largeUnit),
    onStart: () => {
      act({ kind: 'begin' });
      setDragging(true);
    },
    onDrag: (id, value) => act({ kind: 'drag', change: changeByDrag(pattern, id, value) }),
    onEnd: () => setDragging(false),
    onStep: (id, value) => act({ kind: 'change', change: changeByDrag(pattern, id, value) }),
  };

  const makeRevision = async (note: string): Promise<SendResult> => {
    const text = textOfDraft(state.baseText, draft.now);
    const { parent } = draft;
    const savedAt = new Date().toISOString();
    const result = await sendOrKeep(patternId, { text, parent, note }, savedAt);
    if (result.kind === 'saved' || result.kind === 'unreached') {
      const hash = result.kind === 'saved' ? result.hash : '';
      act({ kind: 'revised', revision: { hash, parent, note, savedAt, text }, base: readPattern(text) });
      setComparedIndex(undefined);
    }
    return result;
  };

  const chooseRevision = async (hash: string) => {
    const list = (await askRevisions(patternId)) ?? revisions;
    const revision = list.find((r) => r.hash === hash);
    if (revision) act({ kind: 'stand-on', revision, base: readPattern(revision.text), revisions: list });
    setDialog(undefined);
  };

  const lookedRule = look?.kind === 'rule' ? judged.find((j) => j.rule.id === look.id) : undefined;
  const lookedAt = useMemo(() => {
    if (!look) return undefined;
    if (!lookedRule) return { places: placesOf(look.id), judged: undefined };
    const { rule } = lookedRule;
    const places = [
      ...(rule.place ? [rule.place] : []),
      ...placesOf(rule.subject.id),
      ...rule.remedies.flatMap((r) => placesOf(r.input.id)),
    ];
    return { places, judged: lookedRule };
  }, [look, lookedRule]);

  const summary = `${SMALL_COUNTS[typedCount] ?? `${typedCount} values`} typed since revision ${standsOnIndex + 1}.`;
  return (
    <main
      id="main"
      className={`pg show-${panel}`}
      data-state={isDragging || lateSheet !== sheet ? 'working' : 'ready'}
    >
      <DrawingPanel
        sheet={sheet}
        before={isDraft || comparedIndex !== undefined ? before : undefined}
        beforeName={beforeName}
        patternText={() => textOfDraft(state.baseText, draft.now)}
        patternName={pattern.name}
        revisionName={isDraft ? `${number}, draft` : `${standsOnIndex + 1}`}
        revisionNumber={number}
        isLeftHanded={pattern.handed === 'left'}
        largeUnit={largeUnit}
        lookedAt={lookedAt}
        grips={grips}
      />
      <div className="panelpick noprint">
        <Switch
          label="Beside the drawing"
          value={panel}
          onChange={setPanel}
          options={[
            { value: 'numbers', words: 'Numbers' },
            { value: 'rules', words: 'Rules' },
            { value: 'touches', words: 'Revision' },
          ]}
        />
      </div>
      <section className="col c-numbers" aria-label="Numbers">
        <div className="hrow">
          <h1>{pattern.name}</h1>
          <Switch
            label="Strings"
            value={pattern.handed}
            onChange={(hand) => act({ kind: 'change', change: { kind: 'handed', handed: hand } })}
            options={[
              { value: 'right', words: 'right-handed' },
              { value: 'left', words: 'left-handed' },
            ]}
          />
        </div>
        <p className="sub">
          {isDraft ? `Draft of revision ${number}. ${summary}` : summary}{' '}
          <Link href={`/pattern/${patternId}/structure`}>Structure and board</Link>
        </p>
        <NumbersPanel
          context={context}
          beforeName={changes.length > 0 ? `rev ${beforeIndex + 1}` : undefined}
          open={look?.kind === 'figure' ? look.id : undefined}
          onType={onType}
          onConfirm={onConfirm}
          onLook={onLookFigure}
        />
      </section>
      <div className="col c-side">
        <section className="c-rules" aria-label="Rules">
          <RulesPanel
            sheet={lateSheet}
            judged={judged}
            before={isDraft ? before : undefined}
            isStill={!isDragging}
            lookedAt={look?.kind === 'rule' ? look.id : undefined}
            onLook={onLookRule}
            onOpenFigure={openFigure}
            onMend={onMend}
          />
        </section>
        <div className="c-touches">
          <TouchesPanel
            name={`revision ${number}`}
            beforeName={beforeName}
            changes={changes}
            rules={ruleChanges}
            settings={settingChanges}
            onOpenFigure={openFigure}
          />
          <div className="acts noprint">
            <WaitButton
              isReady={isDraft}
              why="Nothing is typed yet"
              isMain
              onPress={() => setDialog('revision')}
            >
              Make revision {number}
            </WaitButton>
            <WaitButton isReady={isDraft} why="There is no draft" onPress={() => act({ kind: 'drop' })}>
              Take back draft
            </WaitButton>
          </div>
          <div className="acts noprint">
            <WaitButton
              isReady={draft.past.length > 0}
              why="No step to go back"
              isSmall
              onPress={() => act({ kind: 'undo' })}
            >
              Undo
            </WaitButton>
            <WaitButton
              isReady={draft.future.length > 0}
              why="No step to do again"
              isSmall
              onPress={() => act({ kind: 'redo' })}
            >
              Redo
            </WaitButton>
            <button type="button" className="btn sm" onClick={() => setDialog('history')}>
              History
            </button>
          </div>
        </div>
      </div>
      {dialog === 'revision' && (
        <RevisionDialog
          number={number}
          summary={summary}
          brokenCount={judged.filter((j) => j.state === 'broken').length}
          onMake={makeRevision}
          onChoose={chooseRevision}
          onClose={() => setDialog(undefined)}
        />
      )}
      {dialog === 'history' && (
        <HistoryDialog
          revisions={revisions}
          comparedIndex={beforeIndex}
          standsOnIndex={standsOnIndex}
          isDraftEmpty={!isDraft}
          onCompare={setComparedIndex}
          onStandOn={(index) => {
            const revision = revisions[index];
            if (revision) act({ kind: 'stand-on', revision, base: readPattern(revision.text) });
            setComparedIndex(undefined);
          }}
          onClose={() => setDialog(undefined)}
        />
      )}
    </main>
  );
}

/** Places in the drawing where a figure may stand: its own, then wider and wider ones. */
function placesOf(id: string): readonly string[] {
  // a bar is drawn under its own name
  const bar = /^brace\.bars\.([^.]+)/.exec(id)?.[1];
  if (bar !== undefined) return [`brace.${bar}`];
  const words = id.split('.');
  const prefixes = words.map((_, i) => words.slice(0, words.length - i).join('.'));
  const word = words[0];
  const wide =
    word === 'body' ? ['outline'] : word === 'fret' ? ['frets'] : word === 'string' ? ['saddle'] : [];
  return [...prefixes.slice(0, word === 'body' ? 1 : undefined), ...wide];
}

/** A button that cannot be used yet is dashed and says why. */
function WaitButton(props: {
  readonly isReady: boolean;
  readonly why: string;
  readonly isMain?: boolean;
  readonly isSmall?: boolean;
  readonly onPress: () => void;
  readonly children: React.ReactNode;
}) {
  const size = props.isSmall ? ' sm' : '';
  return (
    <button
      type="button"
      className={`btn${size}${props.isReady ? (props.isMain ? ' go' : '') : ' wait'}`}
      aria-disabled={!props.isReady}
      title={props.isReady ? undefined : props.why}
      onClick={() => {
        if (props.isReady) props.onPress();
      }}
    >
      {props.children}
    </button>
  );
}

/** Keeps the draft on this device a moment after each change. */
function useKeeping(patternId: string, draft: Parameters<typeof toKept>[0], isDragging: boolean): void {
  const first = useRef(draft);
  useEffect(() => {
    if (isDragging || draft === first.current) return;
    void keepDraft(patternId, toKept(draft));
  }, [patternId, draft, isDragging]);
}

/** Ctrl or Command with Z; with Shift, or Y, the step again. Fields keep their own undo. */
function useUndoKeys(undo: () => void, redo: () => void): void {
  const latest = useRef({ undo, redo });
  latest.current = { undo, redo };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
