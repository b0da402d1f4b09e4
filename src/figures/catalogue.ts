import type { Figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';

/** Every computed figure, by topic. */
export const allFigures: readonly Figure[] = [];

/** Every rule, by topic. */
export const allRules: readonly Rule[] = [];
