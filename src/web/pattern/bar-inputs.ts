import { topBarSpecs } from '../../figures/inputs.ts';
import { cellOf, type Sheet } from '../../graph/sheet.ts';
import type { InputSpec } from '../../pattern/input-spec.ts';
import type { BarSpec, Pattern, PatternPoint } from '../../pattern/pattern.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import type { BarEnds, Change } from './draft.ts';

/** Id of the list of top bars; a bar stands behind it, and behind that its end and way: `brace.bars.TB1.from.x`. */
export const BARS_ID = topBarSpecs.id;

const ENDS = { from: 'first end', to: 'second end' } as const;
const WAYS = {
  x: { member: 'xMm', words: 'from the centre line', low: -300, high: 300 },
  y: { member: 'yMm', words: 'from the neck end', low: -20, high: 650 },
} as const;

interface BarNumberId {
  readonly bar: string;
  readonly end: keyof typeof ENDS;
  readonly way: keyof typeof WAYS;
}

function takeApart(id: string): BarNumberId | undefined {
  const match = /^brace\.bars\.(.+)\.(from|to)\.(x|y)$/.exec(id);
  return match
    ? { bar: match[1] as string, end: match[2] as keyof typeof ENDS, way: match[3] as keyof typeof WAYS }
    : undefined;
}

/** What the page knows of a number that can be typed: one of the table, or the place of a bar's end. */
export function pageSpec(id: string): InputSpec | undefined {
  const listed = inputSpec(id);
  const place = listed ? undefined : takeApart(id);
  if (!place) return listed;
  const { words, low, high } = WAYS[place.way];
  return { id, unit: 'mm', label: `${place.bar}, ${ENDS[place.end]}, ${words}`, low, high, group: 'Braces' };
}

/** The id under which a number is the teacher's own: bars are his as a whole list. */
export function ownedAs(id: string): string {
  return takeApart(id) ? BARS_ID : id;
}

/** The id of the bar a number belongs to, as drafts and drawings name it; the id itself for other numbers. */
export function movedAs(id: string): string {
  const place = takeApart(id);
  return place ? `${BARS_ID}.${place.bar}` : id;
}

/** The four numbers of each bar with two given ends. */
export function barNumbers(sheet: Sheet): readonly { readonly id: string; readonly value: number }[] {
  const cell = cellOf(sheet, BARS_ID);
  if (!Array.isArray(cell)) return [];
  return (cell as readonly BarSpec[]).flatMap((bar) =>
    bar.kind === 'straight'
      ? (['from', 'to'] as const).flatMap((end) =>
          (['x', 'y'] as const).map((way) => ({
            id: `${BARS_ID}.${bar.id}.${end}.${way}`,
            value: bar[end][WAYS[way].member],
          })),
        )
      : [],
  );
}

/** The change that a typed number makes; a number of a bar moves that end. */
export function changeByType(pattern: Pattern, id: string, value: number, text?: string): Change {
  const place = takeApart(id);
  const bar = place && pattern.topBars.find((b) => b.id === place.bar);
  if (!place || bar?.kind !== 'straight')
    return { kind: 'number', id, value, ...(text === undefined ? {} : { text }) };
  const moved: PatternPoint = { ...bar[place.end], [WAYS[place.way].member]: value };
  const ends: BarEnds = { from: bar.from, to: bar.to, [place.end]: moved };
  return { kind: 'bar', id: bar.id, ends };
}
