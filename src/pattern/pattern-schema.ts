import { inputTable } from './input-table.ts';
import { PATTERN_FORMAT } from './pattern-file.ts';

type Json = Record<string, unknown>;

const written = (unit: string): Json => ({
  anyOf: [{ type: 'number' }, { type: 'string' }],
  description: `as people write it, with its unit; a bare number is in ${unit}`,
});
const point: Json = {
  type: 'array',
  minItems: 2,
  maxItems: 2,
  items: written('mm'),
  description: 'across (+ treble), along (from the neck end)',
};
const list = (items: Json): Json => ({ type: 'array', items });
const group = (properties: Json, required: readonly string[] = []): Json => ({
  type: 'object',
  properties,
  required,
  additionalProperties: false,
});

const bar = group(
  {
    id: { type: 'string' },
    role: { type: 'string' },
    from: point,
    to: point,
    fan: { type: 'integer', description: 'place in the fan, 0 in the middle, + treble' },
    from_y: written('mm'),
    to_y: written('mm'),
    width: written('mm'),
    height: written('mm'),
  },
  ['id', 'role', 'width', 'height'],
);

/** The inputs below a path as nested groups. */
function numbersBelow(path: string): Json {
  const prefix = path === '' ? '' : `${path}.`;
  const properties: Json = {};
  for (const { id, unit, label, low, high } of inputTable) {
    if (!id.startsWith(prefix)) continue;
    const key = id.slice(prefix.length).split('.')[0] as string;
    const own = `${prefix}${key}`;
    const hasMore = inputTable.some((i) => i.id.startsWith(`${own}.`));
    if (id === own && !hasMore)
      properties[key] = {
        ...written(unit),
        title: label,
        description: `${label}, between ${low} and ${high} ${unit}`,
      };
    else if (!(key in properties)) {
      const below = numbersBelow(own);
      const value = inputTable.find((i) => i.id === own);
      properties[key] = group(
        value ? { value: { ...written(value.unit), title: value.label }, ...below } : below,
      );
    }
  }
  return properties;
}

/**
 * The JSON Schema of a pattern file, made from the input table.
 *
 * @returns a JSON Schema (draft 2020-12)
 * @source  arithmetic
 */
export function patternSchema(): Json {
  const numbers = numbersBelow('');
  const extend = (key: string, more: Json): Json => {
    const old = numbers[key] as { properties?: Json } | undefined;
    return group({ ...(old?.properties ?? {}), ...more });
  };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: `Pattern of one instrument (${PATTERN_FORMAT})`,
    type: 'object',
    required: ['format', 'name', 'instrument', 'strings'],
    additionalProperties: false,
    properties: {
      format: { const: PATTERN_FORMAT },
      name: { type: 'string' },
      note: { type: 'string' },
      instrument: { enum: ['steel', 'nylon', 'uke'] },
      handed: { enum: ['right', 'left'] },
      mine: { ...list({ type: 'string' }), description: 'ids of the numbers the teacher gave or confirmed' },
      ...numbers,
      body: extend('body', {
        own_outline: {
          ...list(point),
          description:
            'half widths of a template that exists, neck end to tail; drives everything when given',
        },
      }),
      brace: extend('brace', { scheme: { enum: ['x', 'fan', 'ladder'] }, bars: list(bar) }),
      back: extend('back', { bars: list(bar) }),
      bridge_plate: extend('bridge_plate', {
        fitted: { enum: ['one-piece', 'between-struts', 'none'] },
        outline: list(point),
      }),
      strings: list(
        group(
          {
            note: { type: 'string' },
            frequency: written('Hz'),
            diameter: written('mm'),
            mass: written('g/m'),
            axial_stiffness: written('N'),
            bending_stiffness: written('Nmm2'),
          },
          ['note', 'frequency', 'diameter', 'mass', 'axial_stiffness', 'bending_stiffness'],
        ),
      ),
      stock: list(
        group(
          {
            part: { type: 'string' },
            count: { type: 'integer', minimum: 1 },
            length: written('mm'),
            width: written('mm'),
            thickness: written('mm'),
            material: { type: 'string' },
          },
          ['part', 'count', 'length', 'width', 'thickness', 'material'],
        ),
      ),
    },
  };
}
