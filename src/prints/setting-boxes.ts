import { box, type Entity, line, text } from '../drawing/model.ts';
import { textWidthMm, wrapWords } from '../drawing/text-size.ts';
import { formatDecimal, formatInches, formatMm } from '../quantity/print-length.ts';
import type { Setting } from '../settings/setting.ts';
import { type Block, fittedText, wordsBlock } from './card-words.ts';

/** Height of a row and of its big numbers by how many boxes stand in it: few numbers are printed larger. */
function rowSize(count: number): { readonly rowMm: number; readonly bigMm: number } {
  if (count === 1) return { rowMm: 28, bigMm: 12 };
  if (count === 2) return { rowMm: 25.5, bigMm: 9.6 };
  if (count === 3) return { rowMm: 23.5, bigMm: 8 };
  return { rowMm: 22, bigMm: count > 5 ? 5.4 : 6.4 };
}

const INSET_MM = 1.8;
/** Height of the label over a number, and what a second line of it takes; mm. */
const LABEL_MM = 1.8;
const SECOND_LINE_MM = 2;
/** Height of the words under the number, mm. */
const LINE_MM = 1.9;

/** What may stand under the big number: the other unit, what comes out, what is left, the limits. */
function smallParts(s: Setting): readonly string[] {
  return [
    ...(s.small ?? '').split(', '),
    s.gives === undefined ? '' : `gives ${s.gives}`,
    s.leavesMm === undefined ? '' : `leaves ${formatMm(s.leavesMm, 2)}`,
    limitWords(s),
  ].filter((w) => w !== '');
}

/** Parts set one behind the other on as few lines as they need. */
function packed(parts: readonly string[], roomMm: number): readonly string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const last = lines.at(-1);
    const longer = last === undefined ? part : `${last}, ${part}`;
    const fits = textWidthMm(longer, { weight: 400, face: 'sans', heightMm: LINE_MM }) <= roomMm;
    if (last === undefined || !fits || part.startsWith('read')) lines.push(part);
    else lines[lines.length - 1] = longer;
  }
  return lines;
}

/** Two lines under the number; the inch fraction goes first when there is no room. */
function smallLines(s: Setting, roomMm: number): readonly string[] {
  const parts = smallParts(s);
  const all = packed(parts, roomMm);
  const fewer =
    all.length <= 2
      ? all
      : packed(
          parts.filter((p) => !/\d\/\d+ in$/.test(p)),
          roomMm,
        );
  return fewer.length <= 2 ? fewer : [fewer.slice(0, -1).join(', '), fewer.at(-1) as string];
}

/** Limits of what is read afterwards. */
function limitWords(s: Setting): string {
  if (s.low === undefined || s.high === undefined || s.low === s.high) return '';
  const isInches = s.big.unit === 'in';
  const write = (v: number): string => {
    if (s.unit === 'mm') return isInches ? formatInches(v) : formatMm(v, 2);
    return formatDecimal(v, s.unit === 'deg' ? 2 : 0);
  };
  return `read ${write(s.low)} to ${write(s.high)}`;
}

function boxOf(
  s: Setting,
  at: { readonly x: number; readonly y: number },
  widthMm: number,
  size: ReturnType<typeof rowSize>,
): readonly Entity[] {
  const { x, y } = at;
  const isFirst = x === 0;
  const roomMm = widthMm - 2 * INSET_MM;
  const left = x + INSET_MM;
  const look = { weight: 700, face: 'sans' } as const;
  const unitMm = 2.3;
  const unitRoom = textWidthMm(` ${s.big.unit}`, { weight: 400, face: 'sans', heightMm: unitMm }) + 0.4;
  const bigRoom = Math.max(8, roomMm - unitRoom);
  const needed = textWidthMm(s.big.text, { ...look, heightMm: size.bigMm });
  const bigMm = size.bigMm * Math.min(1, bigRoom / needed);
  const bigWidth = Math.min(needed, bigRoom);
  const baseline = y + size.rowMm - 7.9;
  return [
    ...(isFirst ? [] : [line('text', { x, y }, { x, y: y + size.rowMm }, { widthMm: 0.25 })]),
    ...wordsBlock(s.label, { x: left, y: y + 1.5 }, roomMm, { heightMm: LABEL_MM, most: 2 }).entities,
    text('text', { x: left, y: baseline }, s.big.text, bigMm, { weight: 700 }),
    text('text', { x: left + bigWidth + 0.9, y: baseline }, s.big.unit, unitMm),
    ...smallLines(s, roomMm).map((words, i) =>
      fittedText(words, { x: left, y: baseline + 3.8 + i * 2.9 }, roomMm, LINE_MM),
    ),
  ];
}

/**
 * The numbers of a card in framed boxes, at most six to a row, the machine's own unit large.
 *
 * @param settings  one to ten
 * @param y         top, mm
 * @param widthMm   whole width
 * @source          arithmetic
 */
export function settingBoxes(settings: readonly Setting[], y: number, widthMm: number): Block {
  const rowCount = Math.ceil(settings.length / 6);
  const perRow = Math.ceil(settings.length / rowCount);
  const entities: Entity[] = [];
  let top = y;
  for (let row = 0; row < rowCount; row++) {
    const here = settings.slice(row * perRow, (row + 1) * perRow);
    const cellMm = widthMm / here.length;
    const plain = rowSize(here.length);
    const look = { heightMm: LABEL_MM, weight: 400, face: 'sans' } as const;
    const hasTwoLines = here.some((s) => wrapWords(s.label, cellMm - 2 * INSET_MM, look).length > 1);
    const size = hasTwoLines ? { ...plain, rowMm: plain.rowMm + SECOND_LINE_MM } : plain;
    entities.push(
      box('text', { minX: 0, maxX: widthMm, minY: top, maxY: top + size.rowMm }, { widthMm: 0.5 }),
    );
    here.forEach((s, i) => {
      entities.push(...boxOf(s, { x: i * cellMm, y: top }, cellMm, size));
    });
    top += size.rowMm;
  }
  return { entities, heightMm: top - y };
}
