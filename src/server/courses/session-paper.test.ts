import { spawnSync } from 'node:child_process';
import decodeQr from 'qr/decode.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasRasteriser, rasterise } from '../../../test/support/raster.ts';
import { TEST_NOW_MS, type TestServer, testServer } from '../../../test/support/server.ts';
import { sessionOfPaper, sessionSheet } from '../../course/session-sheet.ts';
import { seedDemo } from '../demo/demo.service.ts';
import { courseState } from './course-state.ts';

let server: TestServer;
beforeAll(async () => {
  server = await testServer({ isSecure: true });
  server.secure?.opened.listensOn({ http: 4180, https: 4181 });
  await seedDemo(server.context);
});
afterAll(() => server.close());

const local = { host: 'localhost:4180' };

describe('paper of a session', () => {
  it('has a row for each learner with steps, and what can be done by hand', async () => {
    const { state } = (await courseState(server.context, 'demo')) ?? {};
    if (!state) throw new Error('the demo has no course');
    const session = sessionOfPaper(state, TEST_NOW_MS);
    if (!session) throw new Error('the demo has no session');
    const sheet = sessionSheet(state, session);
    expect(sheet.rows).toHaveLength(12);
    expect(sheet.rows.some((r) => r.steps.some((s) => s.rests))).toBe(true);
    expect(sheet.rows.filter((r) => r.steps.length > 0).length).toBeGreaterThan(8);
    expect(sheet.rows.every((r) => r.steps.length <= 3)).toBe(true);
  });

  it('comes as PDF for the teacher, with every name, marked as demo', async () => {
    const response = await server.app.inject({ url: '/api/courses/demo/sheet.pdf', headers: local });
    expect(response.statusCode).toBe(200);
    expect(response.headers['content-type']).toBe('application/pdf');
    expect(response.rawPayload.subarray(0, 5).toString('latin1')).toBe('%PDF-');
    const read = spawnSync('pdftotext', ['-layout', '-', '-'], { input: response.rawPayload });
    if (read.error) throw new Error('pdftotext is needed: apt-get install poppler-utils');
    const words = read.stdout.toString();
    for (const name of ['1 Ada', '12 Leon']) expect(words).toContain(name);
    for (const line of ['Session sheet', 'DEMO', 'If somebody stands in', 'Part tags'])
      expect(words).toContain(line);
  });

  it.skipIf(!hasRasteriser('reading the codes on part tags'))(
    'has part tags whose codes a second reader reads as the build’s address in the network, also when printed at the machine itself',
    async () => {
      const { rawPayload } = await server.app.inject({ url: '/api/courses/demo/sheet.pdf', headers: local });
      const pages = Number(
        /Pages:\s+(\d+)/.exec(spawnSync('pdfinfo', ['-'], { input: rawPayload }).stdout.toString())?.[1],
      );
      const builds = (await server.context.events.all()).flatMap((e) =>
        e.kind === 'learner-added' ? [(e.body as { build: string }).build] : [],
      );
      // A4 across, tags from 21 mm and 22 mm on, 63.75 by 22.25 mm; eight learners on the last page but one
      const codeOf = (column: number, row: number): string => {
        const crop = { x: 21 + 63.75 * (column + 1) - 22, y: 22 + 22.25 * row, width: 22, height: 22.25 };
        const { widthPx, heightPx, inkAt } = rasterise(rawPayload, pages - 1, crop, 200);
        const data = new Uint8ClampedArray(widthPx * heightPx * 4).fill(255);
        for (let y = 0; y < heightPx; y++)
          for (let x = 0; x < widthPx; x++)
            data.fill(255 * (1 - inkAt(x, y)), 4 * (y * widthPx + x), 4 * (y * widthPx + x) + 3);
        return decodeQr({ width: widthPx, height: heightPx, data });
      };
      for (const [column, row] of [
        [0, 0],
        [3, 4],
        [2, 7],
      ] as const)
        expect(codeOf(column, row)).toBe(`http://192.168.7.20:4180/bench/${builds[row]}`);
    },
  );

  it('says in one sentence that a course or a paper is not there', async () => {
    const course = await server.app.inject({ url: '/api/courses/nobody/sheet.pdf', headers: local });
    expect([course.statusCode, course.json<{ code: string }>().code]).toEqual([404, 'no-such-course']);
    const paper = await server.app.inject({
      url: '/api/courses/demo/sheet.pdf?paper=napkin',
      headers: local,
    });
    expect(paper.json<{ message: string }>().message).toMatch(/napkin.*a4 or letter/);
  });
});
