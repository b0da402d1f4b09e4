import { useState } from 'react';
import type { Drawing } from '../../drawing/model.ts';
import { useKept } from '../keeping/kept.ts';

const PAPERS = [
  ['letter', 'Letter'],
  ['a4', 'A4'],
  ['a3', 'A3'],
  ['sheet', 'one sheet'],
] as const;

type Format = 'svg' | 'dxf';

const MIME: Readonly<Record<Format, string>> = { svg: 'image/svg+xml', dxf: 'image/vnd.dxf' };

/** The writers are loaded when they are first needed. */
async function written(drawing: Drawing, format: Format): Promise<string> {
  if (format === 'svg') return (await import('../../output/svg.ts')).drawingToSvg(drawing);
  return (await import('../../output/dxf.ts')).drawingToDxf(drawing);
}

function handOver(name: string, text: string, format: Format): void {
  const address = URL.createObjectURL(new Blob([text], { type: MIME[format] }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

const fileName = (patternName: string, drawing: Drawing, format: Format): string =>
  `${patternName}-${drawing.id}.${format}`.toLowerCase().replaceAll(/[^a-z0-9.]+/g, '-');

/** Takes the drawing out: true curves in mm as SVG or DXF, paper through the browser's own printing. */
export function ExportPick({
  drawing,
  patternId,
  patternName,
  isDraft,
}: {
  readonly drawing: Drawing;
  readonly patternId: string;
  readonly patternName: string;
  readonly isDraft: boolean;
}) {
  const { isReached } = useKept();
  const paper = (name: string) =>
    `/api/patterns/${encodeURIComponent(patternId)}/draw?what=${drawing.id}&format=pdf&paper=${name}`;
  const [says, setSays] = useState('');
  const take = async (format: Format) => {
    try {
      const name = fileName(patternName, drawing, format);
      handOver(name, await written(drawing, format), format);
      setSays(`Wrote ${name}`);
    } catch (error) {
      setSays(`The drawing could not be written: ${error instanceof Error ? error.message : String(error)}`);
    }
  };
  return (
    <details className="layers export">
      <summary className="btn sm">Take out</summary>
      <div className="laylist">
        <button type="button" className="btn sm" onClick={() => take('svg')}>
          This drawing as SVG, mm
        </button>
        <button type="button" className="btn sm" onClick={() => take('dxf')}>
          This drawing as DXF, mm
        </button>
        {isReached && (
          <p className="paperline">
            Full scale on paper{isDraft ? ', the saved revision' : ''}:{' '}
            {PAPERS.map(([name, words]) => (
              <a key={name} href={paper(name)} target="_blank" rel="noreferrer">
                {words}
              </a>
            ))}
          </p>
        )}
        <button type="button" className="btn sm" onClick={() => window.print()}>
          Print this page
        </button>
        <p className="says q" role="status">
          {says}
        </p>
      </div>
    </details>
  );
}
