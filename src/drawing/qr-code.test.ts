import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { bounds } from './bounds.ts';
import { qrCode, qrModules } from './qr-code.ts';

const address = 'http://192.168.1.20:8080/card/ring.channel?revision=4';

/** The big square in a corner of every QR code: dark rim, white ring, dark 3 x 3 middle (ISO/IEC 18004, from memory). */
const FINDER = ['1111111', '1000001', '1011101', '1011101', '1011101', '1000001', '1111111'];

describe('qrModules', () => {
  const modules = qrModules(address);
  const square = (row: number, column: number) => (modules.isDark(row, column) ? '1' : '0');
  const block = (row: number, column: number) =>
    Array.from({ length: 7 }, (_, i) =>
      Array.from({ length: 7 }, (_, j) => square(row + i, column + j)).join(''),
    );

  it('has the three finders in their corners, and none in the fourth', () => {
    const far = modules.sizeCount - 7;
    expect(block(0, 0)).toEqual(FINDER);
    expect(block(0, far)).toEqual(FINDER);
    expect(block(far, 0)).toEqual(FINDER);
    expect(block(far, far)).not.toEqual(FINDER);
  });

  it('has a size of 17 + 4 versions and the alternating timing row', () => {
    expect((modules.sizeCount - 17) % 4).toBe(0);
    const timing = Array.from({ length: modules.sizeCount - 16 }, (_, i) => square(6, 8 + i)).join('');
    expect(timing).toMatch(/^1(01)+$/);
  });

  it('says level M in its format bits', () => {
    // the 15 format bits beside the upper left finder, mask 101010000010010 taken off; the first two say the level: 00 is M
    const bits = [square(8, 0), square(8, 1)].map(Number);
    expect([bits[0]! ^ 1, bits[1]! ^ 0]).toEqual([0, 0]);
  });
});

describe('qrCode', () => {
  it('keeps four squares of white inside its size', () => {
    const at = bounds(qrCode(address, { x: 100, y: 20 }, 24))!;
    const squareMm = 24 / (qrModules(address).sizeCount + 8);
    expectClose(at.minX, 100 + 4 * squareMm, { tol: 0.011, source: 'from memory' });
    expectClose(at.maxY, 44 - 4 * squareMm, { tol: 0.011, source: 'from memory' });
    expect(squareMm).toBeGreaterThan(0.5);
  });

  it('fills just the dark squares', () => {
    const modules = qrModules(address);
    let darkCount = 0;
    for (let i = 0; i < modules.sizeCount; i++)
      for (let j = 0; j < modules.sizeCount; j++) if (modules.isDark(i, j)) darkCount++;
    const squareMm = 24 / (modules.sizeCount + 8);
    const areaMm2 = qrCode(address, { x: 0, y: 0 }, 24).reduce((sum, entity) => {
      const { minX, maxX, minY, maxY } = bounds([entity])!;
      return sum + (maxX - minX - 0.02) * (maxY - minY - 0.02);
    }, 0);
    expectClose(areaMm2, darkCount * squareMm ** 2, { tol: 1e-6, source: 'plane-geometry' });
  });

  it('refuses no words', () => {
    expect(() => qrCode('', { x: 0, y: 0 }, 24)).toThrow('No input text');
  });
});
