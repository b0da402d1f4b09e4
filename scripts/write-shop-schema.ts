// Writes data/schemas/shop.schema.json anew from the shape that the shop reader checks with.
import { writeFileSync } from 'node:fs';
import { schemaOf } from '../src/shop/shape-schema.ts';
import { SHOP_SCHEMA_HEAD } from '../src/shop/shop-file.ts';
import { SHOP_SHAPE } from '../src/shop/shop-shape.ts';

const schema = { ...SHOP_SCHEMA_HEAD, ...schemaOf(SHOP_SHAPE) };
writeFileSync(
  new URL('../data/schemas/shop.schema.json', import.meta.url),
  `${JSON.stringify(schema, null, 2)}\n`,
);
