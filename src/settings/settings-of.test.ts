import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { numberOf, type Sheet } from '../graph/sheet.ts';
import { editPattern } from '../pattern/edit-pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { ownRoute } from '../route/route.ts';
import { PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { readShop } from '../shop/shop-file.ts';
import { bladeTurnMm } from './body-cards.ts';
import { ringWays } from './ring-cards.ts';
import type { Setting, SettingCard } from './setting.ts';
import { allCards, changedSettings, settingCards, settingsOf } from './settings-of.ts';
import { shopRulesOf } from './shop-rules.ts';

const read = (name: string): string => readFileSync(new URL(`../../data/${name}`, import.meta.url), 'utf8');
const patternText = (name: string): string => read(`patterns/${name}.yaml`);
const sheetOf = (name: string, sets: Record<string, string> = {}): Sheet => {
  const edits = Object.entries(sets).map(([id, value]) => ({ id, value }));
  return sheetOfPattern(
    readPattern(edits.length > 0 ? editPattern(patternText(name), edits) : patternText(name)),
  );
};
const names = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];
const steel = sheetOf('small-steel-string');
const evening = readShop(read('shops/evening-workshop.yaml'));
const shopWith = (lines: string): Shop => readShop(`format: bracewright-shop/1\nname: Test\n${lines}`);
const common = 'common practice, no published source';

function setting(cards: readonly SettingCard[], id: string): Setting {
  const found = cards.flatMap((c) => c.settings).find((s) => s.id === id);
  if (!found) throw new Error(`no setting ${id}`);
  return found;
}

describe('settings that follow from pattern and shop', () => {
  it('ring: 55 to 62 with a 3.2 cutter runs at 56.6 and 60.4, one ring between', () => {
    const ways = ringWays(55, 62, 3.2);
    expectClose(ways.innerCentreMm, 56.6, { tol: 1e-9, source: common });
    expectClose(ways.outerCentreMm, 60.4, { tol: 1e-9, source: common });
    expect(ways.betweenMm).toHaveLength(1);
    expectClose(ways.betweenMm[0], 58.5, { tol: 1e-9, source: 'arithmetic' });
    expect(ringWays(48, 64, 6).betweenMm).toHaveLength(2);
    expect(ringWays(55, 58.2, 3.2).betweenMm).toHaveLength(0);
    const cards = settingCards(steel, evening);
    expectClose(setting(cards, 'ring.inner').result, 56.6, { tol: 1e-9, source: common });
    expectClose(setting(cards, 'ring.depth').result, 1.3, { tol: 1e-6, source: common });
    expect(setting(cards, 'ring.depth').big).toEqual({ text: '13/16', unit: 'turn' });
  });

  it('a 4 in hole needs a 2 in reach', () => {
    const cards = settingCards(sheetOf('small-steel-string', { 'hole.radius': '2 in' }));
    const reach = setting(cards, 'hole.reach');
    expectClose(reach.result, 50.8, { tol: 1e-9, source: common });
    expect(reach.small).toBe('2.000 in');
    expectClose(setting(cards, 'hole.gives').result, 4 * 25.4, { tol: 1e-9, source: common });
  });

  it('sander: 2.8 wanted through alpha 0.16 and beta 0.975 is 2.71 typed', () => {
    const last = setting(settingCards(steel, evening), 'sand-top-inside.last');
    expectClose(Number(last.big.text), 2.71, {
      tol: 1e-9,
      source: 'arithmetic: (2.8 - 0.16)/0.975 = 2.7077, rounded up',
    });
  });

  it('slots are counted from the nut', () => {
    const cards = settingCards(steel, evening);
    for (const [n, x] of [
      [1, 35.247],
      [5, 157.532],
      [12, 314],
      [19, 418.43],
    ] as const)
      expectClose(setting(cards, `slots.${n}`).result, x, { tol: 0.001, source: 'equal-temperament' });
  });

  it('saddle slot, lap, scarf, taper and dishes have their closed forms', () => {
    const cards = settingCards(steel, evening);
    expectClose(setting(cards, 'saddle.angle').result, 1.62, {
      tol: 0.02,
      source: 'plane-geometry: atan of the slope 0.0283',
    });
    expectClose(setting(cards, 'lap.width').result, 8.044, {
      tol: 0.001,
      source: 'plane-geometry: 8/sin 96',
    });
    expectClose(setting(cards, 'scarf.length').result, 100.27, {
      tol: 0.01,
      source: 'plane-geometry: 25/tan 14',
    });
    expectClose(setting(cards, 'taper.half_angle').result, 1.0035, {
      tol: 0.001,
      source: 'plane-geometry: atan(11/628)',
    });
    expectClose(setting(cards, 'top_dish.sag').result, 1.906, {
      tol: 0.001,
      source: 'plane-geometry: 360 over 8500',
    });
    expectClose(setting(cards, 'radius.fall_end').result, 1.104, {
      tol: 0.005,
      source: 'plane-geometry: 59.34 over 400',
    });
    expectClose(setting(cards, 'neck.wedge_rise').result, 1.92, {
      tol: 0.01,
      source: 'plane-geometry: 100 tan 1.10',
    });
    expectClose(setting(cards, 'former.radius.waist').result, 85 / 1.1, { tol: 0.01, source: common });
  });

  it('turning radius by blade width', () => {
    for (const [w, r] of [
      [3, 8],
      [6, 16],
      [10, 35],
      [13, 65],
    ] as const)
      expectClose(bladeTurnMm(w), r, { tol: 1e-9, source: common });
    expect(bladeTurnMm(16)).toBeGreaterThan(65);
  });

  it('no machine of any kind sets below the low limit of the wood (seed 9)', () => {
    const places = [
      ['thickness-sander', 'thickness'],
      ['rosette-bench', 'depth'],
      ['router-table', 'depth'],
      ['saddle-jig', 'depth'],
      ['binding-bench', 'height'],
    ] as const;
    const random = fc.record({
      stepMm: fc.double({ min: 0.005, max: 1, noNaN: true }),
      kind: fc.constantFrom('digital' as const, 'scale' as const),
      unit: fc.constantFrom('mm' as const, 'in' as const),
      alphaMm: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
      beta: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
    });
    fc.assert(
      fc.property(random, ({ stepMm, kind, unit, alphaMm, beta }) => {
        const machines = places.map(([station, sets]) => ({
          id: `${station}-${sets}`,
          name: station,
          station,
          sets,
          unit,
          reads: { kind, stepMm },
          offset: { alphaMm, beta },
        }));
        for (const card of settingCards(steel, { ...PLAIN_SHOP, machines }))
          for (const s of card.settings) {
            if (card.station === 'thickness-sander') {
              expect(s.result).toBeGreaterThanOrEqual(s.wanted - 1e-8);
              expect(s.result).toBeGreaterThanOrEqual((s.low ?? 0) - 1e-8);
            }
            if (/depth$|height$/.test(s.id)) expect(s.result).toBeLessThanOrEqual(s.wanted + 1e-8);
            if (s.high !== undefined && s.result > s.high + 1e-8) expect(s.note).toMatch(/too coarse/);
            if (card.picture.kind === 'passes')
              for (const pass of card.picture.passes)
                expect(pass.resultMm).toBeGreaterThanOrEqual((card.picture.lowMm ?? 0) - 1e-8);
          }
      }),
      { seed: 9, numRuns: 60 },
    );
  });

  it('a fixed hole cutter stays where it is and says so', () => {
    const shop = shopWith('jigs: [{ id: c, name: red cutter, kind: hole-cutter, fixed: [2 in] }]');
    const reach = setting(settingCards(steel, shop), 'hole.reach');
    expectClose(reach.result, 50.8, { tol: 1e-9, source: 'inch-1959' });
    expect(reach.note).toBe(
      'red cutter is fixed at 50.8 mm (2.000 in); the pattern asks for 49.0 mm (1.929 in). Change one of the two before it is used.',
    );
  });

  it('a machine that reads too coarsely says so', () => {
    const shop = shopWith(
      'machines: [{ id: s, name: old sander, station: thickness-sander, sets: thickness, unit: in, reads: scale, division: 1/32 in }]',
    );
    const last = setting(settingCards(steel, shop), 'sand-top-inside.last');
    expect(last.big).toEqual({ text: '1/8', unit: 'in' });
    expect(last.note).toMatch(/old sander gives \.125 in where \.110 in is wanted: too coarse/);
  });

  it.each(names)('%s: every number stays at or above its low limit', (name) => {
    for (const shop of [PLAIN_SHOP, evening])
      for (const card of settingCards(sheetOf(name), shop))
        for (const s of card.settings) {
          if (s.low !== undefined)
            expect(s.result, `${card.id} ${s.id}`).toBeGreaterThanOrEqual(s.low - 1e-9);
          if (s.high !== undefined) expect(s.result, `${card.id} ${s.id}`).toBeLessThanOrEqual(s.high + 1e-9);
        }
  });

  it.each(names)('%s: what cannot be had is absent for a reason, never blocked', (name) => {
    for (const card of settingsOf(sheetOf(name), evening))
      if (card.kind === 'unset') {
        expect(card.isAbsent, `${card.id}: ${card.reason}`).toBe(true);
        expect(card.reason).not.toBe('');
      }
    expect(settingCards(sheetOf(name), evening).length).toBeGreaterThanOrEqual(20);
  });

  it('names only figures, stations and operations that there are', () => {
    const route = ownRoute();
    const stations = new Set(route.stations.map((s) => s.id));
    const operations = new Set(route.operations.map((o) => o.id));
    for (const spec of allCards) {
      expect(stations.has(spec.station), spec.station).toBe(true);
      for (const op of spec.operations) expect(operations.has(op), op).toBe(true);
      for (const id of spec.from)
        expect(
          steel.catalogue.indexById.has(id) || numberOf(steel, id) !== undefined,
          `${spec.id}: ${id}`,
        ).toBe(true);
    }
    const named = names.flatMap((n) => settingCards(sheetOf(n), evening)).flatMap((c) => c.figures);
    const families = new Set(steel.catalogue.byId.keys());
    for (const id of new Set(named))
      expect(families.has(id) || families.has(id.slice(0, id.lastIndexOf('.'))), id).toBe(true);
    const ids = settingCards(steel, evening).flatMap((c) => c.settings.map((s) => s.id));
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('says which settings a change touches', () => {
    const before = settingCards(steel, evening);
    const after = settingCards(sheetOf('small-steel-string', { 'hole.radius': '48 mm' }), evening);
    const changed = changedSettings(before, after);
    expect(changed.map((c) => c.id).sort()).toEqual(['hole.gives', 'hole.reach']);
    expect(changed.find((c) => c.id === 'hole.reach')).toMatchObject({
      from: '49.0 mm',
      to: '48.0 mm',
      card: 'hole-cutter',
    });
    expect(changedSettings(before, before)).toEqual([]);
  });
});

describe('rules of pattern against shop', () => {
  it.each(names)('%s breaks none in the example shop', (name) => {
    const rules = shopRulesOf(sheetOf(name), evening);
    expect(rules.filter((r) => r.state === 'broken')).toEqual([]);
    expect(rules.length).toBeGreaterThanOrEqual(18);
  });

  it('your cutter makes 101.6, the pattern says 98.0: the hole edge comes nearer to the leg', () => {
    const shop = shopWith('jigs: [{ id: c, name: red cutter, kind: hole-cutter, fixed: [2 in] }]');
    const [rule] = shopRulesOf(steel, shop);
    const clear = numberOf(steel, 'brace.x.clear_of_hole') ?? numberOf(steel, 'brace.clear_of_hole');
    expect(clear).toBeDefined();
    expect(rule).toMatchObject({ id: 'shop.hole_cutter', state: 'broken' });
    expect(rule?.text).toBe(
      `Your cutter makes 101.6, the pattern says 98.0: the hole edge comes ${((clear as number) - 1.8).toFixed(1)} from the leg.`,
    );
    expect(rule?.remedy).toBe(
      'Change the pattern: set hole.radius to 50.8 mm; or change the shop: give red cutter a reach of 49.0 mm.',
    );
  });

  /** A shop that breaks one rule, the pattern's way out and the shop's way out. */
  const breaks: readonly (readonly [string, string, Record<string, string> | undefined, string])[] = [
    [
      'shop.hole_cutter',
      'jigs: [{ id: a, kind: hole-cutter, fixed: [2 in] }]',
      { 'hole.radius': '50.8 mm' },
      'jigs: [{ id: a, kind: hole-cutter, fixed: [49 mm] }]',
    ],
    [
      'shop.ring_jig.inner',
      'jigs: [{ id: a, kind: ring-jig, fixed: [57.6 mm, 60.4 mm] }]',
      { 'rosette.inner_radius': '56 mm' },
      'jigs: [{ id: a, kind: ring-jig, fixed: [56.6 mm, 60.4 mm] }]',
    ],
    [
      'shop.ring_jig.outer',
      'jigs: [{ id: a, kind: ring-jig, fixed: [56.6 mm, 59.4 mm] }]',
      { 'rosette.outer_radius': '61 mm' },
      'jigs: [{ id: a, kind: ring-jig, fixed: [56.6 mm, 60.4 mm] }]',
    ],
    [
      'shop.channel_cutter',
      'cutters: [{ diameter: 8 mm }]',
      { 'rosette.outer_radius': '63 mm' },
      'cutters: [{ diameter: 7 mm }]',
    ],
    ['shop.pilot_is_pin', 'pins: [6 mm]', { 'hole.pilot_diameter': '6 mm' }, 'pins: [6.35 mm]'],
    ['shop.drill_is_pin', 'pins: [6.35 mm]\ndrills: [6 mm]', undefined, 'pins: [6.35 mm]\ndrills: [1/4 in]'],
    [
      'shop.saddle_slot_cutter',
      'cutters: [{ diameter: 4 mm }]',
      { 'bridge.saddle_slot.width': '4 mm' },
      'cutters: [{ diameter: 3.2 mm }]',
    ],
    [
      'shop.rod_slot_cutter',
      'cutters: [{ diameter: 8 mm }]',
      { 'neck.rod_slot.width': '8 mm' },
      'cutters: [{ diameter: 6.35 mm }]',
    ],
    ['shop.blade_turns', 'blades: [16 mm]', undefined, 'blades: [6 mm]'],
    [
      'shop.slot_template',
      'jigs: [{ id: a, kind: slot-template, fixed: [632 mm] }]',
      { 'scale.length': '632 mm' },
      'jigs: [{ id: a, kind: slot-template, fixed: [628 mm] }]',
    ],
    [
      'shop.top_dish',
      'jigs: [{ id: a, kind: top-dish, fixed: [12 m] }]',
      { 'dome.top.radius': '12 m' },
      'jigs: [{ id: a, kind: top-dish, fixed: [8.5 m] }]',
    ],
    [
      'shop.back_dish',
      'jigs: [{ id: a, kind: back-dish, fixed: [3.7 m] }]',
      { 'dome.back.radius': '3.7 m' },
      'jigs: [{ id: a, kind: back-dish, fixed: [4.6 m] }]',
    ],
    [
      'shop.radius_block',
      'jigs: [{ id: a, kind: radius-block, fixed: [300 mm] }]',
      { 'board.radius': '300 mm' },
      'jigs: [{ id: a, kind: radius-block, fixed: [400 mm] }]',
    ],
    [
      'shop.ledge_bearings',
      'jigs: [{ id: a, kind: ledge-bearings, fixed: [2 mm] }]',
      { 'binding.thickness': '2 mm' },
      'jigs: [{ id: a, kind: ledge-bearings, fixed: [1.6 mm] }]',
    ],
    [
      'shop.tuner_guide',
      'jigs: [{ id: a, kind: tuner-guide, fixed: [38 mm] }]',
      { 'neck.tuner_pitch': '38 mm' },
      'jigs: [{ id: a, kind: tuner-guide, fixed: [42 mm] }]',
    ],
    [
      'shop.neck_wedge',
      'jigs: [{ id: a, kind: neck-wedge, fixed: [2 deg] }]',
      undefined,
      'jigs: [{ id: a, kind: neck-wedge, fixed: [1.1 deg] }]',
    ],
    [
      'shop.mould',
      'jigs: [{ id: a, kind: mould, length: 480 mm, upper_bout: 278 mm, waist: 236 mm, lower_bout: 380 mm }]',
      { 'body.lower_bout.width': '380 mm' },
      'jigs: [{ id: a, kind: mould, length: 480 mm, upper_bout: 278 mm, waist: 236 mm, lower_bout: 370 mm }]',
    ],
    ['shop.tuner_drill', 'drills: [8 mm]', undefined, 'drills: [10 mm]'],
    [
      'shop.printer',
      'printer: { printed_100_x: 95 mm, printed_100_y: 100 mm }',
      undefined,
      'printer: { printed_100_x: 99.5 mm, printed_100_y: 100 mm }',
    ],
  ];
  const sander = (rest: string): string =>
    `machines: [{ id: s, station: thickness-sander, sets: thickness, unit: in, reads: digital, step: 0.01 mm, ${rest} }]`;
  const sanderBreaks: typeof breaks = [
    [
      'shop.sander_width',
      sander('widest_piece: 350 mm'),
      { 'body.lower_bout.width': '335 mm', 'body.upper_bout.width': '260 mm' },
      sander('widest_piece: 400 mm'),
    ],
    ['shop.sander_length', sander('shortest_piece: 500 mm'), undefined, sander('shortest_piece: 250 mm')],
    [
      'shop.sander_step',
      'machines: [{ id: s, station: thickness-sander, sets: thickness, unit: in, reads: scale, division: 1/32 in }]',
      undefined,
      sander('shortest_piece: 250 mm'),
    ],
  ];
  const stateIn = (sheet: Sheet, shop: string, id: string): string | undefined =>
    shopRulesOf(sheet, shopWith(shop)).find((r) => r.id === id)?.state;

  it.each([...breaks, ...sanderBreaks])(
    '%s is broken, and met by either remedy',
    (id, broken, byPattern, byShop) => {
      expect(stateIn(steel, broken, id)).toBe('broken');
      const rule = shopRulesOf(steel, shopWith(broken)).find((r) => r.id === id);
      expect(rule?.why).not.toBe('');
      expect(rule?.remedy).toMatch(/Change the (pattern|shop): /);
      expect(stateIn(steel, byShop, id)).toBe('met');
      if (byPattern) expect(stateIn(sheetOf('small-steel-string', byPattern), broken, id)).toBe('met');
    },
  );

  it('covers every rule that the example shop raises', () => {
    const tested = new Set([...breaks, ...sanderBreaks].map(([id]) => id));
    for (const name of names)
      for (const rule of shopRulesOf(sheetOf(name), evening)) expect(tested.has(rule.id), rule.id).toBe(true);
  });

  it('judges nothing that the shop does not name, but the printer', () => {
    expect(shopRulesOf(steel, PLAIN_SHOP).map((r) => r.id)).toEqual(['shop.printer']);
  });
});

describe('a shop in inches', () => {
  const summer = readShop(read('shops/summer-school.yaml'));

  it('puts the machine or the rule first, the other unit beside it', () => {
    const cards = settingCards(steel, summer);
    expect(setting(cards, 'hole.reach')).toMatchObject({
      big: { text: '2.000', unit: 'in' },
      small: '50.8 mm, 2 in',
    });
    expect(setting(cards, 'saw.stay_off')).toMatchObject({
      big: { text: '.197', unit: 'in' },
      small: '5.0 mm',
    });
    expect(setting(cards, 'sand-top.last')).toMatchObject({
      big: { text: '2 1/4', unit: 'turns' },
      gives: '3.57 mm',
    });
    expect(setting(cards, 'ring.depth')).toMatchObject({
      big: { text: '3/64', unit: 'in' },
      small: '1.19 mm',
    });
    expectClose(setting(cards, 'ring.depth').leavesMm, 0.109, {
      tol: 0.001,
      source: 'arithmetic: 1.3 - 3 x 25.4/64',
    });
  });

  it('is told that its welded hole cutter does not make the hole of the pattern', () => {
    expect(shopRulesOf(steel, summer)[0]).toMatchObject({ id: 'shop.hole_cutter', state: 'broken' });
  });
});
