import { type Rescue, type SayLength, sayMm, shown } from './rescue.ts';

const DEG = 180 / Math.PI;

/** What is known of an action that is not as wanted. */
export interface ActionOff {
  /** Action now less action wanted at fret 12, mean of the outer strings; + too high; mm. */
  readonly qMm: number;
  /** Saddle from the neck end of the body. */
  readonly saddleYMm: number;
  readonly heelMm: number;
  /** Saddle above the bridge now, and the least and the most it may be. */
  readonly protrusionMm: number;
  readonly protrusionLeastMm: number;
  readonly protrusionMostMm: number;
  /** The neck can still be taken off and its heel floated. */
  readonly neckComesOff: boolean;
}

/**
 * Twice the error of the action at fret 12 comes off the saddle; the same by leaning the neck.
 *
 * @param qMm        action now less wanted at fret 12
 * @param saddleYMm  saddle from the neck end of the body; > 0
 * @param heelMm     height of the heel; > 0
 * @returns          what to take off the saddle (mm), the lean (deg), what comes off the heel (mm)
 * @source           plane-geometry
 */
export function actionChange(
  qMm: number,
  saddleYMm: number,
  heelMm: number,
): { readonly saddleMm: number; readonly leanDeg: number; readonly heelOffMm: number } {
  const lean = (2 * qMm) / saddleYMm;
  return { saddleMm: 2 * qMm, leanDeg: lean * DEG, heelOffMm: lean * heelMm };
}

/**
 * What to do about an action that is too high or too low.
 *
 * @param a    error, places and limits
 * @param say  how lengths are said
 * @source   common practice, no published source
 */
export function actionRescue(a: ActionOff, say: SayLength = sayMm): Rescue {
  const c = actionChange(a.qMm, a.saddleYMm, a.heelMm);
  const after = a.protrusionMm - c.saddleMm;
  const where =
    a.qMm > 0
      ? 'at the cap end, tapering to nothing at the board'
      : 'at the board end, tapering to nothing at the cap';
  const numbers = [
    {
      label: a.qMm > 0 ? 'take off the saddle' : 'saddle to be higher by',
      value: Math.abs(c.saddleMm),
      unit: 'mm',
    },
    { label: 'saddle above the bridge afterwards', value: after, unit: 'mm', figure: 'bridge.protrusion' },
    {
      label: a.qMm > 0 ? 'or lean the neck back' : 'or lean the neck forward',
      value: Math.abs(c.leanDeg),
      unit: 'deg',
    },
    { label: `that takes off the heel ${where}`, value: Math.abs(c.heelOffMm), unit: 'mm' },
  ];
  const off = `The action is ${say(Math.abs(a.qMm))} too ${a.qMm > 0 ? 'high' : 'low'} at fret 12`;
  if (after >= a.protrusionLeastMm - 1e-9 && after <= a.protrusionMostMm + 1e-9)
    return {
      title: 'Action by the saddle',
      action: 'adjust',
      decision: 'carry on',
      sentence: `${off}: ${a.qMm > 0 ? `take ${say(c.saddleMm)} off the saddle` : `make a saddle ${say(-c.saddleMm)} higher`}, ${say(after)} stay above the bridge.`,
      numbers,
    };
  const limit = `the saddle would stand ${say(after)} above the bridge, ${say(a.protrusionLeastMm)} to ${say(a.protrusionMostMm)} is right`;
  if (a.neckComesOff)
    return {
      title: 'Action by the neck',
      action: 'adjust',
      decision: 'repair',
      sentence: `${off}: ${limit}. Lean the neck ${a.qMm > 0 ? 'back' : 'forward'} by ${shown(Math.abs(c.leanDeg))} degrees: ${say(Math.abs(c.heelOffMm))} off the heel ${where}.`,
      numbers,
    };
  return {
    title: 'Action out of reach',
    action: 'stop',
    decision: 'repair',
    sentence: `${off}: ${limit}, and the neck is glued. Ask how this joint is opened before anything is cut.`,
    numbers,
  };
}

/**
 * What to do when the straightedge on the frets does not meet the height wanted at the saddle.
 *
 * @param highMm     straightedge above the place wanted; + too high there
 * @param saddleYMm  saddle from the neck end of the body; > 0
 * @param heelMm     height of the heel; > 0
 * @param say        how lengths are said
 * @source           plane-geometry
 */
export function neckAngleRescue(
  highMm: number,
  saddleYMm: number,
  heelMm: number,
  say: SayLength = sayMm,
): Rescue {
  const lean = highMm / saddleYMm;
  const offMm = Math.abs(lean * heelMm);
  const end =
    highMm > 0
      ? 'at the board end, tapering to nothing at the cap'
      : 'at the cap end, tapering to nothing at the board';
  const numbers = [
    { label: 'change of the neck angle', value: -lean * DEG, unit: 'deg' },
    { label: `take off the heel ${end}`, value: offMm, unit: 'mm' },
  ];
  return {
    title: 'Neck angle at the dry fit',
    action: 'adjust',
    decision: 'carry on',
    sentence: `The straightedge is ${say(Math.abs(highMm))} too ${highMm > 0 ? 'high' : 'low'} over the saddle place: take ${say(offMm)} off the heel ${end}, then measure again.`,
    numbers,
  };
}

/**
 * How far the rest of a string goes back for an error at fret 12.
 *
 * @param cents      fret 12 against the open string; + sharp
 * @param scaleMm    scale length; > 0
 * @param reachMm    how far the rest can be filed from the slot line
 * @param say        how lengths are said
 * @source           equal-temperament
 */
export function restRescue(cents: number, scaleMm: number, reachMm: number, say: SayLength = sayMm): Rescue {
  // The open string is tuned again afterwards: 1200 / ln 2 = 1731.23 cents for each scale length.
  const backMm = (cents * scaleMm) / 1731.23;
  const within = Math.abs(backMm) <= reachMm + 1e-9;
  return {
    title: 'Fret 12 against the open string',
    action: within ? 'adjust' : 'stop',
    decision: within ? 'carry on' : 'repair',
    sentence: within
      ? `Fret 12 is ${shown(Math.abs(cents), 1)} cents ${cents > 0 ? 'sharp' : 'flat'}: file the rest ${say(Math.abs(backMm))} ${cents > 0 ? 'back' : 'forward'}, tune the open string and read again.`
      : `Fret 12 is ${shown(Math.abs(cents), 1)} cents ${cents > 0 ? 'sharp' : 'flat'}: the rest would have to move ${say(Math.abs(backMm))}, the saddle gives ${say(reachMm)}. Take a thicker saddle or fill the slot and cut it again.`,
    numbers: [
      {
        label: cents > 0 ? 'move the rest back' : 'move the rest forward',
        value: Math.abs(backMm),
        unit: 'mm',
      },
      { label: 'the saddle allows', value: reachMm, unit: 'mm' },
    ],
  };
}
