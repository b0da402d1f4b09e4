import type { BoundsMm } from '../../../drawing/model.ts';

/** The 10 mm grid, true to scale, every fifth line a little stronger; coarser when it would be too dense. */
export function Grid({ seen, mmPerPx }: { readonly seen: BoundsMm; readonly mmPerPx: number }) {
  const step = [10, 50, 100].find((mm) => mm / mmPerPx >= 6) ?? 500;
  const lines = (everyMm: number) => {
    const parts: string[] = [];
    for (let x = Math.ceil(seen.minX / everyMm) * everyMm; x <= seen.maxX; x += everyMm)
      parts.push(`M${x} ${seen.minY}V${seen.maxY}`);
    for (let y = Math.ceil(seen.minY / everyMm) * everyMm; y <= seen.maxY; y += everyMm)
      parts.push(`M${seen.minX} ${y}H${seen.maxX}`);
    return parts.join('');
  };
  return (
    <g>
      <path className="grid10" d={lines(step)} />
      <path className="grid50" d={lines(step * 5)} />
    </g>
  );
}
