import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { foldShop } from '../course/shop-facts.ts';
import { shopFileOf } from '../course/shop-of-record.ts';
import { openAuthority } from '../server/authority/authority-files.ts';
import { eventsRepository } from '../store/events/events.repository.ts';
import { openStore } from '../store/open-store.ts';
import { main } from './main.ts';
import { backupCommand, exportCommand } from './upkeep.ts';

it('keeps the key of the https certificates out of backup and export, and says so', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-upkeep-'));
  const data = path.join(folder, 'data');
  const said: string[] = [];
  const print = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    said.push(String(text));
    return true;
  });
  try {
    await (await openStore(data)).close();
    expect(await backupCommand(path.join(folder, 'before.db'), { data })).toBe(0);
    expect(said.join('')).not.toContain('https');
    const { authority } = openAuthority(data, { names: ['bench.local'], nowMs: Date.now(), renew: false });
    expect(await backupCommand(path.join(folder, 'copy.db'), { data })).toBe(0);
    expect(said.join('')).toMatch(/The key of the https certificates is not in it;/);
    expect(await exportCommand(path.join(folder, 'record.json'), { data })).toBe(0);
    const line = authority.keyPem.split('\n')[1] as string;
    for (const file of ['copy.db', 'record.json']) {
      const bytes = fs.readFileSync(path.join(folder, file), 'latin1');
      expect(bytes, file).not.toContain('PRIVATE KEY');
      expect(bytes, file).not.toContain(line);
    }
  } finally {
    print.mockRestore();
    fs.rmSync(folder, { recursive: true, force: true });
  }
});

it('takes a shop file into the record once, tries it first when asked, and keeps nothing of one that cannot be read', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-shop-'));
  const data = path.join(folder, 'data');
  const said: string[] = [];
  const print = (text: string | Uint8Array): boolean => said.push(String(text)) > 0;
  const out = vi.spyOn(process.stdout, 'write').mockImplementation(print);
  const err = vi.spyOn(process.stderr, 'write').mockImplementation(print);
  const shopIn = async () => {
    const store = await openStore(data);
    const events = await eventsRepository(store.db).ofStreams(['shop:main']);
    await store.close();
    return { name: shopFileOf(foldShop(events))?.text.match(/name: (.*)/)?.[1], count: events.length };
  };
  const take = (file: string, ...more: string[]) => main(['import', file, '--data', data, ...more]);
  try {
    const bad = path.join(folder, 'bad.yaml');
    fs.writeFileSync(bad, 'format: bracewright-shop/1\nname: X\nunit: furlong\n');
    expect(await take(bad)).toBe(2);
    expect(said.at(-1)).toMatch(/bad\.yaml: .*furlong/);
    const good = 'data/shops/summer-school.yaml';
    expect(await take(good, '--dry-run')).toBe(0);
    expect(await shopIn()).toEqual({ name: undefined, count: 0 });
    expect(await take(good)).toBe(0);
    expect(await take(good)).toBe(0);
    expect(said.at(-1)).toMatch(/is what the record has already/);
    const { name, count } = await shopIn();
    expect(count).toBe(1);
    expect(name).toBe(fs.readFileSync(good, 'utf8').match(/name: (.*)/)?.[1]);
  } finally {
    out.mockRestore();
    err.mockRestore();
    fs.rmSync(folder, { recursive: true, force: true });
  }
});
