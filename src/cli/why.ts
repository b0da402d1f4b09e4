import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { computeDear } from '../graph/sheet.ts';
import { type WhyNode, whyTree } from '../graph/why.ts';
import { InputError } from '../quantity/input-error.ts';
import { nearestWord } from '../quantity/words.ts';
import { say, sayJson } from './door.ts';
import { patternArgument } from './pattern-argument.ts';
import { figureLine } from './sheet.ts';

const plain = (n: WhyNode): unknown => ({
  id: n.id,
  value: n.value ?? null,
  unit: n.unit,
  label: n.label,
  formula: n.formula,
  source: n.source,
  ...(n.reason === undefined ? {} : { reason: n.reason }),
  inputs: n.inputs.map(plain),
});

function print(n: WhyNode, depth: number): void {
  const value = n.value ?? null;
  say(
    '  '.repeat(depth) +
      figureLine(n.id, {
        value,
        unit: n.unit,
        label: `${n.label}: ${n.formula}`,
        formula: n.formula,
        source: n.source,
        ...(n.reason ? { reason: n.reason } : {}),
      }).replace(/ {2,}/g, '  '),
  );
  for (const i of n.inputs) print(i, depth + 1);
}

/** `why FIGURE PATTERN`: the tree of formula, inputs and sources behind one number. */
export function whyCommand(
  id: string,
  name: string,
  options: { readonly set: readonly string[]; readonly json?: boolean },
): number {
  const { pattern } = patternArgument(name, options.set);
  const sheet = sheetOfPattern(pattern, { dear: computeDear });
  const tree = treeOf(id, () => whyTree(sheet, id), sheet.catalogue.byId.keys());
  if (options.json) sayJson(plain(tree));
  else print(tree, 0);
  return 0;
}

function treeOf(id: string, find: () => WhyNode, ids: Iterable<string>): WhyNode {
  try {
    return find();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const near = nearestWord(id, ids);
    throw new InputError(
      'unknown-figure',
      `There is no figure "${id}"; ${near ? `did you mean "${near}"?` : 'the command "figures" lists them all.'}`,
    );
  }
}
