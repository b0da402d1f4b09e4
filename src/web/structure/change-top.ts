import type { TopBar, TopInput } from '../../mechanics/top-problem.ts';

/** What the sliders stand at. */
export interface TopChange {
  readonly thicknessMm: number;
  /** Height of a brace by its id; a brace left out stays as drawn. */
  readonly heightsMm: ReadonlyMap<string, number>;
}

/** A brace carved to another height; its ends stay as low as they are. */
export function carvedTo(bar: TopBar, heightMm: number): TopBar {
  return {
    ...bar,
    heightMm,
    ...(bar.heightsMm
      ? {
          heightsMm: bar.heightsMm.map(
            ([at, mm]) => [at, mm === bar.heightMm ? heightMm : Math.min(mm, heightMm)] as const,
          ),
        }
      : {}),
  };
}

/** The top with the sliders' thickness and heights. */
export function changedTop(top: TopInput, change: TopChange): TopInput {
  return {
    ...top,
    thicknessMm: change.thicknessMm,
    bars: top.bars.map((bar) => {
      const heightMm = change.heightsMm.get(bar.id);
      return heightMm === undefined ? bar : carvedTo(bar, heightMm);
    }),
  };
}
