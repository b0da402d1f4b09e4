import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import {
  type CropMm,
  hasRasteriser,
  inkProfile,
  rasterise,
  strokeMiddlesMm,
  totalInk,
} from '../../test/support/raster.ts';
import { specimenDrawing } from '../../test/support/specimen-drawing.ts';
import { CHECK_LINE_LENGTH_MM } from '../drawing/check-line.ts';
import { type BoundsMm, type Drawing, line, text } from '../drawing/model.ts';
import { textWidthMm } from '../drawing/text-size.ts';
import type { TitleFields } from '../drawing/title-block.ts';
import { loadFonts } from './fonts-node.ts';
import { drawingsToPdf, layOutPages, type PdfOptions, type PdfPage } from './pdf.ts';
import type { SheetPage } from './sheet-page.ts';
import { planTiles } from './tiles.ts';

const titleFields: TitleFields = {
  pattern: 'Trial plate',
  revision: '4',
  title: 'Front face',
  seenFrom: 'the front',
  units: 'mm (in)',
  drawnOn: '15 Jan 2027',
};

function makePdf(pages: readonly PdfPage[], options: Partial<PdfOptions> = {}): Promise<Uint8Array> {
  return drawingsToPdf(pages, {
    paper: 'sheet',
    fonts: loadFonts(),
    documentTitle: 'Trial',
    createdOn: '2027-01-15',
    ...options,
  });
}

/** Four strokes, 500 mm apart across and 150 (or 500) mm down: a thing whose size is known. */
function rulerDrawing(heightMm: number): Drawing {
  const stroke = (x1: number, y1: number, x2: number, y2: number) =>
    line('cut', { x: x1, y: y1 }, { x: x2, y: y2 });
  return {
    id: 'ruler',
    title: 'Ruler',
    seenFrom: 'the front',
    frame: { minX: -10, minY: -10, maxX: 510, maxY: heightMm + 10 },
    entities: [
      stroke(0, 20, 0, 60),
      stroke(500, 20, 500, 60),
      stroke(30, 0, 60, 0),
      stroke(30, heightMm, 60, heightMm),
    ],
  };
}

/** Where the drawing's origin lies on a page, mm. */
function originOn(sheet: SheetPage): { x: number; y: number } {
  return sheet.groups[0]!.shift;
}

function middleIn(pdf: Uint8Array, page: number, crop: CropMm, over: 'columns' | 'rows'): number {
  const middles = strokeMiddlesMm(rasterise(pdf, page, crop), over);
  expect(middles).toHaveLength(1);
  const edge = over === 'columns' ? crop.x : crop.y;
  // the rasteriser cuts at whole pixels
  return Math.round(edge / (25.4 / 600)) * (25.4 / 600) + middles[0]!;
}

const canRasterise = hasRasteriser('measuring prints by their pixels');

describe.runIf(canRasterise)('prints measured by their pixels at 600 dpi', () => {
  const source = 'plane-geometry';

  it('one large sheet is true within 0.1 mm over 500 mm, both ways', async () => {
    const page: PdfPage = { kind: 'full-scale', drawing: rulerDrawing(500), titleFields };
    const pdf = await makePdf([page]);
    const { x, y } = originOn(layOutPages([page], { paper: 'sheet' })[0]!);
    const left = middleIn(pdf, 1, { x: x - 4, y: y + 30, width: 8, height: 20 }, 'columns');
    const right = middleIn(pdf, 1, { x: x + 496, y: y + 30, width: 8, height: 20 }, 'columns');
    const top = middleIn(pdf, 1, { x: x + 35, y: y - 4, width: 20, height: 8 }, 'rows');
    const bottom = middleIn(pdf, 1, { x: x + 35, y: y + 496, width: 20, height: 8 }, 'rows');
    expectClose(right - left, 500, { tol: 0.1, source });
    expectClose(bottom - top, 500, { tol: 0.1, source });
  });

  it('two tiles laid together by their crosses are true within 0.1 mm over 500 mm', async () => {
    const drawing = rulerDrawing(150);
    const page: PdfPage = { kind: 'full-scale', drawing, titleFields };
    const pdf = await makePdf([page], { paper: 'a3' });
    const [, first, second] = layOutPages([page], { paper: 'a3' }) as [SheetPage, SheetPage, SheetPage];
    const a = { page: 2, origin: originOn(first), sheet: first };
    const b = { page: 3, origin: originOn(second), sheet: second };
    const left = {
      x: middleIn(pdf, a.page, { x: a.origin.x - 4, y: a.origin.y + 30, width: 8, height: 20 }, 'columns'),
      y: middleIn(pdf, a.page, { x: a.origin.x + 35, y: a.origin.y - 4, width: 20, height: 8 }, 'rows'),
    };
    const rightX = middleIn(
      pdf,
      b.page,
      { x: b.origin.x + 496, y: b.origin.y + 30, width: 8, height: 20 },
      'columns',
    );
    // from stroke to cross on the first sheet, from cross to stroke on the second: nothing else joins them
    const seamOfFirst = crossesOn(pdf, a.page, first, 'right');
    const seamOfSecond = crossesOn(pdf, b.page, second, 'left');
    const joinedMm = seamOfFirst[0]!.x - left.x + (rightX - seamOfSecond[0]!.x);
    expectClose(joinedMm, 500, { tol: 0.1, source });
    const tilt = (crosses: readonly { x: number; y: number }[]) =>
      (crosses[1]!.x - crosses[0]!.x) / (crosses[1]!.y - crosses[0]!.y);
    expect(Math.abs(tilt(seamOfFirst) - tilt(seamOfSecond)) * 500).toBeLessThan(0.1);
    expectClose(seamOfFirst[0]!.y - left.y, seamOfSecond[0]!.y - b.origin.y, { tol: 0.1, source });
  });

  it('check lines are 100 mm and 4 in, both ways, on the plan and on every tile', async () => {
    const page: PdfPage = { kind: 'full-scale', drawing: specimenDrawing(), titleFields };
    const pdf = await makePdf([page], { paper: 'letter' });
    const sheets = layOutPages([page], { paper: 'letter' });
    expect(sheets.length).toBe(1 + planCount(sheets));
    for (const index of [0, 1, sheets.length - 1])
      for (const measured of checkLengthsMm(pdf, index + 1, sheets[index]!)) {
        expectClose(measured.mm, 100, { tol: 0.05, source: 'inch-1959' });
        expectClose(measured.inches, 101.6, { tol: 0.05, source: 'inch-1959' });
      }
  });

  it('a printer that makes 99.2 and 100.4 of 100 mm makes 100 of the corrected set', async () => {
    const page: PdfPage = { kind: 'full-scale', drawing: rulerDrawing(150), titleFields };
    const printed100Mm = { x: 99.2, y: 100.4 };
    const pdf = await makePdf([page], { paper: 'sheet', printed100Mm });
    const sheet = layOutPages([page], { paper: 'sheet', printed100Mm })[0]!;
    const [across, down] = checkLengthsMm(pdf, 1, sheet);
    expectClose(across!.mm * 0.992, 100, { tol: 0.05, source: 'arithmetic' });
    expectClose(down!.mm * 1.004, 100, { tol: 0.05, source: 'arithmetic' });
    const { x, y } = originOn(sheet);
    const at = (mm: number) => mm * sheet.stretch.xRatio;
    const crop = (mm: number) => ({ x: at(x + mm) - 4, y: y + 30, width: 8, height: 15 });
    const left = middleIn(pdf, 1, crop(0), 'columns');
    const right = middleIn(pdf, 1, crop(500), 'columns');
    expectClose((right - left) * 0.992, 500, { tol: 0.1, source: 'arithmetic' });
  });

  it('every weight of every face puts ink on the paper, and bolder ones more', async () => {
    const looks = [
      { weight: 400, face: 'sans' },
      { weight: 600, face: 'sans' },
      { weight: 700, face: 'sans' },
      { weight: 700, face: 'name' },
    ] as const;
    const words = 'Hamburg \u0141\u00f3d\u017a 0123456789 3 15/16 \u00d8\u00d7\u2212\u00b0';
    const entities = looks.map((look, index) => text('text', { x: 5, y: 10 + index * 12 }, words, 4, look));
    const frame = { minX: 0, minY: 0, maxX: 140, maxY: 60 };
    const page: PdfPage = {
      kind: 'fixed',
      drawing: { id: 'words', title: 'Words', seenFrom: 'the front', frame, entities },
    };
    const pdf = await makePdf([page]);
    const ink = looks.map((_, i) =>
      totalInk(rasterise(pdf, 1, { x: 0, y: 4 + i * 12, width: 140, height: 9 }, 150)),
    );
    for (const amount of ink) expect(amount).toBeGreaterThan(800);
    expect(ink[1]).toBeGreaterThan(ink[0]! * 1.1);
    expect(ink[2]).toBeGreaterThan(ink[1]! * 1.03);
  });

  it('words are as wide as the table of widths says', async () => {
    const words = text('text', { x: 5, y: 10 }, 'Hole edge to X side, 3 15/16 in, 100.05', 4, {
      weight: 600,
    });
    const frame = { minX: 0, minY: 0, maxX: 200, maxY: 20 };
    const drawing: Drawing = { id: 'words', title: 'Words', seenFrom: 'the front', frame, entities: [words] };
    const raster = rasterise(await makePdf([{ kind: 'fixed', drawing }]), 1, {
      x: 0,
      y: 0,
      width: 200,
      height: 20,
    });
    const inked = inkProfile(raster, 'columns').flatMap((ink, index) => (ink > 0.5 ? [index] : []));
    const measuredMm = (inked.at(-1)! - inked[0]!) * raster.mmPerPx;
    // the first and the last letter have about 0.3 mm of white beside them
    expectClose(measuredMm, textWidthMm(words.text, words) - 0.6, { tol: 1, source: 'fontsource-5.3' });
  });
});

function planCount(sheets: readonly SheetPage[]): number {
  const { frame } = specimenDrawing();
  const { clip } = sheets[1]!.groups[0]!;
  const { minX, minY, maxX, maxY } = clip as BoundsMm;
  return planTiles(frame, { widthMm: maxX - minX, heightMm: maxY - minY }).tiles.length;
}

/** Measured places of the two crosses on the left or right seam of a sheet, mm on the page. */
function crossesOn(
  pdf: Uint8Array,
  page: number,
  sheet: SheetPage,
  side: 'left' | 'right',
): readonly { x: number; y: number }[] {
  const { clip, shift } = sheet.groups[1]!;
  const seamX = side === 'left' ? clip!.minX + 5 : clip!.maxX - 5;
  const circles = sheet.groups[1]!.entities.flatMap((entity) =>
    entity.kind === 'circle' && Math.abs(entity.centre.x + shift.x - seamX) < 1 ? [entity.centre] : [],
  );
  expect(circles).toHaveLength(2);
  return circles.map((centre) => {
    const crop = { x: centre.x + shift.x - 4.8, y: centre.y + shift.y - 4.8, width: 9.6, height: 9.6 };
    return { x: middleIn(pdf, page, crop, 'columns'), y: middleIn(pdf, page, crop, 'rows') };
  });
}

/** Both check lines of a page as they are on paper: from first to last ink on their mm and their inch side. */
function checkLengthsMm(
  pdf: Uint8Array,
  page: number,
  sheet: SheetPage,
): readonly { mm: number; inches: number }[] {
  const { xRatio, yRatio } = sheet.stretch;
  const lines = sheet.groups.flatMap(({ entities }) =>
    entities.flatMap((entity) => {
      if (entity.kind !== 'line') return [];
      const { from, to } = entity;
      const length = Math.hypot(to.x - from.x, to.y - from.y);
      return Math.abs(length - CHECK_LINE_LENGTH_MM) < 1e-6 ? [{ from, to }] : [];
    }),
  );
  expect(lines).toHaveLength(2);
  return lines.map(({ from, to }) => {
    const isAcross = Math.abs(to.x - from.x) > Math.abs(to.y - from.y);
    const start = { x: from.x * xRatio, y: from.y * yRatio };
    const band = (aside: number): CropMm =>
      isAcross
        ? { x: start.x - 1, y: start.y + aside, width: 105, height: 0.5 }
        : { x: start.x - aside - 0.5, y: start.y - 1, width: 0.5, height: 105 };
    const span = (aside: number) => spanMm(pdf, page, band(aside), isAcross ? 'columns' : 'rows');
    return { mm: span(-2.4), inches: span(1.9) };
  });
}

/** From the middle of the first tick to the middle of the last, mm. */
function spanMm(pdf: Uint8Array, page: number, crop: CropMm, over: 'columns' | 'rows'): number {
  const raster = rasterise(pdf, page, crop);
  expect(Math.max(...inkProfile(raster, over))).toBeGreaterThan(5);
  const ticks = strokeMiddlesMm(raster, over, 0.9);
  return ticks.at(-1)! - ticks[0]!;
}

describe('drawingsToPdf', () => {
  const page: PdfPage = { kind: 'full-scale', drawing: specimenDrawing(), titleFields };

  it('gives the same bytes twice', async () => {
    const [a, b] = [await makePdf([page], { paper: 'a4' }), await makePdf([page], { paper: 'a4' })];
    expect(Buffer.compare(a, b)).toBe(0);
  });

  it('tells the print dialog not to fit the page', async () => {
    const file = Buffer.from(await makePdf([page])).toString('latin1');
    expect(file).toContain('/PrintScaling /None');
    expect(file).toContain('(D:20270115120000Z)');
  });

  it('starts tiled prints with a plan; a drawing that fits has none', () => {
    expect(layOutPages([page], { paper: 'sheet' })).toHaveLength(1);
    const words = wordsOf(layOutPages([page], { paper: 'letter' })[0]!);
    expect(words).toContain('plan of 8');
    expect(words.filter((word) => /^[A-D][12]$/.test(word))).toHaveLength(8);
  });

  it('says the proof distance that the crosses really have', () => {
    const sheets = layOutPages([page], { paper: 'letter' });
    const said = wordsOf(sheets[0]!).join(' ');
    const mm = Number(/cross are ([\d.]+) mm apart/.exec(said)?.[1]);
    // column 1, right seam: first cross of A1, last cross of D1
    const onSeam = (index: number) =>
      sheets[index]!.groups[1]!.entities.flatMap((entity) =>
        entity.kind === 'circle' ? [entity.centre] : [],
      );
    const seamX = Math.max(...onSeam(1).map(({ x }) => x));
    const ys = [1, 7].flatMap(onSeam).filter(({ x }) => Math.abs(x - seamX) < 1e-6);
    const far = Math.max(...ys.map(({ y }) => y)) - Math.min(...ys.map(({ y }) => y));
    expectClose(mm, far, { tol: 0.06, source: 'plane-geometry' });
  });

  it('marks left-handed and demo prints on every page, and says what they rest on', () => {
    const marked = { ...titleFields, isLeftHanded: true, isDemo: true, notes: ['Waist is not yet yours.'] };
    const sheets = layOutPages([{ ...page, titleFields: marked }], { paper: 'a4' });
    for (const sheet of sheets) {
      const words = wordsOf(sheet).join(' ');
      expect(words).toContain('LEFT-HANDED');
      expect(words).toContain('Demo: invented numbers');
      expect(words).toContain('Waist is not yet yours.');
    }
    expect(wordsOf(layOutPages([page], { paper: 'a4' })[0]!).join(' ')).not.toContain('LEFT-HANDED');
  });

  it('lists its pages by what they show', async () => {
    const card: PdfPage = {
      kind: 'fixed',
      drawing: {
        ...rulerDrawing(100),
        title: 'Ring bench',
        frame: { minX: 0, minY: 0, maxX: 127, maxY: 198 },
      },
    };
    const labels = layOutPages([page, card, card], { paper: 'letter' }).map(({ label }) => label);
    expect(labels[0]).toBe('Front face, plan');
    expect(labels[1]).toBe('Front face, A1 of 8');
    expect(labels.at(-1)).toBe('Ring bench / Ring bench');
    const file = Buffer.from(await makePdf([page, card], { paper: 'letter' })).toString('latin1');
    expect(file).toContain('/PageMode /UseOutlines');
  });

  it('says what it corrected, and nothing for a printer that is true', () => {
    const said = (x: number, y: number) =>
      wordsOf(layOutPages([page], { paper: 'sheet', printed100Mm: { x, y } })[0]!).join(' ');
    expect(said(99.2, 100.4)).toContain(
      'Corrected for a printer that makes 99.2 across and 100.4 down of 100 mm.',
    );
    expect(said(100, 100)).not.toContain('Corrected');
  });

  it('puts two cards on a Letter sheet and four on A3, each at full size', () => {
    const card: PdfPage = {
      kind: 'fixed',
      drawing: { ...rulerDrawing(100), id: 'card', frame: { minX: 0, minY: 0, maxX: 127, maxY: 198 } },
    };
    const five = [card, card, card, card, card];
    const letter = layOutPages(five, { paper: 'letter' });
    expect(letter.map(({ groups }) => groups.length - 1)).toEqual([2, 2, 1]);
    expectClose(letter[0]!.groups[1]!.shift.x - letter[0]!.groups[0]!.shift.x, 139.7, {
      tol: 1e-9,
      source: 'inch-1959',
    });
    expect(layOutPages(five, { paper: 'a3' }).map(({ groups }) => groups.length - 1)).toEqual([4, 1]);
  });

  it('refuses a laid-out page that is larger than the paper, and an empty document', async () => {
    const frame = { minX: 0, minY: 0, maxX: 300, maxY: 300 };
    const big: PdfPage = { kind: 'fixed', drawing: { ...rulerDrawing(100), frame } };
    expect(() => layOutPages([big], { paper: 'letter' })).toThrow(
      'ruler is 300 x 300 mm and larger than letter',
    );
    await expect(makePdf([])).rejects.toThrow('0 pages');
    await expect(makePdf([page], { createdOn: 'tomorrow' })).rejects.toThrow('createdOn is "tomorrow"');
  });

  it('keeps words as words that can be searched, letters of eastern Europe included', async () => {
    const found = spawnSync('pdftotext', ['-', '-'], { input: await makePdf([page]) });
    if (found.error !== undefined) {
      expect(
        process.env['CI'],
        'not run: words of prints, because pdftotext is not installed',
      ).toBeUndefined();
      console.log('not run: words of prints, because pdftotext is not installed');
      return;
    }
    const words = found.stdout.toString('utf8');
    for (const word of [
      'TREBLE',
      'Wrze\u015bnia, \u0141\u00f3d\u017a: 2.70 \u2212 0.05',
      'upper bar 12.0 \u00d7 14.5',
      'Trial plate',
    ])
      expect(words).toContain(word);
  });
});

function wordsOf(sheet: SheetPage): readonly string[] {
  return sheet.groups.flatMap(({ entities }) =>
    entities.flatMap((entity) => (entity.kind === 'text' ? [entity.text] : [])),
  );
}
