import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { bounds } from './bounds.ts';
import type { TextEntity } from './model.ts';
import { textWidthMm } from './text-size.ts';
import {
  LARGE_TITLE_BLOCK,
  SMALL_TITLE_BLOCK,
  type TitleFields,
  titleBlock,
  titleBlockHeightMm,
} from './title-block.ts';

const fields: TitleFields = {
  pattern: 'Small steel-string',
  revision: '4, draft',
  title: 'Inside of the top',
  seenFrom: 'inside, mirrored',
  units: 'mm (in)',
  drawnOn: '15 Jan 2027',
};
const corner = { x: 200, y: 280 };

function wordsOf(given: TitleFields): readonly TextEntity[] {
  return titleBlock(given, 'A1 of 8', corner, SMALL_TITLE_BLOCK).filter(
    (e): e is TextEntity => e.kind === 'text',
  );
}

describe('titleBlock', () => {
  it.each([SMALL_TITLE_BLOCK, LARGE_TITLE_BLOCK])(
    'ends at its corner and is as high as announced',
    (size) => {
      const marked = { ...fields, isLeftHanded: true, isDemo: true };
      for (const given of [fields, marked]) {
        const at = bounds(titleBlock(given, '1 of 1', corner, size))!;
        expectClose(at.maxX, 200, { tol: 1e-9, source: 'plane-geometry' });
        expectClose(at.maxY, 280, { tol: 1e-9, source: 'plane-geometry' });
        expectClose(at.maxX - at.minX, size.widthMm, { tol: 1e-9, source: 'plane-geometry' });
        expectClose(at.maxY - at.minY, titleBlockHeightMm(given, size), {
          tol: 1e-9,
          source: 'plane-geometry',
        });
      }
    },
  );

  it('says who, what, from where, in which units and when', () => {
    const words = wordsOf(fields).map(({ text }) => text);
    for (const word of [
      'Small steel-string',
      '4, draft',
      'A1 of 8',
      'inside, mirrored',
      '1 : 1, mm (in)',
      '15 Jan 2027',
    ])
      expect(words).toContain(word);
  });

  it('shouts LEFT-HANDED and the demo mark, white on black, only when told', () => {
    expect(wordsOf(fields).some(({ ink }) => ink === 'white')).toBe(false);
    const bands = wordsOf({ ...fields, isLeftHanded: true, isDemo: true }).filter(
      ({ ink }) => ink === 'white',
    );
    expect(bands.map(({ text }) => text)).toEqual(['LEFT-HANDED', 'Demo: invented numbers']);
  });

  it('seed 61: no word leaves the block, however long the names', () => {
    const name = fc.string({
      unit: fc.constantFrom('W', 'i', ' ', '\u0141', '3'),
      minLength: 1,
      maxLength: 90,
    });
    fc.assert(
      fc.property(name, name, name, (pattern, revision, seenFrom) => {
        for (const word of wordsOf({ ...fields, pattern, revision, seenFrom })) {
          expect(word.at.x).toBeGreaterThanOrEqual(200 - SMALL_TITLE_BLOCK.widthMm);
          expect(word.at.x + textWidthMm(word.text, word)).toBeLessThanOrEqual(200 + 1e-6);
        }
      }),
      { seed: 61 },
    );
  });

  it('cuts a name that stays too long and shows that it did', () => {
    const long = wordsOf({ ...fields, revision: 'the one with the wider waist and the taller bars' });
    expect(long.some(({ text }) => /^the one.*\u2026$/.test(text))).toBe(true);
  });
});
