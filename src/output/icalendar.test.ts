import { describe, expect, it } from 'vitest';
import { calendarText } from './icalendar.ts';

const file = {
  name: 'Evening class',
  timeZone: 'Europe/Vienna',
  stamp: '2026-09-01T12:00:00Z',
  entries: [
    {
      id: 'session-1',
      begin: '2026-10-20T18:30',
      end: '2026-10-20T21:00',
      title: 'Session 1',
      text: 'Ada: sand the plate; Bruno, glue',
    },
    { id: 'session-2', begin: '2026-10-27T18:30', end: '2026-10-27T21:00', title: 'Session 2', text: '' },
  ],
};
const lines = (text: string): string[] => text.replace(/\r\n /g, '').split('\r\n');

describe('calendarText', () => {
  it('keeps the civil time of the zone on both sides of the clock change of 25 October 2026', () => {
    const text = lines(calendarText(file));
    expect(text).toContain('DTSTART;TZID=Europe/Vienna:20261020T183000');
    expect(text).toContain('DTSTART;TZID=Europe/Vienna:20261027T183000');
    expect(text).toContain('DTEND;TZID=Europe/Vienna:20261027T210000');
  });

  it('carries the zone: summer time from March, winter time from 25 October 03:00 on', () => {
    const text = lines(calendarText(file)).join('\n');
    expect(text).toContain(
      'BEGIN:VTIMEZONE\nTZID:Europe/Vienna\nBEGIN:DAYLIGHT\nDTSTART:20260329T020000\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0200\nEND:DAYLIGHT\nBEGIN:STANDARD\nDTSTART:20261025T030000\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\nEND:STANDARD\nEND:VTIMEZONE',
    );
  });

  it('has what RFC 5545 asks for: CRLF, lines of at most 75 octets, escaped text, a stamp in universal time', () => {
    const raw = calendarText({
      ...file,
      entries: [{ ...file.entries[0]!, text: `a; b, c ${'long '.repeat(40)}` }],
    });
    for (const line of raw.split('\r\n'))
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    expect(raw.replace(/\r\n/g, '')).not.toContain('\n');
    expect(lines(raw).join('\n')).toContain('DESCRIPTION:a\\; b\\, c long');
    expect(lines(raw)).toContain('DTSTAMP:20260901T120000Z');
    expect(lines(raw)[0]).toBe('BEGIN:VCALENDAR');
  });

  it('refuses a zone that does not exist', () => {
    expect(() => calendarText({ ...file, timeZone: 'Europe/Nowhere' })).toThrow(RangeError);
  });
});
