import { useMemo } from 'react';
import { Link, useLocation, useSearch } from 'wouter';
import { buildsOf, type ClassState } from '../../course/class-state.ts';
import {
  type Cause,
  compareCauses,
  comparePairs,
  type Pair,
  type ReadingTopic,
} from '../../course/compare-builds.ts';
import { buildComputed } from '../class/build-context.ts';
import { buildName } from '../class/class-names.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { usePreferences } from '../frame/preferences.ts';
import './builds.css';
import { Causes } from './compare-causes.tsx';
import { PairList } from './compare-pairs.tsx';
import './compare.css';
import { revisionName } from './revisions.ts';

const TOPICS: readonly { readonly topic: ReadingTopic; readonly name: string }[] = [
  { topic: 'tones', name: 'Notes and tones' },
  { topic: 'movement', name: 'Slope and movement under load' },
  { topic: 'set-up', name: 'Set-up' },
  { topic: 'board', name: 'The board' },
  { topic: 'moisture', name: 'Moisture of wood and room' },
  { topic: 'sizes', name: 'Sizes and fits' },
];

/** Two builds side by side: what was read, what differs by how much, and what the figures behind it say. */
export function ComparePage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="builds" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  const { role } = course.record.me;
  if (role !== 'teacher' && role !== 'helper')
    return (
      <main id="main" className="builds" data-state="ready">
        <h1>Compare two builds</h1>
        <p className="says">This page is the teacher’s; your own build is in the list of builds.</p>
      </main>
    );
  return <Compare course={course} state={course.state} />;
}

function Compare({ course, state }: { readonly course: CourseNow; readonly state: ClassState }) {
  const [, goTo] = useLocation();
  const asked = new URLSearchParams(useSearch());
  const builds = buildsOf(state);
  const known = (id: string | null): string | undefined => builds.find((b) => b.id === id)?.id;
  const a = known(asked.get('a')) ?? builds[0]?.id;
  const b = known(asked.get('b')) ?? builds.find((x) => x.id !== a)?.id;
  const pick = (first: string, second: string) =>
    goTo(`/builds/compare?a=${encodeURIComponent(first)}&b=${encodeURIComponent(second)}`, { replace: true });
  return (
    <main id="main" className="builds compare" data-state="ready">
      <h1>
        Compare two builds <DemoMark isDemo={course.isDemo} />
      </h1>
      {a === undefined || b === undefined ? (
        <p className="says">Two builds are needed; this course has {builds.length}.</p>
      ) : (
        <>
          <div className="compare-pick">
            <BuildPick label="First" state={state} value={a} onPick={(id) => pick(id, b)} />
            <button type="button" className="btn" onClick={() => pick(b, a)}>
              Swap
            </button>
            <BuildPick label="Second" state={state} value={b} onPick={(id) => pick(a, id)} />
          </div>
          {a === b ? (
            <p className="says">Twice the same build: choose another.</p>
          ) : (
            <TwoBuilds key={`${a} ${b}`} course={course} state={state} a={a} b={b} />
          )}
        </>
      )}
      <p>
        <Link className="btn" href="/builds">
          To the builds
        </Link>
      </p>
    </main>
  );
}

function BuildPick(props: {
  readonly label: string;
  readonly state: ClassState;
  readonly value: string;
  readonly onPick: (id: string) => void;
}) {
  return (
    <label>
      {props.label}
      <select className="pick" value={props.value} onChange={(e) => props.onPick(e.target.value)}>
        {buildsOf(props.state).map((b) => (
          <option key={b.id} value={b.id}>
            {buildName(props.state, b.id)}
          </option>
        ))}
      </select>
    </label>
  );
}

interface Compared {
  readonly pairs: readonly Pair[];
  readonly causes: readonly Cause[];
  readonly isOtherPattern: boolean;
  readonly sheets: readonly [
    ReturnType<typeof buildComputed>['sheet'],
    ReturnType<typeof buildComputed>['sheet'],
  ];
}

function useCompared(state: ClassState, a: string, b: string): Compared | undefined {
  const { largeUnit } = usePreferences();
  return useMemo(() => {
    const [first, second] = [state.builds.get(a), state.builds.get(b)];
    if (!first || !second) return undefined;
    const x = buildComputed(state, first, largeUnit);
    const y = buildComputed(state, second, largeUnit);
    return {
      pairs: comparePairs(x.judge, y.judge),
      causes: compareCauses(x.judge, y.judge),
      isOtherPattern: first.pattern !== second.pattern,
      sheets: [x.sheet, y.sheet],
    };
  }, [state, a, b, largeUnit]);
}

/** Topics with what is in both, those with the worst difference first. */
function topicsOf(pairs: readonly Pair[]) {
  // pairs come with the worst first: the place of a topic's first pair tells how much it matters
  return TOPICS.map((t) => ({ ...t, own: pairs.filter((p) => p.topic === t.topic) }))
    .filter((t) => t.own.length > 0)
    .sort((x, y) => worstOf(x.own) - worstOf(y.own));
}

const RANK = { broken: 0, doubtful: 1, met: 2 } as const;
const worstOf = (own: readonly Pair[]): number => RANK[own[0]?.state ?? 'met'];

function TwoBuilds(props: {
  readonly course: CourseNow;
  readonly state: ClassState;
  readonly a: string;
  readonly b: string;
}) {
  const { course, state, a, b } = props;
  const compared = useCompared(state, a, b);
  if (!compared) return null;
  const names = [buildName(state, a), buildName(state, b)] as const;
  const { pairs, causes, isOtherPattern, sheets } = compared;
  const apart = pairs.filter((p) => p.state !== undefined && p.state !== 'met').length;
  const patternOf = (id: string) => revisionName(course.record, state, state.builds.get(id)?.pattern ?? '');
  return (
    <>
      <p className="q2">
        {isOtherPattern
          ? `They follow different patterns (${patternOf(a)}; ${patternOf(b)}): only what both have is compared, each against its own limits. `
          : ''}
        {pairs.length} numbers were read in both; in {apart === 0 ? 'none' : apart} of them they lie further
        apart than half of what the limits allow.
      </p>
      <Causes names={names} causes={causes} sheets={sheets} />
      {pairs.length === 0 && <p>Nothing was read in both yet.</p>}
      {topicsOf(pairs).map(({ topic, name, own }) => (
        <section key={topic}>
          <h2 className="hd">
            {name} <span className="q">{own.length} in both</span>
          </h2>
          <PairList state={state} names={names} pairs={own} />
        </section>
      ))}
    </>
  );
}
