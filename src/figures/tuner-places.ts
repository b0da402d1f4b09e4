/** The head and the strings at the nut. */
export interface HeadRequest {
  /** String centres at the nut from the centre line, in the order of the strings, one outer string to the other. */
  readonly stringXNutMm: readonly number[];
  /** First post from the nut, along the head. */
  readonly firstMm: number;
  readonly pitchMm: number;
  readonly headLengthMm: number;
  readonly widthTopMm: number;
  readonly widthNutMm: number;
  readonly postRadiusMm: number;
  /** Slotted head with rollers: a string may lie anywhere on its roller inside the slot. */
  readonly isSlotted: boolean;
}

/** One tuner. */
export interface TunerPlace {
  /** Centre of the post (slotted: where the string lies on the roller), from the centre line; same side as its string. */
  readonly xMm: number;
  /** From the nut, along the head face. */
  readonly alongMm: number;
  /** Post centre (slotted: outer wall of the slot) from the edge of the head. */
  readonly fromEdgeMm: number;
  /** Where the string touches the post, from the centre line. */
  readonly stringXMm: number;
}

/** A post may stand between these from the edge of the head: the tuner's body needs the first, its buttons the second. */
const EDGE_LEAST_MM = 11;
const EDGE_MOST_MM = 16;
/** Slotted head: outer wall of a slot. */
export const SLOT_WALL_MM = 12;
/** Slotted head: width of a slot. */
export const SLOT_WIDTH_MM = 15.5;

/**
 * Places of the tuners, in the order of the strings. On each side the outer string goes to the tuner next to the nut,
 * so that no string crosses another. Posts of a solid head stand in two rows along its edges, both as far in as makes
 * the largest sideways bend at the nut least.
 *
 * @param request  strings, head and tuners, mm
 * @returns        one tuner a string; first half of the strings on the side of the first string
 * @assumes        the string leaves the post on its inner side
 * @source         common practice, no published source
 */
export function tunerPlaces(request: HeadRequest): readonly TunerPlace[] {
  if (request.isSlotted) return placesAt(request, SLOT_WALL_MM);
  // the largest bend is a valley over the distance from the edge: walk it in tenths
  let best = placesAt(request, EDGE_LEAST_MM);
  let least = worstDeg(best, request);
  for (let tenth = EDGE_LEAST_MM * 10 + 1; tenth <= EDGE_MOST_MM * 10; tenth++) {
    const places = placesAt(request, tenth / 10);
    const worst = worstDeg(places, request);
    if (worst < least) {
      best = places;
      least = worst;
    }
  }
  return best;
}

function worstDeg(places: readonly TunerPlace[], { stringXNutMm }: HeadRequest): number {
  return Math.max(...places.map((p, i) => Math.abs(sideDeflectionDeg(p, stringXNutMm[i] as number))));
}

/** Sideways bend of a string at the nut, degrees, + outward from the middle. @source plane-geometry */
export function sideDeflectionDeg(place: TunerPlace, stringXNutMm: number): number {
  const outward = (place.stringXMm - stringXNutMm) * (Math.sign(place.xMm) || 1);
  return (Math.atan(outward / place.alongMm) * 180) / Math.PI;
}

function placesAt(r: HeadRequest, fromEdgeMm: number): readonly TunerPlace[] {
  const count = r.stringXNutMm.length;
  const firstSide = Math.ceil(count / 2);
  const sideOfFirst = Math.sign(r.stringXNutMm[0] ?? 1) || 1;
  return r.stringXNutMm.map((nutX, i) => {
    const side = i < firstSide ? sideOfFirst : -sideOfFirst;
    const rank = i < firstSide ? i : count - 1 - i;
    const alongMm = r.firstMm + rank * r.pitchMm;
    const half = (r.widthNutMm + ((r.widthTopMm - r.widthNutMm) * alongMm) / r.headLengthMm) / 2;
    const edge = half - fromEdgeMm;
    if (!r.isSlotted)
      return { xMm: side * edge, alongMm, fromEdgeMm, stringXMm: side * (edge - r.postRadiusMm) };
    // on a roller the string lies straight behind its nut slot, 1.5 clear of the walls of the slot
    const onRoller = Math.min(Math.max(nutX * side, edge - SLOT_WIDTH_MM + 1.5), edge - 1.5);
    return { xMm: side * onRoller, alongMm, fromEdgeMm, stringXMm: side * onRoller };
  });
}
