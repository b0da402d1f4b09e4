import { useState } from 'react';
import type { NamedShop } from '../../course/shop-of-record.ts';
import type { Drawing } from '../../drawing/model.ts';
import type { Shop } from '../../shop/shop.ts';
import { useKept } from '../keeping/kept.ts';
import { askPrint, PAPERS, type Paper } from '../keeping/prints.ts';
import { handOverFile } from '../parts/hand-over-file.ts';

type Format = 'svg' | 'dxf';

const MIME: Readonly<Record<Format, string>> = { svg: 'image/svg+xml', dxf: 'image/vnd.dxf' };

/** The writers are loaded when they are first needed. */
async function written(drawing: Drawing, format: Format): Promise<string> {
  if (format === 'svg') return (await import('../../output/svg.ts')).drawingToSvg(drawing);
  return (await import('../../output/dxf.ts')).drawingToDxf(drawing);
}

const fileName = (patternName: string, what: string, ending: string): string =>
  `${patternName}-${what}.${ending}`.toLowerCase().replaceAll(/[^a-z0-9.]+/g, '-');

/** What the shop's file says the printer makes of 100 mm. */
const printedPlain = (shop: Shop | undefined): string => {
  const { xMm, yMm } = shop?.printed100 ?? { xMm: 100, yMm: 100 };
  return xMm === yMm ? String(xMm) : `${xMm} across, ${yMm} along`;
};

/** Takes the drawing out: true curves in mm as SVG or DXF, full scale on paper, cards, the page itself. */
export function ExportPick(props: {
  readonly drawing: Drawing;
  readonly patternName: string;
  readonly revisionName: string;
  /** The shop of the record. */
  readonly shop: NamedShop | undefined;
  /** YAML of what is on the page, draft included. */
  readonly patternText: () => string;
}) {
  const { drawing, patternName } = props;
  const { isReached } = useKept();
  const [says, setSays] = useState('');
  const [picked, setPaper] = useState<Paper>();
  const [printed, setPrinted] = useState('');
  const shop = props.shop?.shop;
  const paper = picked ?? shop?.paper ?? 'letter';
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
      handOverFile(name, new Blob([await written(drawing, format)], { type: MIME[format] }));
      return `Wrote ${name}`;
    });
  const takePaper = (what: string) =>
    attempt('the print', async () => {
      const isTyped = printed.trim() !== '';
      const printedMm = Number(printed.replace(',', '.'));
      if (isTyped && !(printedMm >= 50 && printedMm <= 150))
        throw new Error(
          `The 100 mm line is "${printed}"; type what a rule shows for it on your print, between 50 and 150 mm.`,
        );
      const pdf = await askPrint({
        text: props.patternText(),
        what,
        paper,
        revision: props.revisionName,
        ...(isTyped ? { printedMm } : {}),
      });
      const name = fileName(patternName, what, 'pdf');
      handOverFile(name, pdf);
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
              <input
                className="fld"
                inputMode="decimal"
                placeholder={printedPlain(shop)}
                value={printed}
                onChange={(event) => setPrinted(event.target.value)}
              />
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
            <p className="q">
              {shop
                ? `Cards are set for the machines and jigs of ${shop.name}${props.shop?.isDemo ? ' (Demo)' : ''}.`
                : 'Cards take every machine as true and every jig as adjustable: the record knows no shop yet.'}
            </p>
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
