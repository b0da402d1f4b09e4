import { InputError } from '../../quantity/input-error.ts';
import type { Shop } from '../../shop/shop.ts';

const PAPERS = ['a4', 'letter'] as const;

/** Paper that a course prints on. */
export type CoursePaper = (typeof PAPERS)[number];

/** The paper of a shop's office printer: its own where sheets fit on it, else by its units. */
export function usualPaper({ paper, unit }: Pick<Shop, 'paper' | 'unit'>): CoursePaper {
  return PAPERS.find((p) => p === paper) ?? (unit === 'in' ? 'letter' : 'a4');
}

/**
 * The paper asked for, or the usual one.
 *
 * @throws InputError for a paper that is not known
 */
export function paperAsked(asked: string | undefined, usual: CoursePaper): CoursePaper {
  if (asked === undefined) return usual;
  const known = PAPERS.find((p) => p === asked);
  if (known) return known;
  throw new InputError(
    'paper',
    `The paper "${asked.slice(0, 20)}" is not known here; ask for ${PAPERS.join(' or ')}.`,
    'paper',
  );
}
