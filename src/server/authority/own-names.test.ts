import type { NetworkInterfaceInfo } from 'node:os';
import { describe, expect, it } from 'vitest';
import { hostNames, ownNames } from './own-names.ts';

const at = (address: string, isInternal = false): NetworkInterfaceInfo => ({
  address,
  family: 'IPv4',
  netmask: '255.255.255.0',
  mac: '00:00:00:00:00:00',
  internal: isInternal,
  cidr: `${address}/24`,
});
const loopback = { lo: [at('127.0.0.1', true)] };

describe('the names of a machine', () => {
  it.each([
    ['bench', ['bench.local']],
    ['WORKSHOP-PC', ['workshop-pc.local']],
    ['bench.local', ['bench.local']],
    ['bench.school.example.', ['bench.school.example', 'bench.local']],
    ['Wërkstatt', ['xn--wrkstatt-t1a.local']],
    ['localhost', []],
    ['localhost.localdomain', []],
    ['my_pc', []],
    ['my pc', []],
    ['-bench', []],
    ['', []],
    ['192.168.1.5', []],
    ['a'.repeat(64), []],
    ['*.example', []],
    ['bench\n.local', ['bench.local']],
  ])('takes "%s" as %j', (said, names) => {
    expect(hostNames(said)).toEqual(names);
  });

  it('never vouches for a bare name, which may be an end of the public name system', () => {
    // "guitars", "tools" and "dev" are top-level domains (IANA, Root Zone Database)
    for (const name of ['guitars', 'tools', 'dev'])
      expect(hostNames(name).every((n) => n.includes('.'))).toBe(true);
  });

  it('keeps private addresses, leaves public ones out and says so', () => {
    const names = ownNames('bench', {
      ...loopback,
      a: [at('192.168.1.5'), at('203.0.113.7')],
      b: [at('10.4.0.2'), at('172.32.0.1'), at('172.31.0.1'), at('169.254.9.9')],
    });
    expect(names.lanAddresses).toEqual(['10.4.0.2', '169.254.9.9', '172.31.0.1', '192.168.1.5']);
    expect(names.says).toHaveLength(1);
    expect(names.says[0]).toMatch(/^203\.0\.113\.7 and 172\.32\.0\.1 is no private address.*\.$/);
  });

  it('says one sentence without a network, for an odd name, and for a name the authority does not know', () => {
    expect(ownNames('bench', loopback).says).toEqual([expect.stringMatching(/no network just now/)]);
    expect(ownNames('my_pc', { a: [at('10.0.0.1')] }).says).toEqual([
      expect.stringMatching(/^This machine calls itself "my_pc", which cannot stand in a certificate/),
    ]);
    const moved = ownNames('lathe', { a: [at('10.0.0.1')] }, ['bench.local']);
    expect(moved.dns).toEqual(['localhost']);
    expect(moved.says).toEqual([
      expect.stringMatching(/called lathe\.local now.*vouches for bench\.local only/),
    ]);
    expect(ownNames('localhost', { a: [at('10.0.0.1')] }).says).toEqual([]);
  });
});
