import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { eventsRepository } from '../../src/store/events/events.repository.ts';
import { openStore } from '../../src/store/open-store.ts';
import { backUp, checkStore, restore } from '../../src/store/upkeep/upkeep.service.ts';
import { readingEvent, sendTo, startProcess } from './server-process.ts';

const DEVICES = 200;
const SECONDS = 15;

it('keeps every acknowledged event of two hundred devices sending one a second, and a backup taken meanwhile restores', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-load-'));
  const server = await startProcess(path.join(folder, 'a'));
  const acknowledged = new Set<string>();
  const tookMs: number[] = [];
  const device = async (d: number): Promise<void> => {
    await new Promise((resolve) => setTimeout(resolve, (d * 1000) / DEVICES));
    for (let s = 0; s < SECONDS; s++) {
      const begun = performance.now();
      for (const id of await sendTo(server.url, [readingEvent(`l${d}`, 2.8)])) acknowledged.add(id);
      const took = performance.now() - begun;
      tookMs.push(took);
      await new Promise((resolve) => setTimeout(resolve, Math.max(0, 1000 - took)));
    }
  };
  const all = Promise.all(Array.from({ length: DEVICES }, (_, d) => device(d)));
  await new Promise((resolve) => setTimeout(resolve, 5000));
  const copy = path.join(folder, 'copy.db');
  const backup = await backUp(path.join(folder, 'a'), copy);
  await all;
  await server.kill();
  const store = await openStore(path.join(folder, 'a'));
  const kept = new Set((await eventsRepository(store.db).all()).map((e) => e.id));
  expect(acknowledged.size).toBe(DEVICES * SECONDS);
  expect([...acknowledged].filter((id) => !kept.has(id))).toEqual([]);
  expect((await checkStore(store)).faults).toEqual([]);
  await store.close();
  await restore(copy, path.join(folder, 'b'));
  const again = await openStore(path.join(folder, 'b'));
  expect(await checkStore(again)).toEqual({ events: backup.events, faults: [] });
  await again.close();
  tookMs.sort((a, b) => a - b);
  console.log(
    `${acknowledged.size} events; half answered within ${tookMs[Math.floor(tookMs.length / 2)]?.toFixed(1)} ms, 99 % within ${tookMs[Math.floor(tookMs.length * 0.99)]?.toFixed(1)} ms`,
  );
  fs.rmSync(folder, { recursive: true, force: true });
}, 300_000);
