import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { eventsRepository } from '../../src/store/events/events.repository.ts';
import { openStore } from '../../src/store/open-store.ts';
import { backUp, checkStore, restore } from '../../src/store/upkeep/upkeep.service.ts';
import { crowd, withinMs } from './devices.ts';
import { startProcess, wait } from './server-process.ts';

const DEVICES = 200;
const SECONDS = 15;

it('keeps every acknowledged event of two hundred devices sending one a second while a print is made, and a backup taken meanwhile restores', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-load-'));
  const server = await startProcess(path.join(folder, 'a'));
  const all = crowd({ url: server.url, devices: DEVICES, readings: SECONDS });
  await wait(5000);
  const print = fetch(`${server.url}/api/prints`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({
      text: fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8'),
      what: 'all',
      paper: 'a4',
      revision: '1',
    }),
  });
  const copy = path.join(folder, 'copy.db');
  const backup = await backUp(path.join(folder, 'a'), copy);
  const report = await all;
  expect((await print).status).toBe(200);
  await server.kill();
  const store = await openStore(path.join(folder, 'a'));
  const kept = new Set((await eventsRepository(store.db).all()).map((e) => e.id));
  expect(report.acknowledged.size).toBe(DEVICES * SECONDS);
  expect([...report.acknowledged].filter((id) => !kept.has(id))).toEqual([]);
  expect((await checkStore(store)).faults).toEqual([]);
  await store.close();
  await restore(copy, path.join(folder, 'b'));
  const again = await openStore(path.join(folder, 'b'));
  expect(await checkStore(again)).toEqual({ events: backup.events, faults: [] });
  await again.close();
  console.log(
    `${report.acknowledged.size} events; half answered within ${withinMs(report, 0.5).toFixed(1)} ms, 99 % within ${withinMs(report, 0.99).toFixed(1)} ms`,
  );
  fs.rmSync(folder, { recursive: true, force: true });
}, 300_000);
