import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readPattern } from './pattern-file.ts';
import { patternSchema } from './pattern-schema.ts';

type Schema = {
  type?: string;
  properties?: Record<string, Schema>;
  required?: string[];
  additionalProperties?: boolean;
  items?: Schema;
  enum?: unknown[];
  const?: unknown;
  anyOf?: Schema[];
};

/** Just enough of a validator for the words this schema uses. */
function faults(schema: Schema, value: unknown, at = ''): string[] {
  if (schema.const !== undefined)
    return value === schema.const ? [] : [`${at} is not ${String(schema.const)}`];
  if (schema.enum) return schema.enum.includes(value) ? [] : [`${at} is not one of ${schema.enum.join()}`];
  if (schema.anyOf)
    return schema.anyOf.some((s) => faults(s, value, at).length === 0) ? [] : [`${at} fits nothing`];
  if (schema.type === 'array')
    return Array.isArray(value)
      ? value.flatMap((v, i) => faults(schema.items ?? {}, v, `${at}[${i}]`))
      : [`${at} is no list`];
  if (schema.type === 'object') {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return [`${at} is no group`];
    const missing = (schema.required ?? []).filter((k) => !(k in value)).map((k) => `${at}.${k} is missing`);
    const below = Object.entries(value).flatMap(([k, v]) => {
      const s = schema.properties?.[k];
      return s ? faults(s, v, `${at}.${k}`) : [`${at}.${k} is unknown`];
    });
    return [...missing, ...below];
  }
  if (schema.type === 'integer') return Number.isInteger(value) ? [] : [`${at} is no whole number`];
  return schema.type === undefined || typeof value === schema.type ? [] : [`${at} is no ${schema.type}`];
}

describe('the published schema of patterns', () => {
  it('is the file data/schemas/pattern.schema.json; when this fails, run vitest with -u and read the difference', async () => {
    await expect(`${JSON.stringify(patternSchema(), null, 2)}\n`).toMatchFileSnapshot(
      '../../data/schemas/pattern.schema.json',
    );
  });

  it.each(fs.readdirSync('data/patterns'))('fits %s and the reader agrees', (file) => {
    const text = fs.readFileSync(`data/patterns/${file}`, 'utf8');
    expect(faults(patternSchema() as Schema, parse(text))).toEqual([]);
    expect(() => readPattern(text)).not.toThrow();
  });

  it('refuses what the reader refuses', () => {
    const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8').replace('waist:', 'waste:');
    expect(faults(patternSchema() as Schema, parse(text))).toEqual(['.body.waste is unknown']);
    expect(() => readPattern(text)).toThrow(/waste/);
  });
});
