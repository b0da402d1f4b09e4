import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { eventsRepository } from '../../src/store/events/events.repository.ts';
import { openStore } from '../../src/store/open-store.ts';
import { checkStore } from '../../src/store/upkeep/upkeep.service.ts';
import { readingEvent, sendTo, startProcess } from './server-process.ts';

const ROUNDS = 20;

it('has every acknowledged event after being killed twenty times under load', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-kill-'));
  const acknowledged = new Set<string>();
  for (let round = 0; round < ROUNDS; round++) {
    const server = await startProcess(folder);
    let isOver = false;
    const devices = Array.from({ length: 8 }, async (_, d) => {
      while (!isOver)
        try {
          const kept = await sendTo(server.url, [
            readingEvent(`k${round}-${d}`, 3.2),
            readingEvent(`k${round}-${d}`, 3.1),
          ]);
          for (const id of kept) acknowledged.add(id);
        } catch {
          return;
        }
    });
    await new Promise((resolve) => setTimeout(resolve, 60 + ((round * 137) % 300)));
    await server.kill();
    isOver = true;
    await Promise.all(devices);
  }
  const store = await openStore(folder);
  const kept = new Set((await eventsRepository(store.db).all()).map((e) => e.id));
  expect(acknowledged.size).toBeGreaterThan(ROUNDS);
  expect([...acknowledged].filter((id) => !kept.has(id))).toEqual([]);
  const { faults } = await checkStore(store);
  expect(faults).toEqual([]);
  await store.close();
  fs.rmSync(folder, { recursive: true, force: true });
}, 300_000);
