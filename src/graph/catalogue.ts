import type { Figure } from './figure.ts';

/** All figures of a product, each after everything it is computed from. */
export interface Catalogue {
  /** In order of evaluation. */
  readonly ordered: readonly Figure[];
  readonly byId: ReadonlyMap<string, Figure>;
  /** Index in `ordered` by id. */
  readonly indexById: ReadonlyMap<string, number>;
  /** For each figure of `ordered`: the indices of its inputs. */
  readonly inputIndices: readonly (readonly number[])[];
}

/**
 * Collects figures with everything they need and puts them in order.
 *
 * @param wanted  figures; what they are computed from is found by itself
 * @returns       the catalogue
 * @throws RangeError when two figures share an id or a ring of figures needs itself; the ring is named in order
 * @source        arithmetic
 */
export function createCatalogue(wanted: Iterable<Figure>): Catalogue {
  const ordered: Figure[] = [];
  const byId = new Map<string, Figure>();
  const indexById = new Map<string, number>();
  const open: Figure[] = [];
  const visit = (f: Figure): void => {
    const known = byId.get(f.id);
    if (known !== undefined && known !== f)
      throw new RangeError(`Two figures are called ${f.id}; give one another id.`);
    if (indexById.has(f.id)) return;
    if (known !== undefined) {
      const ring = [...open.slice(open.indexOf(f)), f].map((x) => x.id).join(' -> ');
      throw new RangeError(`These figures need each other in a ring: ${ring}; cut one of the links.`);
    }
    byId.set(f.id, f);
    open.push(f);
    for (const i of f.inputs) visit(i);
    if (f.plainer) visit(f.plainer);
    open.pop();
    indexById.set(f.id, ordered.length);
    ordered.push(f);
  };
  for (const f of wanted) visit(f);
  const inputIndices = ordered.map((f) => f.inputs.map((i) => indexById.get(i.id) as number));
  return { ordered, byId, indexById, inputIndices };
}
