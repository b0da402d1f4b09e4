import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { allRules } from '../src/figures/catalogue.ts';
import { patternCatalogue } from '../src/figures/pattern-sheet.ts';

const FIXED_MARKS = ['from memory', 'common practice, no published source'];
const sourceIds = new Set(
  fs
    .readFileSync('data/SOURCES.md', 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('| ') && !line.startsWith('| id ') && !line.startsWith('| ---'))
    .map((line) => (line.split('|')[1] as string).trim()),
);

/** Whether a source text names ids of SOURCES.md or one of the marks; more may follow behind a comma. */
function isNamed(text: string): boolean {
  if (FIXED_MARKS.some((mark) => text.startsWith(mark))) return true;
  return text.split(/[,;]| and /).some((part) => sourceIds.has(part.trim().split(/[ :(]/)[0] ?? ''));
}

const markdown = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile() && e.name.endsWith('.md'))
    .map((e) => path.join(e.parentPath, e.name));

const sources = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile() && /\.tsx?$/.test(e.name))
    .map((e) => path.join(e.parentPath, e.name));

describe('sources', () => {
  it('names one for every figure and rule', () => {
    const bad = [...patternCatalogue.ordered, ...allRules]
      .filter((x) => !isNamed(x.source))
      .map((x) => `${x.id}: ${x.source}`);
    expect(bad).toEqual([]);
  });

  it('names a known one at every @source', () => {
    const bad = sources('src').flatMap((file) =>
      [...fs.readFileSync(file, 'utf8').matchAll(/@source +([^*\n]+?)(?: *\*\/)?$/gm)]
        .map((m) => (m[1] as string).trim())
        .filter((text) => !isNamed(text))
        .map((text) => `${file}: ${text}`),
    );
    expect(bad).toEqual([]);
  });
});

describe('permanent ids', () => {
  it('keeps every figure id that was ever published', () => {
    const pinned = JSON.parse(fs.readFileSync('test/pinned/figure-ids.json', 'utf8')) as string[];
    expect(pinned.length).toBeGreaterThan(90);
    expect(
      pinned.filter((id) => !patternCatalogue.byId.has(id)),
      'a renamed figure needs an alias',
    ).toEqual([]);
  });

  it('has at least ninety computed figures, families counted once', () => {
    expect(patternCatalogue.ordered.filter((f) => f.role !== 'input').length).toBeGreaterThanOrEqual(90);
  });
});

describe('papers', () => {
  const papers = ['README.md', 'ARCHITECTURE.md', 'CONTRIBUTING.md', 'CHANGELOG.md', ...markdown('docs')];

  it('has links that lead somewhere', () => {
    const dead = papers.flatMap((file) =>
      [...fs.readFileSync(file, 'utf8').matchAll(/\]\((?!https?:|#)([^)#]+)/g)]
        .map((m) => m[1] as string)
        .filter((target) => !fs.existsSync(path.resolve(path.dirname(file), target)))
        .map((target) => `${file} -> ${target}`),
    );
    expect(dead).toEqual([]);
  });

  it('names no path of a machine', () => {
    const files = [...papers, ...sources('src'), ...sources('test')].filter(
      (f) => !f.endsWith('papers.test.ts'),
    );
    expect(files.filter((f) => /\/(home|Users|work|root)\/[a-z]/.test(fs.readFileSync(f, 'utf8')))).toEqual(
      [],
    );
  });

  it('writes decisions in the agreed form', () => {
    const decisions = fs.readdirSync('docs/decisions').filter((f) => f.endsWith('.md'));
    expect(decisions.length).toBeGreaterThan(0);
    for (const d of decisions) {
      const text = fs.readFileSync(path.join('docs/decisions', d), 'utf8');
      for (const part of ['## Status', '## Context', '## Decision', '## Consequences'])
        expect(text, `${d} lacks ${part}`).toContain(part);
    }
  });
});
