import { useEffect, useMemo } from 'react';
import { useSearch } from 'wouter';
import type { ClassState } from '../../course/class-state.ts';
import { unitsOfClass } from '../../course/shop-of-record.ts';
import { followClassUnit } from '../frame/preferences.ts';
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

const KEY = 'bracewright-course';

/** The course last looked at on this device. */
function rememberedCourse(): string {
  try {
    return localStorage.getItem(KEY) ?? '';
  } catch {
    return '';
  }
}

/** Other pages of this device then show the same course. */
function rememberCourse(id: string): void {
  try {
    localStorage.setItem(KEY, id);
  } catch {
    // the address then says it as long as the page is open
  }
}

/** The course of this device: the one it joined, the one in the address, the one looked at last, or the first. */
export function useCourse(): CourseNow {
  const record = useRecord();
  const nowMs = useNow();
  const asked = new URLSearchParams(useSearch()).get('course') ?? '';
  const states = useMemo(
    () => (record.state === 'loading' ? new Map<string, ClassState>() : classStates(record)),
    [record],
  );
  const courses = [...states].map(([id, s]) => ({ id, name: s.course.setUp?.name ?? id }));
  if (states.has(asked)) rememberCourse(asked);
  const wanted = [record.me.course, asked, rememberedCourse()].find((id) => states.has(id));
  const own =
    wanted ?? courses.find((c) => !states.get(c.id)?.course.setUp?.demo)?.id ?? courses[0]?.id ?? '';
  const state = states.get(own);
  const units = state && unitsOfClass(state);
  useEffect(() => {
    if (units) followClassUnit(units);
  }, [units]);
  return { record, state, courseId: own, courses, nowMs, isDemo: state?.course.setUp?.demo === true };
}
