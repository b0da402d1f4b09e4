/** A bar (or bridge) glued to the top, as it holds the width of the top. */
export interface HoldingBar {
  /** Of its length to the direction across the grain of the top. */
  readonly angleToAcrossRad: number;
  /** Length that lies on the field looked at. */
  readonly lengthMm: number;
  readonly widthMm: number;
  /** Mean height over that length. */
  readonly heightMm: number;
  /** Along its own grain. */
  readonly modulusMPa: number;
  /** How much it takes part in the bow of the field, against the same bar spread evenly (1, if left out). */
  readonly partFrac?: number;
  /** `inside`: a bar; `outside`: the bridge. */
  readonly face: 'inside' | 'outside';
}

/** The part of a top that swells: a rectangle, rim hinged, grain along. */
export interface TopField {
  readonly alongMm: number;
  readonly acrossMm: number;
  readonly thicknessMm: number;
  readonly eAlongMPa: number;
  readonly eAcrossMPa: number;
  readonly shearMPa: number;
  readonly poissonAlongAcross: number;
  readonly bars: readonly HoldingBar[];
  /** Where the saddle is, from the end of the field nearer to the hole, as a part of its length. */
  readonly saddleAtFrac: number;
}

/** What the model leaves out, for the page. */
export const seasonModelLimits =
  'The field behind the hole is taken as a flat rectangle with hinged edges; its bars are spread over it. Left out: bridge and bridge plate (they hold against each other from both faces), the arch, creep (a swelling that lasts is partly given back), the back and the slope of the neck, so real instruments move between half and the whole of this.';

/**
 * Curvature of two strips glued together when one of them wants to be longer than the other.
 *
 * @param strain  free length of strip one over that of strip two, less 1
 * @param one     size and modulus of the strip that grows
 * @param two     size and modulus of the other
 * @returns       curvature, 1/mm; + when strip one comes to lie on the outside of the bow
 * @assumes       both strips thin against their length, free to shorten
 * @source        timoshenko-bimetal
 */
export function twoStripCurvature(strain: number, one: Strip, two: Strip): number {
  const [ea1, ea2] = [axial(one), axial(two)];
  const apart = (one.heightMm + two.heightMm) / 2;
  const bending = (ea1 * one.heightMm ** 2) / 12 + (ea2 * two.heightMm ** 2) / 12;
  return (strain * apart) / (bending * (1 / ea1 + 1 / ea2) + apart * apart);
}

/** A straight strip: section and modulus along it. */
export interface Strip {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly modulusMPa: number;
}

const axial = ({ widthMm, heightMm, modulusMPa }: Strip): number => widthMm * heightMm * modulusMPa;

/** Stiffness of field with its bars spread out, N mm, and what a free swelling of 1 does, N mm per mm. */
interface SpreadField {
  readonly along: number;
  readonly across: number;
  readonly mixed: number;
  readonly momentPerStrain: number;
}

/**
 * Bars spread over the field. The plate lies at height 0, a bar's middle at `e` below it; across the grain the width is
 * free to shrink as a whole, so both share one neutral line there.
 */
function spreadField(field: TopField): SpreadField {
  const { thicknessMm: t, eAlongMPa, eAcrossMPa, shearMPa, poissonAlongAcross: v } = field;
  const rest = 1 - (v * v * eAcrossMPa) / eAlongMPa;
  const cube = t ** 3 / 12;
  const sums = { across: sumsOf(field, (c) => c ** 4), along: sumsOf(field, (_, s) => s ** 4) };
  const mixedBars = sumsOf(field, (c, s) => 3 * c * c * s * s);
  const across = composite((eAcrossMPa * t) / rest, (eAcrossMPa * cube) / rest, sums.across);
  const along = composite((eAlongMPa * t) / rest, (eAlongMPa * cube) / rest, sums.along);
  const plateMixed = (v * eAcrossMPa * cube) / rest + 2 * shearMPa * cube;
  return {
    along: along.bending,
    across: across.bending,
    mixed: plateMixed + mixedBars.bending,
    momentPerStrain: across.momentPerStrain,
  };
}

/** Stretch, first moment and second moment of spread bars about the middle of the plate, per mm of width. */
interface BarSums {
  readonly axial: number;
  readonly first: number;
  readonly bending: number;
}

function sumsOf(field: TopField, weight: (cos: number, sin: number) => number): BarSums {
  const area = field.alongMm * field.acrossMm;
  let [axialSum, first, bending] = [0, 0, 0];
  for (const bar of field.bars) {
    const { angleToAcrossRad: angle, partFrac = 1 } = bar;
    const share = partFrac * weight(Math.cos(angle), Math.sin(angle));
    const ea = (share * axial(bar) * bar.lengthMm) / area;
    const e = ((bar.heightMm + field.thicknessMm) / 2) * (bar.face === 'inside' ? 1 : -1);
    axialSum += ea;
    first += ea * e;
    bending += ea * (e * e + bar.heightMm ** 2 / 12);
  }
  return { axial: axialSum, first, bending };
}

/** Plate and bars about their common neutral line; the moment of a plate that wants to grow. */
function composite(
  plateAxial: number,
  plateBending: number,
  bars: BarSums,
): { readonly bending: number; readonly momentPerStrain: number } {
  const whole = plateAxial + bars.axial;
  return {
    bending: plateBending + bars.bending - bars.first ** 2 / whole,
    momentPerStrain: (plateAxial * bars.first) / whole,
  };
}

/** Odd half waves counted each way. */
const halfWaves = 15;

/**
 * How far the top comes up (or goes down) at the saddle when its wood grows across the grain and the glued bars do not.
 *
 * @param field   the field behind the hole with its bars and bridge
 * @param strain  free growth across the grain, e.g. from `dimensionalChange` over the width; + grows
 * @returns       mm, + outward
 * @assumes       see `seasonModelLimits`
 * @source        orthotropic-navier
 */
export function saddleRiseMm(field: TopField, strain: number): number {
  const { alongMm: a, acrossMm: b } = field;
  const d = spreadField(field);
  let sum = 0;
  for (let m = 1; m <= halfWaves; m += 2)
    for (let n = 1; n <= halfWaves; n += 2) {
      const stiffness =
        d.along * (m / a) ** 4 + 2 * d.mixed * ((m * n) / (a * b)) ** 2 + d.across * (n / b) ** 4;
      // an even moment M across the width: w_mn = 16 M (n/b)^2 / (m n pi^4 stiffness)
      const size = (16 * d.momentPerStrain * (n / b) ** 2) / (m * n * Math.PI ** 4 * stiffness);
      sum += size * Math.sin(m * Math.PI * field.saddleAtFrac) * Math.sin((n * Math.PI) / 2);
    }
  return sum * strain;
}
