import { InputError } from '../quantity/input-error.ts';

/** A YAML map as plain data. */
export type YamlMap = Readonly<Record<string, unknown>>;

function said(value: unknown): string {
  if (value === undefined) return 'missing';
  return Array.isArray(value)
    ? `a list of ${value.length}`
    : typeof value === 'object' && value !== null
      ? 'a map'
      : JSON.stringify(value);
}

/** The value as a map. @throws InputError */
export function mapOf(value: unknown, what: string): YamlMap {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new InputError('course-shape', `${what} must be a map of names and values, and is ${said(value)}.`);
  return value as YamlMap;
}

/** The value as a list. @throws InputError */
export function listOf(value: unknown, what: string): readonly unknown[] {
  if (!Array.isArray(value))
    throw new InputError('course-shape', `${what} must be a list, and is ${said(value)}.`);
  return value;
}

/** Refuses names nobody reads. @throws InputError */
export function onlyKeys(map: YamlMap, keys: readonly string[], what: string): void {
  const other = Object.keys(map).find((k) => !keys.includes(k));
  if (other !== undefined)
    throw new InputError(
      'unknown-key',
      `${what} has "${other}", which is not known; it may have ${keys.join(', ')}.`,
      other,
    );
}

/** A text that is not empty. @throws InputError */
export function textAt(map: YamlMap, key: string, what: string): string {
  const value = map[key];
  if (typeof value !== 'string' || value.trim() === '')
    throw new InputError('course-text', `${what} is ${said(value)}; give it as text.`, key);
  return value.trim();
}

/** A number within limits. @throws InputError */
export function numberAt(map: YamlMap, key: string, what: string, low: number, high: number): number {
  const value = map[key];
  if (typeof value !== 'number' || !Number.isFinite(value) || value < low || value > high)
    throw new InputError(
      'course-number',
      `${what} is ${said(value)}; give a number between ${low} and ${high}.`,
      key,
    );
  return value;
}

/** A whole number within limits. @throws InputError */
export function wholeAt(map: YamlMap, key: string, what: string, low: number, high: number): number {
  const value = map[key];
  if (typeof value !== 'number' || !Number.isInteger(value) || value < low || value > high)
    throw new InputError(
      'course-number',
      `${what} is ${said(value)}; give a whole number between ${low} and ${high}.`,
      key,
    );
  return value;
}
