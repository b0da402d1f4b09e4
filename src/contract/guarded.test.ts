import { describe, expect, it } from 'vitest';
import { eventKinds } from '../course/event-kinds.ts';
import { guardOf, guardWords } from './guarded.ts';

/** What either door takes: what happens at the bench, who is here, what somebody noticed. */
const OPEN = [
  'session-planned',
  'session-cancelled',
  'session-opened',
  'session-closed',
  'present',
  'absent',
  'planned-steps-set',
  'plan-published',
  'step-pinned',
  'step-started',
  'step-done',
  'coarse-step-done',
  'put-in-clamps',
  'released',
  'reading',
  'repair-done',
  'help-asked',
  'help-given',
  'station-out-of-order',
  'station-not-cleaned',
  'station-cleaned',
  'machine-checked',
  'jig-out-of-order',
  'room-climate',
  'note',
  'photo',
  'incident',
  'price-entered',
  // judged by what it takes back
  'event-withdrawn',
];

describe('what is guarded', () => {
  it('is decided for every kind of event', () => {
    const open = Object.keys(eventKinds).filter((kind) => guardOf(kind) === undefined);
    expect(open.sort()).toEqual([...OPEN].sort());
    expect(guardOf('invented-later')).toBeUndefined();
    expect(guardOf('toString')).toBeUndefined();
  });

  it('has one sentence with the address', () => {
    expect(guardWords('https://10.0.0.5:4181/')).toMatch(
      /^Signing, .* open https:\/\/10\.0\.0\.5:4181\/ on this device.*\.$/,
    );
  });
});
