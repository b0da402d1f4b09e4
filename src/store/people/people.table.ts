/** A person of a course. The record names people by id only; what is here can be forgotten without touching it. */
export interface PersonTable {
  readonly id: string;
  readonly name: string;
  /** `learner`, `helper` or `teacher`. */
  readonly role: string;
  /** Id of the course; empty for the teacher. */
  readonly course: string;
  /** Id of the learner's build; empty where there is none. */
  readonly build: string;
  /** `under16`, `from16to17`, `adult`. Nothing else is kept about age. */
  readonly age_band: string;
  /** `yes`, `no`, `not asked`. */
  readonly machine_consent: string;
  readonly machine_consent_on: string | null;
  readonly photo_consent: string;
  readonly photo_consent_on: string | null;
  /** 1 when the person was anonymised. */
  readonly forgotten: number;
}

/** Whom to call. Kept apart, seen by the teacher only. */
export interface ContactTable {
  readonly person: string;
  readonly text: string;
}

/** A health note visible to the teacher only; in no export, in a backup only when asked for, gone at hand-over and when the person is forgotten. */
export interface HealthNoteTable {
  readonly person: string;
  readonly text: string;
}
