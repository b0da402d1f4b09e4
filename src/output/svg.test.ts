import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { expectGolden } from '../../test/support/golden.ts';
import { specimenDrawing } from '../../test/support/specimen-drawing.ts';
import { drawingOf } from '../drawing/assemble.ts';
import { PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import { circle, line, text } from '../drawing/model.ts';
import { drawingToSvg, svgLayers } from './svg.ts';
import { arcData, pathData } from './svg-path.ts';

describe('drawingToSvg', () => {
  it('is the pinned file, the same bytes each time', () => {
    const svg = drawingToSvg(specimenDrawing());
    expect(drawingToSvg(specimenDrawing())).toBe(svg);
    expectGolden(svg, 'specimen.svg');
  });

  it('is in mm: the size of the sheet is the size of its view box', () => {
    const svg = drawingToSvg(specimenDrawing());
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg)!;
    const [, , boxWidth, boxHeight] = /viewBox="(\S+ \S+) (\S+) (\S+)"/.exec(svg)!;
    expect([width, height]).toEqual([boxWidth, boxHeight]);
  });

  it('keeps true curves: cubics as C, the circle as a circle, no polygons', () => {
    const svg = drawingToSvg(specimenDrawing());
    expect(svg).toContain('C80 0 139 38 139 98');
    expect(svg).toContain('<circle cx="0" cy="142" r="49" data-key="hole.radius"/>');
    expect(svg).toContain('A6 6 0 0 1 76 278');
  });

  it('leaves the grid to the screen and has a class for every layer that is printed', () => {
    const svg = drawingToSvg(specimenDrawing());
    expect(svg).not.toContain('class="layer grid"');
    for (const layer of [
      'ghost',
      'hidden',
      'channel',
      'visible',
      'cut',
      'centre',
      'dimension',
      'accent',
      'text',
    ])
      expect(svg).toContain(`<g class="layer ${layer}">`);
  });

  it('writes words so that XML stays whole and fractions stay fractions', () => {
    const words = text('text', { x: 0, y: 0 }, 'A & B < "C" \u0007 3 15/16 in', 3);
    const svg = svgLayers([words], PRINT_DIMENSION_STYLE);
    expect(svg).toContain(
      'A &amp; B &lt; &quot;C&quot;   3<tspan class="fr" dx="0.486">15\u204416</tspan> in',
    );
  });

  it('says which input a handle drags', () => {
    const handle = { inputId: 'hole.centre', axis: 'y' } as const;
    const svg = svgLayers([circle('cut', { x: 0, y: 1 }, 2, { handle })], PRINT_DIMENSION_STYLE);
    expect(svg).toContain('data-input="hole.centre" data-axis="y"');
  });

  it('refuses a coordinate that is not a number', () => {
    const broken = line('cut', { x: Number.NaN, y: 0 }, { x: 1, y: 1 });
    expect(() => svgLayers([broken], PRINT_DIMENSION_STYLE)).toThrow('NaN; it must be finite');
    expect(() => drawingOf({ id: 'empty', title: '', seenFrom: '', marginMm: 0, entities: [] })).toThrow(
      'nothing that is printed',
    );
  });
});

describe('arcs as path data', () => {
  it('says a three-quarter turn in two commands that end where the arc ends', () => {
    const data = arcData({ centre: { x: 0, y: 0 }, radiusMm: 10, startRad: 0, sweepRad: 1.5 * Math.PI });
    expect(data).toBe('M10 0A10 10 0 0 1 -7.071 7.071A10 10 0 0 1 0 -10');
  });

  it('turns the other way with sweep flag 0', () => {
    const path = {
      start: { x: 10, y: 0 },
      segments: [{ kind: 'arc', centre: { x: 0, y: 0 }, sweepRad: -Math.PI / 2 } as const],
      isClosed: false,
    };
    expect(pathData(path)).toBe('M10 0A10 10 0 0 0 0 -10');
    expectClose(Number(/A(\d+)/.exec(pathData(path))![1]), 10, { tol: 1e-9, source: 'plane-geometry' });
  });
});
