import { type BeginLearner, beginCourse, namesOf } from '../../../course/begin-course.ts';
import { foldShop } from '../../../course/shop-facts.ts';
import { shopFileOf } from '../../../course/shop-of-record.ts';
import { editPattern, type PatternEdit } from '../../../pattern/edit-pattern.ts';
import { readPattern } from '../../../pattern/pattern-file.ts';
import { isFinding } from '../../../quantity/finding.ts';
import { InputError } from '../../../quantity/input-error.ts';
import { requireLengthMm } from '../../../quantity/length.ts';
import { ownRoute } from '../../../route/route.ts';
import type { InstrumentId } from '../../../route/route-types.ts';
import { fitOffset } from '../../../settings/offset-line.ts';
import { newShopText, withFixedJigs } from '../../../shop/new-shop.ts';
import { sendRevision } from '../../keeping/server.ts';
import { readTyped } from '../../pattern/typed-number.ts';
import { type Entry, enter, recordView, reloadPeople, syncNow } from '../../record/record.ts';
import { askServer } from '../../record/record-server.ts';
import { freshId, shopStream } from '../acts.ts';
import { localDate } from '../clock-words.ts';
import type { BeginForm } from './begin-form.ts';
import { planInputs } from './plan-inputs.ts';

/** A pattern as the server gives it. */
export interface PatternHead {
  readonly id: string;
  readonly name: string;
  readonly hash: string;
  readonly text: string;
}

/** A course that has begun. */
export interface Begun {
  readonly course: string;
  readonly code: string;
}

/** The edits a plan's typed numbers make. @throws InputError for one that cannot be read */
export function planEdits(form: BeginForm): readonly PatternEdit[] {
  return planInputs.flatMap((spec) => {
    const typed = (form.plan[spec.id] ?? '').trim();
    if (typed === '') return [];
    const read = readTyped(spec, typed, form.units);
    if (read.kind === 'value') return [{ id: spec.id, value: read.text }];
    throw new InputError('plan-number', read.text, spec.id);
  });
}

/** Keeps the teacher's own numbers as a revision; without any the pattern stays as it is. */
async function ownRevision(form: BeginForm, pattern: PatternHead): Promise<string> {
  const edits = planEdits(form);
  if (edits.length === 0) return pattern.hash;
  const text = editPattern(pattern.text, edits);
  if (text === pattern.text) return pattern.hash;
  const sent = await sendRevision(pattern.id, {
    text,
    parent: pattern.hash,
    note: `Numbers of the plan of ${form.name.trim() || 'the course'}`,
  });
  if ('hash' in sent) return sent.hash;
  throw new InputError(
    'revision',
    sent.kind === 'refused'
      ? sent.message
      : 'The server cannot be reached; what you typed is kept, try again.',
  );
}

async function must<T>(method: 'POST', path: string, body: unknown): Promise<T> {
  const answer = await askServer<T>(method, path, body);
  if (answer.kind === 'answer') return answer.value;
  throw new InputError(
    'begin',
    answer.kind === 'refused'
      ? answer.message
      : 'The server cannot be reached; what you typed is kept on this device, try again when it is back.',
  );
}

const timeOf = (text: string, what: string): number => {
  const ms = new Date(text).getTime();
  if (Number.isNaN(ms))
    throw new InputError('time', `${what} has no day and time; type both, such as 3 November 2026, 18:30.`);
  return ms;
};

const wholeOf = (text: string, what: string, low: number, high: number): number => {
  const value = Number(text.trim());
  if (Number.isInteger(value) && value >= low && value <= high) return value;
  throw new InputError(
    'whole-number',
    `${what} is "${text}", and it must be a whole number between ${low} and ${high}; type it again.`,
  );
};

const lengthOf = (text: string, unit: 'mm' | 'in', what: string): number =>
  requireLengthMm(text, { unit, lowMm: 0.3, highMm: 30, what });

/**
 * What a course tells of the shop: offset of the sander, fixed jigs. A shop that the record knows keeps all it has.
 *
 * @param known  text of the record's shop file; undefined when there is none
 */
export function shopEntries(form: BeginForm, nowMs: number, known: string | undefined): readonly Entry[] {
  const pairs = form.proved.filter((p) => p.typed.trim() !== '' || p.measured.trim() !== '');
  const points = pairs.map((p, i) => ({
    typedMm: lengthOf(p.typed, form.units, `Typed number ${i + 1} at the sander`),
    measuredMm: lengthOf(p.measured, form.units, `Thickness ${i + 1} that came out`),
  }));
  const offset = points.length > 0 ? fitOffset(points) : undefined;
  if (offset && isFinding(offset)) throw new InputError('proof', offset.text);
  const jigs = form.jigs
    .filter((j) => j.size.trim() !== '')
    .map((j) => ({
      kind: j.kind,
      size: /[a-z"'′″]/i.test(j.size) ? j.size.trim() : `${j.size.trim()} ${form.units}`,
    }));
  if (points.length === 0 && jigs.length === 0) return [];
  const text =
    known === undefined
      ? newShopText({
          name: form.name.trim() || 'Workshop',
          unit: form.units,
          jigs,
          ...(offset ? { sanderOffset: { ...offset.line, provedOn: localDate(nowMs) } } : {}),
        })
      : withFixedJigs(known, jigs);
  const stream = shopStream(false);
  return [
    ...(text === known
      ? []
      : [
          {
            stream,
            kind: 'revision-made',
            body: { what: 'shop', revision: freshId('shop'), name: form.name, text },
          } as const,
        ]),
    ...(points.length > 0
      ? [
          {
            stream,
            kind: 'station-proved',
            body: {
              station: 'thickness-sander',
              unit: 'mm',
              points: points.map((p) => ({ typed: p.typedMm, measured: p.measuredMm })),
            },
          } as const,
        ]
      : []),
  ];
}

/**
 * Begins the course: the plan's numbers as a revision, the people, the code of the course, then the events.
 *
 * @throws InputError with one sentence; nothing but what the sentence does not speak of has been kept then
 */
export async function beginNow(form: BeginForm, pattern: PatternHead, nowMs: number): Promise<Begun> {
  const names = namesOf(form.names);
  const course = freshId('c');
  const learners: readonly (BeginLearner & { readonly name: string })[] = names.map((name) => ({
    name,
    person: freshId('p'),
    build: freshId('b'),
    handed: form.left.includes(name) ? 'left' : 'right',
    done: form.done[name] ?? [],
  }));
  const buildOf = new Map(learners.map((l) => [l.name, l.build]));
  const answers = {
    course,
    name: form.name.trim() || 'Evening class',
    units: form.units,
    instrument: readPattern(pattern.text).instrument as InstrumentId,
    pattern: pattern.hash,
    learners,
    firstStartMs: timeOf(form.firstStart, 'The first session'),
    sessionMin: wholeOf(form.minutes, 'Length of a session in minutes', 30, 600),
    sessionCount: wholeOf(form.count, 'Number of sessions', 1, 60),
    isPlain: form.isPlain,
    inClamps: form.clamps.flatMap((c) => {
      const build = buildOf.get(c.name);
      return build && c.op ? [{ build, op: c.op, sinceMs: timeOf(c.since, `In clamps: ${c.name}`) }] : [];
    }),
  };
  // everything that can be refused is tried before anything is sent
  beginCourse(ownRoute(), answers);
  const own = foldShop(recordView().streams.get(shopStream(false)) ?? []);
  const shop = shopEntries(form, nowMs, shopFileOf(own)?.text);
  const revision = await ownRevision(form, pattern);
  const consent = form.hasConsent ? { answer: 'yes', on: localDate(nowMs) } : { answer: 'not asked' };
  await must('POST', '/api/people', {
    people: learners.map((l) => ({
      id: l.person,
      name: l.name,
      role: 'learner',
      course,
      build: l.build,
      ageBand: form.ages[l.name] ?? 'adult',
      machines: consent,
      photos: { answer: 'not asked' },
    })),
  });
  const { code } = await must<{ code: string }>('POST', '/api/join-codes', { course });
  await enter([...beginCourse(ownRoute(), { ...answers, pattern: revision }), ...shop]);
  await reloadPeople();
  await syncNow();
  return { course, code };
}
