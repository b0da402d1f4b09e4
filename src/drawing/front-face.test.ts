import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { sheetOfPattern } from '../figures/pattern-sheet.ts';
import { numberOf } from '../graph/sheet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { readPattern } from '../pattern/pattern-file.ts';
import { boundsOfPath } from './bounds.ts';
import { frontFace } from './front-face.ts';
import { ghostsOf } from './ghost.ts';
import { insideFace } from './inside-face.ts';
import type { Drawing, Entity } from './model.ts';

const geometry = { tol: 1e-6, source: 'plane-geometry' };
const names = ['small-steel-string', 'nylon-string', 'tenor-ukulele'] as const;
const patterns = names.map((name) => readPattern(fs.readFileSync(`data/patterns/${name}.yaml`, 'utf8')));
const steel = patterns[0] as Pattern;
const withNumber = (pattern: Pattern, id: string, value: number): Pattern => ({
  ...pattern,
  numbers: new Map(pattern.numbers).set(id, value),
});
const pathOf = (drawing: Drawing, key: string, layer: string) => {
  const found = drawing.entities.find((e) => e.key === key && e.kind === 'path' && e.layer === layer);
  if (found?.kind !== 'path') throw new Error(`${drawing.id} has no path ${key} on ${layer}`);
  return found;
};
const textOf = (drawing: Drawing, word: string) => {
  const found = drawing.entities.find((e) => e.kind === 'text' && e.text === word);
  if (found?.kind !== 'text') throw new Error(`${drawing.id} has no ${word}`);
  return found;
};

describe('frontFace', () => {
  it('draws outline, hole and ring of all three starting patterns in their true size', () => {
    for (const pattern of patterns) {
      const drawing = frontFace(sheetOfPattern(pattern));
      const box = boundsOfPath(pathOf(drawing, 'outline', 'cut'));
      expectClose(box.maxX - box.minX, pattern.numbers.get('body.lower_bout.width') ?? 0, geometry);
      expectClose(box.maxY - box.minY, pattern.numbers.get('body.length') ?? 0, geometry);
      const hole = drawing.entities.find((e) => e.key === 'hole' && e.kind === 'circle');
      if (hole?.kind !== 'circle') throw new Error('no hole');
      expectClose(hole.radiusMm, pattern.numbers.get('hole.radius') ?? 0, geometry);
      expect(drawing.entities.filter((e) => e.kind === 'hatch')).toHaveLength(1);
      expect(drawing.entities.some((e) => e.key === 'saddle')).toBe(true);
    }
  });

  it('marks the gap between hole edge and leg with the very length the rule judges', () => {
    const sheet = sheetOfPattern(steel);
    const mark = frontFace(sheet).entities.find((e) => e.key === 'brace-x-clear-of-hole');
    if (mark?.kind !== 'line') throw new Error('no mark');
    const length = Math.hypot(mark.to.x - mark.from.x, mark.to.y - mark.from.y);
    expectClose(length, numberOf(sheet, 'brace.x.clear_of_hole') ?? 0, geometry);
  });

  it('leaves out what cannot be had and keeps the rest', () => {
    const folded = sheetOfPattern(withNumber(steel, 'body.waist.width', 300));
    const drawing = frontFace(folded);
    expect(drawing.entities.some((e) => e.key === 'outline')).toBe(false);
    expect(drawing.entities.some((e) => e.key === 'hole')).toBe(true);
  });

  it('shows the old number beside a changed one, with its revision', () => {
    const before = sheetOfPattern(steel);
    const now = sheetOfPattern(withNumber(steel, 'body.lower_bout.width', 376));
    const drawing = frontFace(now, { lengthUnit: 'mm', before, revision: '4' });
    const width = drawing.entities.find((e) => e.key === 'body.lower_bout.width');
    expect(width).toMatchObject({ text: '376', was: '370', revision: '4' });
  });

  it('changes treble and bass for a left-handed instrument, and the outline stays', () => {
    const right = frontFace(sheetOfPattern(steel));
    const left = frontFace(sheetOfPattern({ ...steel, handed: 'left' }));
    expectClose(textOf(left, 'TREBLE').at.x, -textOf(right, 'TREBLE').at.x, geometry);
    expect(pathOf(left, 'outline', 'cut')).toEqual(pathOf(right, 'outline', 'cut'));
    const tone = (d: Drawing) => boundsOfPath(pathOf(d, 'brace.TB1', 'hidden'));
    expectClose(tone(left).minX, -tone(right).maxX, geometry);
  });
});

describe('handles', () => {
  it('spread a fan so that the strut follows the hand', () => {
    const nylon = patterns[1] as Pattern;
    const bar = (d: Drawing) => d.entities.find((e) => e.handle?.inputId === 'brace.fan.spacing');
    const middleX = (e: Entity | undefined): number => {
      if (e?.kind !== 'path' || !e.key) throw new Error('no strut');
      const box = boundsOfPath(e);
      return (box.minX + box.maxX) / 2;
    };
    const before = bar(frontFace(sheetOfPattern(nylon)));
    const spacing = nylon.numbers.get('brace.fan.spacing') ?? 0;
    const handMm = 3;
    const wider = spacing + handMm * (before?.handle?.gainRatio ?? 0);
    const after = bar(frontFace(sheetOfPattern(withNumber(nylon, 'brace.fan.spacing', wider))));
    expectClose(middleX(after) - middleX(before), handMm, { tol: 0.1, source: 'plane-geometry' });
  });
});

describe('insideFace', () => {
  it('is the mirror of the front: the treble side lies left', () => {
    const sheet = sheetOfPattern(steel);
    const front = frontFace(sheet);
    const inside = insideFace(sheet);
    expectClose(textOf(inside, 'TREBLE').at.x, -textOf(front, 'TREBLE').at.x, geometry);
    const seen = boundsOfPath(pathOf(inside, 'brace.TB1', 'visible'));
    const through = boundsOfPath(pathOf(front, 'brace.TB1', 'hidden'));
    expectClose(seen.minX, -through.maxX, geometry);
    expectClose(seen.minY, through.minY, geometry);
  });
});

describe('ghostsOf', () => {
  const keysOf = (entities: readonly Entity[]) => entities.map((e) => e.layer);

  it('is empty when nothing moved, and shows the old outline when a bout was widened', () => {
    const before = frontFace(sheetOfPattern(steel));
    expect(ghostsOf(before, frontFace(sheetOfPattern(steel)))).toEqual([]);
    const now = frontFace(sheetOfPattern(withNumber(steel, 'body.lower_bout.width', 376)));
    const ghosts = ghostsOf(before, now);
    expect(new Set(keysOf(ghosts))).toEqual(new Set(['ghost']));
    const outline = pathOf(before, 'outline', 'cut');
    expect(ghosts.some((g) => g.kind === 'path' && g.segments === outline.segments)).toBe(true);
  });
});
