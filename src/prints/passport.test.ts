import { describe, expect, it } from 'vitest';
import { expectClose } from '../../test/support/expect-close.ts';
import { STARTING, startingPattern } from '../../test/support/patterns.ts';
import { attendanceOf } from '../course/attendance.ts';
import { foldBuild } from '../course/build-facts.ts';
import { foldCourse } from '../course/course-facts.ts';
import type { RecordEvent, StreamId } from '../course/event.ts';
import { bounds } from '../drawing/bounds.ts';
import { ownRoute } from '../route/route.ts';
import { certificate } from './certificate.ts';
import { passport, passportParts } from './passport.ts';

const event = (counter: number, kind: string, body: object, stream: StreamId = 'build:b1'): RecordEvent => ({
  id: `e${counter}`,
  stream,
  kind,
  device: 'd',
  counter,
  time: counter * 60_000,
  by: 'p1',
  body,
});
const about = { ask: 'the workshop', revision: '3', printedOn: '2030-01-02', isDemo: false };

/** A build with all readings of room, braces and set-up and more repairs than there is room for. */
function fullBuild(instrument: string) {
  const readings = ownRoute().operations.flatMap((o) =>
    o.readings.map((r) => ({ op: o.id, reading: r.id, value: 45, unit: r.unit })),
  );
  const repairs = Array.from({ length: 30 }, (_, i) => ({
    op: 'T4',
    fault: `fault ${i}`,
    decision: 'repair',
  }));
  return foldBuild([
    event(1, 'build-set-up', { course: 'c', person: 'p1', instrument, pattern: 'r', handed: 'right' }),
    ...readings
      .filter((r) => r.unit === '% RH' || r.reading.startsWith('R9') || r.reading.startsWith('U'))
      .map((r, i) => event(i + 2, 'reading', r)),
    ...repairs.map((r, i) => event(i + 500, 'repair-decided', r)),
  ]);
}

describe('passport', () => {
  it('is one page for every starting pattern, also when a great deal was entered', () => {
    for (const name of STARTING) {
      const pattern = startingPattern(name);
      const drawing = passport(ownRoute(), pattern, fullBuild(pattern.instrument), about);
      const { frame } = drawing;
      const reach = bounds(drawing.entities);
      expect(reach?.maxY, name).toBeLessThanOrEqual(frame.maxY + 0.5);
      expect(reach?.minY, name).toBeGreaterThanOrEqual(frame.minY - 0.5);
      expect(reach?.maxX, name).toBeLessThanOrEqual(frame.maxX + 0.5);
    }
  });
  it('gives what was read in place of what was drawn, and the moisture at each gluing', () => {
    const pattern = startingPattern('small-steel-string');
    const facts = foldBuild([
      event(1, 'build-set-up', {
        course: 'c',
        person: 'p1',
        instrument: 'steel',
        pattern: 'r',
        handed: 'right',
      }),
      event(2, 'reading', { op: 'F3', reading: 'F3.1', value: 43.6, unit: 'mm' }),
      event(3, 'reading', { op: 'X2', reading: 'X2.1', value: 46, unit: '% RH' }),
    ]);
    const parts = new Map(passportParts(ownRoute(), pattern, facts, about).map((p) => [p.heading, p.lines]));
    expect(parts.get('As built')).toContainEqual(expect.stringMatching(/nut: 43\.6 mm .*read or chosen/));
    expect(parts.get('Moisture at each gluing')?.join()).toContain('46 % RH');
    expect(parts.get('Repairs')).toEqual(['None.']);
  });
  it('gives the height of every brace, what was read in place of what was drawn, and aims until it is set up', () => {
    const pattern = startingPattern('small-steel-string');
    const setUp = { course: 'c', person: 'p1', instrument: 'steel', pattern: 'r', handed: 'left' };
    const facts = foldBuild([
      event(1, 'build-set-up', setUp),
      event(2, 'reading', { op: 'R9', reading: 'R9.4', value: 15.4, unit: 'mm' }),
    ]);
    const parts = new Map(passportParts(ownRoute(), pattern, facts, about).map((p) => [p.heading, p.lines]));
    const braces = parts.get('Braces, mm') ?? [];
    expect(braces.filter((l) => l.endsWith('15.4 high'))).toHaveLength(2);
    expect(braces).toContain('finger brace, 4: 5.5 wide, 7 high');
    expect(braces.filter((l) => l.startsWith('back brace'))).toHaveLength(2);
    expect(parts.get('Set-up')?.slice(0, 2)).toEqual([
      'Not set up yet.',
      expect.stringMatching(/^Aim, Relief: [\d.]+ mm/),
    ]);
    const words = passport(ownRoute(), pattern, facts, { ...about, begunOn: '2030-01-01' })
      .entities.flatMap((e) => (e.kind === 'text' ? [e.text] : []))
      .join(' ');
    expect(words).toContain('LEFT-HANDED');
    expect(words).toContain('begun 2030-01-01');
  });
  it('names the maker only when there is a chosen name', () => {
    const pattern = startingPattern('tenor-ukulele');
    const words = (maker?: string): string =>
      passport(ownRoute(), pattern, foldBuild([]), { ...about, ...(maker ? { maker } : {}) })
        .entities.flatMap((e) => (e.kind === 'text' ? [e.text] : []))
        .join(' ');
    expect(words('Wren')).toContain('made by Wren');
    expect(words()).not.toContain('made by');
  });
});

describe('certificate', () => {
  it('counts sessions and hours somebody was here, as opened and closed, or as planned', () => {
    const hourMs = 3_600_000;
    const course = foldCourse([
      event(1, 'session-planned', { session: 's1', startMs: 10 * hourMs, endMs: 13 * hourMs }, 'course:c'),
      event(2, 'session-planned', { session: 's2', startMs: 34 * hourMs, endMs: 37 * hourMs }, 'course:c'),
      event(3, 'session-planned', { session: 's3', startMs: 58 * hourMs, endMs: 61 * hourMs }, 'course:c'),
      event(4, 'session-opened', { session: 's1', atMs: 10.5 * hourMs }, 'course:c'),
      event(5, 'session-closed', { session: 's1', atMs: 12.5 * hourMs }, 'course:c'),
      event(6, 'present', { session: 's1', person: 'p1' }, 'course:c'),
      event(7, 'present', { session: 's2', person: 'p1' }, 'course:c'),
      event(8, 'absent', { session: 's3', person: 'p1' }, 'course:c'),
    ]);
    const been = attendanceOf(course, 'p1', 100 * hourMs);
    expect([been.sessions, been.firstMs, been.lastMs]).toEqual([2, 10 * hourMs, 34 * hourMs]);
    expectClose(been.minutes, 300, { tol: 1e-6, source: 'arithmetic' });
    expect(attendanceOf(course, 'p2', 100 * hourMs)).toEqual({ sessions: 0, minutes: 0 });
    const drawing = certificate({
      course: 'Evening class',
      instrument: 'Tenor ukulele',
      sessions: been.sessions,
      hours: 5,
      fromTo: ['2030-01-01', '2030-01-02'],
      doneFrac: 0.999,
      printedOn: '2030-01-02',
      isDemo: true,
    });
    const words = drawing.entities.flatMap((e) => (e.kind === 'text' ? [e.text] : [])).join(' ');
    expect(words).toContain('2 sessions of Evening class, 5 hours');
    expect(words).toContain('from 2030-01-01 to 2030-01-02');
    expect(words).toContain('99 %');
    expect(words).toContain('DEMO');
  });
});
