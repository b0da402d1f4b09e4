import { describe, expect, it } from 'vitest';
import { expectClose } from '../../../test/support/expect-close.ts';
import { startingPattern } from '../../../test/support/patterns.ts';
import { ownRoute } from '../../route/route.ts';
import { foldBuild } from '../build-facts.ts';
import { classState, type PersonFacts } from '../class-state.ts';
import { foldCourse } from '../course-facts.ts';
import type { RecordEvent, StreamId } from '../event.ts';
import { foldShop } from '../shop-facts.ts';
import { officeTable } from './office-parts.ts';
import type { OfficeCell, OfficeInput, OfficeTable } from './office-table.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
/** Monday 4 March 2030, 18:00. */
const first = Date.UTC(2030, 2, 4, 18);
const nowMs = first + 15 * DAY;
let counter = 0;
const at = (timeMs: number, stream: StreamId, kind: string, body: object, by = 'teacher'): RecordEvent => ({
  id: `e${++counter}`,
  stream,
  kind,
  device: 'd',
  counter,
  time: timeMs,
  by,
  body,
});
const course = (timeMs: number, kind: string, body: object) => at(timeMs, 'course:c', kind, body);
const shop = (timeMs: number, kind: string, body: object, by?: string) =>
  at(timeMs, 'shop:main', kind, body, by);
const build = (timeMs: number, kind: string, body: object, by?: string) =>
  at(timeMs, 'build:b1', kind, body, by);
const session = (n: number) => ({
  session: `s${n}`,
  startMs: first + (n - 1) * 7 * DAY,
  endMs: first + (n - 1) * 7 * DAY + 3 * HOUR,
});

const person = (id: string, more: Partial<PersonFacts>): PersonFacts => ({
  id,
  label: id === 'p1' ? 'Ada' : id === 'p2' ? 'Bo' : 'Oskar',
  role: id === 'h' ? 'helper' : 'learner',
  machines: 'not asked',
  photos: 'not asked',
  ...more,
});

function input(
  more: {
    readonly course?: readonly RecordEvent[];
    readonly shop?: readonly RecordEvent[];
    readonly build?: readonly RecordEvent[];
  } = {},
): OfficeInput {
  const set = first - DAY;
  const instrument = { course: 'c', instrument: 'uke', pattern: 'r', handed: 'right' };
  return {
    state: classState({
      route: ownRoute(),
      course: foldCourse([
        course(set, 'course-set-up', { name: 'Class', sessions: [1, 2, 3, 4].map(session) }),
        course(set, 'learner-added', { person: 'p1', build: 'b1', number: 1 }),
        course(set, 'learner-added', { person: 'p2', build: 'b2', number: 2 }),
        course(set, 'helper-added', { person: 'h' }),
        ...(more.course ?? []),
      ]),
      builds: new Map([
        [
          'b1',
          foldBuild([build(set, 'build-set-up', { ...instrument, person: 'p1' }), ...(more.build ?? [])]),
        ],
        ['b2', foldBuild([at(set, 'build:b2', 'build-set-up', { ...instrument, person: 'p2' })])],
      ]),
      shop: foldShop(more.shop ?? []),
      people: [
        person('p1', { ageBand: 'under16', machines: 'yes', machinesOn: '2030-02-01', photos: 'no' }),
        person('p2', {}),
        person('h', { ageBand: 'adult' }),
      ],
    }),
    nowMs,
    civil: (ms) => {
      const iso = new Date(ms).toISOString();
      return { date: iso.slice(0, 10), time: iso.slice(11, 16) };
    },
    patternOf: () => startingPattern('tenor-ukulele'),
  };
}

function tableOf(from: OfficeInput, id: string): OfficeTable {
  const table = officeTable(from, id);
  if (!table) throw new Error(`no table ${id}`);
  for (const row of table.rows) expect(row.length, id).toBe(table.columns.length);
  if (table.sums) expect(table.sums.length, id).toBe(table.columns.length);
  return table;
}
const column = (table: OfficeTable, id: string): readonly OfficeCell[] =>
  table.rows.map((r) => r[table.columns.findIndex((c) => c.id === id)]);

describe('the register', () => {
  it('gives hours from opening to closing, "away", and nothing where nobody said anything', () => {
    const table = tableOf(
      input({
        course: [
          course(first, 'session-opened', { session: 's1', atMs: first + HOUR / 2 }),
          course(first, 'session-closed', { session: 's1', atMs: first + 2.5 * HOUR }),
          course(first, 'present', { session: 's1', person: 'p1' }),
          course(first, 'absent', { session: 's1', person: 'p2' }),
          course(first + 7 * DAY, 'present', { session: 's2', person: 'p1' }),
          course(first + 7 * DAY, 'session-cancelled', { session: 's3', reason: 'snow' }),
        ],
      }),
      'hours',
    );
    expect(table.columns.slice(4).map((c) => [c.id, c.label])).toEqual([
      ['2030-03-04_h', '4 Mar'],
      ['2030-03-11_h', '11 Mar'],
    ]);
    expect(table.rows.map((r) => r.slice(1))).toEqual([
      ['Ada', 2, 5, 2, 3],
      ['Bo', 0, 0, 'away', undefined],
      ['Oskar, helper', 0, 0, undefined, undefined],
    ]);
    expect(table.sums).toEqual([undefined, 'Together', 2, 5, '1', '1']);
  });
});

describe('the register of keys', () => {
  it('says who holds what since when, by whom, and why one lapsed', () => {
    const table = tableOf(
      input({
        shop: [
          shop(first, 'key-given', { person: 'p1', key: 'bandsaw' }, 'h'),
          shop(first, 'key-given', { person: 'p2', key: 'bandsaw', atMs: first - 400 * DAY }),
          shop(first, 'key-given', { person: 'p2', key: 'drill' }),
          shop(first + DAY, 'key-taken', { person: 'p2', key: 'drill', reason: 'asked to' }),
        ],
      }),
      'keys',
    );
    expect(table.rows.map((r) => r.slice(1))).toEqual([
      ['Bo', 'lapsed', '2030-03-04', 'the teacher', undefined, undefined, 'asked to'],
      ['Ada', 'held', '2030-03-04', 'Oskar', '2031-03-04', 2, undefined],
      ['Bo', 'lapsed', '2029-01-28', 'the teacher', undefined, undefined, 'given more than 12 months ago'],
    ]);
  });
});

describe('machine checks', () => {
  it('say by whom, what was not right, and what was used without one', () => {
    const from = input({
      shop: [
        shop(first, 'machine-checked', { station: 'bandsaw', state: 'met' }, 'h'),
        shop(first, 'machine-checked', { station: 'drill-press', state: 'broken', note: 'the stop sticks' }),
      ],
      build: [build(first, 'step-done', { op: 'T10', part: '1', station: 'thickness-sander' })],
    });
    expect(tableOf(from, 'machine-days').rows).toEqual([
      ['2030-03-04', 2, 'Oskar, the teacher', 'drill press: the stop sticks', 'thickness sander'],
    ]);
    expect(column(tableOf(from, 'machine-checks'), 'state')).toEqual(['broken', 'met']);
  });
});

describe('incidents', () => {
  it('name nobody who was hurt and tell nothing of first aid', () => {
    const entered = shop(first + HOUR, 'incident', {
      severity: 'first aid',
      text: 'A chisel slipped',
      person: 'p1',
      firstAid: 'a plaster on the left thumb',
      followUp: 'vice moved',
      atMs: first + HOUR,
    });
    const table = tableOf(
      input({
        shop: [entered, shop(first + DAY, 'incident-closed', { incident: entered.id, text: 'done' })],
      }),
      'incidents',
    );
    expect(table.rows).toEqual([
      [
        '2030-03-04',
        '19:00',
        'first aid',
        undefined,
        'A chisel slipped',
        'vice moved',
        'closed: done',
        'the teacher',
      ],
    ]);
    expect(JSON.stringify(table)).not.toMatch(/plaster|thumb|Ada|p1/);
  });
});

describe('consent', () => {
  it('is yes with its date, no, or not asked', () => {
    expect(tableOf(input(), 'consent').rows).toEqual([
      [1, 'Ada', 'learner', 'under 16', 'yes, 2030-02-01', 'no'],
      [2, 'Bo', 'learner', 'not entered', 'not asked', 'not asked'],
      [undefined, 'Oskar', 'helper', 'adult', 'not asked', 'not asked'],
    ]);
  });
});

describe('material and cost', () => {
  const stock = startingPattern('tenor-ukulele').stock;
  const side = stock.find((s) => s.part === 'side');
  const price = (n: number, currency: string) =>
    shop(first, 'price-entered', { part: 'side', material: side?.material ?? '', price: n, currency });

  it('lists the rough wood of the pattern for every build, and says honestly that nothing has a price', () => {
    const table = tableOf(input(), 'materials');
    expect(table.rows).toHaveLength(stock.length);
    expect(column(table, 'pieces')).toEqual(stock.map((s) => 2 * s.count));
    const row = table.rows.find((r) => r[0] === 'side');
    expectClose(
      row?.[6] as number,
      (2 * (side?.count ?? 0) * (side?.lengthMm ?? 0) * (side?.widthMm ?? 0) * (side?.thicknessMm ?? 0)) /
        1e6,
      {
        tol: 1e-9,
        source: 'arithmetic',
      },
    );
    expect(new Set(column(table, 'price_each'))).toEqual(new Set(['no price entered']));
    expect(table.sums?.at(-1)).toBe('no price entered');
    expect(table.sums?.[1]).toBe(`${stock.length} of ${stock.length} without a price`);
    expect(column(tableOf(input(), 'costs'), 'sum')).toEqual(['no price entered', 'no price entered']);
  });

  it('adds up what has a price, with the pieces that were taken again, and never adds two currencies', () => {
    const again = build(first, 'part-replaced', { op: 'S3', undone: [], reason: 'cracked', stock: ['side'] });
    const count = side?.count ?? 0;
    const one = input({ shop: [price(9, 'EUR'), price(12.5, 'EUR')], build: [again] });
    expect(tableOf(one, 'materials').sums?.at(-1)).toBe(`${(12.5 * 3 * count).toFixed(2)} EUR`);
    expect(column(tableOf(one, 'costs'), 'sum')).toEqual([
      `${(12.5 * 2 * count).toFixed(2)} EUR`,
      `${(12.5 * count).toFixed(2)} EUR`,
    ]);
    expect(column(tableOf(one, 'costs'), 'lines_with_price')).toEqual(Array(2).fill(`1 of ${stock.length}`));
    const back = stock.find((s) => s.part === 'back half') ?? stock[0];
    const other = shop(first, 'price-entered', {
      part: back?.part,
      material: back?.material,
      price: 1,
      currency: 'USD',
    });
    expect(tableOf(input({ shop: [price(9, 'EUR'), other] }), 'costs').sums?.at(-1)).toBe(
      `${(18 * count).toFixed(2)} EUR and ${(2 * (back?.count ?? 0)).toFixed(2)} USD`,
    );
    expect(tableOf(one, 'cost-lines').rows).toHaveLength(2 * stock.length);
  });
});

describe('the end of the term', () => {
  const broken = { state: 'broken', words: 'x', value: 1, low: 2, high: 3 };
  const reading = (timeMs: number, value: number, spot: string, verdict: object) =>
    build(timeMs, 'reading', { op: 'T10', reading: 'T10.1', value, unit: 'mm', spot, verdict });

  it('says what was decided about a reading outside its limits, or that nothing was', () => {
    const from = input({
      build: [
        reading(first, 1.5, 'bridge', broken),
        build(first + HOUR, 'repair-decided', {
          op: 'T10',
          fault: 'thin',
          decision: 'carry on',
          how: 'a wider plate',
        }),
        reading(first + 2 * HOUR, 1.4, 'tail', broken),
        reading(first + 3 * HOUR, 1.6, 'edge', broken),
        reading(first + 4 * HOUR, 2.5, 'edge', { ...broken, state: 'met' }),
      ],
    });
    const table = tableOf(from, 'outside');
    expect(column(table, 'decided')).toEqual([
      'read again: 2.5 mm',
      'no decision entered',
      'carry on: a wider plate',
    ]);
    expect(column(table, 'wanted')).toEqual(Array(3).fill('2 to 3 mm'));
    expect(column(tableOf(from, 'term-builds'), 'of_them_decided')).toEqual([2, 0]);
  });

  it('keeps the readings of a piece that was given up', () => {
    const from = input({
      build: [
        reading(first, 1.5, 'bridge', broken),
        build(first + HOUR, 'part-replaced', { op: 'T10', undone: ['T10'], reason: 'too thin' }),
      ],
    });
    expect(column(tableOf(from, 'outside'), 'decided')).toEqual(['made again: too thin']);
    expect(column(tableOf(from, 'term-builds'), 'parts_made_again')).toEqual([1, 0]);
  });

  it('learns minutes only from steps whose start and end can be believed', () => {
    const step = (op: string, fromMs: number, minutes: number) => [
      build(fromMs, 'step-started', { op, part: '1' }),
      build(fromMs + minutes * 60_000, 'step-done', { op, part: '1' }),
    ];
    const table = tableOf(
      input({
        build: [
          ...step('T1', first, 30),
          ...step('T2', first, 1),
          build(first, 'step-done', { op: 'T4', part: '1' }),
        ],
      }),
      'minutes',
    );
    expect(column(table, 'step')).toEqual(['True the two meeting edges']);
    expect(column(table, 'most_min')).toEqual([30]);
    // the planner's own estimate: seen once, it lies between the route and what was seen
    const [route, estimate] = [
      column(table, 'route_min')[0] as number,
      column(table, 'learned_min')[0] as number,
    ];
    expect(route).toBeLessThan(estimate);
    expect(estimate).toBeLessThan(30);
    expect(table.says).toContain('From 1 steps');
    expect(table.says).toContain('2 steps were only marked done');
  });

  it('counts sessions, hours taught and incidents', () => {
    const rows = new Map(
      tableOf(
        input({
          course: [course(first, 'present', { session: 's1', person: 'p1' })],
          shop: [shop(first, 'incident', { severity: 'near miss', text: 'x' })],
        }),
        'term',
      ).rows.map((r) => [r[0], r.slice(1).join(' ')]),
    );
    expect(rows.get('Sessions held')).toBe('3 of 4 planned');
    expect(rows.get('Hours taught')).toBe('9.0 ');
    expect(rows.get('Hours of learners')).toBe('3.0 2 learners');
    expect(rows.get('Incidents and near misses')).toBe('1 near miss: 1');
  });
});
