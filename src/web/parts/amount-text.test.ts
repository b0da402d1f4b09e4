import { describe, expect, it } from 'vitest';
import { apartTexts } from './amount-text.ts';

describe('apartTexts', () => {
  it('shows two numbers with the decimals it takes to see them apart', () => {
    expect(apartTexts(0.17, 0.1745, 'deg')).toEqual({ from: '0.170°', to: '0.175°', apart: '0.005°' });
    expect(apartTexts(0.46, 0.456, 'fraction')).toEqual({ from: '46.0 %', to: '45.6 %', apart: '0.4 %' });
    expect(apartTexts(0.0149, 0.01492, 'fraction').apart).toBe('0.002 %');
    expect(apartTexts(3.21, 3.17, 'mm')).toEqual({ from: '3.21 mm', to: '3.17 mm', apart: '0.04 mm' });
    expect(apartTexts(2.8, 2.8, 'mm').apart).toBe('0.00 mm');
    // 25.4 mm to the inch exactly (inch-1959)
    expect(apartTexts(2.54, 2.794, 'mm', 'in')).toEqual({ from: '.100 in', to: '.110 in', apart: '.010 in' });
  });
});
