import { InputError } from '../quantity/input-error.ts';
import { DAY_MS, MINUTE_MS } from '../quantity/time.ts';
import { planRoute } from '../route/planned-route.ts';
import type { InstrumentId, Route } from '../route/route-types.ts';
import { operationsOfSteps } from './coarse-steps.ts';
import type { BodyOf, EventKind } from './event-kinds.ts';

/** One event to be made by whoever begins the course. */
export interface BeginEntry<K extends EventKind = EventKind> {
  readonly stream: `build:${string}` | `course:${string}` | `shop:${string}`;
  readonly kind: K;
  readonly body: BodyOf<K>;
}

/** One learner as the teacher enters him. */
export interface BeginLearner {
  readonly person: string;
  readonly build: string;
  /** Furthest coarse step done; undefined: nothing yet. */
  readonly furthest?: string;
  /** All coarse steps done, where the wall has holes; goes before `furthest`. */
  readonly done?: readonly string[];
  readonly handed: 'right' | 'left';
}

/** The few answers a course begins with. */
export interface BeginAnswers {
  readonly course: string;
  readonly name: string;
  readonly units: 'mm' | 'in';
  readonly instrument: InstrumentId;
  /** Hash of the pattern's revision. */
  readonly pattern: string;
  readonly learners: readonly BeginLearner[];
  /** First session, length and how many, a week apart. */
  readonly firstStartMs: number;
  readonly sessionMin: number;
  readonly sessionCount: number;
  /** Plain first instrument: fewer decorations, simpler finish. */
  readonly isPlain: boolean;
  /** What is in clamps now: whose, which operation, since when. */
  readonly inClamps?: readonly { readonly build: string; readonly op: string; readonly sinceMs: number }[];
}

const weekMs = 7 * DAY_MS;

/**
 * Names out of pasted text: a line, a comma or a semicolon between them; numbers and dots before a name fall away.
 *
 * @returns  first names as labels, each once, in the order of the text
 * @throws InputError when a name comes twice or there are more than forty
 * @source   arithmetic
 */
export function namesOf(text: string): readonly string[] {
  const names = text
    .split(/[\n,;\t]+/)
    .map((n) => n.replace(/^\s*\d+[.):]?\s*/, '').trim())
    .filter((n) => n !== '');
  const twice = names.find((n, i) => names.findIndex((m) => m.toLowerCase() === n.toLowerCase()) !== i);
  if (twice)
    throw new InputError(
      'twice',
      `"${twice}" stands there twice; add a letter to one of them so that they can be told apart.`,
    );
  if (names.length > 40)
    throw new InputError(
      'too-many',
      `There are ${names.length} names, and a course takes at most 40; make two courses.`,
    );
  const long = names.find((n) => n.length > 40);
  if (long)
    throw new InputError(
      'too-long',
      `"${long.slice(0, 30)} ..." has more than 40 letters; a first name is enough.`,
    );
  return names;
}

const planFor = (route: Route, answers: BeginAnswers) =>
  planRoute(route, { instrument: answers.instrument, choices: answers.isPlain ? ['plain'] : [] });

/** Operations that the finished coarse steps of a learner stand for: their own and everything before them. */
function doneBefore(route: Route, answers: BeginAnswers, steps: readonly string[]): readonly string[] {
  const unknown = steps.find((step) => !route.stageOf.steps.some((s) => s.id === step));
  if (unknown !== undefined)
    throw new InputError(
      'unknown-step',
      `There is no coarse step "${unknown}" in this route; touch one of the wall.`,
    );
  return operationsOfSteps(route, planFor(route, answers), steps);
}

function clampEntries(route: Route, answers: BeginAnswers): readonly BeginEntry[] {
  const plan = planFor(route, answers);
  return (answers.inClamps ?? []).flatMap(({ build, op, sinceMs }) => {
    const part = plan.byId.get(op)?.parts.findLast((p) => p.holds.length > 0);
    if (!part) return [];
    const holds = part.holds.map((h) => ({ what: h.what, leastH: h.leastH, usualH: h.usualH }));
    return [
      {
        stream: `build:${build}`,
        kind: 'put-in-clamps',
        body: { op, part: part.id, holds, atMs: sinceMs },
      } as const,
    ];
  });
}

/**
 * The events a course begins with, also in the middle: what is done counts as done before the record began, no
 * readings are asked for it and its minutes teach nothing.
 *
 * @param route    of the program or the course
 * @param answers  what the teacher entered
 * @returns        events to make, in order
 * @throws InputError when there is nobody, or a session has no length
 * @source         common practice, no published source
 */
export function beginCourse(route: Route, answers: BeginAnswers): readonly BeginEntry[] {
  const { course, learners } = answers;
  if (learners.length === 0)
    throw new InputError('nobody', 'There is no name yet; paste the names of the learners, one on a line.');
  if (!(answers.sessionMin >= 30 && answers.sessionMin <= 600))
    throw new InputError(
      'session-length',
      `A session is ${answers.sessionMin} minutes long, and it must be between 30 and 600; correct it.`,
    );
  const stream = `course:${course}` as const;
  const sessions = Array.from({ length: answers.sessionCount }, (_, i) => {
    const startMs = answers.firstStartMs + i * weekMs;
    return { session: `s${i + 1}`, startMs, endMs: startMs + answers.sessionMin * MINUTE_MS };
  });
  return [
    {
      stream,
      kind: 'course-set-up',
      body: {
        name: answers.name,
        pattern: answers.pattern,
        units: answers.units,
        ...(answers.isPlain ? { choices: ['plain'] } : {}),
        sessions,
      },
    },
    ...learners.map(
      (l, i) =>
        ({
          stream,
          kind: 'learner-added',
          body: { person: l.person, build: l.build, number: i + 1 },
        }) as const,
    ),
    ...learners.flatMap((l): readonly BeginEntry[] => {
      const build = `build:${l.build}` as const;
      const steps = l.done ?? (l.furthest === undefined ? [] : [l.furthest]);
      const ops = doneBefore(route, answers, steps);
      return [
        {
          stream: build,
          kind: 'build-set-up',
          body: {
            course,
            person: l.person,
            instrument: answers.instrument,
            pattern: answers.pattern,
            handed: l.handed,
            ...(answers.isPlain ? { choices: ['plain'] } : {}),
          },
        },
        ...(ops.length > 0
          ? [
              {
                stream: build,
                kind: 'done-before-record',
                body: { step: steps.at(-1) as string, ops },
              } as const,
            ]
          : []),
      ];
    }),
    ...clampEntries(route, answers),
  ];
}
