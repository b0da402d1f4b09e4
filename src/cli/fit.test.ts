import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { outlineChecks } from '../../test/support/outline-checks.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { fitOutline, outlineInputs } from '../figures/fit-outline.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { numberOf } from '../graph/sheet.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { readTemplate } from '../pattern/read-template.ts';
import { fitOutlineCommand, fittedPatternText } from './fit.ts';

const typed = 'the numbers the curve was drawn from';
let folder = '';
beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'fit-'));
});
afterAll(() => {
  fs.rmSync(folder, { recursive: true });
});

type Name = (typeof STARTING)[number];
type XY = readonly [number, number];

/** All eight pieces of an outline round the body, in mm. */
function loopOf(name: Name): readonly (readonly XY[])[] {
  const treble = outlineChecks[name].bezierMm;
  const bass = [...treble].reverse().map((piece) => [...piece].reverse().map(([x, y]): XY => [-x, y]));
  return [...treble, ...bass];
}

const svgOf = (name: Name, attributes: string, matrix = ''): string => {
  const loop = loopOf(name);
  const c = loop
    .map(
      (p) =>
        `C${p
          .slice(1)
          .map((q) => q.join(' '))
          .join(' ')}`,
    )
    .join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}><g transform="${matrix}"><path d="M0 0${c}Z"/><circle cx="0" cy="140" r="49"/></g></svg>`;
};

const dxfOf = (name: Name, unitCode: number, perUnit: number): string => {
  const splines = loopOf(name).map((piece) =>
    [
      '0\nSPLINE\n71\n3',
      ...[0, 0, 0, 0, 1, 1, 1, 1].map((k) => `40\n${k}`),
      ...piece.map(([x, y]) => `10\n${x / perUnit}\n20\n${-y / perUnit}`),
    ].join('\n'),
  );
  return `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n${unitCode}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${splines.join('\n')}\n0\nENDSEC\n0\nEOF\n`;
};

function expectFitted(text: string, file: string, name: Name): void {
  const fit = fitOutline(readTemplate(text, { file }));
  expect(fit.largestMm).toBeLessThan(0.1);
  for (const [id, value] of outlineInputs(fit.numbers)) {
    const wanted = startingPattern(name).numbers.get(id) as number;
    expectClose(value, wanted, { tol: id.endsWith('radius') ? 0.03 * wanted : 0.25, source: typed });
  }
}

describe('a template drawn as a closed curve', () => {
  it('gives its numbers back from SVG in mm, moved and turned', () => {
    const size = 'width="700mm" height="700mm" viewBox="0 0 700 700"';
    for (const name of STARTING) expectFitted(svgOf(name, size, 'translate(300 80)'), 'a.svg', name);
    expectFitted(svgOf('nylon-string', size, 'translate(600 300) rotate(92)'), 'b.svg', 'nylon-string');
  });
  it('gives its numbers back from SVG in units of 1/96 in', () => {
    expectFitted(svgOf('tenor-ukulele', '', `scale(${96 / 25.4})`), 'c.svg', 'tenor-ukulele');
  });
  it('gives its numbers back from DXF splines, in mm, in inches and without a unit', () => {
    expectFitted(dxfOf('small-steel-string', 4, 1), 'd.dxf', 'small-steel-string');
    expectFitted(dxfOf('small-steel-string', 1, 25.4), 'e.dxf', 'small-steel-string');
    expectFitted(dxfOf('nylon-string', 0, 25.4), 'f.dxf', 'nylon-string');
  });
  it('is asked about when the file holds two curves of body size, and chosen by number', () => {
    const size = 'width="700mm" height="700mm" viewBox="-350 -50 700 700"';
    const inner = svgOf('small-steel-string', size);
    const outer = inner.replace(/<svg[^>]*>/, '').replace('transform=""', 'transform="scale(1.02)"');
    const both = inner.replace('</svg>', outer);
    expect(() => readTemplate(both, { file: 'k.svg' })).toThrow(
      /2 closed curves of body size, 489\.6, 480\.0 mm long; .* --curve 1 to 2/,
    );
    expectClose(readTemplate(both, { file: 'k.svg', curve: 2 }).lengthMm, 480, { tol: 0.01, source: typed });
    expect(() => readTemplate(both, { file: 'k.svg', curve: 3 })).toThrow(/--curve is 3/);
  });
  it('is refused in one sentence when one side is cut away, when open or of another size', () => {
    const loop = loopOf('small-steel-string');
    const [x, y] = [60, 150];
    const cut = `M0 0L${x} 0L${x} ${y}L118 178${loop
      .slice(2)
      .map(
        (p) =>
          `C${p
            .slice(1)
            .map((q) => q.join(' '))
            .join(' ')}`,
      )
      .join('')}Z`;
    const size = 'width="700mm" height="700mm" viewBox="-350 -50 700 700"';
    expect(() =>
      fitOutline(readTemplate(`<svg ${size}><path d="${cut}"/></svg>`, { file: 'g.svg' })),
    ).toThrow(/a cutaway cannot be fitted/);
    expect(() => readTemplate('<svg><path d="M0 0L10 10"/></svg>', { file: 'h.svg' })).toThrow(
      /no closed curve/,
    );
    expect(() => readTemplate('<svg><rect width="10" height="20"/></svg>', { file: 'i.svg' })).toThrow(
      /outside 150 to 700/,
    );
    expect(() => readTemplate('hello', { file: 'j.dxf' })).toThrow(/no DXF/);
  });
});

describe('the pattern of a fitted template', () => {
  const rows = (name: Name, bumpMm = 0): string =>
    `${outlineChecks[name].stationsMm
      .map(([y, x]) => `${y}, ${(x + bumpMm * Math.exp(-(((y - 260) / 25) ** 2))).toFixed(2)}`)
      .join('\n')}\nlength, ${startingPattern(name).numbers.get('body.length')}\n`;

  it('begins from the nearest starting pattern and marks the fitted numbers as the own', () => {
    for (const name of STARTING) {
      const fit = fitOutline(readTemplate(rows(name), { file: 'a.csv' }));
      const pattern = readPattern(fittedPatternText(fit, 'Template 3', false));
      expect(pattern.name).toBe('Template 3');
      expect(pattern.instrument).toBe(startingPattern(name).instrument);
      expect(pattern.mine.has('body.waist.radius')).toBe(true);
      expect(pattern.mine.has('scale.length')).toBe(false);
      expectClose(
        numberOf(sheetOfPattern(pattern), 'outline.half_perimeter'),
        outlineChecks[name].halfPerimeterMm,
        {
          tol: 0.3,
          source: typed,
        },
      );
    }
  });

  it('keeps the own outline when asked, and it drives the figures', () => {
    const file = path.join(folder, 'bump.csv');
    const out = path.join(folder, 'bump.yaml');
    fs.writeFileSync(file, rows('small-steel-string', 3));
    expect(fitOutlineCommand(file, { json: true, out, own: true })).toBe(0);
    const pattern = readPattern(fs.readFileSync(out, 'utf8'));
    expect(pattern.ownOutline).toHaveLength(outlineChecks['small-steel-string'].stationsMm.length);
    const sheet = sheetOfPattern(pattern);
    const [y, x] = outlineChecks['small-steel-string'].stationsMm.find(([at]) => at === 250) as [
      number,
      number,
    ];
    expectClose(numberOf(sheet, `outline.half_width.${y}`), x + 3 * Math.exp(-0.16), {
      tol: 0.02,
      source: typed,
    });
    expect(numberOf(sheet, 'outline.area')).toBeGreaterThan(outlineChecks['small-steel-string'].areaCm2 + 1);
  });

  it('writes nothing when the template is refused', () => {
    const file = path.join(folder, 'few.csv');
    const out = path.join(folder, 'few.yaml');
    fs.writeFileSync(file, '10, 69\n30, 107\n50, 126\n');
    expect(() => fitOutlineCommand(file, { json: true, out })).toThrow(/3 measured half widths/);
    expect(fs.existsSync(out)).toBe(false);
  });
});
