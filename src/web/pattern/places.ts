import type { Judged } from '../../graph/rule.ts';

/** What a person looks at: a rule, or a figure. */
export type Look = { readonly kind: 'rule' | 'figure'; readonly id: string };

/** Where it may stand in the drawing, the nearest place first, and the rule when it is one. */
export interface LookedAt {
  readonly places: readonly string[];
  readonly judged: Judged | undefined;
}

/** Places in the drawing where a figure may stand: its own, then wider and wider ones. */
export function placesOf(id: string): readonly string[] {
  // a bar is drawn under its own name
  const bar = /^brace\.bars\.([^.]+)/.exec(id)?.[1];
  if (bar !== undefined) return [`brace.${bar}`];
  const words = id.split('.');
  const prefixes = words.map((_, i) => words.slice(0, words.length - i).join('.'));
  const word = words[0];
  const wide =
    word === 'body' ? ['outline'] : word === 'fret' ? ['frets'] : word === 'string' ? ['saddle'] : [];
  return [...prefixes.slice(0, word === 'body' ? 1 : undefined), ...wide];
}

/** Places of what is looked at. */
export function lookedAtOf(look: Look, judged: readonly Judged[]): LookedAt {
  const one = look.kind === 'rule' ? judged.find((j) => j.rule.id === look.id) : undefined;
  if (!one) return { places: placesOf(look.id), judged: undefined };
  const { rule } = one;
  const places = [
    ...(rule.place ? [rule.place] : []),
    ...placesOf(rule.subject.id),
    ...rule.remedies.flatMap((r) => placesOf(r.input.id)),
  ];
  return { places, judged: one };
}
