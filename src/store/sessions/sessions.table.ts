/** A device that was let in. The token itself is not kept, only its hash. */
export interface TokenTable {
  readonly hash: string;
  readonly role: string;
  readonly person: string;
  /** Empty for the teacher. */
  readonly course: string;
  readonly build: string;
  readonly made_ms: number;
  readonly seen_ms: number;
}

/** The code learners join a course with. */
export interface JoinCodeTable {
  readonly course: string;
  readonly code: string;
}

/** The teacher's passphrase, argon2id. One row at most. */
export interface PassphraseTable {
  readonly id: number;
  readonly hash: string;
}
