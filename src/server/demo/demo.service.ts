import fs from 'node:fs';
import path from 'node:path';
import { demoCourse } from '../../course/demo.ts';
import type { RecordEvent } from '../../course/event.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { numberOf } from '../../graph/sheet.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import { DAY_MS } from '../../quantity/time.ts';
import { ownRoute } from '../../route/route.ts';
import { readShop } from '../../shop/shop-file.ts';
import type { Person } from '../../store/people/people.repository.ts';
import type { Context } from '../context.ts';
import { allPatterns, contentHash } from '../patterns/patterns.service.ts';

/** Id of the invented course. */
export const DEMO_COURSE = 'demo';
/** The demo has a shop of its own, so that nothing invented stays in the real one. */
const DEMO_SHOP = 'shop:demo';
const SEED = 20_261;

const consent = (answer: 'yes' | 'no' | 'not asked', on: string) =>
  answer === 'yes' ? { answer, on } : { answer };

function buildOf(events: readonly RecordEvent[], person: string): string {
  const setUp = events.find(
    (e) => e.kind === 'build-set-up' && (e.body as { person: string }).person === person,
  );
  return setUp ? setUp.stream.slice('build:'.length) : '';
}

/** The file of the invented workshop. */
function demoShop(context: Context): {
  readonly revision: string;
  readonly name: string;
  readonly text: string;
} {
  const text = fs.readFileSync(path.join(context.dataFolder, 'shops', 'evening-workshop.yaml'), 'utf8');
  return { revision: contentHash(text), name: readShop(text).name, text };
}

/** Whether nothing has been entered yet. */
export async function isEmpty(context: Context): Promise<boolean> {
  return (await context.events.lastArrival()) === 0 && (await context.people.all()).length === 0;
}

/** Puts the invented evening class into an empty store; its next session is today or tomorrow. */
export async function seedDemo(context: Context): Promise<void> {
  const [steel] = await allPatterns(context);
  if (!steel) return;
  const sheet = sheetOfPattern(readPattern(steel.text));
  const demo = demoCourse({
    seed: SEED,
    nowMs: context.nowMs(),
    utcOffsetMin: -new Date(context.nowMs()).getTimezoneOffset(),
    route: ownRoute(),
    pattern: { revision: steel.hash, name: steel.name, text: steel.text },
    shop: demoShop(context),
    instrument: 'steel',
    figure: (id) => numberOf(sheet, id),
  });
  const events = demo.events.map((e) =>
    e.stream.startsWith('shop:') ? { ...e, stream: DEMO_SHOP } : e,
  ) as readonly RecordEvent[];
  // asked three weeks before the first evening
  const asked = new Date(context.nowMs() - 18 * 7 * DAY_MS).toISOString().slice(0, 10);
  const people: Person[] = demo.people
    .filter((p) => p.role !== 'teacher')
    .map((p) => ({
      id: p.id,
      name: p.label,
      role: p.role,
      course: demo.course,
      build: buildOf(events, p.id),
      ageBand: p.ageBand ?? 'adult',
      machines: consent(p.machines, asked),
      photos: consent(p.photos, asked),
      isForgotten: false,
    }));
  await context.people.put(people);
  await context.events.append(events);
  context.recorder.saw(events);
}

/** Takes the invented class away: its people are forgotten, the course says that it is removed. */
export async function removeDemo(context: Context, by: string): Promise<{ readonly removed: boolean }> {
  const people = (await context.people.all()).filter((p) => p.course === DEMO_COURSE);
  const events = await context.events.ofStreams([`course:${DEMO_COURSE}`]);
  if (events.length === 0) return { removed: false };
  for (const p of people) await context.people.forget(p.id);
  const arrived = await context.events.append([
    context.recorder.make({
      stream: `course:${DEMO_COURSE}`,
      kind: 'course-removed',
      by,
      body: { reason: 'the demo is no longer needed' },
    }),
    ...people.map((p) =>
      context.recorder.make({ stream: DEMO_SHOP, kind: 'person-anonymised', by, body: { person: p.id } }),
    ),
  ]);
  context.live.tell(arrived);
  return { removed: true };
}
