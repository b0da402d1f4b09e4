import { useMemo } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import type { RecordView } from '../record/record.ts';
import { classStates, useNow, useRecord } from '../record/use-class.ts';

/** The course a page shows, and the moment. */
export interface CourseNow {
  readonly record: RecordView;
  /** undefined while there is none, or nobody is signed in. */
  readonly state: ClassState | undefined;
  readonly courseId: string;
  readonly courses: readonly { readonly id: string; readonly name: string }[];
  readonly nowMs: number;
  readonly isDemo: boolean;
}

/** The course of this device: the one it joined, the one in the address, or the first. */
export function useCourse(wanted?: string): CourseNow {
  const record = useRecord();
  const nowMs = useNow();
  const states = useMemo(() => classStates(record), [record]);
  const courses = [...states].map(([id, s]) => ({ id, name: s.course.setUp?.name ?? id }));
  const own =
    record.me.course ||
    wanted ||
    courses.find((c) => !states.get(c.id)?.course.setUp?.demo)?.id ||
    courses[0]?.id ||
    '';
  const state = states.get(own);
  return { record, state, courseId: own, courses, nowMs, isDemo: state?.course.setUp?.demo === true };
}
