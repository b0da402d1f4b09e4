import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { eventsRepository } from '../src/store/events/events.repository.ts';
import { openStore } from '../src/store/open-store.ts';
import { checkStore, restore } from '../src/store/upkeep/upkeep.service.ts';
import { crowd, withinMs } from '../test/more/devices.ts';
import { startProcess, wait } from '../test/more/server-process.ts';
import { middleOf } from './_middle.ts';

const DEVICES = 200;
const SECONDS = 60;
/** 99 % of the readings are answered within this. */
const LIMIT_MS = 50;

/** Time to write one page and have it on disk, ms: what no acknowledged event can be faster than. */
function fsyncMs(folder: string): number {
  const file = fs.openSync(path.join(folder, 'fsync'), 'w');
  const page = new Uint8Array(4096);
  const times = Array.from({ length: 101 }, () => {
    const from = performance.now();
    fs.writeSync(file, page, 0, page.length, 0);
    fs.fsyncSync(file);
    return performance.now() - from;
  });
  fs.closeSync(file);
  return middleOf(times);
}

const start = (...args: readonly string[]) =>
  spawn(process.execPath, [path.resolve('bracewright'), ...args], { stdio: 'ignore' });

/** Runs a command; gives its exit code. */
const once = (...args: readonly string[]): Promise<unknown> =>
  new Promise((done) => start(...args).once('exit', done));

/** Runs a command again and again until told to stop; counts how often it went through. */
function again(...args: readonly string[]): () => Promise<number> {
  let isOver = false;
  let count = 0;
  let child: ReturnType<typeof spawn> | undefined;
  const all = (async () => {
    while (!isOver) {
      const one = start(...args);
      child = one;
      const code = await new Promise((done) => one.once('exit', done));
      if (!isOver && code !== 0) throw new Error(`bracewright ${args.join(' ')} ended with ${String(code)}`);
      if (!isOver) count++;
    }
  })();
  return async () => {
    isOver = true;
    child?.kill();
    await all;
    return count;
  };
}

/** Asks for all drawings as PDF, one after another, until told to stop. */
function prints(url: string): () => Promise<number> {
  const body = JSON.stringify({
    text: fs.readFileSync('data/patterns/small-steel-string.yaml', 'utf8'),
    what: 'all',
    paper: 'a4',
    revision: '1',
  });
  let isOver = false;
  let count = 0;
  const all = (async () => {
    while (!isOver) {
      const answer = await fetch(`${url}/api/prints`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body,
      });
      if (answer.status !== 200) throw new Error(`the print was answered with ${answer.status}`);
      await answer.arrayBuffer();
      count++;
      await wait(2000);
    }
  })();
  return async () => {
    isOver = true;
    await all;
    return count;
  };
}

/** A minute of two hundred devices on a server beside which a plan, a forecast and prints are made, with a backup in the middle. */
export async function run(): Promise<void> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-load-'));
  const data = path.join(folder, 'a');
  const diskMs = fsyncMs(folder);
  const server = await startProcess(data, 0, true);
  const stops = [
    again('schedule', 'demo-evening-class', '--seconds', '10', '--json'),
    again('forecast', 'demo-evening-class', '--json'),
    prints(server.url),
  ];
  const all = crowd({ url: server.url, devices: DEVICES, readings: SECONDS });
  await wait((SECONDS * 1000) / 2);
  const copy = path.join(folder, 'copy.db');
  const backup = once('backup', copy, '--data', data);
  const report = await all;
  if ((await backup) !== 0) throw new Error('the backup failed');
  const [plans, forecasts, pdfs] = await Promise.all(stops.map((stop) => stop()));
  await server.kill();
  const store = await openStore(data);
  const kept = new Set((await eventsRepository(store.db).all()).map((e) => e.id));
  const lost = [...report.acknowledged].filter((id) => !kept.has(id)).length;
  const { faults } = await checkStore(store);
  await store.close();
  await restore(copy, path.join(folder, 'b'));
  const restored = await openStore(path.join(folder, 'b'));
  const sound = await checkStore(restored);
  await restored.close();
  const slowMs = withinMs(report, 0.99);
  console.log(`one page written and synced by the disk          ${diskMs.toFixed(2)} ms`);
  console.log(`made meanwhile: ${plans} plans, ${forecasts} forecasts, ${pdfs} prints of all drawings`);
  console.log(
    `${report.acknowledged.size} readings acknowledged, ${lost} lost, ${faults.length} faults in the store`,
  );
  console.log(`backup taken meanwhile restored: ${sound.events} events, ${sound.faults.length} faults`);
  for (const frac of [0.5, 0.9, 0.99, 0.999])
    console.log(
      `${(frac * 100).toFixed(1)} % answered within ${withinMs(report, frac).toFixed(1)} ms${frac === 0.99 ? `  limit ${LIMIT_MS}` : ''}`,
    );
  fs.rmSync(folder, { recursive: true, force: true });
  if (slowMs > LIMIT_MS || lost > 0 || faults.length > 0 || sound.faults.length > 0) process.exitCode = 1;
}
