import { isFinding } from '../quantity/finding.ts';
import { MM_PER_IN } from '../quantity/units.ts';
import { fitOffset, type ProvedOffset } from '../settings/offset-line.ts';
import { type Machine, PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { readShop } from '../shop/shop-file.ts';
import { type CourseFacts, foldCourse } from './course-facts.ts';
import type { RecordEvent } from './event.ts';
import { foldShop, type ShopFacts, type StationFact } from './shop-facts.ts';

/** The station whose machine sets the thickness of plates. */
export const SANDER = 'thickness-sander';

/** What a shop is called that the record has not described. */
const NAMELESS = 'the shop of this record';

/** The offset of a machine as it was last proved, from the record; undefined when it never was. */
export function provedOffset(fact: StationFact | undefined): ProvedOffset | undefined {
  if (!fact?.proved) return undefined;
  const inMm = fact.proved.unit === 'in' ? MM_PER_IN : 1;
  const fitted = fitOffset(
    fact.proved.points.map((p) => ({ typedMm: p.typed * inMm, measuredMm: p.measured * inMm })),
    dayOf(fact.proved.atMs),
  );
  return isFinding(fitted) ? undefined : fitted;
}

const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** A machine nobody has described: it shows hundredths of a millimetre, or thousandths of an inch. */
const plainSander = (unit: 'mm' | 'in'): Machine => ({
  id: SANDER,
  name: 'thickness sander',
  station: SANDER,
  sets: 'thickness',
  unit,
  reads: { kind: 'digital', stepMm: unit === 'in' ? MM_PER_IN / 1000 : 0.01 },
  offset: { alphaMm: 0, beta: 1 },
});

const texts = new Map<string, Shop>();

/** Reading a shop file is slow beside looking it up, and pages ask at every change. */
function shopOfText(text: string): Shop {
  const known = texts.get(text);
  if (known) return known;
  const shop = readShop(text);
  texts.set(text, shop);
  return shop;
}

/** The newest shop file of the record; undefined when none was taken in. */
export function shopFileOf(
  facts: ShopFacts,
): { readonly revision: string; readonly text: string } | undefined {
  return [...facts.revisions.values()]
    .filter((r) => r.what === 'shop')
    .sort((a, b) => a.atMs - b.atMs)
    .at(-1);
}

/**
 * A shop file enters the record only when it can be read: every page reads the newest.
 *
 * @throws InputError with the sentence of the reader
 */
export function checkShopRevision(event: RecordEvent): void {
  const { what, text } = event.body as { readonly what?: string; readonly text?: string };
  if (event.kind === 'revision-made' && what === 'shop') shopOfText(text ?? '');
}

/** The file's machines with what was proved since: the later of the two days holds. */
function withProofs(shop: Shop, facts: ShopFacts): Shop {
  let machines = shop.machines;
  for (const [station, fact] of facts.stations) {
    const proved = provedOffset(fact);
    if (!proved?.line.provedOn) continue;
    const index = machines.findIndex((m) => m.station === station);
    const machine = machines[index] ?? (station === SANDER ? plainSander(shop.unit) : undefined);
    if (!machine || (machine.offset.provedOn ?? '') > proved.line.provedOn) continue;
    const now = { ...machine, offset: proved.line };
    machines = index < 0 ? [...machines, now] : machines.with(index, now);
  }
  return machines === shop.machines ? shop : { ...shop, machines };
}

/**
 * The shop as the record knows it: its newest file, with the offsets of its machines as they were proved since. A record
 * without a shop file still knows its units and what was proved.
 *
 * @param facts  of the shop
 * @param units  the class was begun in; they stand where no file says otherwise
 * @throws InputError when the file in the record cannot be read
 * @source       common practice, no published source
 */
export function shopOfRecord(facts: ShopFacts, units: 'mm' | 'in' = 'mm'): Shop {
  const file = shopFileOf(facts);
  const plain: Shop = { ...PLAIN_SHOP, name: NAMELESS, unit: units, paper: units === 'in' ? 'letter' : 'a4' };
  return withProofs(file ? shopOfText(file.text) : plain, facts);
}

/** The shop of a course. @source arithmetic */
export function shopOfCourse(state: { readonly shop: ShopFacts; readonly course: CourseFacts }): Shop {
  return shopOfRecord(state.shop, state.course.setUp?.units ?? 'mm');
}

/** The units a class types and reads in: as it was begun, else those of its shop. @source arithmetic */
export function unitsOfClass(state: { readonly shop: ShopFacts; readonly course: CourseFacts }): 'mm' | 'in' {
  return state.course.setUp?.units ?? shopOfCourse(state).unit;
}

/** A shop, and whether it is the invented one. */
export interface NamedShop {
  readonly shop: Shop;
  readonly isDemo: boolean;
}

/**
 * The shop for what belongs to no course, such as the cards of a pattern: the teacher's own when the record has a course
 * or a shop file of his, else the one of the demo.
 *
 * @param events  of the shop streams and of the courses, in any order
 * @returns       undefined when the record knows no shop at all
 * @throws InputError when the file in the record cannot be read
 * @source        common practice, no published source
 */
export function shopOfEvents(events: readonly RecordEvent[]): NamedShop | undefined {
  const byStream = new Map<string, RecordEvent[]>();
  for (const e of events) {
    const list = byStream.get(e.stream);
    if (list) list.push(e);
    else byStream.set(e.stream, [e]);
  }
  const courses = [...byStream.keys()]
    .filter((stream) => stream.startsWith('course:'))
    .map((stream) => foldCourse(byStream.get(stream) ?? []))
    .filter((c) => c.setUp && !c.removed)
    .sort((a, b) => (a.setUp?.atMs ?? 0) - (b.setUp?.atMs ?? 0));
  const own = foldShop(byStream.get('shop:main') ?? []);
  const course = courses.findLast((c) => !c.setUp?.demo);
  if (course || shopFileOf(own) || own.stations.size > 0)
    return { shop: shopOfRecord(own, course?.setUp?.units), isDemo: false };
  const demo = courses.find((c) => c.setUp?.demo);
  if (!demo) return undefined;
  const shop = shopOfRecord(foldShop(byStream.get('shop:demo') ?? []), demo.setUp?.units);
  return { shop, isDemo: true };
}

/**
 * The machine that takes plates down, as the record knows it; one that reads plainly in the units of the shop when
 * nobody has described it.
 *
 * @source common practice, no published source
 */
export function sanderOf(shop: Shop): Machine {
  return shop.machines.find((m) => m.station === SANDER && m.sets === 'thickness') ?? plainSander(shop.unit);
}
