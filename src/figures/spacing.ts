import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { perGap, perString } from './family.ts';
import { byInstrument, handed, input, strings } from './inputs.ts';

const practice = 'common practice, no published source';
const nutSpread = input('nut.spread');
const saddleSpread = input('saddle.spread');
const widthNut = input('board.width.nut');
const width12 = input('board.width.fret_12');

/**
 * Places of string centres with equal gaps between their edges, from the first to the last.
 *
 * @param diametersMm  strings in order
 * @param spreadMm     first centre to last centre
 * @returns            centres from the middle, the first one positive, mm; one string lies in the middle
 * @source             plane-geometry
 */
export function equalGapCentres(diametersMm: readonly number[], spreadMm: number): readonly number[] {
  const gapMm = equalGapMm(diametersMm, spreadMm);
  if (gapMm === undefined) return diametersMm.map(() => 0);
  let at = spreadMm / 2;
  return diametersMm.map((d, i) => {
    if (i > 0) at -= gapMm + (d + (diametersMm[i - 1] as number)) / 2;
    return at;
  });
}

/** The gap between neighbouring edges, mm; undefined for fewer than two strings. @source plane-geometry */
export function equalGapMm(diametersMm: readonly number[], spreadMm: number): number | undefined {
  if (diametersMm.length < 2) return undefined;
  const halves = diametersMm.slice(1).reduce((s, d, i) => s + (d + (diametersMm[i] as number)) / 2, 0);
  return (spreadMm - halves) / (diametersMm.length - 1);
}

function centres(id: string, label: string, spread: Figure<number>): Figure<readonly number[]> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula:
      'outer centres at half the spread; equal gaps between the edges of neighbours; treble at + x, on a left-handed instrument at - x',
    source: 'plane-geometry',
    from: { strings, spreadMm: spread, handed },
    compute: (v) => {
      const x = equalGapCentres(
        v.strings.map((s) => s.diameterMm),
        v.spreadMm,
      );
      return v.handed === 'left' ? x.map((c) => -c) : x;
    },
    members: perString,
  });
}

/** String centres at the nut. */
export const stringXNut = centres('string.x.nut', 'String at the nut, from the centre line', nutSpread);
/** String centres at the saddle. */
export const stringXSaddle = centres(
  'string.x.saddle',
  'String at the saddle, from the centre line',
  saddleSpread,
);

function equalGap(id: string, label: string, spread: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula: '(spread of the outer centres - half diameters between them) / (number of strings - 1)',
    source: 'plane-geometry',
    from: { strings, spreadMm: spread },
    compute: (v) =>
      equalGapMm(
        v.strings.map((s) => s.diameterMm),
        v.spreadMm,
      ) ?? 0,
  });
}
/** Edge to edge at the nut. */
export const gapNut = equalGap('string.gap.nut', 'Gap between strings at the nut', nutSpread);
/** Edge to edge at the saddle. */
export const gapSaddle = equalGap('string.gap.saddle', 'Gap between strings at the saddle', saddleSpread);

/** Centre to centre at the nut, to mark with dividers. */
export const stringPitchNut: Figure<readonly number[]> = figure({
  id: 'string.pitch.nut',
  unit: 'mm',
  label: 'Centre to centre at the nut',
  formula: 'gap + half of both diameters',
  source: 'plane-geometry',
  from: { x: stringXNut },
  compute: ({ x }) => x.slice(1).map((c, i) => Math.abs(c - (x[i] as number))),
  members: perGap,
});
/** Centre to centre at the saddle. */
export const stringPitchSaddle: Figure<readonly number[]> = figure({
  id: 'string.pitch.saddle',
  unit: 'mm',
  label: 'Centre to centre at the saddle',
  formula: 'gap + half of both diameters',
  source: 'plane-geometry',
  from: { x: stringXSaddle },
  compute: ({ x }) => x.slice(1).map((c, i) => Math.abs(c - (x[i] as number))),
  members: perGap,
});

function equalCentres(id: string, label: string, spread: Figure<number>): Figure<number> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula: 'spread of the outer centres / (number of strings - 1): simpler, feels tighter at the bass',
    source: 'plane-geometry',
    from: { strings, spreadMm: spread },
    compute: (v) => v.spreadMm / Math.max(1, v.strings.length - 1),
  });
}
/** The plainer way at the nut. */
export const equalPitchNut = equalCentres(
  'string.pitch.equal.nut',
  'Centre to centre at the nut, if all centres are equally far apart',
  nutSpread,
);
/** The plainer way at the saddle. */
export const equalPitchSaddle = equalCentres(
  'string.pitch.equal.saddle',
  'Centre to centre at the saddle, if all centres are equally far apart',
  saddleSpread,
);

/** Spread over fret 12. */
export const spread12: Figure<number> = figure({
  id: 'string.spread.fret_12',
  unit: 'mm',
  label: 'Outer strings over fret 12',
  formula: 'mean of the spreads at nut and saddle',
  source: 'plane-geometry',
  from: { nutMm: nutSpread, saddleMm: saddleSpread },
  compute: ({ nutMm, saddleMm }) => (nutMm + saddleMm) / 2,
});

/** Outer string to the board edge at the nut. */
export const marginNut: Figure<number> = figure({
  id: 'string.margin.nut',
  unit: 'mm',
  label: 'Outer string to the board edge at the nut',
  formula: '(board width - spread) / 2',
  source: 'plane-geometry',
  from: { widthMm: widthNut, spreadMm: nutSpread },
  compute: ({ widthMm, spreadMm }) => (widthMm - spreadMm) / 2,
});

/** Outer string to the board edge at fret 12. */
export const margin12: Figure<number> = figure({
  id: 'string.margin.fret_12',
  unit: 'mm',
  label: 'Outer string to the board edge at fret 12',
  formula: '(board width - spread) / 2',
  source: 'plane-geometry',
  from: { widthMm: width12, spreadMm: spread12 },
  compute: ({ widthMm, spreadMm }) => (widthMm - spreadMm) / 2,
});

function nutSlotWidth(id: string, label: string, overMm: number): Figure<readonly number[]> {
  return figure({
    id,
    unit: 'mm',
    label,
    formula: `string diameter + ${overMm.toFixed(2)}`,
    source: practice,
    from: { strings },
    compute: (v) => v.strings.map((s) => s.diameterMm + overMm),
    members: perString,
  });
}
/** Narrowest nut slot. */
export const nutSlotLeast = nutSlotWidth('nut.slot_width.least', 'Nut slot width, least', 0.05);
/** Widest nut slot. */
export const nutSlotMost = nutSlotWidth('nut.slot_width.most', 'Nut slot width, most', 0.1);

const limit = (
  id: string,
  label: string,
  values: { readonly steel: number; readonly nylon: number; readonly uke: number },
) => byInstrument({ id, unit: 'mm', label, source: practice, values });

const nutLimits = {
  low: limit('string.margin.nut.least', 'Margin at the nut, least', { steel: 2.2, nylon: 3, uke: 2.2 }),
  softLow: limit('string.margin.nut.usual_low', 'Margin at the nut, usual from', {
    steel: 3,
    nylon: 4,
    uke: 3,
  }),
  softHigh: limit('string.margin.nut.usual_high', 'Margin at the nut, usual to', {
    steel: 3.8,
    nylon: 5,
    uke: 3.8,
  }),
  high: limit('string.margin.nut.most', 'Margin at the nut, most', { steel: 5.5, nylon: 6.5, uke: 5.5 }),
};
const fret12Limits = {
  low: limit('string.margin.fret_12.least', 'Margin at fret 12, least', { steel: 3, nylon: 3.8, uke: 3 }),
  softLow: limit('string.margin.fret_12.usual_low', 'Margin at fret 12, usual from', {
    steel: 4,
    nylon: 5,
    uke: 4,
  }),
  softHigh: limit('string.margin.fret_12.usual_high', 'Margin at fret 12, usual to', {
    steel: 5,
    nylon: 6,
    uke: 5,
  }),
  high: limit('string.margin.fret_12.most', 'Margin at fret 12, most', { steel: 7, nylon: 8, uke: 7 }),
};

/** Figures of the string spacing. */
export const spacingFigures: readonly Figure[] = [
  stringXNut,
  stringXSaddle,
  gapNut,
  gapSaddle,
  stringPitchNut,
  stringPitchSaddle,
  equalPitchNut,
  equalPitchSaddle,
  spread12,
  marginNut,
  margin12,
  nutSlotLeast,
  nutSlotMost,
  ...Object.values(nutLimits),
  ...Object.values(fret12Limits),
];

/** Rules of the string spacing. */
export const spacingRules: readonly Rule[] = [
  {
    id: 'string-margin-nut',
    label: 'Outer strings off the board edge at the nut',
    subject: marginNut,
    hard: { low: nutLimits.low, high: nutLimits.high },
    soft: { low: nutLimits.softLow, high: nutLimits.softHigh },
    why: 'Too near to the edge the string slips off the fret ends; too far in, the hand loses width.',
    remedies: [{ input: nutSpread }, { input: widthNut }],
    source: practice,
    place: 'nut',
  },
  {
    id: 'string-margin-fret-12',
    label: 'Outer strings off the board edge at fret 12',
    subject: margin12,
    hard: { low: fret12Limits.low, high: fret12Limits.high },
    soft: { low: fret12Limits.softLow, high: fret12Limits.softHigh },
    why: 'Too near to the edge the string slips off the fret ends; too far in, the board is wider than it has to be.',
    remedies: [{ input: width12 }, { input: saddleSpread }],
    source: practice,
    place: 'board',
  },
];
