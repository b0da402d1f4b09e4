import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { type AirWithTop, airWithTop } from '../mechanics/air.ts';
import { analysePlate } from '../mechanics/plate/analyse-plate.ts';
import { type BarShares, barShares } from '../mechanics/plate/bar-shares.ts';
import { readTopAnswer, type TopAnswer } from '../mechanics/top-answer.ts';
import { type TopInput, topProblem } from '../mechanics/top-problem.ts';
import { type Finding, finding } from '../quantity/finding.ts';
import { InputError } from '../quantity/input-error.ts';
import { airBox } from './air.ts';
import { barOnPlateStiffness, barStiffnessNm2 } from './brace-stiffness.ts';
import { braceSegments } from './braces.ts';
import { byInstrument, input } from './inputs.ts';
import { bridgeMoment, tilt } from './load.ts';
import { mend } from './rule-parts.ts';
import { topInput } from './top-input.ts';
import { braceWood, topWood, topWoodFigures } from './top-wood.ts';

const practice = 'common practice, no published source';
const DEG = 180 / Math.PI;

/** What goes wrong in the engine is a finding of the figure. */
export function asFinding<V>(compute: () => V): V | Finding {
  try {
    return compute();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return finding({ code: error.code, level: 'blocked', text: error.message });
  }
}

/** Top under its strings. */
export const loaded: Figure<{ readonly answer: TopAnswer; readonly stresses: readonly BarNumber[] }> = figure(
  {
    id: 'structure.loaded',
    unit: 'shape',
    label: 'Top under its strings, computed as a plate',
    formula:
      'finite elements: thin plate with offset bars, hinged rim, couple of the strings on the foot of the bridge',
    source: 'clough-tocher',
    from: { top: topInput },
    dear: { version: 2 },
    compute: ({ top }) =>
      asFinding(() => {
        const made = topProblem({ ...top, modes: 0 });
        const plate = analysePlate(made.problem, { withShapes: true });
        const answer = readTopAnswer(made, plate, undefined);
        const stress = plate.shapes?.barStressMPa[0] ?? [];
        return { answer, stresses: made.barIds.map((id, b) => ({ id, value: stress[b] ?? 0 })) };
      }),
  },
);

/** Resonances of the top without the air behind it. */
export const topModes: Figure<TopAnswer['modes']> = figure({
  id: 'structure.modes',
  unit: 'shape',
  label: 'Resonances of the top, computed as a plate',
  formula: 'lowest ten modes of the same plate; names by the fields that swing against each other',
  source: 'clough-tocher',
  from: { top: topInput },
  dear: { version: 2 },
  compute: ({ top }) =>
    asFinding(() => {
      const made = topProblem(top);
      return readTopAnswer(made, analysePlate(made.problem, { withShapes: true }), undefined).modes;
    }),
});

/** What each brace does. */
export const shares: Figure<BarShares & { readonly ids: readonly string[] }> = figure({
  id: 'structure.shares',
  unit: 'shape',
  label: 'Share of each brace, computed as a plate',
  formula: 'work of the strings stored in each brace; tilt again with 1 mm carved off one brace at a time',
  source: 'clough-tocher',
  from: { top: topInput },
  dear: { version: 2 },
  compute: ({ top }) =>
    asFinding(() => {
      const made = topProblem({ ...top, modes: 0 });
      return { ...barShares(made.problem, 1), ids: made.barIds };
    }),
});

/** A number of one brace. */
export interface BarNumber {
  readonly id: string;
  readonly value: number;
}
const barMembers = (what: string) => (list: readonly BarNumber[]) =>
  list.map((b) => ({ key: b.id, label: `${what}, ${b.id}`, value: b.value }));

/** Plainer rule for the tilt. */
export const tiltByBeam: Figure<number> = figure({
  id: 'structure.tilt.by_beam',
  unit: 'deg',
  label: 'Slope of the bridge by the beam rule',
  formula:
    'moment x length / (16 x stiffness): a beam held at the hole edge and at the tail, turned in its middle; stiffness of the top as wide as the lower bout and of the bars that lie behind the hole, each x cos^4 of its angle',
  source: 'beam-theory',
  from: {
    momentNm: bridgeMoment,
    stiffness: barOnPlateStiffness,
    segments: braceSegments,
    topMm: input('top.thickness.final'),
    eMPa: topWood.along,
    widthMm: input('body.lower_bout.width'),
    lengthMm: input('body.length'),
    holeMm: input('hole.centre_y'),
    radiusMm: input('hole.radius'),
  },
  compute: (v) => {
    const fromMm = v.holeMm + v.radiusMm;
    let stiffnessNm2 = barStiffnessNm2(v.eMPa, v.widthMm, v.topMm);
    v.segments.forEach((s, i) => {
      if (Math.max(s.from.yMm, s.to.yMm) <= fromMm) return;
      const along = Math.abs(s.to.yMm - s.from.yMm);
      const cos = along / Math.hypot(along, s.to.xMm - s.from.xMm);
      stiffnessNm2 += (v.stiffness[i]?.stiffnessNm2 ?? 0) * cos ** 4;
    });
    return ((v.momentNm * ((v.lengthMm - fromMm) / 1000)) / (16 * stiffnessNm2)) * DEG;
  },
});

/** Tilt of the plate model itself. */
export const plateTilt: Figure<number> = figure({
  id: 'structure.tilt.plate',
  unit: 'deg',
  label: 'Slope of the bridge, flat elastic plate',
  formula: 'mean slope of the foot of the bridge under the couple of the strings',
  source: 'clough-tocher',
  from: { loaded },
  compute: ({ loaded: l }) => l.answer.tiltDeg,
  plainer: tiltByBeam,
});

/** From the plate to a finished box. */
export const boxFactor: Figure<number> = byInstrument({
  id: 'structure.tilt.box_factor',
  unit: 'count',
  label:
    'Slope measured on a finished box over the flat elastic plate; set so that the starting pattern lies in the middle of the aim, until the shop has measured its own',
  source: practice,
  values: { steel: 4, nylon: 2.5, uke: 1.9 },
});

/** Tilt as a gauge on the finished box would read it. */
export const boxTilt: Figure<number> = figure({
  id: 'structure.tilt',
  unit: 'deg',
  label: 'Bridge slope expected on the finished box, unstrung to strung',
  formula: 'slope of the flat elastic plate x what finished boxes show over it',
  source: practice,
  from: { plateDeg: plateTilt, factor: boxFactor },
  compute: ({ plateDeg, factor }) => plateDeg * factor,
  plainer: tiltByBeam,
});

/** Tilt after creep. */
export const creptTilt: Figure<number> = figure({
  id: 'structure.tilt.after_years',
  unit: 'deg',
  label: 'Bridge slope expected after the first years, most',
  formula: 'slope expected x 1.5: creep under steady strings adds 30 to 100 % to a bow',
  source: practice,
  from: { nowDeg: boxTilt },
  compute: ({ nowDeg }) => nowDeg * 1.5,
});

const margin = (id: string, label: string, side: 'low' | 'high'): Figure<number> =>
  figure({
    id,
    unit: 'deg',
    label,
    formula: side === 'low' ? 'slope expected - least slope' : 'most slope - slope expected',
    source: 'arithmetic',
    from: { nowDeg: boxTilt, limitDeg: tilt[side] },
    compute: ({ nowDeg, limitDeg }) => (side === 'low' ? nowDeg - limitDeg : limitDeg - nowDeg),
  });
/** Room to the least slope. */
export const marginLow = margin('structure.tilt.margin_low', 'Bridge slope above its least by', 'low');
/** Room to the most slope. */
export const marginHigh = margin('structure.tilt.margin_high', 'Bridge slope below its most by', 'high');

const moved = (id: string, label: string, pick: (a: TopAnswer) => number): Figure<number> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula: 'of the flat elastic plate under the couple of the strings',
    source: 'clough-tocher',
    from: { loaded },
    compute: ({ loaded: l }) => pick(l.answer),
  });
/** Highest lift behind the bridge. */
export const lift = moved('structure.lift', 'Highest lift of the top, flat elastic plate', (a) => a.liftMm);
/** Deepest sink before the bridge. */
export const sink = moved('structure.sink', 'Deepest sink of the top, flat elastic plate', (a) => a.sinkMm);

/** Modes by number. */
export const modeTones: Figure<TopAnswer['modes']> = figure({
  id: 'structure.mode',
  unit: 'Hz',
  label: 'Resonance of the top without the air',
  formula: 'lowest modes of the plate, rim hinged',
  source: 'clough-tocher',
  from: { modes: topModes },
  compute: ({ modes }) => modes,
  members: (modes) =>
    modes.map((m, i) => ({ key: `${i + 1}`, label: `Mode ${i + 1}, ${m.name}`, value: m.frequencyHz })),
  plainer: input('air.bare_top'),
});

const shareFigure = (
  id: string,
  unit: Figure['unit'],
  label: string,
  formula: string,
  pick: (s: BarShares, b: number) => number,
): Figure<readonly BarNumber[]> =>
  figure({
    id,
    unit,
    label,
    formula,
    source: 'clough-tocher',
    from: { all: shares },
    compute: ({ all }) => all.ids.map((barId, b) => ({ id: barId, value: pick(all, b) })),
    members: barMembers(label),
  });
/** Part of the strings' work in each brace. */
export const braceShare = shareFigure(
  'structure.brace.share',
  'fraction',
  'Share of the brace in carrying the strings',
  'work stored in the brace / work of the strings',
  (s, b) => s.bars[b]?.energyFrac ?? 0,
);
/** What carving does. */
export const tiltPerMm = shareFigure(
  'structure.brace.tilt_per_mm',
  'deg',
  'More slope when 1 mm is carved off the brace, flat elastic plate',
  'slope with the brace 1 mm lower - slope as drawn',
  (s, b) => (s.bars[b]?.carvedReading ?? s.reading) - s.reading,
);

/** Stress in each brace. */
export const braceStress: Figure<readonly BarNumber[]> = figure({
  id: 'structure.brace.stress',
  unit: 'MPa',
  label: 'Largest stress in the brace from the strings',
  formula: 'modulus x strain at the free face or at the glue; bending and stretching',
  source: 'clough-tocher',
  from: { loaded },
  compute: ({ loaded: l }) => l.stresses,
  members: barMembers('Largest stress'),
});
/** The worst of them, as on the box. */
export const worstStress: Figure<number> = figure({
  id: 'structure.brace.stress.most',
  unit: 'MPa',
  label: 'Largest stress in any brace',
  formula: 'largest of the stresses of the braces; creep and what gives beside the top add slope, not stress',
  source: 'clough-tocher',
  from: { list: braceStress },
  compute: ({ list }) => Math.max(0, ...list.map((b) => b.value)),
});
/** What a brace may carry. */
export const allowedStress: Figure<number> = figure({
  id: 'structure.brace.stress.allowed',
  unit: 'MPa',
  label: 'Stress a brace may carry for years',
  formula: 'modulus of rupture at 12 % (Sitka spruce, Table 5-3b) / safety factor',
  source: 'wood-handbook',
  from: { ruptureMPa: braceWood.rupture, safety: braceWood.safety },
  compute: ({ ruptureMPa, safety }) => ruptureMPa / safety,
});

const withTop: Figure<AirWithTop> = figure({
  id: 'structure.air',
  unit: 'shape',
  label: 'Air and the computed top together',
  formula:
    'two masses on the spring of the air; the piston is the mode that moves most air, not an assumed one',
  source: 'christensen-vistisen-1980',
  from: { box: airBox, modes: topModes },
  compute: ({ box, modes }) =>
    airWithTop(box, modes) ??
    finding({
      code: 'no-piston',
      level: 'blocked',
      text: 'None of the first three modes of the top moves air; check the outline and the braces.',
    }),
});
const airTone = (id: string, label: string, pick: (t: AirWithTop) => number): Figure<number> =>
  figure({
    id,
    unit: 'Hz',
    label,
    formula:
      'air and computed top together; back and sides stand still, real boxes read 8 to 15 % lower in the low one',
    source: 'christensen-vistisen-1980',
    from: { tones: withTop },
    compute: ({ tones }) => pick(tones),
    plainer: input('air.bare_top'),
  });
/** Lower tone with the computed top. */
export const airLow = airTone('structure.air.low', 'Main air tone with the computed top', (t) => t.lowHz);
/** Upper tone with the computed top. */
export const airHigh = airTone('structure.air.high', 'Main top tone with the computed top', (t) => t.highHz);

/** Figures of the structure. */
export const structureFigures: readonly Figure[] = [
  ...topWoodFigures,
  topInput,
  loaded,
  topModes,
  shares,
  tiltByBeam,
  plateTilt,
  boxFactor,
  boxTilt,
  creptTilt,
  marginLow,
  marginHigh,
  lift,
  sink,
  modeTones,
  braceShare,
  tiltPerMm,
  braceStress,
  worstStress,
  allowedStress,
  withTop,
  airLow,
  airHigh,
];

/** Rules over dear figures; judged only when the structure is asked for. */
export const structureRules: readonly Rule[] = [
  {
    id: 'structure-bridge-tilt',
    label: 'Bridge slope under the strings in the band',
    subject: boxTilt,
    hard: { low: tilt.low, high: tilt.high },
    soft: { low: tilt.aimLow, high: tilt.aimHigh },
    why: 'A top that tilts more is too weak for its strings and creeps further each year, one that tilts less is stiff and quiet; creep is allowed for with half as much again.',
    remedies: [mend('top.thickness.final', undefined, 0.05), mend('brace.x.height', undefined, 0.5)],
    source: practice,
    place: 'bridge',
  },
  {
    id: 'structure-brace-stress',
    label: 'Braces strong enough for years under strings',
    subject: worstStress,
    hard: { high: allowedStress },
    why: 'A brace stressed beyond a quarter of its strength may crack or come loose after years of steady load, damp and a fall.',
    remedies: [mend('brace.x.height', undefined, 0.5), mend('top.thickness.final', 'more', 0.05)],
    source: practice,
    place: 'braces',
  },
];

/** Edge of the coarse mesh, as a part of the width of the top: enough to seek a remedy or to follow a slider. */
const coarseRatio = 1 / 15;

/**
 * The same top with a mesh that is quick to solve.
 *
 * @returns edges of a fifteenth of the width; tilt within about 5 % of the fine mesh
 * @source  arithmetic
 */
export function coarseTop(top: TopInput): TopInput {
  const xs = top.outlineMm.map(([x]) => x);
  return { ...top, meshMm: Math.round((Math.max(...xs) - Math.min(...xs)) * coarseRatio) };
}

/** Dear figures on a coarse mesh and only what the rules read: for seeking a remedy. The others stay pending. */
export const coarseDear = (f: Figure, values: readonly unknown[]): unknown =>
  f.id === loaded.id ? loaded.compute([coarseTop(values[0] as TopInput)]) : undefined;
