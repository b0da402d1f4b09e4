import wire from '../../data/strings/music-wire.json' with { type: 'json' };

const MPA_PER_KSI = 6.894757;
const MM_PER_INCH = 25.4;

/** Tensile strength of music wire, from the standard's table. */
export interface WireStrength {
  readonly leastMPa: number;
  /** Highest strength the standard allows. */
  readonly mostMPa: number;
}

/**
 * Tensile strength of music wire of a diameter.
 *
 * @param diameterMm  of the plain string or of the core of a wound one; table: 0.1016 to 1.4986
 * @returns           least (and most) strength, straight between the rows in the logarithm of the diameter
 * @outside           the nearest row is used below the table (on the safe side), undefined above it
 * @source            astm-a228
 */
export function musicWireStrength(diameterMm: number): WireStrength | undefined {
  const inches = diameterMm / MM_PER_INCH;
  const last = wire.rows[wire.rows.length - 1]!;
  // a fiftieth of a thousandth of an inch over the last row is rounding
  if (!(inches > 0) || inches > last.diameter_in + 2e-5) return undefined;
  const most = wire.rows.flatMap((row): WireRow[] =>
    row.max_ksi === undefined ? [] : [[row.diameter_in, row.max_ksi]],
  );
  return {
    leastMPa: readRows(
      wire.rows.map((row): WireRow => [row.diameter_in, row.min_ksi]),
      inches,
    ),
    mostMPa: readRows(most, inches),
  };
}

type WireRow = readonly [diameterIn: number, ksi: number];

/** Straight between rows in the logarithm of the diameter, level beyond the ends. */
function readRows(rows: readonly WireRow[], inches: number): number {
  const next = rows.findIndex(([diameter]) => diameter >= inches - 1e-9);
  if (next <= 0) return rows[next < 0 ? rows.length - 1 : 0]![1] * MPA_PER_KSI;
  const [low, high] = [rows[next - 1]!, rows[next]!];
  const part = Math.log(inches / low[0]) / Math.log(high[0] / low[0]);
  return (low[1] + part * (high[1] - low[1])) * MPA_PER_KSI;
}

/** How near a string is to breaking. */
export interface BreakMargin {
  readonly stressMPa: number;
  /** Stress over least strength, 0..1 and beyond. */
  readonly usedFrac: number;
  /** Pull that breaks the weakest wire of the standard. */
  readonly breakingN: number;
  /** How far the string can be tuned up before that, in semitones. */
  readonly semitonesLeft: number;
}

/**
 * How near a steel string is to breaking.
 *
 * @param tensionN    pull; > 0
 * @param coreMm      diameter of the plain string, or of the core that carries a wound one
 * @returns           stress and margin, or undefined where the standard's table ends
 * @assumes           the core alone carries the pull; no bend at post, ball or saddle, which costs some of the margin
 * @source            astm-a228
 */
export function breakMargin(tensionN: number, coreMm: number): BreakMargin | undefined {
  const strength = musicWireStrength(coreMm);
  if (!strength) return undefined;
  const areaMm2 = (Math.PI * coreMm ** 2) / 4;
  const stressMPa = tensionN / areaMm2;
  const usedFrac = stressMPa / strength.leastMPa;
  return {
    stressMPa,
    usedFrac,
    breakingN: strength.leastMPa * areaMm2,
    // frequency goes with the root of the pull
    semitonesLeft: -6 * Math.log2(usedFrac),
  };
}

/**
 * Highest note a plain string of a length can reach before it breaks, whatever its diameter.
 *
 * @param lengthMm       speaking length; > 0
 * @param strengthMPa    tensile strength
 * @param densityKgPerM3 of the wire; > 0
 * @returns              Hz
 * @source               beam-theory
 */
export function breakingFrequencyHz(lengthMm: number, strengthMPa: number, densityKgPerM3: number): number {
  return Math.sqrt((strengthMPa * 1e6) / densityKgPerM3) / (2 * (lengthMm / 1000));
}

/**
 * Partials of a stiff string with hinged ends.
 *
 * @param frequencyHz           first partial as heard; > 0
 * @param bendingStiffnessNmm2  E I of what bends
 * @param tensionN              pull; > 0
 * @param lengthMm              speaking length; > 0
 * @param count                 how many partials
 * @returns                     frequencies and how far each lies above the harmonic, cents
 * @assumes                     hinged ends: f_n = n f sqrt(1 + B n^2), B = pi^2 E I / (T L^2)
 * @source                      fletcher-1964
 */
export function stiffPartials(
  frequencyHz: number,
  bendingStiffnessNmm2: number,
  tensionN: number,
  lengthMm: number,
  count: number,
): { readonly frequencyHz: number; readonly sharpCents: number }[] {
  const b = (Math.PI ** 2 * bendingStiffnessNmm2) / (tensionN * lengthMm ** 2);
  return Array.from({ length: count }, (_, i) => {
    const n = i + 1;
    const stretch = Math.sqrt((1 + b * n * n) / (1 + b));
    return { frequencyHz: n * frequencyHz * stretch, sharpCents: 1200 * Math.log2(stretch) };
  });
}

/**
 * Angle by which a string bends over the saddle, and what it presses with.
 *
 * @param tensionN         pull
 * @param protrusionMm     saddle above the bridge
 * @param anchorBehindMm   string hole behind the saddle; > 0
 * @returns                angle in degrees, down force in N (tension times sine of the angle)
 * @assumes                the front part runs level
 * @source                 plane-geometry
 */
export function saddleBreak(
  tensionN: number,
  protrusionMm: number,
  anchorBehindMm: number,
): { readonly angleDeg: number; readonly downForceN: number } {
  const angle = Math.atan(protrusionMm / anchorBehindMm);
  return { angleDeg: (angle * 180) / Math.PI, downForceN: tensionN * Math.sin(angle) };
}

/** A fretted note and how far a resonance lies from it. */
export interface NearNote {
  readonly stringIndex: number;
  readonly fret: number;
  readonly noteHz: number;
  /** Resonance above the note; negative below. */
  readonly offCents: number;
}

/**
 * The fretted notes nearest to a resonance.
 *
 * @param resonanceHz  air or top tone; > 0
 * @param openHz       open strings
 * @param frets        number of frets
 * @param withinCents  notes farther than this are left out
 * @returns            notes, nearest first (to a whole cent), low frets before high ones
 * @source             equal-temperament
 */
export function notesNear(
  resonanceHz: number,
  openHz: readonly number[],
  frets: number,
  withinCents: number,
): NearNote[] {
  const notes = openHz.flatMap((open, stringIndex) =>
    Array.from({ length: frets + 1 }, (_, fret): NearNote => {
      const noteHz = open * 2 ** (fret / 12);
      return { stringIndex, fret, noteHz, offCents: 1200 * Math.log2(resonanceHz / noteHz) };
    }),
  );
  return notes
    .filter(({ offCents }) => Math.abs(offCents) <= withinCents)
    .sort((a, b) => Math.round(Math.abs(a.offCents)) - Math.round(Math.abs(b.offCents)) || a.fret - b.fret);
}
