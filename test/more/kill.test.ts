import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { eventsRepository } from '../../src/store/events/events.repository.ts';
import { openStore } from '../../src/store/open-store.ts';
import { checkStore } from '../../src/store/upkeep/upkeep.service.ts';
import { crowd } from './devices.ts';
import { freePort, startProcess, wait } from './server-process.ts';

const KILLS = 20;
const DEVICES = 200;
const READINGS = 30;

it('has every reading of two hundred devices after being killed twenty times while they send', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-kill-'));
  const port = await freePort();
  let server = await startProcess(folder, port);
  const all = crowd({ url: server.url, devices: DEVICES, readings: READINGS });
  for (let k = 0; k < KILLS; k++) {
    await wait(150 + ((k * 337) % 900));
    await server.kill();
    server = await startProcess(folder, port);
  }
  const report = await all;
  await server.kill();
  const store = await openStore(folder);
  const events = await eventsRepository(store.db).all();
  const kept = new Set(events.map((e) => e.id));
  expect(report.acknowledged.size).toBe(DEVICES * READINGS);
  expect([...report.acknowledged].filter((id) => !kept.has(id))).toEqual([]);
  expect(kept.size).toBe(events.length);
  expect(report.tries).toBeGreaterThan(KILLS);
  expect((await checkStore(store)).faults).toEqual([]);
  await store.close();
  fs.rmSync(folder, { recursive: true, force: true });
}, 300_000);
