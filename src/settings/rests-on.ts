import type { Catalogue } from '../graph/catalogue.ts';
import type { Figure } from '../graph/figure.ts';

/**
 * The typed inputs that figures rest on, through all figures between.
 *
 * @param ids  figure ids; a member of a family counts as its family
 * @returns    input ids in the order they are met, each once
 * @source     arithmetic
 */
export function inputsBehind(catalogue: Catalogue, ids: readonly string[]): readonly string[] {
  const found = new Set<string>();
  const seen = new Set<Figure>();
  const visit = (figure: Figure): void => {
    if (seen.has(figure)) return;
    seen.add(figure);
    if (figure.role === 'input') found.add(figure.id);
    for (const input of figure.inputs) visit(input);
  };
  for (const id of ids) {
    const figure =
      catalogue.byId.get(id) ?? catalogue.byId.get(id.slice(0, Math.max(0, id.lastIndexOf('.'))));
    if (figure) visit(figure);
  }
  return [...found];
}
