import { box, type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { formatInches, formatMm } from '../quantity/print-length.ts';
import type { BatchPlate, BatchStep } from '../settings/batch-plan.ts';
import { fittedText, SMALL_MM, TITLE_MM, wordsBlock } from './card-words.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from './cards.ts';

/** What a list for one batch at the sander says at its head. */
export interface BatchAbout {
  readonly title: string;
  readonly patternName: string;
  readonly revision: string;
  readonly printedOn: string;
  /** Unit of the machine. */
  readonly unit: 'mm' | 'in';
}

const ROW_MM = 8.5;
const FIRST_ROWS = 17;

const joined = (ids: readonly string[]): string => (ids.length === 0 ? '\u2013' : ids.join(', '));

/** What a step says beside its number: who is fed, who waits, who drops out. */
function stepWords(step: BatchStep): string {
  const wait = step.wait.length === 0 ? '' : ` Wait: ${joined(step.wait)}.`;
  const out = step.out.map((o) => ` Out: ${o.id}, ${o.reason}.`).join('');
  return `Feed: ${joined(step.feed)}.${wait}${out}`;
}

/**
 * The list of one batch at the sander: plates thickest first, then one row for each number with a box to tick.
 *
 * @param plates  the plates with what they measure
 * @param steps   from `batchPlan`
 * @source        common practice, no published source
 */
export function batchCard(
  plates: readonly BatchPlate[],
  steps: readonly BatchStep[],
  about: BatchAbout,
): Drawing {
  const length = (valueMm: number): string =>
    about.unit === 'in' ? formatInches(valueMm) : formatMm(valueMm, 2);
  const sorted = [...plates].sort((a, b) => b.thicknessMm - a.thicknessMm);
  const who = sorted.map((p) => `${p.id} ${length(p.thicknessMm)} (low ${length(p.lowMm)})`).join(', ');
  const entities: Entity[] = [
    fittedText(about.title, { x: 0, y: TITLE_MM + 0.6 }, 84, TITLE_MM, { face: 'name', weight: 700 }),
    text('text', { x: CARD_WIDTH_MM, y: 3.4 }, about.patternName, 2.6, {
      face: 'name',
      weight: 700,
      anchorX: 'end',
    }),
    text('text', { x: CARD_WIDTH_MM, y: 7.6 }, `revision ${about.revision}`, 2.6, {
      face: 'name',
      weight: 700,
      anchorX: 'end',
    }),
    line('text', { x: 0, y: 10 }, { x: CARD_WIDTH_MM, y: 10 }, { widthMm: 0.7 }),
  ];
  const list = wordsBlock(
    `Plates, thickest first, ${about.unit}: ${who}.`,
    { x: 0, y: 12.5 },
    CARD_WIDTH_MM,
    {
      heightMm: SMALL_MM,
    },
  );
  entities.push(...list.entities);
  let y = 12.5 + list.heightMm + 4;
  for (const step of steps.slice(0, FIRST_ROWS)) {
    const words = wordsBlock(stepWords(step), { x: 46, y: y + 1.6 }, CARD_WIDTH_MM - 46, {
      heightMm: SMALL_MM,
    });
    const heightMm = Math.max(ROW_MM, words.heightMm + 3);
    entities.push(
      box('text', { minX: 0, maxX: 3.4, minY: y + 2, maxY: y + 5.4 }, { widthMm: 0.35 }),
      text('text', { x: 6, y: y + 5.6 }, step.pass.text, 3.6, { weight: 700 }),
      text(
        'text',
        { x: 32, y: y + 5.4 },
        step.pass.face === 'inside' ? 'inside' : `face ${step.pass.face}`,
        2,
      ),
      ...words.entities,
      line('text', { x: 0, y: y + heightMm }, { x: CARD_WIDTH_MM, y: y + heightMm }, { widthMm: 0.2 }),
    );
    y += heightMm;
  }
  const end = `A latecomer forms the next batch: no plate is added once the first number is typed. Printed ${about.printedOn}.`;
  entities.push(
    ...wordsBlock(end, { x: 0, y: CARD_HEIGHT_MM - 6 }, CARD_WIDTH_MM, { heightMm: SMALL_MM }).entities,
  );
  return {
    id: 'batch',
    title: about.title,
    seenFrom: 'the bench',
    frame: { minX: 0, minY: 0, maxX: CARD_WIDTH_MM, maxY: CARD_HEIGHT_MM },
    entities,
  };
}
