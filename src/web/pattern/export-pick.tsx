import { useState } from 'react';
import type { Drawing } from '../../drawing/model.ts';
import { useKept } from '../keeping/kept.ts';
import { askPrint, PAPERS, type Paper } from '../keeping/prints.ts';

type Format = 'svg' | 'dxf';

const MIME: Readonly<Record<Format, string>> = { svg: 'image/svg+xml', dxf: 'image/vnd.dxf' };

/** The writers are loaded when they are first needed. */
async function written(drawing: Drawing, format: Format): Promise<string> {
  if (format === 'svg') return (await import('../../output/svg.ts')).drawingToSvg(drawing);
  return (await import('../../output/dxf.ts')).drawingToDxf(drawing);
}

function handOver(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

const fileName = (patternName: string, what: string, ending: string): string =>
  `${patternName}-${what}.${ending}`.toLowerCase().replaceAll(/[^a-z0-9.]+/g, '-');

/** Takes the drawing out: true curves in mm as SVG or DXF, full scale on paper, cards, the page itself. */
export function ExportPick(props: {
  readonly drawing: Drawing;
  readonly patternName: string;
  readonly revisionName: string;
  /** YAML of what is on the page, draft included. */
  readonly patternText: () => string;
}) {
  const { drawing, patternName } = props;
  const { isReached } = useKept();
  const [says, setSays] = useState('');
  const [paper, setPaper] = useState<Paper>('letter');
  const [printed, setPrinted] = useState('100');
  const attempt = async (what: string, work: () => Promise<string>) => {
    setSays(`Writing ${what}.`);
    try {
      setSays(await work());
    } catch (error) {
      setSays(error instanceof Error ? error.message : String(error));
    }
  };
  const takeFile = (format: Format) =>
    attempt('the drawing', async () => {
      const name = fileName(patternName, drawing.id, format);
      handOver(name, new Blob([await written(drawing, format)], { type: MIME[format] }));
      return `Wrote ${name}`;
    });
  const takePaper = (what: string) =>
    attempt('the print', async () => {
      const printedMm = Number(printed.replace(',', '.'));
      if (!(printedMm >= 50 && printedMm <= 150))
        throw new Error(
          `The 100 mm line is "${printed}"; type what a rule shows for it on your print, between 50 and 150 mm.`,
        );
      const pdf = await askPrint({
        text: props.patternText(),
        what,
        paper,
        revision: props.revisionName,
        printedMm,
      });
      const name = fileName(patternName, what, 'pdf');
      handOver(name, pdf);
      return `Wrote ${name}. Print it at 100 %, not fitted to the page, and measure its check line first.`;
    });
  return (
    <details className="layers export">
      <summary className="btn sm">Take out</summary>
      <div className="laylist">
        <button type="button" className="btn sm" onClick={() => takeFile('svg')}>
          This drawing as SVG, mm
        </button>
        <button type="button" className="btn sm" onClick={() => takeFile('dxf')}>
          This drawing as DXF, mm
        </button>
        <button type="button" className="btn sm" onClick={() => window.print()}>
          Print this page
        </button>
        <h3>Full scale on paper</h3>
        {isReached ? (
          <>
            <label>
              Paper
              <select
                className="pick"
                value={paper}
                onChange={(event) => setPaper(event.target.value as Paper)}
              >
                {PAPERS.map(({ value, words }) => (
                  <option key={value} value={value}>
                    {words}
                  </option>
                ))}
              </select>
            </label>
            <label>
              My printer makes 100 mm
              <input className="fld" value={printed} onChange={(event) => setPrinted(event.target.value)} />
            </label>
            <button type="button" className="btn sm" onClick={() => takePaper(drawing.id)}>
              This drawing as PDF
            </button>
            <button type="button" className="btn sm" onClick={() => takePaper('all')}>
              All drawings as PDF
            </button>
            <button type="button" className="btn sm" onClick={() => takePaper('cards')}>
              Setting cards as PDF
            </button>
          </>
        ) : (
          <p className="q">The server makes these; it is not reached now.</p>
        )}
        <p className="says" role="status">
          {says}
        </p>
      </div>
    </details>
  );
}
