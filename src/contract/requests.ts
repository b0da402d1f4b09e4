import { z } from 'zod';

const id = z.string().regex(/^[A-Za-z0-9._-]{1,80}$/, 'an id has letters, digits, dots and dashes');
const patternText = z.string().min(1).max(500_000);

/** A new revision of a pattern. */
export const newRevision = z.strictObject({
  text: patternText,
  parent: z.string().max(80).nullable(),
  note: z.string().max(2000),
});

/** A new pattern of the teacher's own. */
export const newPattern = z.strictObject({ text: patternText, note: z.string().max(2000).default('') });

/** Events from a device. Each is checked on its own by the course room. */
export const eventBatch = z.strictObject({ events: z.array(z.unknown()).min(1).max(2000) });

export const signIn = z.strictObject({ passphrase: z.string().min(1).max(500) });
export const setPassphrase = z.strictObject({
  passphrase: z.string().min(10, 'at least 10 characters').max(500),
  old: z.string().max(500).optional(),
});
export const joinCourse = z.strictObject({ code: z.string().min(1).max(40), person: id.optional() });

const consent = z.strictObject({
  answer: z.enum(['yes', 'no', 'not asked']),
  on: z.iso.date().optional(),
});

/** A person as the teacher enters one. */
export const person = z.strictObject({
  id,
  name: z.string().trim().min(1).max(60),
  role: z.enum(['learner', 'helper']),
  course: id,
  build: z.union([id, z.literal('')]),
  ageBand: z.enum(['under16', 'from16to17', 'adult']),
  machines: consent,
  photos: consent,
});
export const people = z.strictObject({ people: z.array(person).min(1).max(100) });
export const personNote = z.strictObject({ text: z.string().max(2000) });
/** A new secret address for the sessions of a course. */
export const calendarFeed = z.strictObject({ time_zone: z.string().min(1).max(60) });
export const joinCodeFor = z.strictObject({ course: id });
