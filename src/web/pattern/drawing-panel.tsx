import { useMemo, useState, useSyncExternalStore } from 'react';
import type { NamedShop } from '../../course/shop-of-record.ts';
import { allDrawings, type DrawInstrument, drawingNamed } from '../../drawing/drawing-table.ts';
import type { DimensionWords } from '../../drawing/drawn-number.ts';
import { frontFace } from '../../drawing/front-face.ts';
import { ghostsOf } from '../../drawing/ghost.ts';
import type { LayerName } from '../../drawing/line-types.ts';
import type { Drawing, Entity, PointMm } from '../../drawing/model.ts';
import type { Judged } from '../../graph/rule.ts';
import type { Sheet } from '../../graph/sheet.ts';
import type { LargeUnit } from '../frame/preferences.ts';
import { spokenText } from '../parts/amount-text.ts';
import { DrawingView } from '../parts/drawing-view/drawing-view.tsx';
import type { Grips } from '../parts/drawing-view/grip-marks.tsx';
import { gripOfKey } from '../parts/drawing-view/handles.ts';
import type { Margins } from '../parts/drawing-view/view-box.ts';
import { limitText } from '../parts/limit-text.ts';
import { Switch } from '../parts/switch.tsx';
import { TitleBlock } from '../parts/title-block.tsx';
import { ExportPick } from './export-pick.tsx';
import { LayersPick } from './layers-pick.tsx';
import type { LookedAt } from './places.ts';

export interface DrawingPanelProps {
  readonly sheet: Sheet;
  readonly before: Sheet | undefined;
  readonly beforeName: string;
  readonly shop: NamedShop | undefined;
  readonly patternText: () => string;
  readonly patternName: string;
  readonly revisionName: string;
  readonly revisionNumber: number;
  readonly isLeftHanded: boolean;
  readonly largeUnit: LargeUnit;
  /** Place or figure that is looked at, with the rule when it is one. */
  readonly lookedAt: LookedAt | undefined;
  readonly grips: Grips;
}

const isUnder = (key: string, place: string): boolean =>
  key === place || key.startsWith(`${place}.`) || (place === 'braces' && key.startsWith('brace.'));

/** A drawing of these numbers; with nothing on it when they give nothing to draw. */
function drawn(draw: DrawInstrument, sheet: Sheet, words: DimensionWords): Drawing {
  try {
    return draw(sheet, words);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const frame = { minX: -100, minY: -100, maxX: 100, maxY: 100 };
    return { id: 'none', title: 'No drawing', seenFrom: 'nowhere', frame, entities: [] };
  }
}

/** Keys of a drawing that belong to what is looked at: marks made for the rule itself, and the first place that is drawn. */
function litKeys(drawing: Drawing, looked: DrawingPanelProps['lookedAt']): ReadonlySet<string> {
  if (!looked) return NO_KEYS;
  const keys = [...new Set(drawing.entities.flatMap((e) => (e.key === undefined ? [] : [e.key])))];
  const own = keys.filter((key) => key === looked.judged?.rule.id);
  for (const place of looked.places) {
    const lit = keys.filter((key) => isUnder(key, place));
    if (lit.length > 0) return new Set([...own, ...lit]);
  }
  return new Set(own);
}

function labelOf(
  drawing: Drawing,
  lit: ReadonlySet<string>,
  judged: Judged | undefined,
  largeUnit: LargeUnit,
) {
  if (!judged || judged.value === undefined) return undefined;
  const at: PointMm | undefined = gripOfKey(drawing, lit);
  const { unit } = judged.rule.subject;
  return (
    at && {
      at,
      first: spokenText(judged.value, unit, largeUnit),
      second: limitText(judged.hard, unit, largeUnit),
    }
  );
}

const MARGINS: Readonly<Record<Room, Margins>> = {
  wide: { top: 46, right: 12, bottom: 108, left: 12 },
  middle: { top: 48, right: 12, bottom: 108, left: 12 },
  narrow: { top: 110, right: 16, bottom: 12, left: 40 },
};
const NO_GHOSTS: readonly Entity[] = [];
const NO_KEYS: ReadonlySet<string> = new Set();

/** The drawing beside the numbers: two faces and all other drawings, layers, ghosts of the last revision, title block. */
export function DrawingPanel(props: DrawingPanelProps) {
  const { sheet, before, largeUnit } = props;
  const [name, setName] = useState('front-face');
  const [hidden, setHidden] = useState<ReadonlySet<LayerName>>(new Set());
  const room = useSyncExternalStore(listenToRoom, roomNow);
  const draw = drawingNamed(name)?.draw ?? frontFace;
  const drawing = useMemo(
    () =>
      drawn(draw, sheet, {
        lengthUnit: largeUnit,
        revision: String(props.revisionNumber),
        ...(before ? { before } : {}),
      }),
    [draw, sheet, largeUnit, before, props.revisionNumber],
  );
  const drawingBefore = useMemo(
    () => (before ? drawn(draw, before, { lengthUnit: largeUnit }) : undefined),
    [draw, before, largeUnit],
  );
  const ghosts = useMemo(
    () => (drawingBefore ? ghostsOf(drawingBefore, drawing) : NO_GHOSTS),
    [drawingBefore, drawing],
  );
  const lit = useMemo(() => litKeys(drawing, props.lookedAt), [drawing, props.lookedAt]);
  const label = labelOf(drawing, lit, props.lookedAt?.judged, largeUnit);
  const hasGhosts = ghosts.length > 0;
  return (
    <section className="dr" id="drawing" aria-label="Drawing" data-lit={[...lit].join(' ')}>
      <DrawingView
        key={drawing.id}
        drawing={drawing}
        ghosts={ghosts}
        hidden={hidden}
        lit={lit}
        label={label}
        grips={props.grips}
        isMirrored={name === 'inside-face'}
        margins={MARGINS[room]}
        words={wordsOf(drawing, props, hasGhosts)}
      >
        {drawing.entities.length === 0 && (
          <p className="says bad nodrawing" role="status">
            These numbers give nothing to draw. The rules without a value say which number to change.
          </p>
        )}
        <div className="tools noprint">
          <Switch
            label="Seen from"
            value={name}
            onChange={setName}
            options={[
              { value: 'front-face', words: 'Front' },
              { value: 'inside-face', words: 'Inside, mirrored' },
            ]}
          />
          {allDrawings.length > 2 && <OtherDrawings name={name} onPick={setName} />}
          <LayersPick hidden={hidden} onChange={setHidden} />
          <ExportPick
            drawing={drawing}
            patternName={props.patternName}
            revisionName={props.revisionName}
            patternText={props.patternText}
            shop={props.shop}
          />
        </div>
        <div className="under">
          <DrawingKey hasGhosts={hasGhosts} beforeName={props.beforeName} />
          <TitleBlock
            fields={[
              { name: 'Pattern', value: props.patternName },
              { name: 'Revision', value: props.revisionName },
              { name: 'Seen from', value: drawing.seenFrom },
              before
                ? { name: 'Compared with', value: props.beforeName, isPast: true }
                : { name: 'Drawing', value: drawing.title },
              { name: 'Units', value: largeUnit === 'mm' ? 'mm (in)' : 'in (mm)' },
              { name: 'Strings', value: props.isLeftHanded ? 'left-handed' : 'right-handed' },
            ]}
          />
        </div>
      </DrawingView>
    </section>
  );
}

function wordsOf(drawing: Drawing, props: DrawingPanelProps, hasGhosts: boolean): string {
  const hand = props.isLeftHanded ? ' Left-handed.' : '';
  const ghosts = hasGhosts ? ` Ghost lines show ${props.beforeName}.` : '';
  const judged = props.lookedAt?.judged;
  const looked =
    judged?.value === undefined
      ? ''
      : ` ${judged.rule.label}: ${spokenText(judged.value, judged.rule.subject.unit)}, ${limitText(judged.hard, judged.rule.subject.unit, 'mm')}.`;
  return `${drawing.title} of ${props.patternName}, seen from ${drawing.seenFrom}.${hand}${looked}${ghosts}`;
}

function OtherDrawings({ name, onPick }: { readonly name: string; readonly onPick: (name: string) => void }) {
  const others = allDrawings.filter((d) => d.id !== 'front-face' && d.id !== 'inside-face');
  const isOther = others.some((d) => d.id === name);
  return (
    <select
      className="pick"
      aria-label="Other drawings"
      value={isOther ? name : ''}
      onChange={(event) => {
        if (event.target.value !== '') onPick(event.target.value);
      }}
    >
      <option value="">Other drawings</option>
      {others.map((d) => (
        <option key={d.id} value={d.id}>
          {d.title}
        </option>
      ))}
    </select>
  );
}

function DrawingKey({ hasGhosts, beforeName }: { readonly hasGhosts: boolean; readonly beforeName: string }) {
  return (
    <ul className="key">
      <li>
        <svg width="46" height="8" aria-hidden="true">
          <path className="kline" d="M0 4H46" strokeDasharray="6 3" />
        </svg>
        behind the plate
      </li>
      {hasGhosts && (
        <li>
          <svg width="46" height="8" aria-hidden="true">
            <path className="kline past" d="M0 4H46" strokeDasharray="14 3 2 3 2 3" />
          </svg>
          {beforeName}
        </li>
      )}
      <li>
        <svg width="46" height="12" aria-hidden="true">
          <path className="kgrip" d="M23 1L28 6L23 11L18 6Z" />
        </svg>
        drag it, or arrow keys
      </li>
    </ul>
  );
}

type Room = 'narrow' | 'middle' | 'wide';

const NARROW = '(max-width: 1023px)';
const MIDDLE = '(max-width: 1279px)';

const roomNow = (): Room =>
  window.matchMedia(NARROW).matches ? 'narrow' : window.matchMedia(MIDDLE).matches ? 'middle' : 'wide';

function listenToRoom(tell: () => void): () => void {
  const queries = [NARROW, MIDDLE].map((query) => window.matchMedia(query));
  for (const query of queries) query.addEventListener('change', tell);
  return () => {
    for (const query of queries) query.removeEventListener('change', tell);
  };
}
