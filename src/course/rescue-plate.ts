import { barOnPlateStiffnessNm2 } from '../figures/brace-stiffness.ts';
import { type Rescue, type RescueNumber, type SayLength, sayMm, shown } from './rescue.ts';

/** One bar of the top. */
export interface TopBar {
  readonly id: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** What is known of a plate that came out thin. */
export interface ThinPlate {
  readonly measuredMm: number;
  readonly drawnMm: number;
  readonly scrapMm: number;
  /** Depth of the ring channel: measured if it is cut, else drawn. */
  readonly channelMm: number;
  readonly channelIsCut: boolean;
  readonly bars: readonly TopBar[];
  /** Elastic modulus of bars and plate along the grain. */
  readonly modulusMPa: number;
  /** Highest a bar can be made: what the blank gives over the drawn height. */
  readonly blankSpareMm: number;
  /** Glued bars cannot be exchanged for higher ones, carved ones cannot be left higher. Left out: not yet glued. */
  readonly barsAre?: 'glued' | 'carved';
}

/** Least wood under the channel, and its share of the plate. */
export const leastUnderChannelMm = 1;
export const leastUnderChannelFrac = 0.45;
/** A channel that comes out this much deeper must still do. */
const cutDeeperMm = 0.05;
/** Width of plate that works with a bar, in widths of the bar. */
const stripWidths = 5;

/**
 * Deepest ring channel a plate of this thickness allows, cut 0.05 too deep.
 *
 * @param thicknessMm  of the plate when the inside is finished; > 0
 * @returns            mm; 0 when the plate takes no channel
 * @source             common practice, no published source
 */
export function deepestChannelMm(thicknessMm: number): number {
  return Math.max(
    0,
    thicknessMm - Math.max(leastUnderChannelMm, leastUnderChannelFrac * thicknessMm) - cutDeeperMm,
  );
}

/**
 * Height of a bar that, with the plate it has, is as stiff as drawn with the drawn plate.
 *
 * @param bar          drawn width and height, mm
 * @param drawnMm      plate as drawn
 * @param measuredMm   plate as measured
 * @param modulusMPa   of bar and plate alike
 * @returns            height in mm; the drawn one when the plate is not thinner
 * @assumes            a strip of plate five bar widths wide works with the bar, same modulus, small deflection
 * @source             beam-theory
 */
export function heightForStiffnessMm(
  bar: TopBar,
  drawnMm: number,
  measuredMm: number,
  modulusMPa: number,
): number {
  const plate = (thicknessMm: number) => ({ widthMm: stripWidths * bar.widthMm, thicknessMm });
  const wanted = barOnPlateStiffnessNm2(modulusMPa, bar, plate(drawnMm));
  let low = bar.heightMm / 2;
  let high = bar.heightMm * 3;
  for (let i = 0; i < 60; i++) {
    const heightMm = (low + high) / 2;
    const has = barOnPlateStiffnessNm2(modulusMPa, { ...bar, heightMm }, plate(measuredMm));
    if (has < wanted) low = heightMm;
    else high = heightMm;
  }
  return (low + high) / 2;
}

/** Share of its stiffness that the stiffest bar with its strip of plate has lost. */
function barLossFrac(p: ThinPlate): number {
  const bar = p.bars.reduce((a, b) => (b.heightMm > a.heightMm ? b : a), p.bars[0] as TopBar);
  const withPlate = (thicknessMm: number): number =>
    barOnPlateStiffnessNm2(p.modulusMPa, bar, { widthMm: stripWidths * bar.widthMm, thicknessMm });
  return 1 - withPlate(p.measuredMm) / withPlate(p.drawnMm);
}

/**
 * What to do with a top that came out thinner than drawn: the channel it still allows, the bar heights that bring the
 * stiffness back, what the next steps must use.
 *
 * @param p    measured plate, drawn plate, channel, bars
 * @param say  how lengths are said
 * @returns  carry on, adjust with numbers, or stop and replace
 * @source   common practice, no published source
 */
export function thinPlateRescue(p: ThinPlate, say: SayLength = sayMm): Rescue {
  const deepestMm = deepestChannelMm(p.measuredMm);
  const leftMm = p.measuredMm - p.channelMm;
  const neededMm = Math.max(leastUnderChannelMm, leastUnderChannelFrac * p.measuredMm);
  const heights = p.bars.map((b) => ({
    bar: b,
    heightMm: heightForStiffnessMm(b, p.drawnMm, p.measuredMm, p.modulusMPa),
  }));
  const numbers: RescueNumber[] = [
    { label: 'plate to reckon with', value: p.measuredMm, unit: 'mm', figure: 'top.thickness.final' },
    {
      label: 'stiffness of the bare plate lost',
      value: 100 * (1 - (p.measuredMm / p.drawnMm) ** 3),
      unit: '%',
    },
    p.channelIsCut
      ? { label: 'wood left under the channel', value: leftMm, unit: 'mm' }
      : { label: 'ring channel at most this deep', value: deepestMm, unit: 'mm' },
    { label: 'wood needed under the channel', value: neededMm, unit: 'mm' },
    ...(p.barsAre === 'carved' ? [] : heights).map(({ bar, heightMm }) => ({
      label: `bar ${bar.id} to be left this high`,
      value: heightMm,
      unit: 'mm',
      ...(bar.id.startsWith('X-') ? { figure: 'brace.x.height' } : {}),
    })),
  ];
  const thin = `The plate is ${say(p.measuredMm)} instead of ${say(p.drawnMm)}`;
  if (p.measuredMm < p.scrapMm - 1e-9)
    return {
      title: 'Top under the scrap limit',
      action: 'stop',
      decision: 'replace',
      sentence: `${thin}, under the scrap limit of ${say(p.scrapMm)}: it is not built on; replace it. If the teacher builds on all the same, the numbers below hold.`,
      numbers,
    };
  if (p.channelIsCut && leftMm < neededMm - 1e-9)
    return {
      title: 'Too little wood under the ring',
      action: 'stop',
      decision: 'repair',
      sentence: `${thin} and the channel is ${say(p.channelMm)} deep: ${say(leftMm)} are left, ${say(neededMm)} are needed. Glue a patch of plate wood, grain along, under the ring before the bars.`,
      numbers,
    };
  const tallest = Math.max(0, ...heights.map((h) => h.heightMm - h.bar.heightMm));
  const fits = tallest <= p.blankSpareMm + 1e-9;
  const channel = p.channelIsCut
    ? `the channel leaves ${say(leftMm)}, enough`
    : p.channelMm <= deepestMm
      ? `the channel of ${say(p.channelMm)} still leaves enough wood (up to ${say(deepestMm)})`
      : `cut the channel at most ${say(deepestMm)} deep and thin the inlay to match`;
  if (p.barsAre === 'carved') {
    const lossPct = 100 * barLossFrac(p);
    return {
      title: 'Thin top, bars carved',
      action: 'stop',
      decision: 'carry on',
      sentence: `${thin}: ${channel}; the bars are carved, so nothing can be left higher. By the beam rule the tallest bar with its strip of plate is ${shown(lossPct, 0)} % less stiff than drawn: press the top as when it was voiced, and carry on if it gives no more than your other tops.`,
      numbers: [...numbers, { label: 'stiffness of the tallest bar lost', value: lossPct, unit: '%' }],
      orReplace: 'If it gives too much:',
    };
  }
  const more = p.barsAre === 'glued' ? 'the rest stays missing' : 'plane new blanks before gluing';
  const bars = fits
    ? `leave the bars up to ${say(tallest, 1)} higher, then the top is as stiff as drawn`
    : `bars ${say(tallest, 1)} higher would be needed, the blanks give ${say(p.blankSpareMm, 1)}: ${more}`;
  return {
    title: 'Thin top',
    action: 'adjust',
    decision: 'carry on',
    sentence: `${thin}: ${channel}; ${bars}.`,
    numbers,
  };
}
