import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { testEvent } from '../../test/support/server.ts';
import type { RecordEvent } from '../course/event.ts';
import { type OpenStore, schemaText } from './dialect/open-sqlite.ts';
import { eventsRepository } from './events/events.repository.ts';
import { openStore, STORE_FILE } from './open-store.ts';
import { type Person, peopleRepository } from './people/people.repository.ts';
import { backUp, checkStore, exportRecord, importRecord, restore } from './upkeep/upkeep.service.ts';

let folder: string;
let store: OpenStore;
beforeEach(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-store-'));
  store = await openStore(path.join(folder, 'a'));
});
afterEach(async () => {
  await store.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

const some = (count: number): RecordEvent[] =>
  Array.from(
    { length: count },
    (_, i) =>
      testEvent({
        stream: `build:b${i % 3}`,
        kind: 'step-done',
        by: 'ada',
        body: { op: 'T1' },
      }) as RecordEvent,
  );

describe('the schema', () => {
  it('is the one in the snapshot; a change needs a new migration that only adds', async () => {
    await expect(`${await schemaText(store.db)}\n`).toMatchFileSnapshot('../../test/pinned/schema.sql');
  });

  it('writes every commit to disk before it says so', async () => {
    const { sql } = await import('kysely');
    const level = await sql<{ synchronous: number }>`PRAGMA synchronous`.execute(store.db);
    expect(level.rows[0]?.synchronous, 'FULL is 2').toBe(2);
  });
});

describe('events', () => {
  it('keeps many appends at once, each once, with growing arrival numbers', async () => {
    const events = eventsRepository(store.db);
    const all = some(60);
    const arrived = await Promise.all([...all, ...all.slice(0, 20)].map((e) => events.append([e])));
    const kept = await events.all();
    expect(kept.map((e) => e.id).sort()).toEqual(all.map((e) => e.id).sort());
    expect(kept.map((e) => e.arrival)).toEqual(Array.from({ length: 60 }, (_, i) => i + 1));
    expect(arrived.every((a) => a.length <= 1)).toBe(true);
  });

  it('takes a batch of thousands', async () => {
    const events = eventsRepository(store.db);
    await events.append(some(1500));
    expect(await events.lastArrival()).toBe(1500);
    expect(await events.after(1400, 50)).toHaveLength(50);
  });
});

describe('upkeep', () => {
  it('backs up while open and restores the same record', async () => {
    const events = eventsRepository(store.db);
    await events.append(some(40));
    const file = path.join(folder, 'copy.db');
    const [done] = await Promise.all([backUp(path.join(folder, 'a'), file), events.append(some(40))]);
    expect(done.events).toBeGreaterThanOrEqual(40);
    await restore(file, path.join(folder, 'b'));
    const again = await openStore(path.join(folder, 'b'));
    const back = await eventsRepository(again.db).all();
    expect(back).toEqual((await events.all()).slice(0, back.length));
    expect(await checkStore(again)).toEqual({ events: back.length, faults: [] });
    await again.close();
  });

  it('refuses to overwrite a backup or a store, and a file that is no backup', async () => {
    const file = path.join(folder, 'copy.db');
    await backUp(path.join(folder, 'a'), file);
    await expect(backUp(path.join(folder, 'a'), file)).rejects.toThrow(/is there already/);
    await expect(restore(file, path.join(folder, 'a'))).rejects.toThrow(/has a store already/);
    fs.writeFileSync(path.join(folder, 'text.db'), 'no database at all, only words'.repeat(100));
    await expect(restore(path.join(folder, 'text.db'), path.join(folder, 'c'))).rejects.toThrow(
      /no backup|damaged/,
    );
    expect(fs.readdirSync(path.join(folder, 'c'))).toEqual([]);
  });

  it('has everything in the one file once it is closed', async () => {
    const folderOfIt = path.join(folder, 'closed');
    const closed = await openStore(folderOfIt);
    await eventsRepository(closed.db).append(some(5));
    await closed.close();
    fs.mkdirSync(path.join(folder, 'alone'));
    fs.copyFileSync(path.join(folderOfIt, STORE_FILE), path.join(folder, 'alone', STORE_FILE));
    const alone = await openStore(path.join(folder, 'alone'));
    expect(await eventsRepository(alone.db).all()).toHaveLength(5);
    await alone.close();
  });

  it('finds an event that was spoilt', async () => {
    await eventsRepository(store.db).append(some(3));
    await store.db.updateTable('event').set({ body: '{"op": 7}' }).where('arrival', '=', 2).execute();
    const { faults } = await checkStore(store);
    expect(faults).toHaveLength(1);
    expect(faults[0]?.text).toMatch(/op/);
  });

  it('exports and imports the same events, twice without harm', async () => {
    await eventsRepository(store.db).append(some(30));
    const text = await exportRecord(store);
    const other = await openStore(path.join(folder, 'b'));
    expect(await importRecord(other, text)).toEqual({ read: 30, added: 30 });
    expect(await importRecord(other, text)).toEqual({ read: 30, added: 0 });
    expect(await exportRecord(other)).toBe(text);
    await expect(importRecord(other, text.replace('"op": "T1"', '"op": 1'))).rejects.toThrow(
      /Event 1 .*Nothing was kept/,
    );
    await expect(importRecord(other, '{')).rejects.toThrow(/no JSON/);
    await other.close();
  });
});

describe('a health note', () => {
  const SECRET = 'must-not-stay-anywhere';
  const person = (id: string): Person => ({
    id,
    name: id,
    role: 'learner',
    course: 'c',
    build: `b-${id}`,
    ageBand: 'adult',
    machines: { answer: 'not asked' },
    photos: { answer: 'not asked' },
    isForgotten: false,
  });
  /** Files of a folder that hold the words. */
  const holding = (where: string): string[] =>
    fs.readdirSync(where).filter((f) => fs.readFileSync(path.join(where, f)).includes(SECRET));

  beforeEach(async () => {
    const people = peopleRepository(store.db);
    await people.put(['ada', 'bo', 'cy'].map(person));
    for (const id of ['ada', 'bo', 'cy']) await people.setHealthNote(id, `${SECRET}, of ${id}`);
    await eventsRepository(store.db).append(some(30));
  });

  it('leaves no text in the files of the store when it is emptied, taken away or its person forgotten', async () => {
    const people = peopleRepository(store.db);
    const where = path.join(folder, 'a');
    expect(holding(where)).toEqual([STORE_FILE]);
    await people.setHealthNote('ada', '');
    expect(await people.removeHealthNotes(['bo', 'nobody'])).toBe(1);
    expect(holding(where)).toEqual([STORE_FILE]);
    await people.forget('cy');
    expect([...(await people.healthNotes())]).toEqual([]);
    expect(holding(where)).toEqual([]);
  });

  it('stays out of the export, and out of a backup unless it is asked for', async () => {
    expect(await exportRecord(store)).not.toContain(SECRET);
    const out = path.join(folder, 'out');
    fs.mkdirSync(out);
    const plain = await backUp(path.join(folder, 'a'), path.join(out, 'plain.db'));
    expect(plain.healthNotesLeftOut).toBe(3);
    expect(holding(out)).toEqual([]);
    await backUp(path.join(folder, 'a'), path.join(out, 'with.db'), { withHealthNotes: true });
    expect(holding(out)).toEqual(['with.db']);
    await restore(path.join(out, 'plain.db'), path.join(folder, 'b'));
    const again = await openStore(path.join(folder, 'b'));
    expect([...(await peopleRepository(again.db).healthNotes())]).toEqual([]);
    expect(await eventsRepository(again.db).all()).toHaveLength(30);
    await again.close();
    expect([...(await peopleRepository(store.db).healthNotes())]).toHaveLength(3);
  });
});
