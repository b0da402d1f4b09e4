import type { Sheet } from '../../graph/sheet.ts';
import { inputsUnder, type WhyNode, whyTree } from '../../graph/why.ts';
import { inputSpec } from '../../pattern/pattern-file.ts';
import { usePreferences } from '../frame/preferences.ts';
import { Inches, LargeNumber } from '../parts/amount.tsx';
import { plainText, unitWords } from '../parts/amount-text.ts';

/** What the tree needs to know beside the sheet. */
export interface WhyContext {
  readonly sheet: Sheet;
  readonly mine: ReadonlySet<string>;
  /** Numbers of the last revision by id. */
  readonly before: ReadonlyMap<string, number | string>;
  readonly typed: ReadonlySet<string>;
}

const DEEPEST = 7;

/** A formula in words with true signs for times and minus. */
const setFormula = (formula: string): string =>
  formula.replaceAll(' x ', ' \u00d7 ').replaceAll(' - ', ' \u2212 ');

function NodeValue({ node }: { readonly node: WhyNode }) {
  if (typeof node.value === 'number') return <LargeNumber value={node.value} unit={node.unit} />;
  if (typeof node.value === 'string') return <>{node.value}</>;
  return <span className="none">{node.reason === undefined ? '·' : 'no value'}</span>;
}

function unitOf(node: WhyNode, largeUnit: 'mm' | 'in'): string {
  if (typeof node.value !== 'number') return '';
  return node.unit === 'mm' ? largeUnit : (unitWords[node.unit] ?? node.unit);
}

function Was({ node, context }: { readonly node: WhyNode; readonly context: WhyContext }) {
  const was = context.before.get(node.id);
  if (typeof was !== 'number' || typeof node.value !== 'number' || Math.abs(was - node.value) < 1e-9)
    return null;
  return (
    <em className="gh n">
      {' '}
      was <LargeNumber value={was} unit={node.unit} />
    </em>
  );
}

function sourceWords(node: WhyNode, { mine, typed }: WhyContext): string {
  if (node.measuredBy) return node.measuredBy;
  if (!inputSpec(node.id)) return node.source;
  if (typed.has(node.id)) return 'typed in this draft';
  return mine.has(node.id) ? 'typed, yours' : 'from the starting pattern, not yet yours';
}

function Node({
  node,
  context,
  depth,
  seen,
}: {
  readonly node: WhyNode;
  readonly context: WhyContext;
  readonly depth: number;
  readonly seen: ReadonlySet<string>;
}) {
  const { largeUnit } = usePreferences();
  const isInput = inputSpec(node.id) !== undefined;
  const words = isInput || depth > 0 ? node.label : setFormula(node.formula);
  const isRepeated = seen.has(node.id) && node.inputs.length > 0;
  const under = isRepeated || depth >= DEEPEST ? [] : node.inputs;
  const below = new Set(seen).add(node.id);
  const leafClass = isInput
    ? context.typed.has(node.id)
      ? 'leaf chg'
      : context.mine.has(node.id)
        ? 'leaf'
        : 'leaf not-yet'
    : '';
  return (
    <li className={leafClass}>
      <div className="nd">
        <b className="n">
          <NodeValue node={node} />
        </b>
        <span>
          {words}
          <span className="q"> {unitOf(node, largeUnit)}</span>
          <Was node={node} context={context} />
        </span>
        <i>
          {depth > 0 && !isInput ? `${setFormula(node.formula)}; ` : ''}
          {sourceWords(node, context)}
          {isRepeated ? ', as above' : ''}
        </i>
        {node.finding && <i className="ac">{node.finding.text}</i>}
      </div>
      {under.length > 0 && (
        <ul>
          {under.map((child) => (
            <Node key={child.id} node={child} context={context} depth={depth + 1} seen={below} />
          ))}
        </ul>
      )}
    </li>
  );
}

/** Inputs a figure rests on that are not yet the teacher's, by label. */
function notYetMine(id: string, { sheet, mine }: WhyContext): readonly string[] {
  const { byId } = sheet.catalogue;
  const figure = byId.get(id) ?? byId.get(id.slice(0, id.lastIndexOf('.')));
  if (!figure) return [];
  return [...inputsUnder(figure)].flatMap((input) => {
    const spec = inputSpec(input);
    return spec && !mine.has(input) ? [spec.label] : [];
  });
}

/** Why a number is what it is: formula, inputs and sources down to what was typed. */
export function WhyPanel({ id, context }: { readonly id: string; readonly context: WhyContext }) {
  const tree = whyTree(context.sheet, id);
  const open = notYetMine(id, context);
  const isLength = tree.unit === 'mm' && typeof tree.value === 'number';
  return (
    <div className="why" data-state="open" data-why={id}>
      {isLength && (
        <p className="both n">
          {plainText(tree.value as number, 'mm')} mm, <Inches valueMm={tree.value as number} /> in
        </p>
      )}
      <ul className="tree">
        <Node node={tree} context={context} depth={0} seen={new Set()} />
      </ul>
      {open.length > 0 && (
        <p className="says">
          Rests on {open.length === 1 ? 'one number' : `${open.length} numbers`} not yet yours:{' '}
          {open.slice(0, 6).join(', ')}
          {open.length > 6 ? ` and ${open.length - 6} more` : ''}.
        </p>
      )}
    </div>
  );
}
