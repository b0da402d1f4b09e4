import {
  type Document,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  type YAMLMap,
} from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import { parseQuantity, type QuantityField } from '../quantity/parse-quantity.ts';
import { nearestWord } from '../quantity/words.ts';

/** A YAML document with what is needed to say where something stands. */
export interface Source {
  readonly document: Document.Parsed;
  readonly lines: LineCounter;
  /** What the file is called in sentences: "pattern". */
  readonly what: string;
}

/**
 * Parses YAML text.
 *
 * @throws InputError with one sentence naming the line when the text is no YAML, has a key twice or is no map
 * @source arithmetic
 */
export function parseSource(text: string, what: string): Source {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const error = document.errors[0];
  if (error) {
    const at = lines.linePos(error.pos[0]).line;
    const said =
      error.code === 'DUPLICATE_KEY'
        ? 'a key stands there twice'
        : error.message.replace(/\s+/g, ' ').replace(/\.$/, '');
    throw new InputError(
      'broken-yaml',
      `Line ${at} of this ${what} cannot be read: ${said}; mend that line.`,
    );
  }
  if (!isMap(document.contents))
    throw new InputError(
      'broken-yaml',
      `This ${what} has no keys; it must begin with a line "format: bracewright-${what}/1".`,
    );
  return { document, lines, what };
}

/** Refuses another format or another version in one sentence. @throws InputError */
export function requireFormat(source: Source, format: string): void {
  const got = source.document.get('format');
  if (got === format) return;
  const family = format.slice(0, format.indexOf('/'));
  if (got === undefined)
    throw new InputError(
      'no-format',
      `This ${source.what} has no line "format: ${format}"; write it as the first line.`,
      'format',
    );
  const isOther = typeof got === 'string' && got.startsWith(`${family}/`);
  throw new InputError(
    isOther ? 'other-version' : 'other-format',
    isOther
      ? `This file is of version "${got}" and this program reads "${format}"; export it again from the program that wrote it, or update this one.`
      : `This file says format "${String(got)}", and a ${source.what} is "${format}"; give the right file.`,
    'format',
  );
}

/** ` (line 12)` for a node, or nothing. */
export function lineOf(source: Source, node: unknown): string {
  const range = (node as Node | undefined)?.range;
  return range ? ` (line ${source.lines.linePos(range[0]).line})` : '';
}

/** Refuses keys that are not known, naming the line and the nearest known one. @throws InputError */
export function refuseUnknownKeys(
  source: Source,
  map: YAMLMap,
  known: readonly string[],
  where: string,
): void {
  for (const pair of map.items) {
    const key = isScalar(pair.key) ? String(pair.key.value) : '';
    if (known.includes(key)) continue;
    const near = nearestWord(key, known);
    const place = where === '' ? `this ${source.what}` : `"${where}"`;
    const remedy = near ? `write "${near}"` : `known there are ${known.join(', ')}`;
    const member = where === '' ? key : `${where}.${key}`;
    throw new InputError(
      'unknown-key',
      `There is no "${key}" in ${place}${lineOf(source, pair.key)}; ${remedy}.`,
      member,
    );
  }
}

/** The text or number of a node; lists and maps are refused. @throws InputError */
export function scalarAt(source: Source, node: unknown, member: string): string | number {
  const value = isScalar(node) ? node.value : node;
  if (isScalar(node) && typeof node.value === 'number' && node.source !== undefined) return node.source;
  if (typeof value === 'string' || typeof value === 'number') return value;
  if (value === null || value === undefined)
    throw new InputError(
      'missing',
      `"${member}"${lineOf(source, node)} is empty; write a value behind it.`,
      member,
    );
  throw new InputError(
    'wrong-kind',
    `"${member}"${lineOf(source, node)} must be one value, not a list or a group of values.`,
    member,
  );
}

/** A quantity of a node, in the base unit of its kind. @throws InputError with the parser's sentence, the member and its line */
export function quantityAt(source: Source, node: unknown, member: string, field: QuantityField): number {
  const parsed = parseQuantity(scalarAt(source, node, member), field);
  if (parsed.kind === 'value') return parsed.value;
  const text =
    parsed.kind === 'question'
      ? `${field.what} is not plausible as written; was it ${parsed.text.replace(/\?$/, '')}? Write the unit behind it.`
      : parsed.text;
  throw new InputError(
    parsed.kind === 'refusal' ? parsed.code : 'unit-unclear',
    `${member}${lineOf(source, node)}: ${text}`,
    member,
  );
}

/** One word out of a few. @throws InputError */
export function wordAt<W extends string>(
  source: Source,
  node: unknown,
  member: string,
  words: readonly W[],
): W {
  const got = String(scalarAt(source, node, member));
  const found = words.find((w) => w === got);
  if (found) return found;
  throw new InputError(
    'unknown-word',
    `"${member}"${lineOf(source, node)} is "${got}"; it must be ${words.join(' or ')}.`,
    member,
  );
}

/** The items of a list. @throws InputError when it is none */
export function itemsAt(source: Source, node: unknown, member: string): readonly unknown[] {
  if (isSeq(node)) return node.items;
  throw new InputError('wrong-kind', `"${member}"${lineOf(source, node)} must be a list.`, member);
}

/** A node as a map. @throws InputError when it is none */
export function mapAt(source: Source, node: unknown, member: string): YAMLMap {
  if (isMap(node)) return node;
  throw new InputError(
    'wrong-kind',
    `"${member}"${lineOf(source, node)} must be a group of keys with values.`,
    member,
  );
}
