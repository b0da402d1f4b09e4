import fs from 'node:fs';
import path from 'node:path';
import { cruise, type ICruiseResult } from 'dependency-cruiser';
import { describe, expect, it } from 'vitest';

const CORE_BUT = new Map([
  ['server', ['web', 'cli']],
  ['web', ['store', 'server', 'cli']],
  ['cli', ['web']],
]);

/** Rooms and what each may import, as ARCHITECTURE.md says. */
function roomsTable(): Map<string, ReadonlySet<string>> {
  const rows = fs
    .readFileSync('ARCHITECTURE.md', 'utf8')
    .split('\n')
    .filter((line) => /^\| `[a-z]+` \|/.test(line))
    .map((line) => line.split('|').map((cell) => cell.trim()));
  const rooms = rows.map((row) => (row[1] as string).replaceAll('`', ''));
  return new Map(
    rows.map((row, i) => {
      const room = rooms[i] as string;
      const said = row[3] as string;
      const named = [...said.matchAll(/`([a-z]+)`/g)].map((m) => m[1] as string);
      return [room, new Set(said.startsWith('all but') ? rooms.filter((r) => !named.includes(r)) : named)];
    }),
  );
}

const roomOf = (file: string): string | undefined => /^src\/([^/]+)\//.exec(file)?.[1];

const sources = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile() && /\.tsx?$/.test(e.name) && !e.name.endsWith('.d.ts'))
    .map((e) => path.join(e.parentPath, e.name));

describe('rooms', () => {
  const table = roomsTable();

  it('has a row for every folder of src', () => {
    const folders = fs
      .readdirSync('src', { withFileTypes: true })
      .filter((e) => e.isDirectory() && sources(path.join('src', e.name)).length > 0);
    expect(folders.map((e) => e.name).filter((name) => !table.has(name))).toEqual([]);
    for (const [room, barred] of CORE_BUT)
      for (const b of barred) expect(table.get(room)?.has(b), `${room} must not import ${b}`).toBe(false);
  });

  it('imports only in the directions of the table, type imports too, and in no ring', async () => {
    const result = (
      await cruise(['src'], {
        doNotFollow: { path: 'node_modules' },
        tsPreCompilationDeps: true,
        ruleSet: { forbidden: [{ name: 'no-ring', severity: 'error', from: {}, to: { circular: true } }] },
        validate: true,
        enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js'] },
      })
    ).output as ICruiseResult;
    const modules = result.modules.filter((m) => m.source.startsWith('src/'));
    const files = sources('src');
    expect(
      modules.length,
      'fewer modules were seen than there are files: is @swc/core installed?',
    ).toBeGreaterThanOrEqual(files.length);
    const wrong = modules.flatMap((m) => {
      const from = roomOf(m.source);
      if (!from || m.source.includes('.test.')) return [];
      return m.dependencies
        .map((d) => d.resolved)
        .filter((to) => {
          const room = roomOf(to);
          return room !== undefined && room !== from && !table.get(from)?.has(room);
        })
        .map((to) => `${m.source} imports ${to}: ${from} may not import ${roomOf(to)}`);
    });
    expect(wrong).toEqual([]);
    const rings = (result.summary.violations ?? []).map(
      (v) => `${v.from} and ${v.to} import each other in a ring`,
    );
    expect(rings).toEqual([]);
  });

  it('keeps clock, chance, disk and network out of the core', () => {
    const core = [...table.keys()].slice(0, [...table.keys()].indexOf('prints') + 1);
    const bad = core.flatMap((room) =>
      (fs.existsSync(`src/${room}`) ? sources(`src/${room}`) : [])
        .filter((f) => !/\.(test|fixture)\.ts$/.test(f))
        .filter((f) =>
          /\bDate\.now\b|\bMath\.random\b|new Date\(\)|from 'node:|\bfetch\(|\bprocess\./.test(
            fs.readFileSync(f, 'utf8'),
          ),
        ),
    );
    expect(bad).toEqual([]);
  });
});
