/** The part of JSON Schema (draft 2020-12) that our own files use. */
export interface Schema {
  readonly type?: 'string' | 'number' | 'boolean' | 'object' | 'array';
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly minimum?: number;
  readonly minLength?: number;
  readonly minItems?: number;
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly anyOf?: readonly Schema[];
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Schema>>;
}

/** One place where a value is not what the schema asks for. */
export interface SchemaFault {
  /** Members from the top, joined by dots. */
  readonly place: string;
  readonly got: string;
  readonly wanted: string;
}

/**
 * Compares a value with a schema.
 *
 * @param schema  a schema made only of the members of `Schema`
 * @param value   what was read from a file
 * @returns       every fault, in the order of the schema; empty when there is none
 * @source        arithmetic
 */
export function schemaFaults(schema: Schema, value: unknown): readonly SchemaFault[] {
  const faults: SchemaFault[] = [];
  visit(schema, value, '', schema.$defs ?? {}, faults);
  return faults;
}

type Defs = Readonly<Record<string, Schema>>;

function visit(schema: Schema, value: unknown, place: string, defs: Defs, faults: SchemaFault[]): void {
  if (schema.$ref !== undefined) {
    const name = schema.$ref.replace('#/$defs/', '');
    const target = defs[name];
    if (target === undefined) throw new RangeError(`schema: ${schema.$ref} is not defined; add it to $defs`);
    visit(target, value, place, defs, faults);
    return;
  }
  if (schema.anyOf) {
    const fits = schema.anyOf.some((s) => {
      const own: SchemaFault[] = [];
      visit(s, value, place, defs, own);
      return own.length === 0;
    });
    if (!fits) faults.push({ place, got: show(value), wanted: 'one of the forms of the schema' });
    return;
  }
  const wanted = mismatch(schema, value);
  if (wanted !== undefined) {
    faults.push({ place, got: show(value), wanted });
    return;
  }
  if (Array.isArray(value) && schema.items) {
    const items = schema.items;
    value.forEach((v, i) => {
      visit(items, v, join(place, labelOf(v) ?? String(i)), defs, faults);
    });
  }
  if (isObject(value) && schema.type === 'object') visitMembers(schema, value, place, defs, faults);
}

function visitMembers(
  schema: Schema,
  value: Readonly<Record<string, unknown>>,
  place: string,
  defs: Defs,
  faults: SchemaFault[],
): void {
  for (const name of schema.required ?? [])
    if (value[name] === undefined)
      faults.push({ place: join(place, name), got: 'nothing', wanted: 'a value' });
  for (const [name, member] of Object.entries(value)) {
    const own = Object.hasOwn(schema.properties ?? {}, name) ? schema.properties?.[name] : undefined;
    if (own) visit(own, member, join(place, name), defs, faults);
    else if (schema.additionalProperties === false)
      faults.push({ place: join(place, name), got: show(member), wanted: 'no such member' });
    else if (typeof schema.additionalProperties === 'object')
      visit(schema.additionalProperties, member, join(place, name), defs, faults);
  }
}

function mismatch(schema: Schema, value: unknown): string | undefined {
  if (schema.const !== undefined && value !== schema.const) return show(schema.const);
  if (schema.enum && !schema.enum.includes(value)) return `one of ${schema.enum.map(show).join(', ')}`;
  if (schema.type === undefined) return undefined;
  if (
    schema.type === 'array'
      ? !Array.isArray(value)
      : schema.type === 'object'
        ? !isObject(value)
        : typeof value !== schema.type
  )
    return schema.type === 'array' ? 'a list' : `a ${schema.type}`;
  if (typeof value === 'number' && !Number.isFinite(value)) return 'a finite number';
  if (typeof value === 'number' && schema.minimum !== undefined && value < schema.minimum)
    return `at least ${schema.minimum}`;
  if (typeof value === 'string' && schema.minLength !== undefined && value.length < schema.minLength)
    return 'some text';
  if (Array.isArray(value) && schema.minItems !== undefined && value.length < schema.minItems)
    return `at least ${schema.minItems} of them`;
  return undefined;
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A list member that carries an id is named by it, so that a fault says "T10" and not "13". */
function labelOf(value: unknown): string | undefined {
  return isObject(value) && typeof value['id'] === 'string' ? value['id'] : undefined;
}

function join(place: string, name: string): string {
  return place === '' ? name : `${place}.${name}`;
}

function show(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
