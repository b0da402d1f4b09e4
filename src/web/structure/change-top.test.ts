import { describe, expect, it } from 'vitest';
import type { TopBar, TopInput } from '../../mechanics/top-problem.ts';
import { changedTop } from './change-top.ts';

const spruce = {
  eAlongMPa: 11_000,
  eAcrossMPa: 850,
  shearMPa: 750,
  poissonAlongAcross: 0.37,
  densityKgPerM3: 420,
};
const bar = (id: string, x: number): TopBar => ({
  id,
  fromMm: [x, 150],
  toMm: [x, 260],
  widthMm: 6,
  heightMm: 10,
  heightsMm: [
    [0, 3],
    [0.3, 10],
    [0.7, 10],
    [1, 3],
  ],
  eMPa: 11_000,
  shearMPa: 700,
  densityKgPerM3: 420,
});
const top: TopInput = {
  outlineMm: [
    [-100, 0],
    [100, 0],
    [100, 300],
    [-100, 300],
  ],
  thicknessMm: 2.8,
  wood: spruce,
  bars: [bar('treble', 30), bar('bass', -30)],
  bridge: { centreMm: [0, 200], acrossMm: 100, alongMm: 24, thicknessMm: 5, wood: spruce },
  tensionN: 300,
  stringHeightMm: 10,
  rim: 'hinged',
  modes: 4,
};
const heightsOf = (now: TopInput, id: string) =>
  now.bars.find((b) => b.id === id)?.heightsMm?.map(([, mm]) => mm);

describe('sliders of the structure page', () => {
  it('change one brace and the thickness, and nothing else', () => {
    const now = changedTop(top, { thicknessMm: 2.6, heightsMm: new Map([['bass', 8]]) });
    expect(now.thicknessMm).toBe(2.6);
    expect(now.bars[1]?.heightMm).toBe(8);
    expect(heightsOf(now, 'bass')).toEqual([3, 8, 8, 3]);
    expect(now.bars[0]).toEqual(top.bars[0]);
  });
  it('a brace carved below its ends has no ends that stand higher', () => {
    const now = changedTop(top, { thicknessMm: 2.6, heightsMm: new Map([['bass', 2]]) });
    expect(heightsOf(now, 'bass')).toEqual([2, 2, 2, 2]);
  });
});
