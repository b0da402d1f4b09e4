import type { RouteChoice, RouteForm, RouteHours, RouteStation } from './route-form.ts';

/** One learner of a course as the route needs to know it. */
export interface CourseLearner {
  readonly id: string;
  /** Instrument family of the build; the first of the route's when left out. */
  readonly instrument?: string;
  /** under16, from16to17 or adult; left out means the teacher's minutes at keyed stations are the whole minutes. */
  readonly ageBand?: string;
  /** Keys held when the plan begins. */
  readonly keys?: readonly string[];
  readonly awayWindowIds?: readonly string[];
}

/** One course: its sessions (usable minutes), preparation hours, learners and people. */
export interface CourseSetUp {
  readonly id: string;
  readonly name: string;
  readonly sessions: readonly { readonly id: string; readonly beginMin: number; readonly endMin: number }[];
  readonly preparation: readonly {
    readonly id: string;
    readonly beginMin: number;
    readonly endMin: number;
  }[];
  readonly learners: readonly CourseLearner[];
  readonly teacherIds?: readonly string[];
  readonly helperIds?: readonly string[];
}

/** What a class problem is made of. */
export interface ClassSetUp {
  readonly route: RouteForm;
  readonly courses: readonly CourseSetUp[];
  /** Id of a choice of the route, such as the plain first instrument; left out takes everything. */
  readonly choiceId?: string;
  /** Numbers of stations and jigs that differ from the route's own. */
  readonly counts?: Readonly<Record<string, number>>;
  /** Which rest times are planned with. */
  readonly restsAs?: 'least' | 'usual';
  /** Jigs that are passed round for a look rather than held while work is done; they never make anybody wait. */
  readonly looseJigIds?: readonly string[];
  /** Steps that are done or running: nobody else's lot counts on them. Without a part the whole operation. */
  readonly done?: readonly {
    readonly learnerId: string;
    readonly operationId: string;
    readonly partIndex: number | undefined;
  }[];
  /** Clock minute from which on it is planned; the first session when left out. */
  readonly nowMin?: number;
  readonly closures?: Readonly<
    Record<string, readonly { readonly beginMin: number; readonly endMin: number }[]>
  >;
}

/** The set-up with what everything below looks up in it. */
export interface Context {
  readonly setUp: ClassSetUp;
  readonly choice: RouteChoice | undefined;
  readonly stations: ReadonlyMap<string, RouteStation>;
  readonly capacityOf: (id: string) => number;
  readonly minutesOf: (hours: RouteHours) => number;
  /** Whether an operation is work of the whole class, such as the induction. */
  readonly isOfClass: (operationId: string) => boolean;
  readonly isDone: (learnerId: string, operationId: string, partIndex: number) => boolean;
}

/** Looks through a set-up once. */
export function makeContext(setUp: ClassSetUp): Context {
  const stations = new Map(setUp.route.stations.map((s) => [s.id, s]));
  const jigs = new Map(setUp.route.jigs.map((j) => [j.id, j.count]));
  const ofClass = new Set(
    setUp.route.operations.filter((o) => o.parts.every((p) => p.batch.scope === 'class')).map((o) => o.id),
  );
  const done = new Set(
    (setUp.done ?? []).map((d) => `${d.learnerId}|${d.operationId}|${d.partIndex ?? 'whole'}`),
  );
  return {
    setUp,
    choice: setUp.route.choices?.find((c) => c.id === setUp.choiceId),
    stations,
    capacityOf: (id) => setUp.counts?.[id] ?? stations.get(id)?.capacity ?? jigs.get(id) ?? 0,
    minutesOf: (hours) => Math.round(60 * (setUp.restsAs === 'usual' ? hours.usualH : hours.leastH)),
    isOfClass: (id) => ofClass.has(id),
    isDone: (learner, operation, part) =>
      done.has(`${learner}|${operation}|whole`) || done.has(`${learner}|${operation}|${part}`),
  };
}

/** Who teaches a course; one teacher when nobody is named. */
export const teachersOf = (course: CourseSetUp): readonly string[] => course.teacherIds ?? ['teacher'];
