import type { Field, Shape } from './shape.ts';

/** A JSON Schema or a part of one. */
export type Schema = { readonly [key: string]: unknown };

/** Keys with their schemas and the list of needed ones. */
function keysOf(fields: Readonly<Record<string, Field>>): Schema {
  const entries = Object.entries(fields);
  const required = entries.filter(([, f]) => f.isNeeded).map(([key]) => key);
  return {
    type: 'object',
    properties: Object.fromEntries(
      entries.map(([key, f]) => [key, { description: f.what, ...schemaOf(f.shape) }]),
    ),
    ...(required.length > 0 ? { required } : {}),
    additionalProperties: false,
  };
}

/**
 * The JSON Schema of a shape, for editors that check while one types. Limits of amounts are words here, since amounts
 * are written with their units; the program checks them.
 *
 * @source arithmetic
 */
export function schemaOf(shape: Shape): Schema {
  switch (shape.kind) {
    case 'amount': {
      const unit = shape.unit === 'count' ? '' : `; a bare number is ${shape.unit}`;
      return {
        type: ['number', 'string'],
        $comment: `between ${shape.low} and ${shape.high} in the base unit${unit}`,
      };
    }
    case 'text':
      return { type: 'string', maxLength: shape.most, ...(shape.pattern ? { pattern: shape.pattern } : {}) };
    case 'choice':
      return { enum: shape.of };
    case 'yes-no':
      return { enum: [true, false, 'yes', 'no'] };
    case 'list':
      return { type: 'array', maxItems: shape.most, items: schemaOf(shape.item) };
    case 'map':
      return { type: 'object', maxProperties: shape.most, additionalProperties: schemaOf(shape.item) };
    case 'group':
      return keysOf(shape.fields);
    case 'variant':
      return {
        oneOf: Object.entries(shape.cases).map(([kind, fields]) => {
          const by: Field = { what: shape.what, isNeeded: true, shape: { kind: 'choice', of: [kind] } };
          return keysOf({ [shape.by]: by, ...shape.common, ...fields });
        }),
      };
  }
}
