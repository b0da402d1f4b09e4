import type { BuildFacts } from '../course/build-facts.ts';
import { overridesOf, readingNumber, sheetOfBuild } from '../course/build-sheet.ts';
import { SET_UP_READINGS } from '../course/compare-builds.ts';
import { topThicknesses } from '../course/top-thickness.ts';
import { box, type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { thicknessMap } from '../drawing/thickness-map.ts';
import { scale, translate } from '../drawing/transform.ts';
import { type BraceSegment, backSegments, braceSegments } from '../figures/braces.ts';
import { figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { inputSpec } from '../pattern/pattern-file.ts';
import { inchText } from '../quantity/print-length.ts';
import { readingOf } from '../route/reading-of.ts';
import type { Route } from '../route/route-types.ts';
import { fittedText, SMALL_MM, wordsBlock } from './card-words.ts';
import { sign } from './sign.ts';

/** What both A4 and Letter hold with a margin, mm. */
export const PASSPORT_WIDTH_MM = 186;
export const PASSPORT_HEIGHT_MM = 250;

/** What a passport says beside the numbers. No name but the one the maker chose. */
export interface PassportAbout {
  readonly number?: number;
  /** undefined: without a name. */
  readonly maker?: string;
  /** Course or workshop: who to ask. */
  readonly ask: string;
  readonly finish?: string;
  /** Days of the first and the last work, ISO dates. */
  readonly begunOn?: string;
  readonly handedOverOn?: string;
  readonly revision: string;
  readonly printedOn: string;
  readonly isDemo: boolean;
}

/** A block of the passport: a heading and its lines. */
export interface PassportPart {
  readonly heading: string;
  readonly lines: readonly string[];
}

const NUMBERS = [
  'scale.length',
  'body.length',
  'body.upper_bout.width',
  'body.waist.width',
  'body.lower_bout.width',
  'rim.height.neck',
  'rim.height.tail',
  'hole.diameter',
  'top.thickness.final',
  'back.thickness.final',
  'side.thickness.final',
  'nut.spread',
  'saddle.spread',
  'board.width.nut',
  'neck.angle',
  'scale.setback.centre',
  'neck.fret_1.final',
  'neck.fret_9.final',
] as const;

const plain = (value: number, unit: string): string => {
  if (unit === 'mm') return `${Number(value.toFixed(2))} mm (${inchText(value)})`;
  return `${Number(value.toFixed(2))}${unit === '-' || unit === '' ? '' : ` ${unit}`}`;
};

function asBuilt(sheet: Sheet, read: ReadonlySet<string>): PassportPart {
  const lines = NUMBERS.flatMap((id) => {
    const value = numberOf(sheet, id);
    const figure = sheet.catalogue.byId.get(id);
    if (value === undefined || !figure) return [];
    const mark = read.has(id) ? ', read or chosen' : '';
    return [`${inputSpec(id)?.label ?? figure.label}: ${plain(value, figure.unit)}${mark}`];
  });
  return { heading: 'As built', lines: [...lines, 'Without a mark: as drawn.'] };
}

/** One line for each reading whose id is asked for and that was taken. */
function readings(route: Route, facts: BuildFacts, wanted: (id: string) => boolean): readonly string[] {
  return route.operations.flatMap((o) =>
    o.readings.flatMap((r) => {
      const list = facts.readings.get(r.id) ?? [];
      const value = wanted(r.id) ? readingNumber(r, list) : undefined;
      return value === undefined ? [] : [`${o.name}: ${r.name} ${plain(value, r.unit)}`];
    }),
  );
}

const orNot = (lines: readonly string[], words: string): readonly string[] =>
  lines.length > 0 ? lines : [words];

const VOICING = /^R9\./;
const MOISTURE = /moisture/;

/** Width and height of bars, alike ones in one line: `finger brace, 4: 5.5 wide, 7 high`. */
function bars(segments: readonly BraceSegment[] | undefined, where: string): readonly string[] {
  const alike = new Map<string, { readonly words: string; count: number }>();
  for (const s of segments ?? []) {
    const words = `${plainMm(s.widthMm)} wide, ${plainMm(s.heightMm)} high`;
    const key = `${s.role} ${words}`;
    const known = alike.get(key) ?? { words, count: 0 };
    known.count++;
    alike.set(key, known);
  }
  return [...alike].map(([key, { words, count }]) => {
    const role = key.slice(0, key.length - words.length - 1);
    return `${where}${role}${count > 1 ? `, ${count}` : ''}: ${words}`;
  });
}

const plainMm = (mm: number): string => `${Number(mm.toFixed(2))}`;

function braces(route: Route, facts: BuildFacts, sheet: Sheet): readonly string[] {
  return [
    ...readings(route, facts, (id) => VOICING.test(id)),
    ...bars(figureValue(sheet, braceSegments), ''),
    ...bars(figureValue(sheet, backSegments), ''),
  ];
}

/** What is aimed at while nothing was read. */
const AIMS = ['setup.relief', 'setup.action.treble', 'setup.action.bass'] as const;

function setUp(route: Route, facts: BuildFacts, sheet: Sheet): readonly string[] {
  const read = readings(route, facts, (id) => SET_UP_READINGS.has(id));
  if (read.length > 0) return read;
  const aims = AIMS.flatMap((id) => {
    const value = numberOf(sheet, id);
    const figure = sheet.catalogue.byId.get(id);
    return value === undefined || !figure
      ? []
      : [`Aim, ${inputSpec(id)?.label ?? figure.label}: ${plain(value, figure.unit)}`];
  });
  return ['Not set up yet.', ...aims];
}

function finish(route: Route, facts: BuildFacts, about: PassportAbout): readonly string[] {
  const read = readings(route, facts, (id) => id === 'P2.3' || id === 'P3.1');
  return [about.finish ?? 'Not chosen.', ...read];
}

function repairs(facts: BuildFacts): readonly string[] {
  return [
    ...facts.repairs.map((r) => `${r.fault}: ${r.decision}${r.how ? `, ${r.how}` : ''}`),
    ...facts.replaced.map((r) => `Made again: ${r.reason}`),
  ];
}

/**
 * Everything a passport says, block by block.
 *
 * @source common practice, no published source
 */
export function passportParts(
  route: Route,
  pattern: Pattern,
  facts: BuildFacts,
  about: PassportAbout,
): readonly PassportPart[] {
  const sheet = sheetOfBuild(route, pattern, facts);
  const isGluing = (id: string): boolean => {
    const reading = readingOf(route, id);
    return reading?.room === true || MOISTURE.test(reading?.name ?? '');
  };
  const wood = pattern.stock.map((s) => `${s.part}: ${s.material}`);
  const strings = pattern.strings.map((s, i) => `${i + 1}: ${s.note}, ${s.diameterMm.toFixed(2)} mm`);
  return [
    asBuilt(sheet, new Set(overridesOf(route, facts).keys())),
    { heading: 'Wood', lines: orNot([...new Set(wood)], 'Not kept.') },
    { heading: 'Moisture at each gluing', lines: orNot(readings(route, facts, isGluing), 'Not read yet.') },
    { heading: 'Braces, mm', lines: orNot(braces(route, facts, sheet), 'Not drawn.') },
    { heading: 'Set-up', lines: setUp(route, facts, sheet) },
    { heading: 'Strings', lines: strings },
    { heading: 'Repairs', lines: orNot(repairs(facts), 'None.') },
    { heading: 'Finish', lines: finish(route, facts, about) },
    {
      heading: 'Care',
      lines: [
        'Keep it at 40 to 55 % relative humidity; below 35 % wood cracks, above 65 % joints creep.',
        'Never in a parked car, on a heater or in the sun. Loosen the strings only for work on it.',
        'Wipe it dry after playing; no polish with silicone.',
      ],
    },
    { heading: 'Who to ask', lines: [about.ask] },
  ];
}

const COLUMN_MM = 88;
const TOP_MM = 18;
const MAP_MM = 78;

function partEntities(part: PassportPart, x: number, y: number): { entities: Entity[]; heightMm: number } {
  const entities: Entity[] = [
    text('text', { x, y: y + 2.6 }, part.heading, 2.6, { face: 'name', weight: 700 }),
    line('text', { x, y: y + 4 }, { x: x + COLUMN_MM, y: y + 4 }, { widthMm: 0.25 }),
  ];
  let at = y + 5.6;
  for (const words of part.lines) {
    const block = wordsBlock(words, { x, y: at }, COLUMN_MM, { heightMm: SMALL_MM });
    entities.push(...block.entities);
    at += block.heightMm + 1.6;
  }
  return { entities, heightMm: at - y + 2.4 };
}

/** A word in a frame. */
function mark(words: string, x: number, y = 0): readonly Entity[] {
  const widthMm = words.length * 2.3 + 4;
  return [
    box('text', { minX: x, maxX: x + widthMm, minY: y + 0.5, maxY: y + 6.5 }, { widthMm: 0.5 }),
    text('text', { x: x + widthMm / 2, y: y + 3.5 }, words, 2.6, {
      weight: 700,
      anchorX: 'middle',
      anchorY: 'middle',
    }),
  ];
}

function head(pattern: Pattern, about: PassportAbout, isLeft: boolean): readonly Entity[] {
  const number = about.number === undefined ? '' : `Number ${about.number}`;
  const made = about.maker === undefined ? '' : `made by ${about.maker}`;
  const said = [number, made].filter(Boolean).join(', ');
  const days = [
    about.begunOn ? `begun ${about.begunOn}` : '',
    about.handedOverOn ? `handed over ${about.handedOverOn}` : '',
  ]
    .filter(Boolean)
    .join(', ');
  return [
    ...sign({ x: 0, y: 0 }, 11),
    fittedText(`Passport: ${pattern.name}`, { x: 15, y: 6 }, 110, 5.4, { face: 'name', weight: 700 }),
    fittedText(
      [said === '' ? 'Instrument' : said, days].filter(Boolean).join('; '),
      { x: 15, y: 11.4 },
      110,
      2.6,
      { weight: 600 },
    ),
    ...(about.isDemo ? mark('DEMO', 129) : []),
    ...(isLeft ? mark('LEFT-HANDED', 129, about.isDemo ? 7 : 0) : []),
    text('text', { x: PASSPORT_WIDTH_MM, y: 6 }, `revision ${about.revision}`, 2.2, { anchorX: 'end' }),
    text('text', { x: PASSPORT_WIDTH_MM, y: 11.4 }, `printed ${about.printedOn}`, 2.2, { anchorX: 'end' }),
    line('text', { x: 0, y: 14.5 }, { x: PASSPORT_WIDTH_MM, y: 14.5 }, { widthMm: 0.7 }),
  ];
}

function map(route: Route, pattern: Pattern, facts: BuildFacts, x: number, y: number): readonly Entity[] {
  const full = thicknessMap(sheetOfBuild(route, pattern, facts), topThicknesses(route, facts), 2.2);
  const { minX, maxX, minY, maxY } = full.frame;
  const ratio = Math.min(COLUMN_MM / (maxX - minX), MAP_MM / (maxY - minY));
  const shift = { x: x + COLUMN_MM / 2 - ((minX + maxX) / 2) * ratio, y: y + 8 - minY * ratio };
  return [
    text('text', { x, y: y + 2.6 }, 'Thickness of the top, mm, from the front', 2.6, {
      face: 'name',
      weight: 700,
    }),
    line('text', { x, y: y + 4 }, { x: x + COLUMN_MM, y: y + 4 }, { widthMm: 0.25 }),
    ...translate(scale(full.entities, ratio), shift),
  ];
}

/** Longest part first that still fits; what does not fit is cut with a line that says where the rest stands. */
function fitted(part: PassportPart, roomMm: number): PassportPart {
  for (let count = part.lines.length; count >= 0; count--) {
    const left = part.lines.length - count;
    const lines =
      left === 0 ? part.lines : [...part.lines.slice(0, count), `${left} more stand in the full file.`];
    if (partEntities({ ...part, lines }, 0, 0).heightMm <= roomMm || count === 0) return { ...part, lines };
  }
  return part;
}

/** Most lines of parts that grow with the record, so that every part keeps its place on the page. */
const MOST_LINES: Readonly<Record<string, number>> = {
  'Moisture at each gluing': 12,
  Repairs: 5,
  'Braces, mm': 14,
};

const shortened = (part: PassportPart): PassportPart => {
  const most = MOST_LINES[part.heading];
  const left = most === undefined ? 0 : part.lines.length - most;
  return left > 0
    ? { ...part, lines: [...part.lines.slice(0, most), `${left} more stand in the full file.`] }
    : part;
};

/**
 * One printed page that goes with an instrument: numbers as built, wood, moisture, thickness, braces, set-up, strings,
 * repairs, finish, care, who to ask.
 *
 * @source common practice, no published source
 */
export function passport(route: Route, pattern: Pattern, facts: BuildFacts, about: PassportAbout): Drawing {
  const parts = passportParts(route, pattern, facts, about).map(shortened);
  const rightX = PASSPORT_WIDTH_MM - COLUMN_MM;
  const entities: Entity[] = [
    ...head(pattern, about, facts.setUp?.handed === 'left'),
    ...map(route, pattern, facts, rightX, TOP_MM),
  ];
  const place = (list: readonly PassportPart[], x: number, fromMm: number) => {
    let y = fromMm;
    for (const part of list) {
      const block = partEntities(fitted(part, PASSPORT_HEIGHT_MM - y), x, y);
      entities.push(...block.entities);
      y += block.heightMm;
    }
  };
  const isLeft = (p: PassportPart) =>
    ['As built', 'Wood', 'Moisture at each gluing', 'Strings', 'Finish'].includes(p.heading);
  place(parts.filter(isLeft), 0, TOP_MM);
  place(
    parts.filter((p) => !isLeft(p)),
    rightX,
    TOP_MM + MAP_MM + 12,
  );
  return {
    id: 'passport',
    title: 'Passport',
    seenFrom: 'the front',
    frame: { minX: 0, minY: 0, maxX: PASSPORT_WIDTH_MM, maxY: PASSPORT_HEIGHT_MM },
    entities,
  };
}
