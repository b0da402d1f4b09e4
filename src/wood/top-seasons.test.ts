import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import type { TopInput } from '../mechanics/top-problem.ts';
import { isFinding } from '../quantity/finding.ts';
import { findSpecies } from './species.ts';
import { saddleRiseMm } from './top-season.ts';
import { seasonField, topSeason } from './top-seasons.ts';

const wood = {
  eAlongMPa: 11_000,
  eAcrossMPa: 850,
  shearMPa: 750,
  poissonAlongAcross: 0.372,
  densityKgPerM3: 420,
};
const bar = { widthMm: 8, heightMm: 12, eMPa: 11_000, shearMPa: 690, densityKgPerM3: 420 };
/** A rectangle of 480 x 370 with a hole, an X and a bar before the hole. */
const top: TopInput = {
  outlineMm: [
    [-185, 0],
    [185, 0],
    [185, 480],
    [-185, 480],
  ],
  hole: { centreMm: [0, 150], radiusMm: 49 },
  thicknessMm: 2.8,
  wood,
  bars: [
    { ...bar, id: 'X-bass', fromMm: [-170, 60], toMm: [170, 420] },
    { ...bar, id: 'X-treble', fromMm: [170, 60], toMm: [-170, 420] },
    { ...bar, id: 'tone-1', fromMm: [40, 340], toMm: [-120, 430] },
    { ...bar, id: 'tone-2', fromMm: [150, 390], toMm: [-60, 460] },
    { ...bar, id: 'upper', fromMm: [-170, 60], toMm: [170, 60] },
  ],
  bridge: { centreMm: [0, 330], acrossMm: 152, alongMm: 32, thicknessMm: 7, wood },
  tensionN: 680,
  stringHeightMm: 12,
  rim: 'hinged',
  modes: 3,
};
const room = (humidityFrac: number) => ({ tempC: 20, humidityFrac });

describe('the field behind the hole', () => {
  it('begins at the edge of the hole, is as wide as the top and holds the pieces of the bars behind it', () => {
    const field = seasonField(top);
    expectClose(field.alongMm, 480 - 199, { tol: 1e-9, source: 'plane-geometry' });
    expectClose(field.acrossMm, 370, { tol: 1e-9, source: 'plane-geometry' });
    // legs and tone bars; the upper bar lies before the hole
    expect(field.bars).toHaveLength(4);
    // a leg from y 60 to 420 lies behind 199 with 221/360 of its length of 495.2
    expectClose(field.bars[0]?.lengthMm, (495.18 * 221) / 360, { tol: 0.01, source: 'plane-geometry' });
    expectClose(field.bars[0]?.angleToAcrossRad, Math.atan2(360, 340), {
      tol: 1e-9,
      source: 'plane-geometry',
    });
    expectClose(field.saddleAtFrac, (330 - 199) / 281, { tol: 1e-9, source: 'plane-geometry' });
  });
});

describe('a ladder bar', () => {
  const at = (yMm: number) =>
    saddleRiseMm(
      seasonField({ ...top, bars: [{ ...bar, id: 'ladder', fromMm: [-170, yMm], toMm: [170, yMm] }] }),
      0.003,
    );

  it('holds the field in its middle, and hardly so just behind the hole (where the whole bar was counted once)', () => {
    expect(at(199 + 140)).toBeGreaterThan(5 * at(199 + 10));
  });
});

describe('a top from the shop into a dry winter and a damp summer', () => {
  const spruce = findSpecies('spruce-sitka');
  const go = (toFrac: number) => {
    const season = topSeason(top, spruce, room(0.45), room(toFrac));
    if (isFinding(season)) throw new Error(season.text);
    return season;
  };

  it('shrinks 1.26 mm at 30 % and swells 1.38 mm at 60 %, 370 wide', () => {
    expectClose(go(0.3).acrossMm, -1.26, { tol: 0.03, source: 'wood-handbook' });
    expectClose(go(0.6).acrossMm, 1.38, { tol: 0.03, source: 'wood-handbook' });
    expect(Math.abs(go(0.3).alongMm)).toBeLessThan(0.2);
  });

  it('the saddle falls in the dry and rises in the damp, as the field says', () => {
    const dry = go(0.3);
    expect(dry.saddleMm).toBeLessThan(0);
    expect(go(0.6).saddleMm).toBeGreaterThan(0);
    expectClose(dry.saddleMm, saddleRiseMm(seasonField(top), dry.acrossMm / 370), {
      tol: 1e-9,
      source: 'arithmetic',
    });
  });

  it('dry wood is stiffer and lighter: equation (5-3) from 1.57 and 1.23 million lbf/in2, Mp 27 %', () => {
    const dry = go(0.3);
    const expected = (1.57 / 1.23) ** ((dry.fromMoistureFrac - dry.toMoistureFrac) / (0.27 - 0.12));
    expectClose(dry.modulusRatio as number, expected, { tol: 0.001, source: 'wood-handbook' });
    expect(dry.densityRatio).toBeLessThan(1);
    expect(dry.rest.low).toBeGreaterThan(0.5);
    expect(dry.rest.high).toBeLessThan(3.5);
  });
});
