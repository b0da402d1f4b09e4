import { analysePlate } from './plate/analyse-plate.ts';
import { checkPlateProblem } from './plate/check-plate-problem.ts';
import type { PlateSwelling } from './plate/plate-problem.ts';
import { type TopInput, topProblem } from './top-problem.ts';

/** Free growth of each wood of a top, as a part of its length; + grows. */
export interface TopGrowth {
  readonly topAcrossFrac: number;
  readonly topAlongFrac: number;
  /** Braces along their length. */
  readonly bracesFrac: number;
  /** Bridge and bridge plate, whose grain lies across the top. */
  readonly bridgeAlongGrainFrac: number;
  readonly bridgeAcrossGrainFrac: number;
}

/** How far the saddle comes up, mm, for a free growth of 1 of each wood alone. */
export type SaddleResponse = Readonly<Record<keyof TopGrowth, number>>;

/** The growth of one wood with which the response is computed. */
const sampleFrac = 0.001;

/**
 * What the swelling of each wood does at the bridge of a top: it is a load of the plate engine.
 *
 * @param top           the top in the frame of the pattern
 * @param domeRadiusMm  radius of its dome; undefined for a flat top
 * @param rim           whether the sides let the top grow in its plane (`free`) or hold it (`held`)
 * @returns             mm of rise for a growth of 1
 * @assumes             small movements; linear, so growths add up; the rim does not rise or fall; no creep
 * @throws InputError when the top is no plate
 * @source              timoshenko-bimetal
 */
export function saddleResponse(
  top: TopInput,
  domeRadiusMm: number | undefined,
  rim: 'free' | 'held',
): SaddleResponse {
  const { problem, middleYMm } = topProblem({ ...top, modes: 0 });
  const atMm = [top.bridge.centreMm[1] - middleYMm, top.bridge.centreMm[0]] as const;
  const one = (part: Partial<Omit<PlateSwelling, 'kind' | 'atMm'>>): PlateSwelling => ({
    kind: 'swelling',
    atMm,
    plateFrac: [0, 0],
    barsFrac: 0,
    layersFrac: [0, 0],
    ...part,
  });
  const g = sampleFrac;
  const answer = analysePlate(
    checkPlateProblem({
      ...problem,
      plate: { ...problem.plate, ...(domeRadiusMm === undefined ? {} : { domeRadiusMm }) },
      support: { ...problem.support, inPlane: rim === 'free' ? 'free' : 'pinned' },
      loads: [
        one({ plateFrac: [0, g] }),
        one({ plateFrac: [g, 0] }),
        one({ barsFrac: g }),
        one({ layersFrac: [0, g] }),
        one({ layersFrac: [g, 0] }),
      ],
    }),
  );
  const per = (k: number) => answer.loads[k]!.deflectionMm / g;
  return {
    topAcrossFrac: per(0),
    topAlongFrac: per(1),
    bracesFrac: per(2),
    bridgeAlongGrainFrac: per(3),
    bridgeAcrossGrainFrac: per(4),
  };
}

/** How far the saddle comes up for growths of all woods together, mm. */
export function saddleRiseMm(response: SaddleResponse, growth: TopGrowth): number {
  return (Object.keys(growth) as (keyof TopGrowth)[]).reduce(
    (sum, key) => sum + response[key] * growth[key],
    0,
  );
}
