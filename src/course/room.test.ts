import { describe, expect, it } from 'vitest';
import { ownRoute } from '../route/route.ts';
import { roomVerdict } from './room.ts';
import type { ClimateFact } from './shop-facts.ts';

const route = ownRoute();
const hourMs = 3_600_000;
const nowMs = 1_800_000_000_000;
const at = (hoursAgo: number, percent: number, tempC?: number): ClimateFact => ({
  event: `e${hoursAgo}`,
  by: 't',
  atMs: nowMs - hoursAgo * hourMs,
  humidityFrac: percent / 100,
  ...(tempC === undefined ? {} : { tempC }),
});
const state = (...climate: ClimateFact[]) => roomVerdict(route, climate, nowMs).state;

describe('roomVerdict', () => {
  it('knows 40 to 50 % met, 35 to 58 % doubtful, beyond it broken', () => {
    expect([34, 36, 41, 45, 49, 51, 57, 59].map((p) => state(at(1, p)))).toEqual([
      'broken',
      'doubtful',
      'met',
      'met',
      'met',
      'doubtful',
      'doubtful',
      'broken',
    ]);
  });

  it('does not flicker at a limit: back into the better state only when it is clear by 1 %', () => {
    expect(state(at(30, 51), at(1, 50))).toBe('doubtful');
    expect(state(at(30, 51), at(1, 49))).toBe('met');
    expect(state(at(30, 60), at(1, 57.5))).toBe('broken');
    expect(state(at(30, 60), at(1, 56))).toBe('doubtful');
  });

  it('counts the 24 hours before: a damp morning keeps the teacher signing in the evening', () => {
    expect(roomVerdict(route, [at(10, 60), at(1, 45)], nowMs)).toMatchObject({
      state: 'doubtful',
      teacherSigns: true,
    });
    expect(state(at(25, 60), at(1, 45))).toBe('met');
  });

  it('says nothing certain without a reading of the last three hours', () => {
    expect(state()).toBe('doubtful');
    expect(roomVerdict(route, [at(4, 45)], nowMs).text).toContain('No humidity read in the last 3 hours');
  });

  it('looks at the temperature too', () => {
    expect(state(at(1, 45, 12))).toBe('broken');
    expect(state(at(1, 45, 16))).toBe('doubtful');
    expect(state(at(1, 45, 21))).toBe('met');
  });

  it('says "two readings only" without a logger and not with one', () => {
    expect(roomVerdict(route, [at(1, 45)], nowMs).text).toContain('two readings only');
    const logged = [1, 2, 3, 4].map((h) => ({ ...at(h, 45), how: 'logger' as const })).reverse();
    expect(roomVerdict(route, logged, nowMs).text).not.toContain('two readings only');
  });

  it('knows nothing of readings that lie ahead', () => {
    expect(state(at(1, 45), at(-2, 80))).toBe('met');
  });
});
