/** What the shape of one segment shows. Same words as the record's. */
export type RingState =
  | 'untouched'
  | 'at work'
  | 'resting'
  | 'to sign'
  | 'to repair'
  | 'ready'
  | 'done'
  | 'left out';

/** One stage of a build, as the ring needs it. */
export interface RingSegment {
  readonly likelyMin: number;
  readonly doneFrac: number;
  readonly state: RingState;
  readonly holdAhead: boolean;
}

/** One closed or open path of the ring, in a box of 200. */
export interface RingPath {
  readonly d: string;
  readonly look: 'open' | 'ready' | 'done' | 'work' | 'rest' | 'sign' | 'repair-gap' | 'repair' | 'left-out';
}

/** Box 200; the ring stands a little low, because the tongue with the number rises above it. */
export const RING_CENTRE = { x: 100, y: 106 } as const;
export const HOLE_RADIUS = 57;
const INNER = 63;
const OUTER = 85;
/** Degrees from the neck, clockwise from the treble side: 60 degrees stay free under the board. */
const FIRST_DEG = 30;
const LAST_DEG = 330;
const GAP_DEG = 2.2;
const NOTCH = { halfDeg: 2, depth: 7 } as const;

const three = (v: number): string => String(Number(v.toFixed(2)));

/** A place on the ring: degrees clockwise from the neck, distance from the centre. */
function place(deg: number, radius: number): string {
  const a = (deg * Math.PI) / 180;
  return `${three(RING_CENTRE.x + radius * Math.sin(a))} ${three(RING_CENTRE.y - radius * Math.cos(a))}`;
}

const arc = (radius: number, to: number, isBack: boolean, sweepDeg: number): string =>
  `A${radius} ${radius} 0 ${sweepDeg > 180 ? 1 : 0} ${isBack ? 0 : 1} ${place(to, radius)}`;

/** A piece of the band. `notchDeg` cuts a V into its outer edge. */
function band(from: number, to: number, inner = INNER, outer = OUTER, notchDeg?: number): string {
  const sweep = to - from;
  const outside =
    notchDeg === undefined || sweep < 2 * NOTCH.halfDeg + 1
      ? arc(outer, to, false, sweep)
      : `${arc(outer, notchDeg - NOTCH.halfDeg, false, sweep)}L${place(notchDeg, outer - NOTCH.depth)}L${place(notchDeg + NOTCH.halfDeg, outer)}${arc(outer, to, false, sweep)}`;
  return `M${place(from, outer)}${outside}L${place(to, inner)}${arc(inner, from, true, sweep)}Z`;
}

/** Where each segment begins and ends, degrees; the same for every build of a route. */
export function segmentDegrees(
  segments: readonly RingSegment[],
): readonly { readonly from: number; readonly to: number }[] {
  const total = segments.reduce((sum, s) => sum + s.likelyMin, 0);
  const room = LAST_DEG - FIRST_DEG - GAP_DEG * (segments.length - 1);
  let at = FIRST_DEG;
  return segments.map((s) => {
    const length = total === 0 ? room / segments.length : (room * s.likelyMin) / total;
    const from = at;
    at += length + GAP_DEG;
    return { from, to: from + length };
  });
}

function segmentPaths(s: RingSegment, from: number, to: number): RingPath[] {
  const length = to - from;
  if (s.state === 'left out')
    return [{ d: `M${place(from, 74)}${arc(74, to, false, length)}`, look: 'left-out' }];
  const edge = from + length * Math.min(1, Math.max(0, s.doneFrac));
  const notch = s.holdAhead ? to - Math.min(4, length / 2) : undefined;
  const paths: RingPath[] = [
    { d: band(from, to, INNER, OUTER, notch), look: s.state === 'ready' ? 'ready' : 'open' },
  ];
  if (edge - from > 0.2)
    paths.push({
      d: band(
        from,
        edge,
        INNER,
        OUTER,
        s.state === 'done'
          ? undefined
          : notch !== undefined && edge > notch + NOTCH.halfDeg
            ? notch
            : undefined,
      ),
      look: 'done',
    });
  if (s.state === 'resting')
    paths.push({
      d: band(edge, Math.min(LAST_DEG, Math.max(edge + 6, Math.min(to, edge + length / 4)))),
      look: 'rest',
    });
  if (s.state === 'at work')
    paths.push({
      d: band(edge, Math.min(LAST_DEG, Math.max(edge + 5, Math.min(to, edge + length / 5))), 61.5, 92),
      look: 'work',
    });
  if (s.state === 'to sign') paths.push({ d: signMark(Math.min(edge + 3, to)), look: 'sign' });
  if (s.state === 'to repair') paths.push(...repairMarks(Math.min(edge + 2, to)));
  return paths;
}

/** A triangle that points in from the outside. */
const signMark = (deg: number): string =>
  `M${place(deg - 5.5, 97)}L${place(deg + 5.5, 97)}L${place(deg, 77)}Z`;

/** A break line across the band, on a gap of paper. */
function repairMarks(deg: number): RingPath[] {
  const d = `M${place(deg - 2, 58)}L${place(deg + 2.5, 71)}L${place(deg - 2.5, 76)}L${place(deg + 2, 92)}`;
  return [
    { d, look: 'repair-gap' },
    { d, look: 'repair' },
  ];
}

/**
 * A build as a ring: paths in drawing order, the last on top.
 *
 * @param segments  stages of the route in order
 * @returns         paths for a box of 200 x 200
 * @source          arithmetic
 */
export function ringPaths(segments: readonly RingSegment[]): readonly RingPath[] {
  const degrees = segmentDegrees(segments);
  const all = segments.flatMap((s, i) => {
    const { from, to } = degrees[i] as { from: number; to: number };
    return segmentPaths(s, from, to);
  });
  const isTop = (p: RingPath): boolean =>
    p.look === 'work' || p.look === 'sign' || p.look === 'repair' || p.look === 'repair-gap';
  return [...all.filter((p) => !isTop(p)), ...all.filter(isTop)];
}

/** The tongue above the hole: the board's end with the number on it. */
export const TONGUE = { x: 64.5, y: 6, width: 71, height: 39.5 } as const;
