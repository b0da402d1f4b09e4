import { explode, isPrinted } from '../drawing/assemble.ts';
import { PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import { type BoundsMm, type Drawing, line } from '../drawing/model.ts';
import { PAPER_SIZES, type PaperName, type SizeMm, turned } from './paper.ts';
import type { PageStretch } from './printer-correction.ts';
import { roomOn, type SheetGroup, type SheetPage } from './sheet-page.ts';

/** A drawing laid out beforehand in mm on its paper (a card, a list): printed 1 : 1, never tiled. */
export interface FixedPage {
  readonly kind: 'fixed';
  readonly drawing: Drawing;
}

/** What A5 and half Letter both hold. A drawing within it is a card: two share a Letter or A4 sheet, four an A3. */
export const CARD_SAFE_AREA: SizeMm = { widthMm: 127, heightMm: 198 };

/** How fixed pages are laid out. */
export interface FixedOptions {
  readonly paper: PaperName;
  readonly stretch: PageStretch;
}

/**
 * Puts laid-out drawings on paper: cards side by side with a line to cut along, larger ones one to a page, each in the
 * middle of its place. On `sheet` each gets a page of A5 (cards) or just its own size.
 *
 * @throws RangeError when a drawing is larger than the paper
 * @source iso-216
 */
export function fixedPages(pages: readonly FixedPage[], options: FixedOptions): readonly SheetPage[] {
  const done: SheetPage[] = [];
  let cards: Drawing[] = [];
  const flush = () => {
    if (cards.length > 0) done.push(cardPage(cards, options));
    cards = [];
  };
  for (const { drawing } of pages) {
    if (!isCard(drawing)) {
      flush();
      done.push(largePage(drawing, options));
      continue;
    }
    cards.push(drawing);
    if (cards.length === cardGrid(options.paper).count) flush();
  }
  flush();
  return done;
}

function isCard({ frame }: Drawing): boolean {
  const { widthMm, heightMm } = sizeOf(frame);
  return widthMm <= CARD_SAFE_AREA.widthMm + 1e-6 && heightMm <= CARD_SAFE_AREA.heightMm + 1e-6;
}

interface CardGrid {
  readonly paper: SizeMm;
  readonly columnCount: number;
  readonly rowCount: number;
  readonly count: number;
}

const A5: SizeMm = { widthMm: 148, heightMm: 210 };

function cardGrid(paper: PaperName): CardGrid {
  if (paper === 'sheet') return { paper: A5, columnCount: 1, rowCount: 1, count: 1 };
  if (paper === 'a3') return { paper: PAPER_SIZES.a3, columnCount: 2, rowCount: 2, count: 4 };
  return { paper: turned(PAPER_SIZES[paper]), columnCount: 2, rowCount: 1, count: 2 };
}

function cardPage(cards: readonly Drawing[], { paper: name, stretch }: FixedOptions): SheetPage {
  const { paper, columnCount, rowCount } = cardGrid(name);
  const room = roomOn(paper, stretch);
  const cell = { widthMm: room.widthMm / columnCount, heightMm: room.heightMm / rowCount };
  const groups = cards.map((card, index) => {
    const column = index % columnCount;
    const row = Math.floor(index / columnCount);
    return centred(card, {
      minX: column * cell.widthMm,
      minY: row * cell.heightMm,
      maxX: (column + 1) * cell.widthMm,
      maxY: (row + 1) * cell.heightMm,
    });
  });
  const cuts = cutTicks(room, columnCount, rowCount);
  return {
    label: cards.map(({ title }) => title).join(' / '),
    paper,
    stretch,
    groups: [...groups, { entities: cuts, shift: { x: 0, y: 0 } }],
  };
}

/** Short ticks at the edges where the sheet is cut into cards. */
function cutTicks({ widthMm, heightMm }: SizeMm, columnCount: number, rowCount: number) {
  const [near, long] = [6.5, 6];
  const tick = (x1: number, y1: number, x2: number, y2: number) =>
    line('text', { x: x1, y: y1 }, { x: x2, y: y2 }, { widthMm: 0.15 });
  const x = widthMm / 2;
  const y = heightMm / 2;
  return [
    ...(columnCount > 1
      ? [tick(x, near, x, near + long), tick(x, heightMm - near - long, x, heightMm - near)]
      : []),
    ...(rowCount > 1
      ? [tick(near, y, near + long, y), tick(widthMm - near - long, y, widthMm - near, y)]
      : []),
  ];
}

function largePage(drawing: Drawing, { paper: name, stretch }: FixedOptions): SheetPage {
  const size = sizeOf(drawing.frame);
  const paper = paperFor(size, name, stretch, drawing.id);
  const room = roomOn(paper, stretch);
  const group = centred(drawing, { minX: 0, minY: 0, maxX: room.widthMm, maxY: room.heightMm });
  return { label: drawing.title, paper, stretch, groups: [group] };
}

function paperFor(size: SizeMm, name: PaperName, stretch: PageStretch, id: string): SizeMm {
  if (name === 'sheet')
    return {
      widthMm: Math.ceil(size.widthMm * stretch.xRatio),
      heightMm: Math.ceil(size.heightMm * stretch.yRatio),
    };
  const upright = PAPER_SIZES[name];
  const fits = [upright, turned(upright)].find((paper) => {
    const room = roomOn(paper, stretch);
    return size.widthMm <= room.widthMm && size.heightMm <= room.heightMm;
  });
  if (fits === undefined)
    throw new RangeError(
      `fixedPages: ${id} is ${size.widthMm} x ${size.heightMm} mm and larger than ${name} (${upright.widthMm} x ${upright.heightMm} mm)`,
    );
  return fits;
}

function centred(drawing: Drawing, place: BoundsMm): SheetGroup {
  const { minX, minY, maxX, maxY } = drawing.frame;
  const printed = drawing.entities.filter(isPrinted);
  return {
    entities: explode(printed, PRINT_DIMENSION_STYLE),
    shift: { x: (place.minX + place.maxX - minX - maxX) / 2, y: (place.minY + place.maxY - minY - maxY) / 2 },
  };
}

function sizeOf({ minX, minY, maxX, maxY }: BoundsMm): SizeMm {
  return { widthMm: maxX - minX, heightMm: maxY - minY };
}
