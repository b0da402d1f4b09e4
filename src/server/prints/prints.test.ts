import fs from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type TestServer, testServer } from '../../../test/support/server.ts';

const text = fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8');
let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.close());

const ask = (payload: object) =>
  server.app.inject({
    method: 'POST',
    url: '/api/prints',
    headers: { host: 'localhost' },
    payload: { text, paper: 'a4', revision: '4, draft', ...payload },
  });
const pageCount = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type \/Page\b(?!s)/g)?.length ?? 0;

describe('prints', () => {
  it('gives a drawing at full scale on tiles and on one sheet', async () => {
    const tiles = await ask({ what: 'front-face' });
    expect(tiles.headers['content-type']).toContain('application/pdf');
    expect(tiles.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
    const sheet = await ask({ what: 'front-face', paper: 'sheet' });
    expect(pageCount(tiles.rawPayload)).toBeGreaterThan(pageCount(sheet.rawPayload));
    expect(pageCount(sheet.rawPayload)).toBe(1);
  });

  it('gives the setting cards', async () => {
    const cards = await ask({ what: 'cards', paper: 'letter' });
    expect(cards.statusCode).toBe(200);
    expect(pageCount(cards.rawPayload)).toBeGreaterThan(3);
  });

  it('says what is wrong in one sentence', async () => {
    expect((await ask({ what: 'a dragon' })).json().message).toContain('There is no drawing "a dragon"');
    expect((await ask({ what: 'cards', paper: 'vellum' })).statusCode).toBe(400);
    expect((await ask({ what: 'cards', printed_100: { x_mm: 9, y_mm: 100 } })).statusCode).toBe(400);
  });
});
