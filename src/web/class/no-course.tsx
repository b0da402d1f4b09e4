import { Link } from 'wouter';
import { SignIn } from './sign-in.tsx';
import type { CourseNow } from './use-course.ts';

/** Nothing to show yet: nobody signed in, or no course. */
export function NoCourse({ course }: { readonly course: CourseNow }) {
  const { me } = course.record;
  if (me.role === 'nobody') return <SignIn />;
  return (
    <main id="main" className="session" data-state="empty">
      <section className="empty">
        <h1>No course yet</h1>
        <p>Begin with a class that is already half way, or with one that starts from nothing.</p>
        {me.role === 'teacher' && (
          <Link className="btn go" href="/begin">
            Begin a course
          </Link>
        )}
      </section>
    </main>
  );
}
