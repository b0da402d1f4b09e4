import { describe, expect, it } from 'vitest';
import type { RecordEvent } from './event.ts';
import { type EventKind, eventKinds } from './event-kinds.ts';
import { type EventNames, eventWords } from './event-words.ts';

const names: EventNames = {
  operation: (op) => `<${op}>`,
  place: (id) => `[${id}]`,
  reading: (id) => `{${id}}`,
  choice: (id) => id,
  revision: (id) => `revision ${id}`,
};
const event = (kind: string, body: object): RecordEvent => ({
  id: 'e1',
  stream: 'build:b1',
  kind,
  device: 'd',
  counter: 1,
  time: 0,
  by: 'p1',
  body,
});
const said = (kind: string, body: object): string => eventWords(event(kind, body), names);

/** One body of every kind a build can hold. */
const bodies: Readonly<Partial<Record<EventKind, object>>> = {
  'build-set-up': { course: 'c', person: 'p', instrument: 'uke', pattern: 'r1', handed: 'left' },
  'pattern-applied': { pattern: 'r2', reason: 'wider board' },
  'choice-made': { choice: 'nut.spread', value: '36 mm', number: 36 },
  'own-figure-set': { figure: 'hole.radius', value: 48.123456, unit: 'mm', reason: 'rescue' },
  'step-started': { op: 'T2', station: 'bench' },
  'step-done': { op: 'T2', part: '1' },
  'step-reopened': { op: 'T2' },
  'step-skipped': { op: 'T2', reason: 'bought' },
  'coarse-step-done': { step: 's', ops: ['T1', 'T2'] },
  'done-before-record': { ops: ['T1'] },
  'put-in-clamps': { op: 'T2', holds: [{ what: 'frame', leastH: 1, usualH: 2 }] },
  released: { op: 'T2', what: 'frame' },
  reading: { op: 'T4', reading: 'T4.1', value: 2.81, unit: 'mm', spot: 'bridge' },
  'hold-signed': { op: 'X5', sign: 'before closing' },
  'part-replaced': { op: 'T4', undone: ['T4'], reason: 'too thin' },
  'repair-decided': { op: 'T4', fault: 'too thin', decision: 'carry on' },
  'repair-done': { op: 'T4', how: 'patched' },
  'help-asked': {},
  'help-given': {},
  'build-handed-over': {},
  note: { text: 'a knot' },
  photo: { hash: 'h', type: 'image/png', words: 'inside' },
  incident: { severity: 'near miss', text: 'slipped' },
  'incident-closed': { incident: 'e0', text: 'talked over' },
  'revision-made': { what: 'pattern', revision: 'r2', name: 'Wider', text: 'x' },
  'event-withdrawn': { event: 'e0' },
};

describe('events in words', () => {
  it('have a sentence of their own for every kind a build can hold', () => {
    const ofBuild = (Object.keys(eventKinds) as EventKind[]).filter((k) =>
      (eventKinds[k].streams as readonly string[]).includes('build'),
    );
    for (const kind of ofBuild) {
      const body = bodies[kind];
      expect(body, kind).toBeDefined();
      const words = said(kind, body as object);
      expect(words, kind).toMatch(/^[A-Z<h]/);
      expect(words, kind).not.toBe(kind);
      expect(words, kind).not.toContain('cannot read');
    }
    expect(new Set(ofBuild.map((k) => said(k, bodies[k] as object))).size).toBe(ofBuild.length);
  });
  it('name numbers with unit, spot and the verdict as it was kept', () => {
    const verdict = { state: 'doubtful', words: 'near' };
    expect(said('reading', { ...bodies.reading, verdict })).toBe('Read: {T4.1} at bridge 2.81 mm, doubtful');
    expect(said('own-figure-set', bodies['own-figure-set'] as object)).toContain('48.1235 mm: rescue');
  });
  it('say so when they cannot be read', () => {
    expect(said('future-kind', {})).toContain('future-kind');
    expect(said('reading', { op: 4 })).toContain('cannot read');
  });
});
