import { describe, expect, it } from 'vitest';
import { readFretPlaces, readStations } from './read-measured.ts';

describe('readStations', () => {
  it('reads two columns, half width in mm', () => {
    const read = readStations('# template 3\n10, 69.3\n30, 107.4\n480, 0\n', 'a.csv');
    expect(read.points).toEqual([
      { xMm: 69.3, yMm: 10 },
      { xMm: 107.4, yMm: 30 },
    ]);
    expect(read.lengthMm).toBe(480);
  });
  it('reads headings, full widths, inches and fractions, length as a row', () => {
    const read = readStations(
      'y (in), full width (in)\n1, 5 1/2\n2, 8-15/16\nlength, 18 57/64 in\n',
      'b.csv',
    );
    expect(read.points[0]).toEqual({ xMm: 69.85, yMm: 25.4 });
    expect(read.points[1]?.xMm).toBeCloseTo((8.9375 * 25.4) / 2, 9);
    expect(read.lengthMm).toBeCloseTo(479.8219, 3);
  });
  it('reads decimal commas between semicolons', () => {
    expect(readStations('y;half width\n10,5;69,3\n', 'c.csv').points).toEqual([{ xMm: 69.3, yMm: 10.5 }]);
  });
  it('reads both sides and says where they differ most', () => {
    const read = readStations('y, left, right\n50, -120, 122\n100, 130, 131\n', 'd.csv');
    expect(read.points[0]?.xMm).toBe(121);
    expect(read).toMatchObject({ asymmetryMm: 1, asymmetryYMm: 50 });
  });
  it('reads YAML as rows, as maps and with a unit for all', () => {
    expect(readStations('length: 480 mm\nstations:\n  - [10 mm, 69.3]\n', 'e.yaml')).toEqual({
      points: [{ xMm: 69.3, yMm: 10 }],
      lengthMm: 480,
    });
    expect(readStations('unit: in\nrows:\n  - { y: 1, half_width: 2 }\n', 'f.yaml').points).toEqual([
      { xMm: 50.8, yMm: 25.4 },
    ]);
  });
  it('says row and column of what it cannot read', () => {
    expect(() => readStations('10, 69\n30, wide\n', 'g.csv')).toThrow(
      /half width in row 2 of g\.csv is "wide"/,
    );
    expect(() => readStations('', 'h.csv')).toThrow(/h\.csv has no rows/);
    expect(() => readStations('a: [', 'i.yaml')).toThrow(/i\.yaml is no YAML/);
  });
});

describe('readFretPlaces', () => {
  it('reads fret and place, or places in order', () => {
    expect(readFretPlaces('fret, place (mm)\n0, 0\n1, 35.25\n', 'a.csv')).toEqual([
      { fret: 0, placeMm: 0 },
      { fret: 1, placeMm: 35.25 },
    ]);
    expect(readFretPlaces('1.387 in\n2.697 in\n', 'b.csv')[1]).toEqual({ fret: 2, placeMm: 2.697 * 25.4 });
  });
  it('refuses a fret that is none', () => {
    expect(() => readFretPlaces('1, 35\nx, 70\n', 'c.csv')).toThrow(/fret in row 2 of c\.csv is "x"/);
    expect(() => readFretPlaces('1, 35\n99, 70\n', 'c.csv')).toThrow(/0 \(the nut\) to 36/);
  });
});
