import { describe, expect, it } from 'vitest';
import { newerRevision, type RevisionKept } from './newer-revision.ts';

const made = (revision: string, parent: string | undefined, atMs: number, what = 'pattern'): RevisionKept =>
  ({ what, revision, text: revision, atMs, ...(parent ? { parent } : {}) }) as RevisionKept;

describe('a newer revision of a pattern', () => {
  const all = [
    made('c', 'b', 30),
    made('b', 'a', 20),
    made('x', undefined, 90),
    made('y', 'x', 95),
    made('r', 'a', 99, 'route'),
  ];
  it('is found over several steps, in whatever order they are told', () => {
    expect(newerRevision(all, 'a')?.revision).toBe('c');
    expect(newerRevision(all.toReversed(), 'a')?.revision).toBe('c');
    expect(newerRevision(all, 'b')?.revision).toBe('c');
  });
  it('is none for the newest, and never one of another pattern or of a route', () => {
    expect(newerRevision(all, 'c')).toBeUndefined();
    expect(newerRevision(all, 'unknown')).toBeUndefined();
  });
  it('is the later one when two stand on one parent', () => {
    expect(newerRevision([...all, made('d', 'b', 31)], 'a')?.revision).toBe('d');
  });
  it('ends when revisions name each other as parents', () => {
    expect(newerRevision([made('p', 'q', 1), made('q', 'p', 2)], 'p')?.revision).toBe('q');
  });
});
