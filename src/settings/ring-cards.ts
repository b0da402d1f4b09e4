import { jigsOf, machineAt, type Shop } from '../shop/shop.ts';
import { placeOf } from './jig-rounding.ts';
import { jigSetting, machineLength, plainLength, sizeText, toolLength } from './make-setting.ts';
import { type CardSpec, cardSpec, MAY_CHANGE, type Setting } from './setting.ts';

/** Face lost when the ring is levelled, mm. @source common practice, no published source */
export const FACE_LOSS_MM = 0.05;

/** Cutters taken when the shop names none. */
const PLAIN_CUTTERS_MM = [1.6, 2.4, 3.2];

const cuttersMm = (shop: Shop): readonly number[] =>
  shop.cutters.length > 0 ? shop.cutters.map((c) => c.diameterMm) : PLAIN_CUTTERS_MM;

/**
 * The cutter for a channel: the widest that is not wider than half of it, so that each wall is cut by itself; else
 * the widest that goes in at all.
 *
 * @param widthMm  channel, > 0
 * @returns        cutter diameter, mm; undefined when every cutter is wider than the channel
 * @source         common practice, no published source
 */
export function channelCutter(shop: Shop, widthMm: number): number | undefined {
  const widest = (most: number): number | undefined =>
    cuttersMm(shop)
      .filter((d) => d <= most + 1e-9)
      .sort((a, b) => b - a)[0];
  return widest(widthMm / 2) ?? widest(widthMm);
}

/**
 * The cutter for a channel on the ring jigs of a shop: with fixed places the one that brings both walls nearest to the
 * pattern, else as `channelCutter`.
 *
 * @param innerMm  inner radius of the channel
 * @param outerMm  outer radius
 * @source         plane-geometry
 */
export function ringCutter(shop: Shop, innerMm: number, outerMm: number): number | undefined {
  const usual = channelCutter(shop, outerMm - innerMm);
  const jigs = jigsOf(shop, 'ring-jig');
  if (usual === undefined || !jigs.some((j) => j.adjust.kind === 'fixed')) return usual;
  const offMm = (cutterMm: number): number => {
    const { innerCentreMm, outerCentreMm } = ringWays(innerMm, outerMm, cutterMm);
    const off =
      Math.abs(placeOf(jigs, innerCentreMm, 'more').at - innerCentreMm) +
      Math.abs(placeOf(jigs, outerCentreMm, 'less').at - outerCentreMm);
    return Math.round(off * 100) / 100;
  };
  return cuttersMm(shop)
    .filter((d) => d <= outerMm - innerMm + 1e-9)
    .reduce((best, d) => (offMm(d) < offMm(best) - 1e-9 ? d : best), usual);
}

/** Cutter centre radii of a ring channel. */
export interface RingWays {
  readonly cutterMm: number;
  readonly innerCentreMm: number;
  readonly outerCentreMm: number;
  /** Cleaning rings between the two, evenly spaced. */
  readonly betweenMm: readonly number[];
}

/**
 * Where the cutter's centre runs for a channel.
 *
 * @param innerMm   inner radius of the channel
 * @param outerMm   outer radius
 * @param cutterMm  cutter diameter, not wider than the channel
 * @source          plane-geometry; rings overlap by 40 % of the cutter, common practice
 * @example         ringWays(55, 62, 3.2): 56.6, 60.4 and one ring between at 58.5
 */
export function ringWays(innerMm: number, outerMm: number, cutterMm: number): RingWays {
  const innerCentreMm = innerMm + cutterMm / 2;
  const outerCentreMm = outerMm - cutterMm / 2;
  const rest = outerMm - innerMm - cutterMm;
  const count = Math.max(0, Math.ceil(rest / (0.6 * cutterMm) - 1e-9) - 1);
  const pitch = (outerCentreMm - innerCentreMm) / (count + 1);
  const betweenMm = Array.from({ length: count }, (_, i) => innerCentreMm + (i + 1) * pitch);
  return { cutterMm, innerCentreMm, outerCentreMm, betweenMm };
}

/** The size nearest to a wanted one, the first of two as near; undefined when there is none. @source arithmetic */
export function nearestSize(sizesMm: readonly number[], wantedMm: number): number | undefined {
  return [...sizesMm].sort((a, b) => Math.abs(a - wantedMm) - Math.abs(b - wantedMm))[0];
}

/** The pin of the shop that is nearest to the pilot hole of the pattern; the pilot itself when none is named. */
export function pinFor(shop: Shop, pilotMm: number): number {
  return nearestSize(shop.pinsMm, pilotMm) ?? pilotMm;
}

const pilotHole = cardSpec({
  id: 'pilot-hole',
  title: 'Drill the pilot hole',
  station: 'hand-drill',
  operations: ['T6'],
  lie: 'Show face up, scrap board under, plate clamped.',
  mayChange: MAY_CHANGE.key,
  from: ['hole.pilot_diameter', 'hole.centre_y'],
  build({ of, maybe, shop }) {
    const pinMm = pinFor(shop, of('hole.pilot_diameter'));
    const spareMm = maybe('allowance.saw') ?? 0;
    return {
      settings: [
        plainLength(
          {
            id: 'pilot.drill',
            label: 'Drill, same as the pin',
            figures: ['hole.pilot_diameter'],
            low: pinMm,
            high: pinMm + 0.08,
          },
          pinMm,
          2,
        ),
        plainLength(
          {
            id: 'pilot.from_neck_end',
            label: 'Neck end of the body to the hole centre',
            figures: ['hole.centre_y'],
          },
          of('hole.centre_y'),
        ),
        plainLength(
          { id: 'pilot.margin', label: 'Wood outside the outline, least', figures: ['allowance.saw'] },
          spareMm + 1,
        ),
      ],
      picture: {
        kind: 'pilot',
        fromNeckMm: of('hole.centre_y'),
        drillMm: pinMm,
        holeRadiusMm: maybe('hole.radius') ?? 0,
      },
      onScrap: ['Drill a scrap, put the pin in: it stands square and does not rock'],
      onPiece: [
        'Joint line under the drill point, checked from both ends',
        'Lay the outline template on the pin before drilling',
      ],
    };
  },
});

/** Depth of the ring channel as the machine gives it. */
function depthSetting(shop: Shop, depthMm: number): Setting {
  const words = {
    id: 'ring.depth',
    label: 'Depth from the face',
    figures: ['rosette.channel.depth'],
    low: depthMm - 0.1,
    high: depthMm + 0.05,
  };
  return machineLength(words, depthMm, machineAt(shop, 'rosette-bench', 'depth'), 'less');
}

/** Steps in which the depth is taken: never deeper than the machine's largest cut, and two at least beyond 0.6 mm. */
function depthSteps(shop: Shop, station: string, depthMm: number): number {
  const most = machineAt(shop, station, 'depth')?.largestCutMm ?? 1;
  return Math.max(depthMm > 0.6 ? 2 : 1, Math.ceil(depthMm / most - 1e-9));
}

const ringChannel = cardSpec({
  id: 'ring-channel',
  title: 'Cut the ring channel',
  station: 'rosette-bench',
  operations: ['T7'],
  lie: 'Front face up, plate clamped.',
  mayChange: MAY_CHANGE.teacher,
  hold: 'The teacher sees the test board.',
  from: [
    'rosette.inner_radius',
    'rosette.outer_radius',
    'rosette.channel.depth',
    'top.thickness.before_rosette',
    'hole.radius',
    'hole.pilot_diameter',
  ],
  build({ of, maybe, shop, size }) {
    const innerMm = of('rosette.inner_radius');
    const outerMm = of('rosette.outer_radius');
    const depthMm = of('rosette.channel.depth');
    const widthMm = outerMm - innerMm;
    const cutterMm = ringCutter(shop, innerMm, outerMm) ?? widthMm;
    const ways = ringWays(innerMm, outerMm, cutterMm);
    const jigs = jigsOf(shop, 'ring-jig');
    const inner = placeOf(jigs, ways.innerCentreMm, 'more');
    const outer = placeOf(jigs, ways.outerCentreMm, 'less');
    const between = ways.betweenMm.map((r) => placeOf(jigs, r, 'nearest').at);
    const depth = depthSetting(shop, depthMm);
    const cuts = depthSteps(shop, 'rosette-bench', depthMm);
    const least = maybe('rosette.wood_left.least_at_cutting');
    return {
      settings: [
        jigSetting(
          { id: 'ring.inner', label: 'Inner, pin to cutter centre', figures: ['rosette.inner_radius'] },
          'mm',
          ways.innerCentreMm,
          inner,
        ),
        jigSetting(
          { id: 'ring.outer', label: 'Outer, pin to cutter centre', figures: ['rosette.outer_radius'] },
          'mm',
          ways.outerCentreMm,
          outer,
        ),
        ...between.map((r, i) =>
          plainLength(
            {
              id: `ring.between.${i + 1}`,
              label: between.length === 1 ? 'Clean between, once' : `Clean between, ${i + 1}`,
              figures: ['rosette.inner_radius', 'rosette.outer_radius'],
            },
            r,
          ),
        ),
        depth,
        toolLength({ id: 'ring.cutter', label: 'Cutter', figures: ['rosette.channel.width'] }, cutterMm),
      ],
      picture: {
        kind: 'ring',
        innerMm,
        outerMm,
        cutterMm,
        innerCentreMm: inner.at,
        outerCentreMm: outer.at,
        betweenMm: between,
        holeRadiusMm: of('hole.radius'),
        pinMm: pinFor(shop, of('hole.pilot_diameter')),
        depthMm: depth.result,
        plateMm: of('top.thickness.before_rosette'),
        inlayMm: maybe('rosette.inlay_thickness') ?? depthMm + 0.2,
      },
      onScrap: [
        `Unplug, then cutter ${size.unit === 'in' ? size.one(cutterMm) : sizeText(cutterMm)}`,
        'Test board: ring drops in under a thumb',
        `Width between ${size.text(widthMm, 2)} and ${size.one(widthMm + 0.1, 2)}`,
      ],
      onPiece: [
        `${cuts} ${cuts === 1 ? 'cut' : 'cuts'}, ${size.range(depthMm - 0.1, depthMm + 0.05, 2)} deep`,
        `Levelling takes ${size.text(FACE_LOSS_MM, 2)}, ${size.text(depthMm - FACE_LOSS_MM, 2)} stays`,
        ...(least === undefined ? [] : [`Stop under ${size.one(least, 2)} left`]),
      ],
    };
  },
});

const soundHole = cardSpec({
  id: 'hole-cutter',
  title: 'Cut the sound hole',
  station: 'rosette-bench',
  operations: ['T11'],
  lie: 'Half from each face, plate on a flat board.',
  mayChange: MAY_CHANGE.teacher,
  from: ['hole.radius', 'hole.pilot_diameter'],
  build({ of, shop }) {
    const reachMm = of('hole.radius');
    const place = placeOf(jigsOf(shop, 'hole-cutter'), reachMm, 'less');
    return {
      settings: [
        jigSetting(
          { id: 'hole.reach', label: 'Pin centre to knife edge', figures: ['hole.radius'] },
          'mm',
          reachMm,
          place,
        ),
        plainLength(
          { id: 'hole.gives', label: 'Hole that it makes', figures: ['hole.diameter'] },
          2 * place.at,
        ),
        plainLength({ id: 'hole.per_turn', label: 'Lower the knife a turn', figures: [] }, 0.4),
      ],
      picture: { kind: 'reach', reachMm: place.at, pinMm: pinFor(shop, of('hole.pilot_diameter')) },
      onScrap: [
        'Scratch a circle on scrap and measure it across: it is the hole',
        'Knife bevel to the waste, so that the edge of the hole is upright',
      ],
      onPiece: [
        'Half the depth from the front, then turn the plate',
        'Free the last fibres with the knife, do not push the disc out',
      ],
    };
  },
});

/** Cards around the sound hole. */
export const ringCards: readonly CardSpec[] = [pilotHole, ringChannel, soundHole];
