import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { openAuthority } from '../server/authority/authority-files.ts';
import { openStore } from '../store/open-store.ts';
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
