import { type Figure, figure } from '../graph/figure.ts';
import { input } from './inputs.ts';
import { neckJoin } from './join.ts';
import { setbackCentre } from './saddle-line.ts';

/** The saddle line on the centre line of the body. */
export const saddleY: Figure<number> = figure({
  id: 'saddle.y',
  unit: 'mm',
  label: 'Saddle from the neck end of the body',
  formula: 'scale length + setback at the centre - nut to join',
  source: 'plane-geometry',
  from: { scaleMm: input('scale.length'), setbackMm: setbackCentre, joinMm: neckJoin },
  compute: ({ scaleMm, setbackMm, joinMm }) => scaleMm + setbackMm - joinMm,
});

/** The saddle line from the nut, as it is measured on the neck in hand. */
export const saddleFromNut: Figure<number> = figure({
  id: 'saddle.from_nut',
  unit: 'mm',
  label: 'Saddle from the nut face, on the centre line',
  formula: 'scale length + setback at the centre',
  source: 'plane-geometry',
  from: { scaleMm: input('scale.length'), setbackMm: setbackCentre },
  compute: ({ scaleMm, setbackMm }) => scaleMm + setbackMm,
});

/** The saddle line from fret 12. */
export const saddleFromFret12: Figure<number> = figure({
  id: 'saddle.from_fret_12',
  unit: 'mm',
  label: 'Saddle from fret 12, on the centre line',
  formula: 'half the scale length + setback at the centre',
  source: 'plane-geometry',
  from: { scaleMm: input('scale.length'), setbackMm: setbackCentre },
  compute: ({ scaleMm, setbackMm }) => scaleMm / 2 + setbackMm,
});

/** What comes off the saddle for a millimetre of action. */
export const saddlePerAction: Figure<number> = figure({
  id: 'setup.saddle_per_mm_action',
  unit: 'mm',
  label: 'Take off the saddle for each mm of action too high at fret 12',
  formula: '(scale length + setback) / half the scale length, about 2',
  source: 'plane-geometry',
  from: { fromNutMm: saddleFromNut, scaleMm: input('scale.length') },
  compute: ({ fromNutMm, scaleMm }) => fromNutMm / (scaleMm / 2),
});

/** Front edge of the bridge. */
export const bridgeFrontY: Figure<number> = figure({
  id: 'bridge.front_y',
  unit: 'mm',
  label: 'Bridge front edge from the neck end of the body',
  formula: 'saddle place - saddle behind the bridge front',
  source: 'plane-geometry',
  from: { saddle: saddleY, behindMm: input('bridge.saddle_from_front') },
  compute: ({ saddle, behindMm }) => saddle - behindMm,
});

/** Back edge of the bridge. */
export const bridgeBackY: Figure<number> = figure({
  id: 'bridge.back_y',
  unit: 'mm',
  label: 'Bridge back edge from the neck end of the body',
  formula: 'front edge + bridge width',
  source: 'plane-geometry',
  from: { front: bridgeFrontY, widthMm: input('bridge.width') },
  compute: ({ front, widthMm }) => front + widthMm,
});

/** Line of the string holes or pins. */
export const anchorY: Figure<number> = figure({
  id: 'bridge.anchor_y',
  unit: 'mm',
  label: 'String holes from the neck end of the body',
  formula: 'saddle place + anchor behind the saddle; the line lies square to the centre line',
  source: 'plane-geometry',
  from: { saddle: saddleY, behindMm: input('bridge.anchor_behind') },
  compute: ({ saddle, behindMm }) => saddle + behindMm,
});

/** Figures of the saddle and bridge place. */
export const saddlePlaceFigures: readonly Figure[] = [
  saddleY,
  saddleFromNut,
  saddleFromFret12,
  saddlePerAction,
  bridgeFrontY,
  bridgeBackY,
  anchorY,
];
