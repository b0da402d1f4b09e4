import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { bounds } from '../drawing/bounds.ts';
import type { Drawing, Entity, TextEntity } from '../drawing/model.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { isFinding } from '../quantity/finding.ts';
import { ownRoute } from '../route/route.ts';
import { batchPlan } from '../settings/batch-plan.ts';
import type { SettingCard } from '../settings/setting.ts';
import { settingCards } from '../settings/settings-of.ts';
import { PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { readShop } from '../shop/shop-file.ts';
import { batchCard } from './batch-card.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM, type CardsAbout, cardDrawing } from './cards.ts';
import { cardsAbout } from './cards-about.ts';
import { settingBoxes } from './setting-boxes.ts';
import { stationHere } from './station-here.ts';

const read = (name: string): string => readFileSync(new URL(`../../data/${name}`, import.meta.url), 'utf8');
const evening = readShop(read('shops/evening-workshop.yaml'));
const names = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];
const cardsOf = (name: string, shop: Shop = evening): readonly SettingCard[] =>
  settingCards(sheetOfPattern(readPattern(read(`patterns/${name}.yaml`))), shop);

const about = (shop: Shop = evening): CardsAbout => ({
  patternName: 'Small steel-string',
  revision: '3',
  shop,
  route: ownRoute(),
  printedOn: '14 Oct',
  address: 'http://bracewright.local/card/',
});

const wordsOf = (drawing: Drawing): string =>
  drawing.entities
    .filter((e): e is TextEntity => e.kind === 'text')
    .map((e) => e.text)
    .join(' ');

const coarse = readShop(`format: bracewright-shop/1
name: Old shop
jigs: [{ id: c, name: red cutter, kind: hole-cutter, fixed: [2 in] }]
machines:
  - { id: t, name: old sander, station: thickness-sander, sets: thickness, unit: in, reads: crank, travel_a_turn: 1/16 in, parts: 4 }
stations: { thickness-sander: { here: no, cautions: [Mind the step] } }
`);

describe('setting cards', () => {
  it('list the passes in the units the shop measures in, and what is set in the unit of the machine', () => {
    const inches = readShop(`format: bracewright-shop/1
name: Inch shop
unit: in
machines:
  - { id: t, name: sander, station: thickness-sander, sets: thickness, unit: in, reads: digital, step: 0.001 in }
`);
    const card = cardsOf('small-steel-string', inches).find((c) => c.id === 'sand-top');
    if (!card) throw new Error('there is no card for the top');
    const words = wordsOf(cardDrawing(card, about(inches)));
    expect(words).toMatch(/Plate \.\d{3} in at its thickest place, no pass under \.\d{3}/);
    // inches everywhere: words, lists and pictures; only a number that stands beside one in inches is in mm
    for (const name of names)
      for (const c of cardsOf(name, inches)) {
        const lines = [...c.onScrap, ...c.onPiece, ...c.settings.flatMap((s) => [s.label, s.note ?? ''])];
        for (const line of lines) expect(line, `${name}, ${c.id}`).not.toMatch(/\d mm\b/);
        const rule = c.settings.find((s) => s.isByRule);
        if (rule) expect(rule.big.unit, `${name}, ${c.id}`).toBe('in');
      }
    const frame = cardsOf('small-steel-string', inches).find((c) => c.picture.kind === 'frame');
    if (!frame) throw new Error('there is no card for the joining frame');
    expect(wordsOf(cardDrawing(frame, about(inches)))).toMatch(/for a joined plate of [\d.]+ in /);
    const reach = cardsOf('small-steel-string', inches).find((c) => c.id === 'hole-cutter');
    if (!reach) throw new Error('there is no card for the hole');
    // 49.0 mm of radius, 25.4 mm to the inch exactly (inch-1959)
    expect(wordsOf(cardDrawing(reach, about(inches)))).toMatch(/hole 3\.858 .*knife edge 1\.929 in/);
    expect(words).toContain('gives in');
    expect(words).not.toContain('gives mm');
    expect(words).toContain('Inch shop');
  });

  it('say which rules of the pattern are broken, stay whole with it, and are silent when none is', () => {
    const print = {
      revision: '4',
      shop: evening,
      printedOn: '14 Oct',
      address: 'http://bracewright.local/card/',
    };
    const whole = readPattern(read('patterns/small-steel-string.yaml'));
    const cardIds = settingCards(sheetOfPattern(whole), evening).map((c) => c.id);
    const broken = { ...whole, numbers: new Map(whole.numbers).set('brace.x.crossing_y', 205) };
    const words = [whole, broken].map((pattern) => {
      const sheet = sheetOfPattern(pattern);
      const about = cardsAbout(pattern, sheet, print);
      return settingCards(sheet, evening).map((card) => {
        const drawing = cardDrawing(card, about);
        expect(bounds(drawing.entities)?.minY, card.id).toBeGreaterThanOrEqual(-0.7);
        return wordsOf(drawing);
      });
    });
    expect(words[0]?.filter((w) => w.includes('Broken'))).toEqual([]);
    expect(words[1]?.length).toBeGreaterThan(20);
    for (const w of words[1] ?? [])
      expect(w).toMatch(/Broken (in this pattern|elsewhere): .+ before you cut\./);
    const of = (id: string): string => words[1]?.[cardIds.indexOf(id)] ?? '';
    // the hole lies by the crossing; the head has nothing to do with it
    expect(of('pilot-hole')).toMatch(/Broken in this pattern: \w+/);
    expect(of('sand-head')).toMatch(/Broken elsewhere: \d+ rules of the pattern that touch none/);
  });

  it('keep a label of two lines off the number under it', () => {
    const card = cardsOf('small-steel-string', PLAIN_SHOP).find((c) => c.id === 'pilot-hole') as SettingCard;
    const texts = settingBoxes(card.settings, 0, CARD_WIDTH_MM).entities.filter((e) => e.kind === 'text');
    const second = texts.find((e) => e.text === 'centre');
    const number = texts.find((e) => e.text === '142.0');
    if (!second || !number) throw new Error('the card has that label and that number');
    const gapMm = number.at.y - number.heightMm - second.at.y;
    expect(gapMm).toBeGreaterThan(1.5);
  });

  it.each(names)('%s: everything stays on the card', (name) => {
    for (const shop of [evening, PLAIN_SHOP, coarse])
      for (const card of cardsOf(name, shop)) {
        const drawing = cardDrawing(card, { ...about(shop), isLeftHanded: name === 'nylon-string' });
        const is = bounds(drawing.entities);
        expect(is?.minX, card.id).toBeGreaterThanOrEqual(-0.7);
        expect(is?.minY, card.id).toBeGreaterThanOrEqual(-0.7);
        expect(is?.maxX, card.id).toBeLessThanOrEqual(CARD_WIDTH_MM + 0.7);
        expect(is?.maxY, card.id).toBeLessThanOrEqual(CARD_HEIGHT_MM + 0.7);
      }
  });

  it('prints what it is for: numbers in both units, figures, revision, who may change it, cautions', () => {
    const card = cardsOf('small-steel-string').find((c) => c.id === 'ring-channel') as SettingCard;
    const words = wordsOf(cardDrawing(card, about()));
    for (const piece of [
      'Cut the ring channel',
      '56.6',
      '2.228 in',
      '60.4',
      '58.5',
      'rev. 3 only',
      'rosette.inner_radius',
      'Protect: eyes',
      'The teacher only',
      'Hold. The teacher sees the test',
      '100 mm',
      '4 in',
    ])
      expect(words).toContain(piece);
  });

  it('draws the ring at full size where it fits', () => {
    const card = cardsOf('small-steel-string').find((c) => c.id === 'ring-channel') as SettingCard;
    const radii = cardDrawing(card, about())
      .entities.filter((e): e is Entity & { kind: 'arc' } => e.kind === 'arc' && e.layer === 'cut')
      .map((e) => e.radiusMm);
    expectClose(Math.max(...radii), 62, { tol: 1e-9, source: 'arithmetic' });
    expectClose(Math.min(...radii), 55, { tol: 1e-9, source: 'arithmetic' });
  });

  it('says where the shop cannot give what is wanted', () => {
    const cards = cardsOf('small-steel-string', coarse);
    const card = (id: string): string =>
      wordsOf(cardDrawing(cards.find((c) => c.id === id) as SettingCard, about(coarse)));
    expect(card('hole-cutter')).toContain('Red cutter is fixed at 50.8 mm (2.000 in)');
    expect(card('sand-top')).toContain('too coarse');
    expect(card('sand-top')).toContain('This shop has none');
    expect(card('sand-top')).toContain('Mind the step');
  });

  it('names inputs that are not yet the teacher\u2019s own', () => {
    const [card] = cardsOf('small-steel-string');
    const words = wordsOf(
      cardDrawing(card as SettingCard, { ...about(), notMine: () => ['body.waist.width'] }),
    );
    expect(words).toContain('Not yet yours: body.waist.width');
  });

  it('adds the cautions of the shop to those of the route', () => {
    const station = stationHere(ownRoute(), evening, 'thickness-sander', ['T4']);
    const route = ownRoute().stations.find((s) => s.id === 'thickness-sander');
    for (const caution of route?.cautions ?? []) expect(station.cautions).toContain(caution);
    expect(station.cautions).toContain('The stop button hangs left of the table');
  });
});

describe('batch card', () => {
  it('lists every number with who is fed', () => {
    const plates = [
      { id: 'Ana', thicknessMm: 4, lowMm: 3.1 },
      { id: 'Ben', thicknessMm: 3.6, lowMm: 3.1 },
    ];
    const steps = batchPlan(plates, {
      targetMm: 3.2,
      perPassMm: 0.25,
      lastPerPassMm: 0.1,
      lastPassesCount: 2,
    });
    if (isFinding(steps)) throw new Error(steps.text);
    const drawing = batchCard(plates, steps, {
      title: 'Sand the tops',
      patternName: 'Small steel-string',
      revision: '3',
      printedOn: '14 Oct',
      unit: 'mm',
    });
    const words = wordsOf(drawing);
    for (const step of steps) expect(words).toContain(step.pass.text);
    expect(words).toContain('Feed: Ana. Wait: Ben.');
    expect(words).toContain('Feed: Ana, Ben.');
    expect(bounds(drawing.entities)?.maxY).toBeLessThanOrEqual(CARD_HEIGHT_MM);
  });
});
