import type { CivilOf } from '../course/course-export.ts';

/** The workshop's own clock: that of the server. */
export const serverCivil: CivilOf = (ms) => {
  const at = new Date(ms);
  const two = (n: number): string => String(n).padStart(2, '0');
  return {
    date: `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`,
    time: `${two(at.getHours())}:${two(at.getMinutes())}`,
  };
};
