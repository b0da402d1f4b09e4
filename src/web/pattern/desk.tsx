import { useCallback, useDeferredValue, useMemo, useReducer, useRef, useState } from 'react';
import { Link } from 'wouter';
import { allRules } from '../../figures/catalogue.ts';
import { compareRules, compareSheets } from '../../graph/compare.ts';
import type { Mending } from '../../graph/remedy.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { usePreferences } from '../frame/preferences.ts';
import type { Grips } from '../parts/drawing-view/grip-marks.tsx';
import { Switch } from '../parts/switch.tsx';
import { BARS_ID, changeByType } from './bar-inputs.ts';
import { useKeeping, useUndoKeys } from './desk-hooks.ts';
import { beginDesk, deskAfter } from './desk-state.ts';
import { isEmptyState, patternOfDraft, textOfDraft } from './draft.ts';
import { changeByDrag, draggableOf } from './drag.ts';
import { DrawingPanel } from './drawing-panel.tsx';
import { numbersOf } from './figure-list.ts';
import { HistoryDialog } from './history-dialog.tsx';
import { NumbersPanel } from './numbers-panel.tsx';
import { type Look, lookedAtOf } from './places.ts';
import { RevisionActs } from './revision-acts.tsx';
import { RevisionDialog, TwoRevisionsDialog } from './revision-dialog.tsx';
import { RulesPanel } from './rules-panel.tsx';
import type { PatternSource } from './source.ts';
import { TouchesPanel } from './touches-panel.tsx';
import { useJudged, useSettingChanges, useSheet } from './use-numbers.ts';
import { useRevisions } from './use-revisions.ts';
import { useShop } from './use-shop.ts';

type Panel = 'numbers' | 'rules' | 'touches';
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
  const shop = useShop();
  const settingChanges = useSettingChanges(before, lateSheet, isDragging, shop?.shop);
  const numbersBefore = useMemo(
    () => (before === lateSheet ? NO_NUMBERS : numbersOf(before)),
    [before, lateSheet],
  );

  useKeeping(patternId, draft, isDragging);
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

  const { makeRevision, chooseRevision, fork } = useRevisions(patternId, state, act, () =>
    setComparedIndex(undefined),
  );

  const lookedAt = useMemo(() => look && lookedAtOf(look, judged), [look, judged]);

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
        shop={shop}
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
          <RevisionActs
            number={number}
            draft={draft}
            onMake={() => setDialog('revision')}
            onDrop={() => act({ kind: 'drop' })}
            onUndo={() => act({ kind: 'undo' })}
            onRedo={() => act({ kind: 'redo' })}
            onHistory={() => setDialog('history')}
          />
        </div>
      </div>
      {dialog === 'revision' && (
        <RevisionDialog
          number={number}
          summary={summary}
          brokenCount={judged.filter((j) => j.state === 'broken').length}
          onMake={makeRevision}
          onClose={() => setDialog(undefined)}
        />
      )}
      {fork && (
        <TwoRevisionsDialog
          message={fork.message}
          mine={fork.hash}
          other={fork.other}
          onChoose={chooseRevision}
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
