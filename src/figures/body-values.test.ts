import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { outlineChecks } from '../../test/support/outline-checks.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { outlineEndYMm, pointAtArc } from '../geometry/half-outline.ts';
import { type Figure, isAbsent } from '../graph/figure.ts';
import { cellOf, figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import { makeRandom } from '../numeric/random.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { isFinding } from '../quantity/finding.ts';
import { insideLine, sawLine, widestBladeMm } from './allowances.ts';
import { formerRadiusMm, leastBendRadiusMm } from './bending.ts';
import { barOnPlateStiffnessNm2, barStiffnessNm2 } from './brace-stiffness.ts';
import { braceCrossings, braceSegments } from './braces.ts';
import { bridgePlateFigures } from './bridge-plate.ts';
import { kerfClosingRadiusMm } from './linings.ts';
import { outline } from './outline.ts';
import { sheetOfPattern } from './pattern-sheet.ts';
import { hiddenArcMm } from './rosette.ts';
import { sideStrip } from './side-strip.ts';
import { sliceCount } from './stock-fit.ts';

/** Worked out twice by separate programs from the formulas as stated. */
const twice = 'plane-geometry, worked out twice from the stated formulas';
const practice = 'common practice, no published source';
const sheets = new Map<string, Sheet>(STARTING.map((n) => [n, sheetOfPattern(startingPattern(n))]));
const sheetOf = (name: string): Sheet => sheets.get(name) as Sheet;
const get = <V>(sheet: Sheet, f: Figure<V>): V => figureValue(sheet, f) as V;
const withNumbers = (name: (typeof STARTING)[number], numbers: Record<string, number>): Pattern => {
  const pattern = startingPattern(name);
  return { ...pattern, numbers: new Map([...pattern.numbers, ...Object.entries(numbers)]) };
};

describe.each(STARTING)('outline of %s', (name) => {
  const check = outlineChecks[name];
  const sheet = sheetOf(name);

  it('has the Bezier points of the check', () => {
    const { pieces } = get(sheet, outline);
    expect(pieces).toHaveLength(4);
    pieces.forEach((piece, i) => {
      [piece.p0, piece.p1, piece.p2, piece.p3].forEach((p, k) => {
        const [x, y] = check.bezierMm[i]![k]!;
        expectClose(p.xMm + 1, x + 1, { tol: 0.0006, source: twice });
        expectClose(p.yMm + 1, y + 1, { tol: 0.0006, source: twice });
      });
    });
  });

  it('has half perimeter, area, tightest radius and two changes of bend', () => {
    expectClose(numberOf(sheet, 'outline.half_perimeter'), check.halfPerimeterMm, {
      tol: 0.006,
      source: twice,
    });
    expectClose(numberOf(sheet, 'outline.area'), check.areaCm2, { tol: 0.06, source: twice });
    expectClose(numberOf(sheet, 'outline.tightest_radius'), check.tightestMm, { tol: 0.006, source: twice });
    expect(numberOf(sheet, 'outline.inflections')).toBe(2);
  });

  it('has the half width of every station', () => {
    for (const [y, x] of check.stationsMm)
      expectClose(numberOf(sheet, `outline.half_width.${y}`), x, { tol: 0.006, source: twice });
  });

  it('has the side strip of every 20 mm', () => {
    const strip = get(sheet, sideStrip);
    expect(strip).toHaveLength(check.stripMm.length);
    check.stripMm.forEach(([along, x, y, top, back, height], i) => {
      const s = strip[i]!;
      expectClose(s.arcMm + 1, along + 1, { tol: 0.051, source: twice });
      expectClose(s.xMm + 1, x + 1, { tol: 0.006, source: twice });
      expectClose(s.yMm + 1, y + 1, { tol: 0.006, source: twice });
      expectClose(s.topZMm + 10, top + 10, { tol: 0.006, source: twice });
      expectClose(s.backZMm, back, { tol: 0.006, source: twice });
      expectClose(s.backZMm - s.topZMm, height, { tol: 0.006, source: twice });
    });
  });

  it('reads back the typed bouts, waist and radii from the curve', () => {
    for (const part of ['upper_bout', 'waist', 'lower_bout'])
      for (const what of ['width', 'y', 'radius'])
        expectClose(
          numberOf(sheet, `outline.${part}.${what}`),
          startingPattern(name).numbers.get(`body.${part}.${what}`) as number,
          { tol: 1e-6, source: 'plane-geometry' },
        );
  });

  it('moves the saw line out and the inside in, square to the outline', () => {
    const length = check.halfPerimeterMm;
    // half an outline turns through half a turn: length changes by pi x distance
    expectClose(get(sheet, sawLine).lengthMm, length + 5 * Math.PI, {
      tol: 0.06,
      source: 'plane-geometry',
    });
    const side = numberOf(sheet, 'side.thickness.final') as number;
    expectClose(get(sheet, insideLine).lengthMm, length - side * Math.PI, {
      tol: 0.06,
      source: 'plane-geometry',
    });
  });
});

/** Figure id: values for steel-string, nylon-string, ukulele; undefined where the figure has no meaning. */
const table: readonly (readonly [
  string,
  number | undefined,
  number | undefined,
  number | undefined,
  number,
])[] = [
  ['outline.handles.neck_end_start', 84.574, 84.005, 49.879, 0.0006],
  ['outline.handles.neck_end_end', 60.236, 58.921, 38.38, 0.0006],
  ['outline.handles.upper_start', 37.417, 36.932, 23.833, 0.0006],
  ['outline.handles.upper_end', 34.496, 37.327, 22.271, 0.0006],
  ['outline.handles.lower_start', 61.617, 63.666, 40.661, 0.0006],
  ['outline.handles.lower_end', 77.653, 74.476, 47.61, 0.0006],
  ['outline.handles.tail_start', 81.242, 78.6, 48.907, 0.0006],
  ['outline.handles.tail_end', 111.664, 110.716, 66.79, 0.0006],
  ['board.end_y', 89.74, 110, 52.04, 0.006],
  ['neck.join', 348.26, 325, 238.46, 0.006],
  ['hole.diameter', 98, 85, 60, 1e-9],
  ['hole.to_board_end', 3.26, 1.5, 1.96, 0.006],
  ['hole.waist_tailward', 36, 32, 28, 1e-6],
  ['rosette.channel.width', 7, 16, 5, 1e-9],
  ['rosette.strip_length', 367.57, 351.86, 229.34, 0.006],
  ['rosette.ring_inside_hole', 6, 5.5, 4, 1e-9],
  ['rosette.cover_margin', 2.74, 4, 2.04, 0.006],
  ['rosette.wood_left.scrap', 1.2, 1.1, 1.1, 1e-9],
  ['rosette.wood_left.final', 1.5, 1.4, 1.3, 1e-9],
  ['rosette.wood_left.most', 1.8, 1.7, 1.5, 1e-9],
  ['rosette.wood_left.at_cutting', 1.9, 1.8, 1.8, 1e-9],
  ['rosette.wood_left.least_at_cutting', 1.66, 1.48, 1.5, 1e-9],
  ['rosette.channel.depth.most', 1.325, 1.05, 0.55, 1e-9],
  ['rosette.inlay_proud', 0.2, 0.2, 0.2, 1e-9],
  ['brace.clear_of_hole.least', 5, 6, 5, 1e-9],
  ['brace.clear_of_hole', 5.5, 10, 6, 1e-9],
  ['brace.x.crossing_behind_hole', 33, undefined, undefined, 1e-9],
  ['brace.x.clear_of_hole', 7.94, undefined, undefined, 0.006],
  ['brace.x.leg_at_saddle', 64.95, undefined, undefined, 0.006],
  ['brace.x.wing_beyond_leg', 11.05, undefined, undefined, 0.006],
  ['brace.x.lap_depth', 7.5, undefined, undefined, 1e-9],
  ['brace.fan.top_gap', undefined, 14.5, 6, 1e-9],
  ['brace.fan.strut_count', undefined, 7, 3, 1e-9],
  ['bridge_plate.ahead_of_saddle', 10.48, 8.89, 8.03, 0.006],
  ['dome.top.crown_at_saddle', 3.28, 2.89, 1.37, 0.006],
  ['dome.top.sagitta.lower_bout', 2.013, 1.84, 0.792, 0.0006],
  ['dome.back.sagitta.lower_bout', 3.722, 3.6, 1.61, 0.006],
  ['dome.back.apex_y', 373.93, 318.6, 248.55, 0.006],
  // the check took the rim height at the waist between strip stations 20 mm apart: 0.04 lower than the curve
  ['rim.height.waist', 103.845, 99.919, 66.244, 0.04],
  ['rim.height.lower_bout', 104.088, 97.897, 67.022, 0.004],
  ['side.strip.length', 756.69, 761.62, 476.12, 0.006],
  ['side.strip.height.neck', 100, 98, 68, 1e-9],
  ['side.strip.height.tail', 114, 106, 76, 1e-9],
  ['bending.mark.waist', 274.9, 284.7, 166.7, 0.06],
  ['bending.least_radius.careful', 52.5, 50, 40, 1e-9],
  ['lining.total', 3096.08, 3117.39, 1884.04, 0.006],
  ['lining.strip_count', 6, 6, 4, 1e-9],
  ['binding.total', 3026.74, 3046.47, 1904.48, 0.01],
  ['binding.ledge_height', 5.8, 5.8, 4.3, 1e-9],
  ['stock.half_width', 205, 205, 130, 1e-9],
  ['stock.half_width.least', 203, 200, 127, 1e-6],
  ['stock.brace_blank.count', 16, 16, undefined, 1e-9],
  ['box.air_volume', 13.11, 12.7, 3.04, 0.006],
];

describe('figures of the body against the check values', () => {
  it.each(table.map((row) => [row[0], row] as const))('%s', (id, [, steel, nylon, uke, tol]) => {
    const wanted = [steel, nylon, uke];
    STARTING.forEach((name, i) => {
      const expected = wanted[i];
      if (expected !== undefined) expectClose(numberOf(sheetOf(name), id), expected, { tol, source: twice });
    });
  });

  it('has no X figures for a fan and no fan figures for an X', () => {
    expect(isAbsent(cellOf(sheetOf('nylon-string'), 'brace.x.clear_of_hole'))).toBe(true);
    expect(isAbsent(cellOf(sheetOf('small-steel-string'), 'brace.fan.top_gap'))).toBe(true);
  });

  it('hides the arcs of the ring that the check gives (34.9, 54.5, 61.9 mm)', () => {
    expectClose(hiddenArcMm(55, 59.34, 142 - 89.74), 34.9, { tol: 0.06, source: twice });
    expectClose(hiddenArcMm(58.5, 59.34, 142 - 89.74), 54.5, { tol: 0.06, source: twice });
    expectClose(hiddenArcMm(62, 59.34, 142 - 89.74), 61.9, { tol: 0.06, source: twice });
    expect(hiddenArcMm(40, 59.34, 52)).toBe(0);
  });

  it('leans the rim as the check says along the strip of the steel-string', () => {
    for (const [u, height] of [
      [0, 92],
      [160, 95.58],
      [240, 101.69],
      [320, 105.27],
      [400, 104.87],
      [480, 103.97],
      [560, 104.28],
      [640, 105.46],
    ] as const)
      expectClose(numberOf(sheetOf('small-steel-string'), `side.strip.height_along.${u}`), height, {
        tol: 0.006,
        source: twice,
      });
    expect(numberOf(sheetOf('small-steel-string'), 'side.strip.top_edge_bow')).toBeLessThan(2.5);
  });
});

describe('common-practice figures from other shops', () => {
  it('needs a reach of 2 in for a hole of 4 in', () => {
    const sheet = sheetOfPattern(withNumbers('small-steel-string', { 'hole.radius': 50.8 }));
    expectClose(numberOf(sheet, 'hole.reach'), 2 * 25.4, { tol: 1e-9, source: practice });
  });
  it('takes a waist 1/2 to 3/4 in, and one 28 to 36 mm, tailward of the hole centre as met', () => {
    for (const behindMm of [12.7, 19.05, 28, 36])
      expect(
        numberOf(
          sheetOfPattern(withNumbers('small-steel-string', { 'hole.centre_y': 178 - behindMm })),
          'hole.waist_tailward',
        ),
      ).toSatisfy((mm: number) => Math.abs(mm - behindMm) < 1e-6 && mm >= 10 && mm <= 40);
  });
  it('saws 1/4 to 1/2 in outside the line: each moves the saw line out by as much', () => {
    for (const sawMm of [6.35, 12.7]) {
      const sheet = sheetOfPattern(
        withNumbers('small-steel-string', { 'allowance.saw': sawMm, 'allowance.saw_most': 12.7 }),
      );
      const line = get(sheet, sawLine);
      expectClose(outlineEndYMm(line), 480 + sawMm, { tol: 1e-6, source: practice });
      expectClose(pointAtArc(line, line.lengthMm / 2).xMm > 0 ? line.lengthMm : 0, 716.69 + Math.PI * sawMm, {
        tol: 0.1,
        source: 'plane-geometry',
      });
    }
  });
  it('turns radii with blades: 3 mm turns 8, 6 turns 16, 10 turns 35, 13 turns 65', () => {
    expect([7, 8, 20, 40, 71].map(widestBladeMm)).toEqual([undefined, 3, 6, 10, 13]);
  });
  it('saws 8 slices of 4.5 from 50 mm with a kerf of 1.2, and 8 blanks of 8.5 from a billet of 80', () => {
    expect(sliceCount(50, 4.5, 1.2)).toBe(8);
    expect(sliceCount(80, 8.5, 1.2)).toBe(8);
  });
  it('bends 2.1 mm to 52.5 mm at 2 % and springs a former of R / 1.1 back to R', () => {
    expectClose(leastBendRadiusMm(2.1, 0.02), 52.5, { tol: 1e-9, source: 'beam-theory' });
    expectClose(formerRadiusMm(110, 0.1), 100, { tol: 1e-9, source: practice });
  });
  it('closes kerfs of 1 mm, 5 deep, 12 apart at a radius of 60', () => {
    expectClose(kerfClosingRadiusMm(12, 5, 1), 60, { tol: 1e-9, source: 'plane-geometry' });
  });
  it('loses 27 % of stiffness with 10 % of height, and gluing to a plate roughly triples it', () => {
    expectClose(barStiffnessNm2(10_800, 8, 13.5) / barStiffnessNm2(10_800, 8, 15), 0.729, {
      tol: 1e-9,
      source: 'beam-theory',
    });
    const glued = barOnPlateStiffnessNm2(
      10_800,
      { widthMm: 8, heightMm: 15 },
      { widthMm: 40, thicknessMm: 2.8 },
    );
    expectClose(glued / barStiffnessNm2(10_800, 8, 15), 3, { tol: 0.15, source: practice });
  });
});

describe('bars', () => {
  it('have the end points of the plan: X legs and fan struts', () => {
    const ends = (name: string, id: string) => {
      const s = get(sheetOf(name), braceSegments).find((b) => b.id === id);
      return [s?.from.xMm, s?.from.yMm, s?.to.xMm, s?.to.yMm];
    };
    const plan: readonly (readonly [string, string, readonly number[]])[] = [
      ['small-steel-string', 'X-treble', [-136, 101.6, 177.2, 383.5]],
      ['small-steel-string', 'X-bass', [136, 101.6, -177.2, 383.5]],
      ['nylon-string', 'F1', [-65, 228, -98, 400]],
      ['nylon-string', 'F6', [43.3, 228, 66.4, 408]],
      ['nylon-string', 'F4', [0, 228, 0, 424]],
      ['tenor-ukulele', 'F3', [22.7, 132, 36.6, 250]],
    ];
    for (const [name, id, wanted] of plan)
      ends(name, id).forEach((got, i) => {
        // plan rounded to 0.1 in both directions
        expectClose((got ?? Number.NaN) + 500, wanted[i]! + 500, { tol: 0.11, source: twice });
      });
  });

  it('cross by plan only at the X', () => {
    for (const name of STARTING) {
      const crossings = get(sheetOf(name), braceCrossings);
      expect(crossings.map((c) => c.kind)).toEqual(name === 'small-steel-string' ? ['lap'] : []);
    }
  });

  it('lie mirrored when left-handed, while outline, clearances and gaps stay', () => {
    for (const name of STARTING) {
      const left = sheetOfPattern({ ...startingPattern(name), handed: 'left' });
      const right = sheetOf(name);
      const a = get(right, braceSegments);
      get(left, braceSegments).forEach((s, i) => {
        expectClose(s.from.xMm + 1000, 1000 - a[i]!.from.xMm, { tol: 1e-9, source: 'mirror image' });
        expectClose(s.to.xMm + 1000, 1000 - a[i]!.to.xMm, { tol: 1e-9, source: 'mirror image' });
        expect(s.from.yMm).toBe(a[i]!.from.yMm);
      });
      for (const id of ['brace.gap.least', 'brace.clear_of_hole', 'outline.area', 'brace.end_inside.least'])
        expectClose(numberOf(left, id), numberOf(right, id) as number, { tol: 1e-9, source: 'mirror image' });
      for (const f of bridgePlateFigures) {
        const mm = numberOf(right, f.id);
        if (mm !== undefined)
          expectClose((numberOf(left, f.id) ?? 0) + 1, mm + 1, { tol: 1e-9, source: 'mirror image' });
      }
    }
  });
});

describe('outlines that cannot be', () => {
  const findingOf = (numbers: Record<string, number>) =>
    cellOf(sheetOfPattern(withNumbers('small-steel-string', numbers)), 'outline');
  it.each([
    ['waist wider than a bout', { 'body.waist.width': 290 }, 'outline-waist-too-wide', /waist is 290\.0 mm/],
    [
      'stations out of order',
      { 'body.waist.y': 90 },
      'outline-stations-out-of-order',
      /upper bout lies at 96\.0 mm/,
    ],
    [
      'handles that cross',
      { 'body.waist.radius': 300 },
      'outline-handles-cross',
      /waist, neck side.*overlap by/,
    ],
    ['a tail that folds', { 'body.tail.radius': 1500 }, 'outline-handles-cross', /tail/],
  ])('say why: %s', (_, numbers, code, text) => {
    const cell = findingOf(numbers);
    expect(isFinding(cell) && cell.code).toBe(code);
    expect(isFinding(cell) && cell.text).toMatch(text);
    const sheet = sheetOfPattern(withNumbers('small-steel-string', numbers));
    expect(numberOf(sheet, 'outline.area')).toBeUndefined();
    expect(numberOf(sheet, 'rosette.cover_margin')).toBeDefined();
  });
});

describe('own outline', () => {
  const own = (name: (typeof STARTING)[number], everyMm: number, wobbleMm = 0): Pattern => {
    const check = outlineChecks[name];
    const points = check.stationsMm
      .filter((_, i) => i % Math.max(1, Math.round(everyMm / 20)) === 0)
      .map(([yMm, xMm], i) => ({ xMm: xMm + (i % 2 === 0 ? wobbleMm : -wobbleMm), yMm }));
    return { ...startingPattern(name), ownOutline: points };
  };
  it.each(STARTING)('through the stations of %s gives the same figures', (name) => {
    const sheet = sheetOfPattern(own(name, 20));
    const check = outlineChecks[name];
    expectClose(numberOf(sheet, 'outline.half_perimeter'), check.halfPerimeterMm, {
      tol: 0.6,
      source: twice,
    });
    expectClose(numberOf(sheet, 'outline.area'), check.areaCm2, { tol: 2.5, source: twice });
    expectClose(
      numberOf(sheet, 'outline.lower_bout.width'),
      numberOf(sheetOf(name), 'outline.lower_bout.width') as number,
      {
        tol: 0.4,
        source: twice,
      },
    );
    expectClose(numberOf(sheet, 'outline.waist.y'), numberOf(sheetOf(name), 'outline.waist.y') as number, {
      tol: 2.5,
      source: twice,
    });
    expect(numberOf(sheet, 'outline.inflections')).toBe(2);
    for (const [y, x] of check.stationsMm)
      expectClose(numberOf(sheet, `outline.half_width.${y}`), x, { tol: 1e-6, source: 'plane-geometry' });
  });
  it('measured every 10 mm with reading errors of 0.2 mm is smoothed by 0.5 mm at most (seeds 1 to 5)', () => {
    for (const name of STARTING)
      for (let seed = 1; seed <= 5; seed++) {
        const random = makeRandom(seed);
        const shape = get(sheetOf(name), outline);
        const points = Array.from({ length: Math.floor(shape.lengthMm / 10) - 1 }, (_, i) => {
          const p = pointAtArc(shape, 5 + 10 * i);
          return { xMm: p.xMm + 0.2 * random.normal(), yMm: p.yMm };
        });
        const sheet = sheetOfPattern({ ...startingPattern(name), ownOutline: points });
        expect(numberOf(sheet, 'outline.inflections')).toBe(2);
        expect(numberOf(sheet, 'outline.own.moved')).toBeLessThanOrEqual(0.5);
        expectClose(numberOf(sheet, 'outline.half_perimeter'), shape.lengthMm, { tol: 0.8, source: twice });
        const tightest = outlineChecks[name].tightestMm;
        expectClose(numberOf(sheet, 'outline.tightest_radius'), tightest, {
          tol: 0.2 * tightest,
          source: twice,
        });
      }
  });
  it('has continuous curvature where its pieces join', () => {
    const shape = get(sheetOfPattern(own('small-steel-string', 20)), outline);
    const { curvaturePerMm, samplesPerPiece } = shape.table;
    for (let piece = 1; piece < shape.pieces.length; piece++) {
      const k = piece * samplesPerPiece;
      const ahead = 2 * curvaturePerMm[k + 1]! - curvaturePerMm[k + 2]!;
      const behind = 2 * curvaturePerMm[k - 1]! - curvaturePerMm[k - 2]!;
      expectClose(ahead + 1, behind + 1, { tol: 0.004, source: 'plane-geometry' });
    }
  });
  it('names the point that makes it kink, and asks for at least six', () => {
    const pattern = own('small-steel-string', 20);
    const points = (pattern.ownOutline ?? []).map((p) => (p.yMm === 250 ? { ...p, xMm: p.xMm + 14 } : p));
    const kinked = cellOf(sheetOfPattern({ ...pattern, ownOutline: points }), 'outline');
    expect(isFinding(kinked) && kinked.code).toBe('own-outline-kinks');
    expect(isFinding(kinked) && kinked.text).toMatch(/at y (23|25|27)0\.0 mm again/);
    const few = cellOf(sheetOfPattern({ ...pattern, ownOutline: points.slice(0, 4) }), 'outline');
    expect(isFinding(few) && few.text).toMatch(/4 measured half widths/);
  });
});
