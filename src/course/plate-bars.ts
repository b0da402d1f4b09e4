import { analysePlate } from '../mechanics/plate/analyse-plate.ts';
import { type TopBar, type TopInput, topProblem } from '../mechanics/top-problem.ts';
import { thicknessForReading } from '../wood/board-thickness.ts';
import { blankSpareMm, type Rescue, type SayLength, sayMm, shown, type ThinTop } from './rescue.ts';

/** Bars that bring the tilt of the bridge back to the drawn one. */
export interface RaisedBars {
  /** Every bar is left this much higher, its ends as drawn; 0 or more, mm. */
  readonly raiseMm: number;
  readonly drawnDeg: number;
  /** The thin plate with bars as drawn. */
  readonly thinDeg: number;
  readonly afterDeg: number;
}

/** Bars are not raised by more than this. */
const MOST_RAISE_MM = 8;

/** A bar left higher in its middle; its ends stay as low as they are. */
function raised(bar: TopBar, raiseMm: number): TopBar {
  const heightMm = bar.heightMm + raiseMm;
  if (!bar.heightsMm) return { ...bar, heightMm };
  const heightsMm = bar.heightsMm.map(
    ([at, mm]) => [at, mm === bar.heightMm ? heightMm : mm] as (typeof bar.heightsMm)[number],
  );
  return { ...bar, heightMm, heightsMm };
}

/**
 * How much higher the bars of a thin top are to be left, so that the whole plate tilts the bridge as much as drawn.
 *
 * @param thin  the top as drawn and the thickness that was measured; thinner than drawn
 * @returns     raise and tilts; a raise at its end (8 mm) does not bring the tilt back
 * @assumes     as `topProblem`; all bars are raised alike, their ends are not
 * @throws InputError when the top does not fit together
 * @source      clough-tocher
 */
export function raisedBars({ drawn, measuredMm, barsAreCarved }: ThinTop): RaisedBars {
  const tilt = (top: TopInput): number =>
    analysePlate(topProblem({ ...top, modes: 0 }).problem).loads[0]?.rotationDeg ?? Number.NaN;
  const withBars = (raiseMm: number): TopInput => ({
    ...drawn,
    thicknessMm: measuredMm,
    bars: drawn.bars.map((b) => raised(b, raiseMm)),
  });
  const drawnDeg = tilt(drawn);
  const known = new Map<number, number>();
  const tiltAt = (raiseMm: number): number => {
    const before = known.get(raiseMm);
    if (before !== undefined) return before;
    const found = tilt(withBars(raiseMm));
    known.set(raiseMm, found);
    return found;
  };
  const thinDeg = tiltAt(0);
  if (barsAreCarved) return { raiseMm: 0, drawnDeg, thinDeg, afterDeg: thinDeg };
  // the search runs over the height of the tallest bar, with whose cube the stiffness goes
  const tallestMm = Math.max(...drawn.bars.map((b) => b.heightMm));
  const heightMm = thicknessForReading(
    (mm) => tiltAt(mm - tallestMm),
    drawnDeg,
    tallestMm,
    tallestMm,
    tallestMm + MOST_RAISE_MM,
  );
  const raiseMm = heightMm - tallestMm;
  return { raiseMm, drawnDeg, thinDeg, afterDeg: tiltAt(raiseMm) };
}

/**
 * The rescue that follows from the whole plate: heights of the bars, and what the bridge does with and without them.
 *
 * @param thin  what was computed
 * @param bars  of `raisedBars`
 * @param say   how lengths are said
 * @source      clough-tocher
 */
export function plateBarsRescue(thin: ThinTop, bars: RaisedBars, say: SayLength = sayMm): Rescue {
  const { raiseMm, drawnDeg, thinDeg, afterDeg } = bars;
  const isEnough = afterDeg <= drawnDeg * 1.01;
  const spare =
    raiseMm <= blankSpareMm + 1e-9
      ? ''
      : ` The blanks give ${say(blankSpareMm, 1)}: plane new ones before gluing.`;
  const degrees = (deg: number): string => `${shown(deg)} degrees`;
  const asDrawn = `this plate lets the bridge slope ${degrees(thinDeg)} under the strings, as drawn it is ${degrees(drawnDeg)}`;
  if (thin.barsAreCarved)
    return {
      title: 'Thin top, by the whole plate',
      action: 'stop',
      decision: 'carry on',
      sentence: `With its bars carved as drawn ${asDrawn}: ${shown(100 * (thinDeg / drawnDeg - 1), 0)} % more.`,
      numbers: [
        { label: 'plate to reckon with', value: thin.measuredMm, unit: 'mm', figure: 'top.thickness.final' },
      ],
    };
  return {
    title: 'Thin top, by the whole plate',
    action: isEnough ? 'adjust' : 'stop',
    decision: isEnough ? 'carry on' : 'repair',
    sentence: isEnough
      ? `With bars as drawn ${asDrawn}. Leave every bar ${say(raiseMm, 1)} higher in its middle, ends as drawn: ${degrees(afterDeg)}.${spare} The beam rule may ask for less: it gives each bar back only what its own strip of plate lost, here the bars also make up for the thinner plate between them.`
      : `Bars ${say(raiseMm, 1)} higher still let the bridge slope ${degrees(afterDeg)}, as drawn it is ${degrees(drawnDeg)}: the bars alone do not mend this plate.`,
    numbers: [
      { label: 'plate to reckon with', value: thin.measuredMm, unit: 'mm', figure: 'top.thickness.final' },
      ...thin.drawn.bars.map((b) => ({
        label: `bar ${b.id} to be left this high`,
        value: b.heightMm + raiseMm,
        unit: 'mm',
        ...(b.id.startsWith('X-') ? { figure: 'brace.x.height' } : {}),
      })),
    ],
  };
}
