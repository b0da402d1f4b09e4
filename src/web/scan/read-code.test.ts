import { describe, expect, it } from 'vitest';
import { readCode } from './read-code.ts';

const known = {
  builds: [
    { id: 'b-0a', number: 4, name: 'Noor' },
    { id: 'b-0b', number: 12, name: 'Kaja' },
    { id: 'b-0c', number: 7, name: 'Kaja' },
    { id: 'b-0d', number: 7, name: 'Emil' },
  ],
  cards: [{ id: 'ring-channel', title: 'Channel of the ring' }],
  stations: [{ id: 'thickness-sander', name: 'thickness sander' }],
};
const path = (text: string) => {
  const found = readCode(text, known);
  return found.kind === 'path' ? found.path : found.says;
};

describe('a scanned or typed code', () => {
  it('leads where the printed address says, whatever machine it was printed from', () => {
    expect(path('http://192.168.1.5:4180/bench/b-0a')).toBe('/bench/b-0a');
    expect(path('http://bracewright.local/card/ring-channel')).toBe('/card/ring-channel');
    expect(path('https://10.0.0.1:4181/station/thickness-sander')).toBe('/station/thickness-sander');
  });

  it('never leads out of the book', () => {
    for (const text of [
      'https://elsewhere.example/',
      'https://elsewhere.example/pay/now',
      'javascript:alert(1)',
      'http://x/card/..%2f..%2fapi',
      'http://x/card/a/b',
      'http://x/api/events',
      'WIFI:S:net;P:secret;;',
      'tel:123',
    ])
      expect(path(text), text).toMatch(/^(That code says|Nothing here is called).*\.$/);
  });

  it('takes the number on a tag, with or without the part, a name, a card and a station', () => {
    expect(path('4')).toBe('/bench/b-0a');
    expect(path(' #4 ')).toBe('/bench/b-0a');
    expect(path('12 top')).toBe('/bench/b-0b');
    expect(path('noor')).toBe('/bench/b-0a');
    expect(path('ring channel')).toBe('/card/ring-channel');
    expect(path('Channel of the ring')).toBe('/card/ring-channel');
    expect(path('Thickness sander')).toBe('/station/thickness-sander');
  });

  it('gives one sentence for what is missing, unknown or stands for several', () => {
    expect(path('')).toMatch(/^Type the number/);
    expect(path('99')).toMatch(/^No build has the number 99; .*\.$/);
    expect(path('7')).toMatch(/^Several builds have the number 7/);
    expect(path('Kaja')).toMatch(/^Several builds belong to a "Kaja"/);
    expect(path('a thing'.repeat(50))).toMatch(/^Nothing here is called/);
  });
});
