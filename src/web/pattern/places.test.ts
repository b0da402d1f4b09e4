import { describe, expect, it } from 'vitest';
import { placesOf } from './places.ts';

describe('placesOf', () => {
  it('goes from the figure itself to wider and wider places', () => {
    expect(placesOf('brace.x.clear_of_hole')).toEqual(['brace.x.clear_of_hole', 'brace.x', 'brace']);
  });

  it('knows the places that are drawn under another name', () => {
    expect(placesOf('brace.bars.TB1.to.y')).toEqual(['brace.TB1']);
    expect(placesOf('body.waist.width')).toEqual(['body.waist.width', 'outline']);
    expect(placesOf('fret.place.7')).toContain('frets');
  });
});
