import { isMap, isSeq, parseDocument } from 'yaml';
import { JIG_KINDS, type JigKind, type OffsetLine } from './shop.ts';
import { readShop, SHOP_FORMAT } from './shop-file.ts';

/** A jig that gives one size and nothing else. */
export interface FixedJig {
  readonly kind: JigKind;
  /** As a person writes it, with its unit: `2 in`. */
  readonly size: string;
}

/** The few things a shop file begins with. */
export interface NewShop {
  readonly name: string;
  readonly unit: 'mm' | 'in';
  /** Of the thickness sander, when it was proved. */
  readonly sanderOffset?: OffsetLine;
  readonly jigs: readonly FixedJig[];
}

const shortNumber = (value: number): string => String(Number(value.toFixed(4)));

function sanderLines({ unit, sanderOffset: o }: NewShop): readonly string[] {
  if (!o) return [];
  const proved = o.provedOn === undefined ? '' : `, proved: ${o.provedOn}`;
  return [
    'machines:',
    '  - id: thickness-sander',
    '    station: thickness-sander',
    '    name: thickness sander',
    '    sets: thickness',
    `    unit: ${unit}`,
    '    reads: digital',
    `    step: ${unit === 'in' ? '0.001 in' : '0.01 mm'}`,
    `    offset: { alpha: ${shortNumber(o.alphaMm)} mm, beta: ${shortNumber(o.beta)}${proved} }`,
  ];
}

/** Jigs of one kind stand together: one entry with all its fixed sizes. */
function jigLines(jigs: readonly FixedJig[]): readonly string[] {
  if (jigs.length === 0) return [];
  const kinds = [...new Set(jigs.map((j) => j.kind))];
  const lines = kinds.map((kind) => {
    const sizes = jigs.filter((j) => j.kind === kind).map((j) => j.size);
    return `  - { id: ${kind}, kind: ${kind}, name: ${JIG_KINDS[kind].label}, fixed: [${sizes.join(', ')}] }`;
  });
  return ['jigs:', ...lines];
}

/**
 * The text of a shop file that says no more than is known: unit, what the sander really gives, jigs that are fixed.
 *
 * @returns  YAML text that `readShop` takes
 * @throws InputError when a size is not plausible for its jig
 * @source   common practice, no published source
 */
export function newShopText(shop: NewShop): string {
  const text = [
    `format: ${SHOP_FORMAT}`,
    `name: ${JSON.stringify(shop.name)}`,
    `unit: ${shop.unit}`,
    `paper: ${shop.unit === 'in' ? 'letter' : 'a4'}`,
    ...sanderLines(shop),
    ...jigLines(shop.jigs),
    '',
  ].join('\n');
  readShop(text);
  return text;
}

/**
 * A shop file with more fixed jigs in it; all that stands in it stays, comments too. A size the kind has already is not
 * written twice.
 *
 * @param text  a shop file that `readShop` takes
 * @returns     the same text when nothing is new
 * @throws InputError when a size is not plausible for its jig
 * @source      common practice, no published source
 */
export function withFixedJigs(text: string, jigs: readonly FixedJig[]): string {
  const document = parseDocument(text);
  let isChanged = false;
  for (const { kind, size } of jigs) {
    const list = document.get('jigs');
    const entries = isSeq(list) ? list.items.filter(isMap) : [];
    const own = entries.find((e) => e.get('kind') === kind && isSeq(e.get('fixed')));
    const sizes = own?.get('fixed');
    if (isSeq(sizes)) {
      if ((sizes.toJSON() as unknown[]).some((s) => String(s) === size)) continue;
      sizes.add(size);
    } else {
      const isTaken = entries.some((e) => e.get('id') === kind);
      const id = isTaken ? `${kind}-fixed` : kind;
      const entry = document.createNode({ id, kind, name: JIG_KINDS[kind].label, fixed: [size] });
      entry.flow = true;
      if (isSeq(list)) list.add(entry);
      else document.set('jigs', document.createNode([entry]));
    }
    isChanged = true;
  }
  if (!isChanged) return text;
  const now = document.toString({ lineWidth: 0 });
  readShop(now);
  return now;
}
