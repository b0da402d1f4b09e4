import { useMemo, useState } from 'react';
import { Link } from 'wouter';
import { type BuildTouched, changeTouches } from '../../course/as-changed.ts';
import { buildsOf, type ClassState } from '../../course/class-state.ts';
import type { RevisionKept } from '../../course/newer-revision.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { capital } from '../../quantity/words.ts';
import { changedSettings, settingCards } from '../../settings/settings-of.ts';
import { patternOfBuild } from '../class/build-context.ts';
import { buildName, operationName, placeName } from '../class/class-names.ts';
import { DemoMark } from '../class/demo-mark.tsx';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { ChangedList } from './against-pattern.tsx';
import { applyPattern, leavePattern } from './build-acts.ts';
import './builds.css';
import { Says } from '../parts/says.tsx';
import { patternOfRevision, revisionName, revisionsKnown } from './revisions.ts';

interface Ids {
  /** Revision the builds follow, and the newer one. */
  readonly pattern: string;
  readonly revision: string;
}

/** What a newer revision touches, before anyone applies it. */
export function ChangePage({ pattern, revision }: Ids) {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="builds" data-state="loading" />;
  const { state, record } = course;
  if (!state) return <NoCourse course={course} />;
  if (record.me.role !== 'teacher') return <Nothing says="This page is the teacher’s." />;
  const kept = revisionsKnown(record, state).find((r) => r.revision === revision);
  const after = patternOfRevision(record, state, revision);
  const one = buildsOf(state).find((b) => b.facts.pattern === pattern);
  if (!kept || !after)
    return (
      <Nothing says="That revision is not kept here; go back to the builds and take the one named there." />
    );
  if (!one)
    return <Nothing says="No build of this course follows the older revision any more: nothing to decide." />;
  return (
    <Change
      course={course}
      state={state}
      kept={kept}
      before={patternOfBuild(state, one.facts)}
      after={after}
      from={pattern}
    />
  );
}

function Nothing({ says }: { readonly says: string }) {
  return (
    <main id="main" className="builds" data-state="ready">
      <h1>A newer revision</h1>
      <p className="says">{says}</p>
      <Link className="btn" href="/builds">
        To the builds
      </Link>
    </main>
  );
}

interface ChangeProps {
  readonly course: CourseNow;
  readonly state: ClassState;
  readonly kept: RevisionKept;
  readonly before: Pattern;
  readonly after: Pattern;
  readonly from: string;
}

function Change({ course, state, kept, before, after, from }: ChangeProps) {
  const { touches, settings, titles } = useMemo(() => {
    const old = sheetOfPattern(before);
    const now = sheetOfPattern(after);
    const shop = shopOfCourse(state);
    const cardsBefore = settingCards(old, shop);
    const cardsNow = settingCards(now, shop);
    return {
      touches: changeTouches(state, old, now, from),
      settings: changedSettings(cardsBefore, cardsNow),
      titles: new Map([...cardsBefore, ...cardsNow].map((c) => [c.id, c.title])),
    };
  }, [state, before, after, from]);
  const typed = touches.figures.filter((f) => f.isInput);
  const behind = touches.figures.filter((f) => !f.isInput);
  const title = (id: string): string => titles.get(id) ?? id;
  const cardIds = [...new Set(settings.map((s) => s.card))];
  return (
    <main id="main" className="builds" data-state="ready">
      <h1>
        A newer revision: {kept.name} <DemoMark isDemo={course.isDemo} />
      </h1>
      <p>
        From {revisionName(course.record, state, from)} to {revisionName(course.record, state, kept.revision)}
        . Nothing changes in any build until you apply it there.
      </p>
      <section>
        <h2 className="hd">
          Numbers <span className="q">{touches.figures.length} change</span>
        </h2>
        <ChangedList changed={typed} />
        {behind.length > 0 && (
          <details>
            <summary>What follows from them ({behind.length})</summary>
            <ChangedList changed={behind} />
          </details>
        )}
      </section>
      <section>
        <h2 className="hd">
          Settings to make anew <span className="q">{settings.length}</span>
        </h2>
        {settings.length === 0 && <p>No setting changes.</p>}
        <ul className="changed">
          {settings.map((s) => (
            <li key={s.id}>
              <span>
                {s.label} <span className="q">card: {title(s.card)}</span>
              </span>
              <span className="n">
                <span className="gh">{s.from ?? 'none'}</span> to <strong>{s.to ?? 'none'}</strong>
              </span>
            </li>
          ))}
        </ul>
      </section>
      <section>
        <h2 className="hd">Also touched</h2>
        <dl className="also">
          <dt>Cards to print anew</dt>
          <dd>{cardIds.length === 0 ? 'none' : cardIds.map(title).join(', ')}</dd>
          <dt>Operations with a card on paper</dt>
          <dd>{listed(touches.cards, (op) => operationName(state, op))}</dd>
          <dt>Jigs to prove again</dt>
          <dd>{listed(touches.jigs, (id) => placeName(state, id))}</dd>
          <dt>Operations with other limits or settings</dt>
          <dd>{listed(touches.operations, (op) => operationName(state, op))}</dd>
        </dl>
      </section>
      <Decide course={course} state={state} kept={kept} builds={touches.builds} />
    </main>
  );
}

const listed = (ids: readonly string[], name: (id: string) => string): string =>
  ids.length === 0 ? 'none' : ids.map(name).join('; ');

const counted = (count: number): string => (count === 1 ? '1 build' : `${count} builds`);

interface DecideProps {
  readonly course: CourseNow;
  readonly state: ClassState;
  readonly kept: RevisionKept;
  readonly builds: readonly BuildTouched[];
}

/** Build by build: apply it, or leave the build as it is and keep why. */
function Decide({ course, state, kept, builds }: DecideProps) {
  const [picked, pick] = useState<ReadonlySet<string>>(
    () => new Set(builds.filter((b) => b.state === 'free').map((b) => b.build)),
  );
  const [reason, setReason] = useState('');
  const [says, setSays] = useState('');
  const chosen = builds.filter((b) => picked.has(b.build)).map((b) => b.build);
  const frozen = builds.filter((b) => picked.has(b.build) && b.state === 'frozen').length;
  const flip = (build: string) => {
    const next = new Set(picked);
    if (!next.delete(build)) next.add(build);
    pick(next);
  };
  const apply = async () => {
    if (chosen.length === 0) return setSays('Tick at least one build first.');
    const isKept =
      state.course.revisions.has(kept.revision) ||
      (!course.isDemo && state.shop.revisions.has(kept.revision));
    await applyPattern(course.courseId, kept, isKept, chosen, reason);
    setSays(`Applied to ${counted(chosen.length)}.`);
  };
  const leave = async () => {
    if (chosen.length === 0) return setSays('Tick at least one build first.');
    await leavePattern(chosen, kept.name ?? kept.revision.slice(0, 6), reason);
    setSays(`Left as they are: a note is kept with ${counted(chosen.length)}.`);
  };
  return (
    <section>
      <h2 className="hd">Build by build</h2>
      <ul className="touched">
        {builds.map((b) => (
          <li key={b.build}>
            <label>
              <input type="checkbox" checked={picked.has(b.build)} onChange={() => flip(b.build)} />
              <strong className="nm">{buildName(state, b.build)}</strong>
            </label>
            <p>
              <strong>{capital(b.state)}.</strong> {b.text}
              {b.state === 'frozen' &&
                b.cut.length > 0 &&
                ` Already cut: ${b.cut.map((op) => operationName(state, op)).join('; ')}.`}
            </p>
          </li>
        ))}
      </ul>
      <label className="reason">
        Why, kept with each build
        <input className="fld" value={reason} maxLength={300} onChange={(e) => setReason(e.target.value)} />
      </label>
      {frozen > 0 && (
        <p className="says bad">
          {frozen} of the ticked builds are frozen: what is cut there keeps its old size, and the new numbers
          hold for what is still to come. Look at each before you apply.
        </p>
      )}
      <div className="acts">
        <button type="button" className={chosen.length > 0 ? 'btn go' : 'btn'} onClick={() => void apply()}>
          Apply to {counted(chosen.length)}
        </button>
        <button type="button" className="btn" onClick={() => void leave()}>
          Leave {counted(chosen.length)} as they are
        </button>
      </div>
      <Says words={says} />
    </section>
  );
}
