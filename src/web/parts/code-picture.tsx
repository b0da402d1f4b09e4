import { qrModules } from '../../drawing/qr-code.ts';

/** White a reader needs around the squares, in squares. */
const RIM = 4;

/** A QR code on its own white ground, black in every theme: readers want it so. */
export function CodePicture({ words, label }: { readonly words: string; readonly label: string }) {
  const { sizeCount, isDark } = qrModules(words);
  const side = sizeCount + 2 * RIM;
  const rows = Array.from({ length: sizeCount }, (_, row) =>
    Array.from({ length: sizeCount }, (_, column) =>
      isDark(row, column) ? `M${column + RIM} ${row + RIM}h1v1h-1z` : '',
    ).join(''),
  );
  return (
    <svg className="code-picture" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label}>
      <path fill="#fff" d={`M0 0h${side}v${side}H0z`} />
      <path fill="#000" shapeRendering="crispEdges" d={rows.join('')} />
    </svg>
  );
}
