import type { PlateShapes } from '../../mechanics/plate/plate-problem.ts';

const places = 60;

/** Deflection along the centre line from the neck end to the tail: [place 0..1, mm] where there is wood. */
export function centreProfile(shapes: PlateShapes, values: Float64Array): (readonly [number, number])[] {
  const { xMm, yMm, triangle } = shapes;
  const low = Math.min(...xMm);
  const high = Math.max(...xMm);
  const out: (readonly [number, number])[] = [];
  for (let k = 0; k <= places; k++) {
    const x = low + ((high - low) * k) / places;
    const w = valueAt(x);
    if (w !== undefined) out.push([k / places, w]);
  }
  return out;

  function valueAt(x: number): number | undefined {
    for (let t = 0; t < triangle.length; t += 3) {
      const [a, b, c] = [triangle[t] as number, triangle[t + 1] as number, triangle[t + 2] as number];
      const det =
        ((xMm[b] as number) - (xMm[a] as number)) * ((yMm[c] as number) - (yMm[a] as number)) -
        ((xMm[c] as number) - (xMm[a] as number)) * ((yMm[b] as number) - (yMm[a] as number));
      const [dx, dy] = [x - (xMm[a] as number), 0 - (yMm[a] as number)];
      const u =
        (dx * ((yMm[c] as number) - (yMm[a] as number)) - dy * ((xMm[c] as number) - (xMm[a] as number))) /
        det;
      const v =
        (dy * ((xMm[b] as number) - (xMm[a] as number)) - dx * ((yMm[b] as number) - (yMm[a] as number))) /
        det;
      if (u < -1e-6 || v < -1e-6 || u + v > 1 + 1e-6) continue;
      return (1 - u - v) * (values[a] as number) + u * (values[b] as number) + v * (values[c] as number);
    }
    return undefined;
  }
}

/** Lift and sink along the centre line, drawn many times too tall. */
export function Profile(props: {
  readonly shapes: PlateShapes;
  readonly values: Float64Array;
  readonly words: string;
}) {
  const line = centreProfile(props.shapes, props.values);
  const most = Math.max(0.01, ...line.map(([, w]) => Math.abs(w)));
  const x = (part: number) => 10 + part * 340;
  const y = (w: number) => 60 - (w / most) * 44;
  const runs: (readonly [number, number])[][] = [];
  line.forEach((point, i) => {
    const before = line[i - 1];
    if (!before || point[0] - before[0] > 1.5 / places) runs.push([]);
    runs.at(-1)?.push(point);
  });
  return (
    <svg viewBox="0 0 360 124" role="img" aria-label={props.words} className="profile">
      <line x1="10" x2="350" y1="60" y2="60" className="p-zero" />
      {runs.map((run) => (
        <polyline
          key={run[0]?.[0]}
          points={run.map(([part, w]) => `${x(part).toFixed(1)},${y(w).toFixed(1)}`).join(' ')}
          className="p-line"
        />
      ))}
      <text x="10" y="120" className="p-text">
        neck end
      </text>
      <text x="350" y="120" textAnchor="end" className="p-text">
        tail
      </text>
    </svg>
  );
}
