import { raisedBars } from '../../course/plate-bars.ts';
import { swellingOf } from '../../figures/season.ts';
import { coarseTop } from '../../figures/structure.ts';
import { analysePlate } from '../../mechanics/plate/analyse-plate.ts';
import { barShares } from '../../mechanics/plate/bar-shares.ts';
import { readTopAnswer } from '../../mechanics/top-answer.ts';
import { type TopInput, topProblem } from '../../mechanics/top-problem.ts';
import { InputError } from '../../quantity/input-error.ts';
import { equalTiltThicknessMm } from '../../wood/board-thickness.ts';
import type { Ask, SolvedTop, Told } from './messages.ts';

const tell = (told: Told): void => self.postMessage(told);

/** Words and how far along each stage begins. */
const stages: Readonly<Record<string, readonly [string, number]>> = {
  mesh: ['laying the mesh', 0.02],
  assemble: ['adding up the stiffness', 0.1],
  factor: ['solving', 0.2],
  static: ['loading the strings', 0.3],
  modes: ['finding the resonances', 0.35],
};

function solve(id: number, top: TopInput, fineness: 'coarse' | 'fine'): SolvedTop {
  const isFine = fineness === 'fine';
  const made = topProblem(isFine ? top : { ...coarseTop(top), modes: 1 });
  const answer = analysePlate(made.problem, {
    withShapes: true,
    onStage: (stage) => {
      const [words, partFrac] = stages[stage] ?? [stage, 0.4];
      tell({ kind: 'stage', id, stage: words, partFrac });
    },
  });
  if (isFine) tell({ kind: 'stage', id, stage: 'carving each brace in turn', partFrac: 0.55 });
  const shares = isFine ? barShares(made.problem, 1) : undefined;
  const read = readTopAnswer(made, answer, shares);
  if (!answer.shapes) throw new Error('the analysis gave no shapes');
  const { shapes } = answer;
  return {
    fineness,
    answer: read,
    braces: read.braces,
    shapes,
    middleYMm: made.middleYMm,
    unknownCount: answer.unknowns,
  };
}

self.addEventListener('message', ({ data }: MessageEvent<Ask>) => {
  try {
    if (data.kind === 'top') {
      tell({ kind: 'top', id: data.id, solved: solve(data.id, data.top, data.fineness) });
      return;
    }
    if (data.kind === 'bars') {
      tell({ kind: 'stage', id: data.id, stage: 'trying bar heights with the whole top', partFrac: 0.2 });
      const thin = { ...data.thin, drawn: coarseTop(data.thin.drawn) };
      tell({ kind: 'bars', id: data.id, bars: raisedBars(thin) });
      return;
    }
    if (data.kind === 'swelling') {
      tell({ kind: 'stage', id: data.id, stage: 'letting the wood swell', partFrac: 0.2 });
      tell({ kind: 'swelling', id: data.id, responses: swellingOf(data.top, data.domeRadiusMm) });
      return;
    }
    tell({ kind: 'stage', id: data.id, stage: 'trying thicknesses with the whole top', partFrac: 0.2 });
    const thicknessMm = equalTiltThicknessMm(coarseTop(data.top), data.reference, data.material);
    tell({ kind: 'board', id: data.id, thicknessMm });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    tell({ kind: 'refused', id: data.id, sentence: error.message });
  }
});
