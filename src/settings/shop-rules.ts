import type { Band, Verdict } from '../graph/rule.ts';
import { judge } from '../graph/rule.ts';
import { numberOf, type Sheet } from '../graph/sheet.ts';
import { formatMm } from '../quantity/print-length.ts';
import { capital } from '../quantity/words.ts';
import { JIG_KINDS, type JigKind, jigsOf, machineAt, mouldsOf, type Shop } from '../shop/shop.ts';
import { bladeTurnMm, sagMm } from './body-cards.ts';
import { placeOf, placeText } from './jig-rounding.ts';
import { roundToMachine } from './machine-rounding.ts';
import { widestInSlot } from './neck-cards.ts';
import { nearestSize, pinFor, ringCutter, ringWays } from './ring-cards.ts';

/** A rule of pattern against shop, judged. The same words as the rules of a pattern. */
export interface ShopJudged {
  readonly id: string;
  readonly label: string;
  readonly state: Verdict;
  /** What is judged, in `unit`. */
  readonly value: number;
  readonly unit: 'mm' | 'deg';
  readonly hard: Band;
  readonly soft?: Band;
  /** The numbers in one sentence. */
  readonly text: string;
  readonly why: string;
  /** What to change: the pattern or the shop, either one. Empty when met. */
  readonly remedy: string;
  readonly source: string;
  /** Key of the place in the drawing that lights up. */
  readonly place?: string;
}

/** What a rule finds; it is judged afterwards. */
interface Found {
  readonly id: string;
  readonly label: string;
  readonly value: number;
  readonly unit?: 'mm' | 'deg';
  readonly hard: Band;
  readonly soft?: Band;
  readonly text: string;
  readonly why: string;
  readonly remedy: string;
  readonly place?: string;
}

type Numbers = (id: string) => number | undefined;
type ShopRule = (of: Numbers, shop: Shop) => readonly Found[];

const TRADE = 'common practice, no published source';
const mm = (value: number, decimals: 1 | 2 = 1): string => `${formatMm(value, decimals)} mm`;

/** Nothing found: the pattern or the shop has no such thing. */
const NONE: readonly Found[] = [];

const holeCutter: ShopRule = (of, shop) => {
  const radiusMm = of('hole.radius');
  const jigs = jigsOf(shop, 'hole-cutter');
  if (radiusMm === undefined || jigs.length === 0) return NONE;
  const place = placeOf(jigs, radiusMm, 'less');
  const offMm = 2 * (place.at - radiusMm);
  const clearMm = of('brace.x.clear_of_hole') ?? of('brace.clear_of_hole');
  const leaves =
    clearMm === undefined || Math.abs(offMm) < 0.05
      ? ''
      : `: the hole edge comes ${formatMm(clearMm - offMm / 2)} from the ${of('brace.x.width') === undefined ? 'bar' : 'leg'}`;
  return [
    {
      id: 'shop.hole_cutter',
      label: 'Hole cutter makes the hole of the pattern',
      value: offMm,
      hard: { low: -1, high: 1 },
      soft: { low: -0.3, high: 0.3 },
      text: `your cutter makes ${formatMm(2 * place.at)}, the pattern says ${formatMm(2 * radiusMm)}${leaves}`,
      why: 'A larger hole comes nearer to the braces and into the ring; either way the air tone moves.',
      remedy: `Change the pattern: set hole.radius to ${mm(place.at)}; or change the shop: give ${place.jigName ?? 'the cutter'} a reach of ${mm(radiusMm)}.`,
      place: 'hole.radius',
    },
  ];
};

const ringJig: ShopRule = (of, shop) => {
  const innerMm = of('rosette.inner_radius');
  const outerMm = of('rosette.outer_radius');
  const jigs = jigsOf(shop, 'ring-jig');
  if (innerMm === undefined || outerMm === undefined || jigs.length === 0) return NONE;
  const cutterMm = ringCutter(shop, innerMm, outerMm);
  if (cutterMm === undefined) return NONE;
  const ways = ringWays(innerMm, outerMm, cutterMm);
  const walls = [
    ['inner', ways.innerCentreMm, 'more', 'rosette.inner_radius', -cutterMm / 2],
    ['outer', ways.outerCentreMm, 'less', 'rosette.outer_radius', cutterMm / 2],
  ] as const;
  return walls.map(([name, centreMm, leaves, input, halfMm]) => {
    const place = placeOf(jigs, centreMm, leaves);
    return {
      id: `shop.ring_jig.${name}`,
      label: `Ring jig reaches the ${name} wall of the channel`,
      value: place.at - centreMm,
      hard: { low: -0.1, high: 0.1 },
      text: `the ${name} wall wants the cutter at ${mm(centreMm)}, your jig gives ${mm(place.at)}`,
      why: 'The ring is made to the pattern: a channel that is wider shows a gap, a narrower one does not take it.',
      remedy: `Change the pattern: set ${input} to ${mm(place.at + halfMm)}; or change the shop: make the jig a place at ${mm(centreMm)}.`,
      place: input,
    };
  });
};

const channelWidth: ShopRule = (of, shop) => {
  const innerMm = of('rosette.inner_radius');
  const outerMm = of('rosette.outer_radius');
  const narrowest = [...shop.cutters].sort((a, b) => a.diameterMm - b.diameterMm)[0];
  if (innerMm === undefined || outerMm === undefined || !narrowest) return NONE;
  const widthMm = outerMm - innerMm;
  return [
    {
      id: 'shop.channel_cutter',
      label: 'A cutter goes into the ring channel',
      value: widthMm - narrowest.diameterMm,
      hard: { low: 0 },
      text: `your narrowest cutter is ${mm(narrowest.diameterMm)}, the channel is ${mm(widthMm)} wide`,
      why: 'A cutter wider than the channel cannot cut it.',
      remedy: `Change the pattern: set rosette.outer_radius to at least ${mm(innerMm + narrowest.diameterMm)}; or change the shop: get a cutter of at most ${mm(widthMm)}.`,
      place: 'rosette.outer_radius',
    },
  ];
};

const pilotPin: ShopRule = (of, shop) => {
  const pilotMm = of('hole.pilot_diameter');
  if (pilotMm === undefined || shop.pinsMm.length === 0) return NONE;
  const pinMm = pinFor(shop, pilotMm);
  const pin: Found = {
    id: 'shop.pilot_is_pin',
    label: 'Pilot hole is the size of the pin',
    value: pilotMm - pinMm,
    hard: { low: -0.02, high: 0.08 },
    text: `the pattern drills ${mm(pilotMm, 2)}, your pin is ${mm(pinMm, 2)}`,
    why: 'Every radius of the hole and the ring is struck from this pin: play makes them eccentric.',
    remedy: `Change the pattern: set hole.pilot_diameter to ${mm(pinMm, 2)}; or change the shop: turn pins of ${mm(pilotMm, 2)}.`,
    place: 'hole.pilot_diameter',
  };
  if (shop.drillsMm.length === 0) return [pin];
  const drillMm = nearestSize(shop.drillsMm, pinMm) as number;
  return [
    pin,
    {
      id: 'shop.drill_is_pin',
      label: 'There is a drill of the size of the pin',
      value: drillMm - pinMm,
      hard: { low: -0.05, high: 0.1 },
      text: `your pin is ${mm(pinMm, 2)}, your nearest drill ${mm(drillMm, 2)}`,
      why: 'A drill adds up to 0.08; play in the pin makes every ring eccentric by half of it.',
      remedy: `Change the shop: get a drill of ${mm(pinMm, 2)}, or turn pins of ${mm(drillMm, 2)}.`,
      place: 'hole.pilot_diameter',
    },
  ];
};

/** Cutters for grooves that one cut should make. */
const grooveCutters: ShopRule = (of, shop) => {
  if (shop.cutters.length === 0) return NONE;
  const grooves = [
    ['bridge.saddle_slot.width', 'saddle_slot', 'Saddle slot'],
    ['neck.rod_slot.width', 'rod_slot', 'Rod slot'],
  ] as const;
  return grooves.flatMap(([input, id, label]) => {
    const widthMm = of(input);
    if (widthMm === undefined) return [];
    const cutterMm = widestInSlot(shop, widthMm) ?? Math.min(...shop.cutters.map((c) => c.diameterMm));
    return [
      {
        id: `shop.${id}_cutter`,
        label: `${label}: a cutter that fits`,
        value: cutterMm - widthMm,
        hard: { high: 0.06 },
        soft: { low: -0.06, high: 0.06 },
        text: `the slot is ${mm(widthMm, 2)} wide, your cutter for it ${mm(cutterMm, 2)}`,
        why: 'A cutter of the width makes the slot in one line; a narrower one needs two, and they have to be parallel.',
        remedy: `Change the pattern: set ${input} to ${mm(cutterMm, 2)}; or change the shop: get a cutter of ${mm(widthMm, 2)}.`,
        place: input,
      },
    ];
  });
};

const blade: ShopRule = (of, shop) => {
  const tightestMm = of('outline.tightest_radius');
  const narrowest = [...shop.bladesMm].sort((a, b) => a - b)[0];
  if (tightestMm === undefined || narrowest === undefined) return NONE;
  const turnMm = bladeTurnMm(narrowest);
  return [
    {
      id: 'shop.blade_turns',
      label: 'The narrowest blade turns the outline',
      value: tightestMm - turnMm,
      hard: { low: 0 },
      soft: { low: 5 },
      text: `your ${mm(narrowest)} blade turns a radius of ${mm(turnMm)}, the tightest of the outline is ${mm(tightestMm)}`,
      why: 'A blade that cannot turn twists, wanders over the line and may jump off.',
      remedy: `Change the shop: fit a narrower blade; or change the pattern: raise body.waist.radius.`,
      place: 'outline',
    },
  ];
};

/** How far a jig of a wrong radius or scale is off, and how much of it matters. */
interface JigCheck {
  readonly kind: JigKind;
  readonly input: string;
  readonly id: string;
  readonly label: string;
  readonly why: string;
  readonly hardAbs: number;
  readonly softAbs: number;
  /** What the jig is off on the work, unit of the rule. */
  off(jig: number, pattern: number, of: Numbers): number | undefined;
  /** How that is said. */
  readonly offWords: string;
}

const sagOff =
  (chordId: string) =>
  (jig: number, pattern: number, of: Numbers): number | undefined => {
    const chordMm = of(chordId);
    return chordMm === undefined ? undefined : sagMm(jig, chordMm) - sagMm(pattern, chordMm);
  };

const JIG_CHECKS: readonly JigCheck[] = [
  {
    kind: 'slot-template',
    input: 'scale.length',
    id: 'slot_template',
    label: 'Slot template has the scale of the pattern',
    why: 'Slots of another scale are out of tune with every other number of the pattern.',
    hardAbs: 0.3,
    softAbs: 0.1,
    off: (jig, pattern) => jig - pattern,
    offWords: 'the scale is off by',
  },
  {
    kind: 'top-dish',
    input: 'dome.top.radius',
    id: 'top_dish',
    label: 'Top dish has the dome of the pattern',
    why: 'Rim, braces and neck angle are computed for this dome.',
    hardAbs: 0.4,
    softAbs: 0.2,
    off: sagOff('body.lower_bout.width'),
    offWords: 'across the lower bout it rises differently by',
  },
  {
    kind: 'back-dish',
    input: 'dome.back.radius',
    id: 'back_dish',
    label: 'Back dish has the dome of the pattern',
    why: 'The side strip is drawn for this dome.',
    hardAbs: 0.6,
    softAbs: 0.3,
    off: sagOff('body.lower_bout.width'),
    offWords: 'across the lower bout it rises differently by',
  },
  {
    kind: 'radius-block',
    input: 'board.radius',
    id: 'radius_block',
    label: 'Radius block has the face radius of the pattern',
    why: 'Edge thickness, fret bend and saddle top follow this radius.',
    hardAbs: 0.15,
    softAbs: 0.05,
    off: sagOff('board.width.fret_12'),
    offWords: 'the edge at fret 12 lies differently by',
  },
  {
    kind: 'ledge-bearings',
    input: 'binding.thickness',
    id: 'ledge_bearings',
    label: 'A bearing cuts the ledge for the binding',
    why: 'A ledge too shallow leaves the binding proud, too deep leaves a gap to fill.',
    hardAbs: 0.2,
    softAbs: 0.1,
    off: (jig, pattern) => jig - pattern,
    offWords: 'the ledge is off by',
  },
  {
    kind: 'tuner-guide',
    input: 'neck.tuner_pitch',
    id: 'tuner_guide',
    label: 'Tuner guide has the pitch of the pattern',
    why: 'Plates of tuners on one plate do not forgive, and the strings should run straight.',
    hardAbs: 0.5,
    softAbs: 0.3,
    off: (jig, pattern) => jig - pattern,
    offWords: 'the pitch is off by',
  },
  {
    kind: 'neck-wedge',
    input: 'neck.angle',
    id: 'neck_wedge',
    label: 'Neck wedge gives the angle of the pattern',
    why: 'A tenth of a degree is a quarter of a millimetre of action at fret 12.',
    hardAbs: 0.16,
    softAbs: 0.08,
    off: (jig, pattern) => jig - pattern,
    offWords: 'the angle is off by',
  },
];

const jigRules: ShopRule = (of, shop) =>
  JIG_CHECKS.flatMap((check) => {
    const pattern = of(check.input);
    const jigs = jigsOf(shop, check.kind);
    if (pattern === undefined || jigs.length === 0) return [];
    const place = placeOf(jigs, pattern, 'nearest');
    const off = check.off(place.at, pattern, of);
    if (off === undefined) return [];
    const { unit, label } = JIG_KINDS[check.kind];
    const isFigure = check.input === 'neck.angle';
    const offText = unit === 'deg' ? `${formatMm(off, 2)} deg` : mm(off, 2);
    const patternWay = isFigure
      ? 'bridge.height or bridge.protrusion'
      : `${check.input} to ${placeText(place.at, unit)}`;
    return [
      {
        id: `shop.${check.id}`,
        label: check.label,
        value: off,
        unit,
        hard: { low: -check.hardAbs, high: check.hardAbs },
        soft: { low: -check.softAbs, high: check.softAbs },
        text: `your ${label} gives ${placeText(place.at, unit)}, the pattern says ${placeText(pattern, unit)}: ${check.offWords} ${offText}`,
        why: check.why,
        remedy: `Change the pattern: set ${patternWay}; or change the shop: make a ${label} of ${placeText(pattern, unit)}.`,
        place: check.input,
      },
    ];
  });

const mould: ShopRule = (of, shop) => {
  const inputs = [
    ['lengthMm', 'body.length', 'length'],
    ['upperBoutMm', 'body.upper_bout.width', 'upper bout'],
    ['waistMm', 'body.waist.width', 'waist'],
    ['lowerBoutMm', 'body.lower_bout.width', 'lower bout'],
  ] as const;
  const wanted = inputs.map(([, id]) => of(id));
  if (mouldsOf(shop).length === 0 || wanted.some((w) => w === undefined)) return NONE;
  const offs = mouldsOf(shop).map((m) => {
    const each = inputs.map(([key, id, name], i) => ({
      id,
      name,
      hasMm: m[key],
      off: m[key] - (wanted[i] as number),
    }));
    return { mould: m, worst: each.reduce((a, b) => (Math.abs(b.off) > Math.abs(a.off) ? b : a)) };
  });
  const best = offs.reduce((a, b) => (Math.abs(b.worst.off) < Math.abs(a.worst.off) ? b : a));
  const { worst } = best;
  return [
    {
      id: 'shop.mould',
      label: 'A mould has the outline of the pattern',
      value: worst.off,
      hard: { low: -2, high: 2 },
      soft: { low: -1, high: 1 },
      text: `${best.mould.name} has a ${worst.name} of ${mm(worst.hasMm)}, the pattern says ${mm(worst.hasMm - worst.off)}`,
      why: 'The sides take the shape of the mould, not of the drawing; plates and bindings are then wrong.',
      remedy: `Change the pattern: set ${worst.id} to ${mm(worst.hasMm)}; or change the shop: shim or make a mould.`,
      place: worst.id,
    },
  ];
};

const sander: ShopRule = (of, shop) => {
  const machine = machineAt(shop, 'thickness-sander', 'thickness');
  const finalMm = of('top.thickness.final');
  const mostMm = of('top.thickness.most');
  const found: Found[] = [];
  if (!machine) return found;
  if (finalMm !== undefined && mostMm !== undefined) {
    const shown = roundToMachine(finalMm, machine, 'more');
    found.push({
      id: 'shop.sander_step',
      label: 'The sander can show the final thickness of the top',
      value: shown.leavesMm,
      hard: { high: mostMm - finalMm },
      soft: { high: 0.1 },
      text: `set to ${shown.text} it gives ${mm(shown.resultMm, 2)}, the pattern says ${mm(finalMm, 2)}`,
      why: 'The number is always rounded to the side that leaves wood; what is left has to come off by hand.',
      remedy: 'Change the shop: use a shim or a finer reading, or finish by hand.',
      place: 'top.thickness.final',
    });
  }
  const lowerMm = of('body.lower_bout.width');
  const allowanceMm = of('allowance.saw') ?? 0;
  if (machine.widestPieceMm !== undefined && lowerMm !== undefined)
    found.push({
      id: 'shop.sander_width',
      label: 'The plate goes through the sander',
      value: machine.widestPieceMm - lowerMm - 2 * allowanceMm,
      hard: { low: 0 },
      text: `the plate with its saw allowance is ${mm(lowerMm + 2 * allowanceMm)} wide, ${machine.name} takes ${mm(machine.widestPieceMm)}`,
      why: 'A plate that is too wide has to be sanded as two halves, before it is joined.',
      remedy:
        'Change the shop: sand the halves before joining; or change the pattern: reduce body.lower_bout.width.',
      place: 'body.lower_bout.width',
    });
  const lengthMm = of('body.length');
  if (machine.shortestPieceMm !== undefined && lengthMm !== undefined)
    found.push({
      id: 'shop.sander_length',
      label: 'The plate is long enough for the sander',
      value: lengthMm - machine.shortestPieceMm,
      hard: { low: 0 },
      text: `the plate is ${mm(lengthMm)} long, ${machine.name} holds nothing under ${mm(machine.shortestPieceMm)}`,
      why: 'A short piece is held by one roller only and can be thrown.',
      remedy: 'Change the shop: use the carrier board.',
      place: 'body.length',
    });
  return found;
};

const tunerDrill: ShopRule = (of, shop) => {
  const holeMm = of('neck.tuner_hole');
  if (holeMm === undefined || shop.drillsMm.length === 0) return NONE;
  const nearest = nearestSize(shop.drillsMm, holeMm) as number;
  return [
    {
      id: 'shop.tuner_drill',
      label: 'There is a drill for the tuner holes',
      value: nearest - holeMm,
      hard: { low: -0.3, high: 0.3 },
      soft: { low: 0, high: 0.15 },
      text: `the hole is ${mm(holeMm)}, your nearest drill ${mm(nearest, 2)}`,
      why: 'A tight hole splits the head, a loose one lets the post lean.',
      remedy: `Change the shop: get a drill of ${mm(holeMm)}, or ream from a smaller one.`,
      place: 'neck.tuner_hole',
    },
  ];
};

const printer: ShopRule = (_of, shop) => {
  const { xMm, yMm } = shop.printed100;
  const worst = Math.abs(xMm - 100) > Math.abs(yMm - 100) ? xMm : yMm;
  return [
    {
      id: 'shop.printer',
      label: 'The printer keeps the scale',
      value: worst - 100,
      hard: { low: -3, high: 3 },
      soft: { low: -1, high: 1 },
      text: `your printer makes ${mm(xMm)} across and ${mm(yMm)} along of 100.0 mm`,
      why: 'Prints are corrected by this; a large correction means that the printer fits pages to the paper.',
      remedy: 'Change the shop: print at 100 %, without "fit to page", and measure again.',
    },
  ];
};

const SHOP_RULES: readonly ShopRule[] = [
  holeCutter,
  ringJig,
  channelWidth,
  pilotPin,
  grooveCutters,
  blade,
  jigRules,
  mould,
  sander,
  tunerDrill,
  printer,
];

function judged(f: Found): ShopJudged {
  const state = judge(f.value, f.hard, f.soft);
  return {
    ...f,
    unit: f.unit ?? 'mm',
    source: TRADE,
    state,
    text: `${capital(f.text)}.`,
    remedy: state === 'met' ? '' : f.remedy,
  };
}

const ORDER: Readonly<Record<Verdict, number>> = { broken: 0, doubtful: 1, met: 2 };

/**
 * What the pattern asks against what the shop really gives, worst first.
 *
 * @param sheet  figures of the pattern
 * @param shop   what is at hand; what it does not name is not judged
 * @returns      judged rules; each says the numbers, why it matters and which one to change
 * @source       common practice, no published source
 */
export function shopRulesOf(sheet: Sheet, shop: Shop): readonly ShopJudged[] {
  const of: Numbers = (id) => numberOf(sheet, id);
  return SHOP_RULES.flatMap((rule) => rule(of, shop).map(judged)).sort(
    (a, b) => ORDER[a.state] - ORDER[b.state],
  );
}
