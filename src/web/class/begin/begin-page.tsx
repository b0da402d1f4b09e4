import { type FormEvent, useEffect, useMemo, useState } from 'react';
import { useLocation } from 'wouter';
import { namesOf } from '../../../course/begin-course.ts';
import { readPattern } from '../../../pattern/pattern-file.ts';
import { InputError } from '../../../quantity/input-error.ts';
import { planRoute } from '../../../route/planned-route.ts';
import { ownRoute } from '../../../route/route.ts';
import { prefer } from '../../frame/preferences.ts';
import { Says } from '../../parts/says.tsx';
import { askServer } from '../../record/record-server.ts';
import { useNow, useRecord } from '../../record/use-class.ts';
import { NoCourse } from '../no-course.tsx';
import { useCourse } from '../use-course.ts';
import './begin.css';
import { beginNow, type PatternHead } from './begin-course-now.ts';
import { type BeginForm, keepForm, keptForm } from './begin-form.ts';
import { ClampsPart } from './clamps-part.tsx';
import { DonePart } from './done-part.tsx';
import { PlanPart } from './plan-part.tsx';
import { ShopPart } from './shop-part.tsx';
import { WhenPart } from './when-part.tsx';
import { WhoPart } from './who-part.tsx';

/** Begin a course, also one that is already half way. */
export function BeginPage() {
  const record = useRecord();
  const course = useCourse();
  if (record.state === 'loading') return <main id="main" className="begin" data-state="loading" />;
  if (record.me.role === 'nobody') return <NoCourse course={course} />;
  if (record.me.role !== 'teacher')
    return (
      <main id="main" className="begin" data-state="empty">
        <p className="says bad">A course is begun by the teacher; ask for the teacher.</p>
      </main>
    );
  return <Begin />;
}

function usePatterns(): readonly PatternHead[] | undefined {
  const [patterns, setPatterns] = useState<readonly PatternHead[]>();
  useEffect(() => {
    void askServer<readonly PatternHead[]>('GET', '/api/patterns').then((answer) =>
      setPatterns(answer.kind === 'answer' ? answer.value : []),
    );
  }, []);
  return patterns;
}

/** Names of the field, or the sentence why they cannot be used. */
function readNames(text: string): { readonly names: readonly string[]; readonly fault: string } {
  try {
    return { names: namesOf(text), fault: '' };
  } catch (error) {
    if (error instanceof InputError) return { names: [], fault: error.message };
    throw error;
  }
}

function Begin() {
  const nowMs = useNow();
  const patterns = usePatterns();
  const [form, setForm] = useState<BeginForm>(() => keptForm(Date.now()));
  const [says, setSays] = useState('');
  const [isSending, setIsSending] = useState(false);
  const [, goTo] = useLocation();
  const change = (part: Partial<BeginForm>) => {
    setForm((before) => {
      const next = { ...before, ...part };
      keepForm(next);
      return next;
    });
    setSays('');
  };
  const { names, fault } = useMemo(() => readNames(form.names), [form.names]);
  const pattern = patterns?.find((p) => p.id === form.patternId) ?? patterns?.[0];
  const read = useMemo(() => (pattern ? readPattern(pattern.text) : undefined), [pattern]);
  const instrument = read?.instrument ?? 'steel';
  const plan = useMemo(
    () => planRoute(ownRoute(), { instrument, choices: form.isPlain ? ['plain'] : [] }),
    [instrument, form.isPlain],
  );
  const begin = async (event: FormEvent) => {
    event.preventDefault();
    if (!pattern || isSending) return;
    setIsSending(true);
    try {
      const { course } = await beginNow(form, pattern, Date.now());
      keepForm(undefined);
      prefer({ largeUnit: form.units });
      goTo(`/session?course=${course}`);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setSays(error.message);
    } finally {
      setIsSending(false);
    }
  };
  return (
    <main id="main" className="begin" data-state={patterns ? 'ready' : 'loading'}>
      <h1>Begin a course</h1>
      <p className="q2">Also one that is half way. Everything else is asked when a step first needs it.</p>
      {patterns?.length === 0 && (
        <p className="says bad">
          The server cannot be reached, so there are no patterns; load the page again.
        </p>
      )}
      <form onSubmit={begin}>
        <div className="begin-left">
          <WhoPart form={form} names={names} fault={fault} change={change} />
          <PlanPart
            form={form}
            patterns={patterns ?? []}
            chosen={pattern?.id}
            numbers={read?.numbers}
            change={change}
          />
          <WhenPart form={form} change={change} />
        </div>
        <div className="begin-right">
          <DonePart form={form} names={names} plan={plan} change={change} />
          <ClampsPart form={form} names={names} plan={plan} nowMs={nowMs} change={change} />
          <ShopPart form={form} change={change} />
          <section className="begin-part">
            <Says words={says} isFault />
            <button type="submit" className="btn go wide" disabled={isSending || !pattern}>
              Begin with {names.length} {names.length === 1 ? 'learner' : 'learners'}
            </button>
          </section>
        </div>
      </form>
    </main>
  );
}
