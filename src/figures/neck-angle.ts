import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { finding } from '../quantity/finding.ts';
import { crownAtSaddle, crownOf, topDome } from './dome.ts';
import { byInstrument, input } from './inputs.ts';
import { boardEndY } from './join.ts';
import { saddleY } from './saddle-place.ts';

const practice = 'common practice, no published source';
const domeRadius = input('dome.top.radius');
const boardThickness = input('board.thickness');
const bridgeHeight = input('bridge.height');
const protrusion = input('bridge.protrusion');
const lift = input('bridge.top_lift');
const nutHeight = input('setup.nut_slot_height');
const actionTreble = input('setup.action.treble');
const actionBass = input('setup.action.bass');
const DEG = 180 / Math.PI;

/** Crown of the top at the board end. */
export const crownBoardEnd: Figure<number> = figure({
  id: 'dome.top.crown_at_board_end',
  unit: 'mm',
  label: 'Top crown at the board end',
  formula: 'height of the sphere over the rim plane on the centre line at the board end; 0 on a flat top',
  source: 'plane-geometry',
  from: { dome: topDome, yMm: boardEndY },
  compute: ({ dome, yMm }) =>
    crownOf(dome, yMm) ??
    finding({
      code: 'dome-too-small',
      level: 'blocked',
      text: 'The board end lies outside the dome sphere; make the dome radius larger.',
      source: 'plane-geometry',
    }),
});

/** Fret tops over the rim plane at the join. */
export const fretPlaneJoin: Figure<number> = figure({
  id: 'neck.fret_plane.join',
  unit: 'mm',
  label: 'Fret plane over the rim plane at the join',
  formula: 'board thickness + fret crown (the board lies on the top at the join)',
  source: 'plane-geometry',
  from: { boardMm: boardThickness, crownMm: input('fret.crown.height') },
  compute: ({ boardMm, crownMm: crown }) => boardMm + crown,
});

/** Middle of the two actions. */
export const actionMean: Figure<number> = figure({
  id: 'setup.action.mean',
  unit: 'mm',
  label: 'Action at fret 12, mean of treble and bass',
  formula: '(treble + bass) / 2',
  source: 'arithmetic',
  from: { trebleMm: actionTreble, bassMm: actionBass },
  compute: ({ trebleMm, bassMm }) => (trebleMm + bassMm) / 2,
});

/** String over the rim plane at the saddle. */
export const stringOverRim: Figure<number> = figure({
  id: 'neck.string_height.saddle',
  unit: 'mm',
  label: 'String over the rim plane at the saddle, strung',
  formula: 'crown at the saddle + rise of the top under strings + bridge height + saddle above the bridge',
  source: practice,
  from: { crown: crownAtSaddle, liftMm: lift, heightMm: bridgeHeight, outMm: protrusion },
  compute: ({ crown, liftMm, heightMm, outMm }) => crown + liftMm + heightMm + outMm,
});

/** Fret tops drawn on to the saddle. */
export const fretPlaneSaddle: Figure<number> = figure({
  id: 'neck.fret_plane.saddle',
  unit: 'mm',
  label: 'Fret plane over the rim plane at the saddle',
  formula: 'string over the rim plane - (2 x mean action - slot floor at the nut)',
  source: 'plane-geometry',
  from: { stringMm: stringOverRim, actionMm: actionMean, nutMm: nutHeight },
  compute: ({ stringMm, actionMm, nutMm }) => stringMm - (2 * actionMm - nutMm),
});

/** Lean of the neck. */
export const neckAngle: Figure<number> = figure({
  id: 'neck.angle',
  unit: 'deg',
  label: 'Neck angle, + leaned back',
  formula: 'arc tangent of (fret plane at the saddle - fret plane at the join) / saddle place',
  source: 'plane-geometry',
  from: { saddleMm: fretPlaneSaddle, joinMm: fretPlaneJoin, yMm: saddleY },
  compute: ({ saddleMm, joinMm, yMm }) => Math.atan((saddleMm - joinMm) / yMm) * DEG,
});

/** What the heel face is cut to. */
export const heelFaceAngle: Figure<number> = figure({
  id: 'neck.heel_face_angle',
  unit: 'deg',
  label: 'Heel face against the fret plane',
  formula: '90 - neck angle',
  source: 'plane-geometry',
  from: { angleDeg: neckAngle },
  compute: ({ angleDeg }) => 90 - angleDeg,
});

/** Straightedge on the frets over the bridge. */
export const straightedgeWindow: Figure<number> = figure({
  id: 'neck.straightedge_window',
  unit: 'mm',
  label: 'Straightedge on the frets over the bridge top, unstrung',
  formula: 'fret plane at the saddle - crown at the saddle - bridge height',
  source: 'plane-geometry',
  from: { planeMm: fretPlaneSaddle, crown: crownAtSaddle, heightMm: bridgeHeight },
  compute: ({ planeMm, crown, heightMm }) => planeMm - (crown + heightMm),
});

/** The same before the bridge is on. */
export const straightedgeOverTop: Figure<number> = figure({
  id: 'neck.straightedge_over_top',
  unit: 'mm',
  label: 'Straightedge on the frets over the bare top at the saddle place',
  formula: 'bridge height + straightedge over the bridge top',
  source: 'plane-geometry',
  from: { heightMm: bridgeHeight, windowMm: straightedgeWindow },
  compute: ({ heightMm, windowMm }) => heightMm + windowMm,
});

/** Wood to plane off the tongue. */
export const tongueTaper: Figure<number> = figure({
  id: 'board.tongue_taper',
  unit: 'mm',
  label: 'Plane off the underside at the board end',
  formula: 'crown at the board end - board end place x tangent of the neck angle',
  source: 'plane-geometry',
  from: { crown: crownBoardEnd, yMm: boardEndY, angleDeg: neckAngle },
  compute: ({ crown, yMm, angleDeg }) => crown - yMm * Math.tan(angleDeg / DEG),
});

/** Board left at its end. */
export const tongueLeft: Figure<number> = figure({
  id: 'board.tongue_left',
  unit: 'mm',
  label: 'Board left at its end over the body',
  formula: 'board thickness - what is planed off',
  source: 'plane-geometry',
  from: { boardMm: boardThickness, taperMm: tongueTaper },
  compute: ({ boardMm, taperMm }) => boardMm - taperMm,
});
const tongueLeast: Figure<number> = figure({
  id: 'board.tongue_left.least',
  unit: 'mm',
  label: 'Board left at its end, least',
  formula: 'slot depth + 1.5',
  source: practice,
  from: { slotMm: input('board.slot_depth') },
  compute: ({ slotMm }) => slotMm + 1.5,
});

/** Change of the action for one degree. */
export const actionPerDegree: Figure<number> = figure({
  id: 'neck.action_per_degree',
  unit: 'mm',
  label: 'Action at fret 12 changes for one degree of neck angle by',
  formula: 'half the saddle place x one degree in radians',
  source: 'plane-geometry',
  from: { yMm: saddleY },
  compute: ({ yMm }) => yMm / 2 / DEG,
});

/** How exactly the angle has to be. */
export const angleTolerance: Figure<number> = figure({
  id: 'neck.angle.tolerance',
  unit: 'deg',
  label: 'Neck angle for 0.2 mm of action, either way',
  formula: '0.2 / action change for one degree',
  source: practice,
  from: { perDegreeMm: actionPerDegree },
  compute: ({ perDegreeMm }) => 0.2 / perDegreeMm,
});

/** What the heel loses for a tenth of a degree. */
export const heelShave: Figure<number> = figure({
  id: 'neck.heel.shave_per_tenth',
  unit: 'mm',
  label: 'Take off the heel for 0.1 degree',
  formula: 'heel height x tangent of 0.1 degree',
  source: 'plane-geometry',
  from: { heelMm: input('neck.heel.height') },
  compute: ({ heelMm }) => heelMm * Math.tan(0.1 / DEG),
});

/** What the heel loses for a millimetre of action. */
export const heelShaveForAction: Figure<number> = figure({
  id: 'neck.heel.shave_per_mm_action',
  unit: 'mm',
  label: 'Take off the heel at its cap end for each mm of action too high',
  formula: '2 x heel height / saddle place, tapering to nothing at the board; too low: at the board end',
  source: 'plane-geometry',
  from: { heelMm: input('neck.heel.height'), yMm: saddleY },
  compute: ({ heelMm, yMm }) => (2 * heelMm) / yMm,
});

/** Lean of the neck block's face. */
export const blockLean: Figure<number> = figure({
  id: 'neck.heel.lean',
  unit: 'mm',
  label: 'Lean of the join over the height of the rim',
  formula: 'rim height at the neck end x tangent of the neck angle',
  source: 'plane-geometry',
  from: { rimMm: input('rim.height.neck'), angleDeg: neckAngle },
  compute: ({ rimMm, angleDeg }) => rimMm * Math.tan(angleDeg / DEG),
});

const limit = (
  id: string,
  unit: 'mm' | 'deg',
  label: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
) => byInstrument({ id, unit, label, source: practice, values });

const windowLimits = {
  low: limit('neck.straightedge_window.least', 'mm', 'Straightedge window, least', {
    steel: -0.8,
    nylon: -5.5,
    uke: -4,
  }),
  softLow: limit('neck.straightedge_window.usual_low', 'mm', 'Straightedge window, usual from', {
    steel: 0,
    nylon: -4.5,
    uke: -3.2,
  }),
  softHigh: limit('neck.straightedge_window.usual_high', 'mm', 'Straightedge window, usual to', {
    steel: 0.8,
    nylon: -2.8,
    uke: -1.6,
  }),
  high: limit('neck.straightedge_window.most', 'mm', 'Straightedge window, most', {
    steel: 1.6,
    nylon: -1.8,
    uke: -0.8,
  }),
};
const angleLimits = {
  low: limit('neck.angle.least', 'deg', 'Neck angle, least', { steel: 0, nylon: -1, uke: -1.2 }),
  softLow: limit('neck.angle.usual_low', 'deg', 'Neck angle, usual from', {
    steel: 0.5,
    nylon: -0.6,
    uke: -0.6,
  }),
  softHigh: limit('neck.angle.usual_high', 'deg', 'Neck angle, usual to', {
    steel: 2,
    nylon: 0.8,
    uke: 1.2,
  }),
  high: limit('neck.angle.most', 'deg', 'Neck angle, most', { steel: 2.4, nylon: 1.2, uke: 2 }),
};

/** Figures of the neck angle. */
export const neckAngleFigures: readonly Figure[] = [
  crownBoardEnd,
  fretPlaneJoin,
  actionMean,
  stringOverRim,
  fretPlaneSaddle,
  neckAngle,
  heelFaceAngle,
  straightedgeWindow,
  straightedgeOverTop,
  tongueTaper,
  tongueLeft,
  actionPerDegree,
  angleTolerance,
  heelShave,
  heelShaveForAction,
  blockLean,
  ...Object.values(windowLimits),
  ...Object.values(angleLimits),
];

/** Rules of the neck angle. */
export const neckAngleRules: readonly Rule[] = [
  {
    id: 'straightedge-window',
    label: 'Straightedge on the frets meets the bridge as it should',
    subject: straightedgeWindow,
    hard: { low: windowLimits.low, high: windowLimits.high },
    soft: { low: windowLimits.softLow, high: windowLimits.softHigh },
    why: 'Outside this window the saddle would have to be cut away or stand far out of the bridge to give the action wanted.',
    remedies: [{ input: protrusion }, { input: actionBass }, { input: actionTreble }, { input: lift }],
    source: practice,
    place: 'neck',
  },
  {
    id: 'neck-angle-usual',
    label: 'Neck angle in the usual range',
    subject: neckAngle,
    hard: { low: angleLimits.low, high: angleLimits.high },
    soft: { low: angleLimits.softLow, high: angleLimits.softHigh },
    why: 'A neck leaned far back lifts the board end off the top; one leaned forward presses it into the top.',
    remedies: [{ input: bridgeHeight }, { input: boardThickness }, { input: domeRadius, step: 100 }],
    source: practice,
    place: 'neck',
  },
  {
    id: 'tongue-thick-enough',
    label: 'Board end thick enough after it is fitted to the dome',
    subject: tongueLeft,
    hard: { low: tongueLeast },
    why: 'The tongue is planed underneath until it lies on the dome; less than 1.5 mm under the slots and it breaks.',
    remedies: [
      { input: boardThickness, toward: 'more' },
      { input: domeRadius, toward: 'more', step: 100 },
      { input: input('board.slot_depth'), toward: 'less' },
    ],
    source: practice,
    place: 'tongue',
  },
  {
    id: 'tongue-lies-on-top',
    label: 'Board end lies on the top',
    subject: tongueTaper,
    hard: { low: -0.2 },
    why: 'With this neck angle the board end would hang in the air above the top and need a wedge under it.',
    remedies: [
      { input: bridgeHeight, toward: 'less' },
      { input: protrusion, toward: 'less' },
      { input: domeRadius, toward: 'less', step: 100 },
    ],
    source: practice,
    place: 'tongue',
  },
];
