import fs from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { InputError } from '../../quantity/input-error.ts';
import { type PdfMaker, pdfMakerBeside, pdfMakerHere } from './pdf-maker.ts';

const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
const folder = path.resolve('node_modules/.cache/pdf-maker-test');
let maker: PdfMaker;

const job = (what: string) => ({
  kind: 'pattern' as const,
  wish: { text, what, paper: 'a4' as const, revision: '4', day: '2027-01-15', host: 'x' },
});

beforeAll(async () => {
  await build({
    entryPoints: ['src/server/prints/pdf-worker.ts'],
    outfile: path.join(folder, 'pdf-worker.mjs'),
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'error',
  });
  maker = pdfMakerBeside(path.join(folder, 'pdf-worker.mjs'));
});
afterAll(async () => {
  await maker.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('PDFs on a thread beside', () => {
  it('are byte for byte those of the thread that asks', async () => {
    const [beside, again] = await Promise.all([maker.make(job('ring-detail')), maker.make(job('bridge'))]);
    expect(Buffer.from(beside).equals(Buffer.from(await pdfMakerHere.make(job('ring-detail'))))).toBe(true);
    expect(Buffer.from(again).equals(Buffer.from(await pdfMakerHere.make(job('bridge'))))).toBe(true);
  });

  it('carry a refusal over with its code and member', async () => {
    const failed = await maker.make(job('a dragon')).catch((e: unknown) => e);
    expect(failed).toBeInstanceOf(InputError);
    expect(failed).toMatchObject({ code: 'unknown-drawing', member: 'what' });
  });

  it('fail alone when the thread cannot run, and refuse what is asked past twenty', async () => {
    const none = pdfMakerBeside(path.join(folder, 'not-there.mjs'));
    const asked = Array.from({ length: 22 }, () => none.make(job('bridge')).catch((e: Error) => e.message));
    expect((await asked[21]) as string).toBe('20 prints wait already; ask again when they are out.');
    expect((await asked[0]) as string).toContain('not-there.mjs');
    expect((await asked[20]) as string).toContain('not-there.mjs');
    await none.close();
  });
});
