import { InputError } from '../quantity/input-error.ts';
import { requireQuantity } from '../quantity/length.ts';
import { nearestWord } from '../quantity/words.ts';
import type { Field, Shape, VariantShape } from './shape.ts';

/** A value read by its shape: amounts as numbers in the base unit, groups as plain objects with the keys of the file. */
export type Read = string | number | boolean | readonly Read[] | { readonly [key: string]: Read };

const shownValue = (value: unknown): string => {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  const text = String(value);
  return `"${text.length > 40 ? `${text.slice(0, 40)}...` : text}"`;
};

function refuse(code: string, member: string, sentence: string): never {
  throw new InputError(code, `${member}: ${sentence}`, member);
}

function refuseKey(key: string, known: readonly string[], member: string): never {
  const near = nearestWord(key, known);
  const remedy = near
    ? `write ${near} instead, or take it out`
    : `take it out, or use one of ${known.join(', ')}`;
  refuse('unknown-key', member, `the key ${key} is not known here; ${remedy}.`);
}

/** An object with keys, or a sentence. */
function requireObject(value: unknown, what: string, member: string): Readonly<Record<string, unknown>> {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    refuse(
      'wrong-kind',
      member,
      `${what} is ${shownValue(value)}, and it must be a group of keys with values.`,
    );
  return value as Record<string, unknown>;
}

function readGroup(
  value: Readonly<Record<string, unknown>>,
  fields: Readonly<Record<string, Field>>,
  member: string,
): Readonly<Record<string, Read>> {
  const known = Object.keys(fields);
  for (const key of Object.keys(value)) if (!Object.hasOwn(fields, key)) refuseKey(key, known, member);
  const result: Record<string, Read> = {};
  for (const [key, field] of Object.entries(fields)) {
    const inner = member === 'shop' ? key : `${member}.${key}`;
    const given = value[key];
    if (given === undefined || given === null) {
      if (field.isNeeded)
        refuse('missing-key', member, `${field.what} is missing; write ${key}: with its value.`);
      continue;
    }
    result[key] = readShape(given, field.shape, field.what, inner);
  }
  return result;
}

function readVariant(
  value: Readonly<Record<string, unknown>>,
  shape: VariantShape,
  member: string,
): Readonly<Record<string, Read>> {
  const kinds = Object.keys(shape.cases);
  const kind = String(value[shape.by] ?? '');
  if (!kinds.includes(kind)) {
    const said = kind === '' ? `${shape.what} is missing` : `${shape.what} is "${kind}"`;
    refuse('unknown-choice', member, `${said}; write ${shape.by}: with one of ${kinds.join(', ')}.`);
  }
  const by: Field = { what: shape.what, isNeeded: true, shape: { kind: 'choice', of: kinds } };
  return readGroup(value, { [shape.by]: by, ...shape.common, ...shape.cases[kind] }, member);
}

function readWords(
  value: unknown,
  shape: Shape & { kind: 'text' | 'choice' | 'yes-no' },
  what: string,
  member: string,
): Read {
  if (shape.kind === 'yes-no') {
    if (value === true || value === 'yes') return true;
    if (value === false || value === 'no') return false;
    refuse('wrong-kind', member, `${what} is ${shownValue(value)}, and it must be yes or no.`);
  }
  if (typeof value === 'object')
    refuse('wrong-kind', member, `${what} is ${shownValue(value)}, and it must be words.`);
  const text = String(value).trim();
  if (shape.kind === 'choice') {
    if (shape.of.includes(text)) return text;
    refuse('unknown-choice', member, `${what} is "${text}", and it must be one of ${shape.of.join(', ')}.`);
  }
  if (text === '' || text.length > shape.most)
    refuse('wrong-text', member, `${what} has ${text.length} letters, and it must have 1 to ${shape.most}.`);
  if (shape.pattern && !new RegExp(shape.pattern).test(text))
    refuse('wrong-text', member, `${what} is "${text}", and it must be ${shape.such}.`);
  return text;
}

/** Reads the items of a list or the values of a map, refusing too many. */
function readMany(
  value: unknown,
  shape: Shape & { kind: 'list' | 'map' },
  what: string,
  member: string,
): Read {
  const refuseCount = (count: number): void => {
    if (count > shape.most)
      refuse(
        'too-many',
        member,
        `${what} has ${count} entries, and at most ${shape.most} are read; shorten it.`,
      );
  };
  if (shape.kind === 'map') {
    const object = requireObject(value, what, member);
    refuseCount(Object.keys(object).length);
    return Object.fromEntries(
      Object.entries(object).map(([key, v]) => [key, readShape(v, shape.item, what, `${member}.${key}`)]),
    );
  }
  if (!Array.isArray(value))
    refuse('wrong-kind', member, `${what} is ${shownValue(value)}, and it must be a list.`);
  refuseCount(value.length);
  return value.map((v, i) => readShape(v, shape.item, what, `${member} ${i + 1}`));
}

/**
 * Checks a value from a file against its shape and reads its amounts.
 *
 * @param value   plain value from the YAML text
 * @param shape   what it has to look like
 * @param what    what a person calls it
 * @param member  where it stands, e.g. `machines 2.offset.alpha`
 * @returns       the value with amounts in base units
 * @throws InputError with one sentence naming the member, the value got, the limit and the remedy
 * @source        arithmetic
 */
export function readShape(value: unknown, shape: Shape, what: string, member: string): Read {
  switch (shape.kind) {
    case 'amount': {
      if (typeof value !== 'string' && typeof value !== 'number')
        refuse(
          'wrong-kind',
          member,
          `${what} is ${shownValue(value)}, and it must be a number with its unit.`,
        );
      const field = {
        kind: shape.quantity,
        unit: shape.unit,
        low: shape.low,
        high: shape.high,
        what: `${member}: ${what}`,
      };
      return requireQuantity(value, field, member);
    }
    case 'text':
    case 'choice':
    case 'yes-no':
      return readWords(value, shape, what, member);
    case 'list':
    case 'map':
      return readMany(value, shape, what, member);
    case 'group':
      return readGroup(requireObject(value, what, member), shape.fields, member);
    case 'variant':
      return readVariant(requireObject(value, what, member), shape, member);
  }
}
