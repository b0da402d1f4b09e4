import { isMap, isScalar, isSeq, stringify } from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import { parseQuantity } from '../quantity/parse-quantity.ts';
import { nearestWord } from '../quantity/words.ts';
import { inputTable } from './input-table.ts';
import type { Pattern } from './pattern.ts';
import { fieldOf, inputSpec } from './pattern-file.ts';
import { parseSource } from './read-yaml.ts';

/** One change to a pattern's text. */
export interface PatternEdit {
  /** Input id, `handed` or `name`. */
  readonly id: string;
  /** As the person wrote it (`18 57/64 in`), or a number in the unit of the table. */
  readonly value: string | number;
}

/**
 * A typed value of an input in the unit of the table.
 *
 * @throws InputError when there is no such input or the value cannot be used
 * @source inch-1959
 */
export function readInputValue(id: string, value: string | number): number {
  const spec = inputSpec(id);
  if (!spec) {
    const near = nearestWord(
      id,
      inputTable.map((i) => i.id),
    );
    throw new InputError(
      'unknown-key',
      `There is no input "${id}"; ${near ? `did you mean "${near}"?` : 'the command "figures" lists them.'}`,
      id,
    );
  }
  const { field, perBase } = fieldOf(spec);
  const parsed = parseQuantity(value, field);
  if (parsed.kind === 'value') return parsed.value * perBase;
  throw new InputError(
    parsed.kind === 'refusal' ? parsed.code : 'unit-unclear',
    parsed.kind === 'refusal'
      ? parsed.text
      : `${spec.label} is "${value}"; did you mean ${parsed.text.replace(/\?$/, '')}? Write the unit behind it.`,
    id,
  );
}

/** The value as it is written into the file. */
function writtenValue(id: string, value: string | number): string | number {
  const spec = inputSpec(id);
  if (!spec || typeof value === 'string')
    return typeof value === 'string' && /^\d+$/.test(value) && spec?.unit === 'count' ? Number(value) : value;
  const rounded = Number(value.toFixed(4));
  return spec.unit === 'count' || spec.unit === 'fraction' ? rounded : `${rounded} ${spec.unit}`;
}

/** A word on one line, in quotes where YAML would read it as something else (`Body: no 2`, `#4`). */
const quoted = (word: string | number): string =>
  stringify(word, { lineWidth: 0, blockQuote: false }).trimEnd();

type EditableDocument = ReturnType<typeof parseSource>['document'];

function placeOf(document: EditableDocument, id: string): string[] {
  const path = id.split('.');
  return isMap(document.getIn(path, true)) ? [...path, 'value'] : path;
}

/** The text with the node at a path replaced letter for letter, or undefined when the path is not there yet. */
function replaced(
  text: string,
  document: EditableDocument,
  path: readonly string[],
  by: string,
): string | undefined {
  const node = document.getIn(path, true);
  const range = isScalar(node) || isSeq(node) ? node.range : undefined;
  return range ? text.slice(0, range[0]) + by + text.slice(range[1]) : undefined;
}

/** Sets one value: letter for letter where the key is there, else through the document, which keeps comments. */
function setAt(
  text: string,
  path: readonly string[],
  value: string | number,
  written = String(value),
): string {
  const { document } = parseSource(text, 'pattern');
  const there = replaced(text, document, path, written);
  if (there !== undefined) return there;
  document.setIn(path, value);
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

/**
 * Changes values in a pattern's text, keeping everything else letter for letter, and marks them as the teacher's own.
 *
 * @param text   YAML text of the pattern
 * @param edits  what to change
 * @param asMine false to leave the list of own values as it is
 * @returns      the new text
 * @throws InputError when an input does not exist or a value cannot be used
 * @source       arithmetic
 */
export function editPattern(text: string, edits: readonly PatternEdit[], asMine = true): string {
  let now = text;
  for (const { id, value } of edits) {
    const isWord = id === 'handed' || id === 'name';
    if (!isWord) readInputValue(id, value);
    const path = isWord ? [id] : placeOf(parseSource(now, 'pattern').document, id);
    now = isWord ? setAt(now, path, value, quoted(value)) : setAt(now, path, writtenValue(id, value));
    if (asMine && id !== 'name') now = markMine(now, [id]);
  }
  return now;
}

/** Adds ids to the list of the teacher's own values. @source arithmetic */
export function markMine(text: string, ids: readonly string[]): string {
  const { document } = parseSource(text, 'pattern');
  const list = document.get('mine', true);
  const present = isSeq(list) ? list.items.map((n) => String(isScalar(n) ? n.value : n)) : [];
  const all = [...new Set([...present, ...ids])];
  if (all.length === present.length) return text;
  const isFlow = isSeq(list) && list.flow === true;
  const there = isFlow ? replaced(text, document, ['mine'], `[${all.join(', ')}]`) : undefined;
  if (there !== undefined) return there;
  document.set('mine', document.createNode(all, { flow: true }));
  return document.toString({ lineWidth: 0, flowCollectionPadding: false });
}

/** The pattern with other numbers, without going through its text; for trying something out. @source arithmetic */
export function withNumbers(pattern: Pattern, changes: ReadonlyMap<string, number>): Pattern {
  return { ...pattern, numbers: new Map([...pattern.numbers, ...changes]) };
}
