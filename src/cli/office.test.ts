import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { testServer } from '../../test/support/server.ts';
import { seedDemo } from '../server/demo/demo.service.ts';
import { main } from './main.ts';

let folder: string;
beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-office-'));
  const server = await testServer({ folder });
  await seedDemo(server.context);
  await server.close();
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

async function run(...words: readonly string[]) {
  const out = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
  const err = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  try {
    const code = await main([...words, '--data', folder]);
    const said = (spy: typeof out): string => spy.mock.calls.map((c) => String(c[0])).join('');
    return { code, out: said(out), err: said(err) };
  } finally {
    out.mockRestore();
    err.mockRestore();
  }
}
const file = (name: string): string => path.join(folder, name);

describe('the office on the command line', () => {
  it('lists its tables, and gives one as CSV or JSON', async () => {
    expect((await run('office')).out).toMatch(
      /^hours: hours\nkeys: keys\nmachines: machine-days, machine-checks/,
    );
    expect((await run('office', 'consent')).out).toMatch(
      /^number,name,role,age_band,machines,photos\r\n1,Ada/,
    );
    const json = JSON.parse((await run('office', 'consent', '--json')).out) as { rows: { name: string }[] };
    expect(json.rows.map((r) => r.name)).toContain('Leon');
    await run('office', 'hours', '--out', file('hours.csv'));
    expect(fs.readFileSync(file('hours.csv'), 'utf8')).toContain('\r\n1,Ada,14,');
  });

  it('writes a part, a passport and the sessions into files', async () => {
    expect((await run('office', 'keys', '--out', file('keys.pdf'))).code).toBe(0);
    expect((await run('passport', 'b3', '--out', file('b3.pdf'), '--paper', 'letter')).code).toBe(0);
    for (const pdf of ['keys.pdf', 'b3.pdf'])
      expect(fs.readFileSync(file(pdf)).subarray(0, 5).toString('latin1'), pdf).toBe('%PDF-');
    await run('passport', 'b3', '--out', file('b3.json'));
    expect(JSON.parse(fs.readFileSync(file('b3.json'), 'utf8'))).toMatchObject({
      format: 'bracewright-build/1',
      build: 'b3',
    });
    await run('sessions', '--out', file('s.ics'), '--time-zone', 'Europe/Vienna');
    expect(fs.readFileSync(file('s.ics'), 'utf8').match(/BEGIN:VEVENT/g)).toHaveLength(30);
  });

  it.each([
    [['office', 'gossip'], /The office has no table "gossip"/],
    [['office', 'hours', '--out', 'hours.txt'], /must end in \.csv or \.pdf/],
    [['office', '--course', 'nobody'], /no course under that id/],
    [['passport', 'b99', '--out', 'x.pdf'], /no build under that id/],
    [['passport', 'b3', '--out', 'x.doc'], /ends in \.pdf or \.json/],
    [['passport', 'b3', '--out', 'x.pdf', '--paper', 'vellum'], /vellum/],
    [['sessions', '--out', 'x.ics', '--time-zone', 'Moon/Base'], /time zone "Moon\/Base" is not known/],
  ])('says in one sentence what is wrong with %j, and writes nothing', async (words, sentence) => {
    const { code, err } = await run(...words);
    expect(code).toBe(2);
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
    for (const name of ['x.pdf', 'x.doc', 'x.ics', 'hours.txt'])
      expect(fs.existsSync(name), name).toBe(false);
  });

  it('makes no store where there is none', async () => {
    const empty = path.join(folder, 'nowhere');
    const err = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    expect(await main(['office', '--data', empty])).toBe(2);
    expect(String(err.mock.calls[0]?.[0])).toMatch(/There is no store in .*nowhere; give its folder/);
    err.mockRestore();
    expect(fs.existsSync(empty)).toBe(false);
  });
});
