import type { TopInput } from '../../mechanics/top-problem.ts';
import type { SolvedTop } from './messages.ts';

/** The braces on the top, the darker the more they carry. */
export function BracePicture(props: { readonly top: TopInput; readonly solved: SolvedTop | undefined }) {
  const { top, solved } = props;
  const xs = top.outlineMm.map(([x]) => x);
  const ys = top.outlineMm.map(([, y]) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const most = Math.max(0.001, ...(solved?.braces ?? []).map((b) => b.energyFrac));
  return (
    <svg
      viewBox={`${x0 - 4} ${y0 - 4} ${x1 - x0 + 8} ${y1 - y0 + 8}`}
      role="img"
      aria-label="Braces of the top, the darker the more they carry; the numbers stand beside"
      className="bracepic"
    >
      <polygon points={top.outlineMm.map((p) => p.join(',')).join(' ')} className="b-outline" />
      {top.hole ? (
        <circle
          cx={top.hole.centreMm[0]}
          cy={top.hole.centreMm[1]}
          r={top.hole.radiusMm}
          className="b-outline"
        />
      ) : null}
      {top.bars.map((bar) => {
        const share = solved?.braces.find((b) => b.id === bar.id)?.energyFrac ?? 0;
        return (
          <g key={bar.id}>
            <line
              x1={bar.fromMm[0]}
              y1={bar.fromMm[1]}
              x2={bar.toMm[0]}
              y2={bar.toMm[1]}
              strokeWidth={bar.widthMm}
              strokeOpacity={0.15 + (0.85 * share) / most}
              className="b-bar"
            />
          </g>
        );
      })}
    </svg>
  );
}

/** Height, share, effect of carving and stress of each brace, with a slider for the height. */
export function BraceTable(props: {
  readonly top: TopInput;
  readonly drawn: TopInput;
  readonly solved: SolvedTop | undefined;
  readonly boxFactor: number;
  readonly onHeight: (id: string, mm: number, isLive: boolean) => void;
}) {
  const { top, drawn, solved, boxFactor, onHeight } = props;
  return (
    <table className="braces">
      <caption className="q2">
        Share: part of the strings' work each brace stores. Carving: what 1 mm off the brace adds to the slope
        on the finished box.
      </caption>
      <thead>
        <tr>
          <th scope="col">Brace</th>
          <th scope="col">Height, mm</th>
          <th scope="col">Share</th>
          <th scope="col">Carve 1 mm off</th>
          <th scope="col">Stress</th>
        </tr>
      </thead>
      <tbody>
        {top.bars.map((bar) => {
          const share = solved?.braces.find((b) => b.id === bar.id);
          const asDrawn = drawn.bars.find((b) => b.id === bar.id)?.heightMm ?? bar.heightMm;
          return (
            <tr key={bar.id} data-brace={bar.id}>
              <th scope="row">{bar.id}</th>
              <td>
                <label className="slide">
                  <span className="n">{bar.heightMm.toFixed(1)}</span>
                  <input
                    type="range"
                    aria-label={`Height of ${bar.id}`}
                    min={Math.max(1, Math.round(asDrawn * 0.4))}
                    max={Math.round(asDrawn * 1.6)}
                    step={0.1}
                    value={bar.heightMm}
                    onChange={(e) => onHeight(bar.id, e.target.valueAsNumber, true)}
                    onPointerUp={(e) => onHeight(bar.id, e.currentTarget.valueAsNumber, false)}
                    onKeyUp={(e) => onHeight(bar.id, e.currentTarget.valueAsNumber, false)}
                  />
                </label>
              </td>
              <td className="n" data-label="share">
                {share ? `${(100 * share.energyFrac).toFixed(1)} %` : '...'}
              </td>
              <td className="n" data-label="1 mm off">
                {share ? `${(boxFactor * share.tiltPerMmDeg).toFixed(3)} deg` : '...'}
              </td>
              <td className="n" data-label="stress">
                {share ? `${share.stressMPa.toFixed(1)} MPa` : '...'}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
