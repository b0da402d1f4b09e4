import { execFileSync, spawnSync } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import fs from 'node:fs';
import type { AddressInfo } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import tls from 'node:tls';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { InputError } from '../../quantity/input-error.ts';
import { openAuthority, openDoorCertificate } from './authority-files.ts';
import { DAY_MS, issueCertificate, type KeyedCertificate, newAuthority, validity } from './certificates.ts';
import { openSecureDoor } from './open-secure-door.ts';
import { ownNames } from './own-names.ts';

let folder: string;
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bracewright-authority-'));
});
afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

const now = Date.now();
const fileOf = (name: string) => path.join(folder, 'authority', name);
const wish = { names: ['bench.local'], nowMs: now, renew: false };
const network = (address: string) => ({
  eth: [
    {
      address,
      family: 'IPv4',
      internal: false,
      netmask: '',
      mac: '',
      cidr: null,
    } as os.NetworkInterfaceInfoIPv4,
  ],
});

/** Connects to a server that shows a certificate, trusting one authority only; "ok" or why not. */
async function handshake(
  shown: KeyedCertificate,
  authority: KeyedCertificate,
  host: string,
): Promise<string> {
  const server = tls.createServer({ key: shown.keyPem, cert: shown.certificatePem }, (s) => s.end());
  server.on('tlsClientError', () => undefined);
  await new Promise<void>((ready) => {
    server.listen(0, '127.0.0.1', ready);
  });
  const { port } = server.address() as AddressInfo;
  const said = await new Promise<string>((resolve) => {
    const socket = tls.connect({
      host: '127.0.0.1',
      port,
      ca: authority.certificatePem,
      ...(/^[0-9.]+$/.test(host) ? {} : { servername: host }),
      checkServerIdentity: (_name, certificate) => tls.checkServerIdentity(host, certificate),
    });
    socket.once('secureConnect', () => resolve('ok'));
    socket.once('error', (e: NodeJS.ErrnoException) => resolve(e.code ?? e.message));
    socket.once('close', () => server.close());
    socket.on('secureConnect', () => socket.destroy());
  });
  return said;
}

const OUTSIDE = [
  { dns: ['example.com'], addresses: [] },
  { dns: ['bench.local', 'evil.example'], addresses: [] },
  { dns: ['otherbench.local'], addresses: [] },
  { dns: ['bench.local'], addresses: ['8.8.8.8'] },
  { dns: ['bench.local'], addresses: ['172.32.0.1'] },
  { dns: ['bench.local'], addresses: ['2001:db8::1'] },
] as const;

describe('certificates of the workshop', () => {
  const authority = newAuthority(['bench.local'], now);
  const own = issueCertificate(
    authority,
    {
      dns: ['bench.local', 'localhost'],
      addresses: ['192.168.1.5', '127.0.0.1', '::1', 'fd00::5', 'fe80::7'],
    },
    now,
  );

  it('are taken for the workshop’s own names and addresses, and for nothing else', async () => {
    for (const host of ['bench.local', 'localhost', '127.0.0.1', '192.168.1.5'])
      expect(await handshake(own, authority, host), host).toBe('ok');
    expect(await handshake(own, authority, 'example.com')).toBe('ERR_TLS_CERT_ALTNAME_INVALID');
    const stranger = newAuthority(['bench.local'], now);
    expect(await handshake(own, stranger, 'bench.local')).not.toBe('ok');
  });

  it('are refused for an outside name although the same authority signed them', async () => {
    for (const to of OUTSIDE) {
      const outside = issueCertificate(authority, to, now);
      expect(await handshake(outside, authority, to.dns[0]), JSON.stringify(to)).toBe('UNSPECIFIED');
    }
  });

  const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
  if (!hasOpenssl)
    console.log('not run: openssl verify on the certificates, because openssl is not installed');
  it.skipIf(!hasOpenssl)('are judged the same by openssl verify, strictly read', () => {
    const keep = (name: string, pem: string): string => {
      fs.writeFileSync(path.join(folder, name), pem);
      return path.join(folder, name);
    };
    const ca = keep('ca.pem', authority.certificatePem);
    const verify = (...args: string[]) =>
      spawnSync('openssl', ['verify', '-x509_strict', '-purpose', 'sslserver', '-CAfile', ca, ...args], {
        encoding: 'utf8',
      });
    const leaf = keep('leaf.pem', own.certificatePem);
    for (const args of [
      ['-verify_hostname', 'bench.local'],
      ['-verify_ip', '192.168.1.5'],
      ['-verify_ip', 'fd00::5'],
    ])
      expect(verify(...args, leaf), args.join(' ')).toMatchObject({ status: 0 });
    expect(verify('-verify_hostname', 'example.com', leaf).status).not.toBe(0);
    for (const to of OUTSIDE) {
      const said = verify(keep('outside.pem', issueCertificate(authority, to, now).certificatePem));
      expect(said.status, JSON.stringify(to)).not.toBe(0);
      expect(said.stderr, JSON.stringify(to)).toContain('permitted subtree violation');
    }
    const text = execFileSync('openssl', ['x509', '-in', ca, '-noout', '-text'], { encoding: 'utf8' });
    expect(text).toMatch(/X509v3 Name Constraints: critical/);
    expect(text).toMatch(/CA:TRUE, pathlen:0/);
  });

  it('last at most 397 days, and never longer than their authority', () => {
    const { fromMs, untilMs } = validity(own.certificatePem);
    // Baseline Requirements of the CA/Browser Forum, 6.3.2: 398 days
    expect(untilMs - fromMs).toBeLessThanOrEqual(397 * DAY_MS);
    expect(untilMs).toBeGreaterThan(now + 390 * DAY_MS);
    const late = validity(authority.certificatePem).untilMs - 100 * DAY_MS;
    const last = issueCertificate(authority, { dns: ['bench.local'], addresses: [] }, late);
    expect(validity(last.certificatePem).untilMs).toBe(validity(authority.certificatePem).untilMs);
  });
});

describe('the files of the authority', () => {
  it('are readable by their owner only, and no half-written one stays', () => {
    const { authority, isNew } = openAuthority(folder, wish);
    openDoorCertificate(folder, authority, ownNames('bench', network('10.0.0.5')), now);
    expect(isNew).toBe(true);
    expect(fs.readdirSync(path.join(folder, 'authority')).sort()).toEqual(['authority.pem', 'door.pem']);
    if (process.platform !== 'win32') {
      expect(fs.statSync(path.join(folder, 'authority')).mode & 0o777).toBe(0o700);
      for (const name of ['authority.pem', 'door.pem'])
        expect(fs.statSync(fileOf(name)).mode & 0o777, name).toBe(0o600);
    }
    const again = openAuthority(folder, wish);
    expect(again).toEqual({
      authority: {
        ...authority,
        keyPem: authority.keyPem.trim(),
        certificatePem: authority.certificatePem.trim(),
      },
      isNew: false,
      says: [],
    });
  });

  it.skipIf(process.platform === 'win32')(
    'are closed again when others could read them, and that is said',
    () => {
      openAuthority(folder, wish);
      fs.chmodSync(fileOf('authority.pem'), 0o644);
      expect(openAuthority(folder, wish).says).toEqual([
        expect.stringMatching(/could be read by other people/),
      ]);
      expect(fs.statSync(fileOf('authority.pem')).mode & 0o777).toBe(0o600);
    },
  );

  const sentence = (action: () => unknown): string => {
    try {
      action();
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      const { message } = error as Error;
      expect(message).toMatch(/^[A-Z/].*\.$/);
      expect(message).not.toMatch(/PRIVATE KEY|\n/);
      return message;
    }
    throw new Error('nothing was refused');
  };

  it('give one sentence and a way forward when damaged, exchanged or missing', () => {
    const { authority } = openAuthority(folder, wish);
    openDoorCertificate(folder, authority, ownNames('bench', network('10.0.0.5')), now);
    const whole = fs.readFileSync(fileOf('authority.pem'), 'utf8');
    const other = newAuthority(['bench.local'], now);
    const leaf = fs.readFileSync(fileOf('door.pem'), 'utf8');
    for (const [name, text] of Object.entries({
      empty: '',
      'cut off': whole.slice(0, whole.length / 2),
      'one letter changed': whole.replace(/[A-Z](?=[a-z])/, '*'),
      'another key': `${other.keyPem}${authority.certificatePem}`,
      'no authority': leaf,
      binary: '\u0000\u0001\u0002',
    })) {
      fs.writeFileSync(fileOf('authority.pem'), text);
      expect(
        sentence(() => openAuthority(folder, wish)),
        name,
      ).toMatch(/is damaged; put the file back.*--new-authority/);
      expect(fs.readFileSync(fileOf('authority.pem'), 'utf8'), name).toBe(text);
    }
    fs.rmSync(fileOf('authority.pem'));
    expect(sentence(() => openAuthority(folder, wish))).toMatch(
      /is missing; put the file back.*--new-authority/,
    );
    const made = openAuthority(folder, { ...wish, renew: true });
    expect(made.isNew).toBe(true);
    expect(openAuthority(folder, wish).authority.keyPem).toBe(made.authority.keyPem.trim());
  });

  it('give one sentence when the folder cannot be written', () => {
    fs.writeFileSync(path.join(folder, 'authority'), 'a file in its place');
    expect(sentence(() => openAuthority(folder, wish))).toMatch(/authority/);
  });

  it('tell of a clock that is behind and of an authority that ends', () => {
    const { authority } = openAuthority(folder, wish);
    const end = validity(authority.certificatePem).untilMs;
    expect(sentence(() => openAuthority(folder, { ...wish, nowMs: now - 3 * DAY_MS }))).toMatch(
      /set the clock right/,
    );
    expect(sentence(() => openAuthority(folder, { ...wish, nowMs: end - DAY_MS }))).toMatch(
      /ends on .*--new-authority/,
    );
    expect(openAuthority(folder, { ...wish, nowMs: end - 200 * DAY_MS }).says).toEqual([
      expect.stringMatching(/plan a day/),
    ]);
  });
});

describe('the certificate of the door', () => {
  const machine = { address: '192.168.1.5', name: 'bench', nowMs: now };
  const open = (m: { address: string; name: string; nowMs: number }) =>
    openSecureDoor(
      folder,
      { hostName: () => m.name, interfaces: () => network(m.address), nowMs: () => m.nowMs },
      false,
    );
  const serialOf = (pem: string) => new X509Certificate(pem).serialNumber;

  it('stays over a restart and is made anew for another address, another name, near its end, and when damaged', () => {
    const first = open(machine);
    const serial = serialOf(first.first.certificatePem);
    expect(first.isNewAuthority).toBe(true);
    expect(serialOf(open(machine).first.certificatePem)).toBe(serial);
    const moved = open({ ...machine, address: '192.168.1.6' });
    expect(serialOf(moved.first.certificatePem)).not.toBe(serial);
    expect(moved.door.authority.fingerprint).toBe(first.door.authority.fingerprint);
    expect(moved.door.hosts()).toEqual(['192.168.1.6', 'bench.local']);
    const renamed = open({ ...machine, name: 'lathe' });
    expect(renamed.door.hosts()).toEqual(['192.168.1.5']);
    expect(renamed.says).toEqual([expect.stringMatching(/called lathe\.local now/)]);
    const back = serialOf(open(machine).first.certificatePem);
    expect(serialOf(open({ ...machine, nowMs: now + 360 * DAY_MS }).first.certificatePem)).toBe(back);
    const late = serialOf(open({ ...machine, nowMs: now + 370 * DAY_MS }).first.certificatePem);
    expect(late).not.toBe(back);
    fs.writeFileSync(fileOf('door.pem'), 'damaged');
    expect(serialOf(open({ ...machine, nowMs: now + 370 * DAY_MS }).first.certificatePem)).not.toBe(late);
  });

  it('follows the address while the server runs', () => {
    const here = { ...machine };
    const opened = openSecureDoor(
      folder,
      { hostName: () => here.name, interfaces: () => network(here.address), nowMs: () => here.nowMs },
      false,
    );
    expect(opened.refresh()).toBeUndefined();
    here.address = '10.9.8.7';
    const renewed = opened.refresh();
    expect(new X509Certificate(renewed?.certificatePem ?? '').subjectAltName).toContain('10.9.8.7');
    expect(opened.door.hosts()[0]).toBe('10.9.8.7');
    expect(opened.refresh()).toBeUndefined();
  });
});
