/** How bad a finding is: `blocked` means there is no value, `doubtful` means there is one that should not be trusted blindly. */
export type FindingLevel = 'blocked' | 'doubtful';

/**
 * Why a figure cannot be had, or should be doubted. A finding is a value: it travels to every dependent figure
 * and keeps the figure where it began. Words are made from it in `contract/messages.en.ts`.
 */
export interface Finding {
  readonly kind: 'finding';
  /** Permanent code, never given a new meaning, e.g. `outline-handles-cross`. */
  readonly code: string;
  readonly level: FindingLevel;
  /** Id of the figure (or input) where it began. Empty while a pure function has not been told; the graph fills it in. */
  readonly figure: string;
  /** What was got, in `unit`. */
  readonly got?: number | string;
  /** The limit it broke, in `unit`. */
  readonly limit?: number | string;
  readonly unit?: string;
  /** One sentence for the person at the bench: what is wrong, the number, the limit, what to do. */
  readonly text: string;
  /** Where the limit comes from: an id in data/SOURCES.md or one of the fixed marks. */
  readonly source?: string;
}

/**
 * Makes a finding.
 *
 * @param parts  everything but the kind; `figure` may be left out and is then filled in by the graph
 * @returns      a finding value
 * @source       arithmetic
 */
export function finding(parts: Omit<Finding, 'kind' | 'figure'> & { readonly figure?: string }): Finding {
  return { kind: 'finding', figure: '', ...parts };
}

/** Whether a value is a finding. */
export function isFinding(value: unknown): value is Finding {
  return typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === 'finding';
}
