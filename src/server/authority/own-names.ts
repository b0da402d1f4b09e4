import { BlockList } from 'node:net';
import type { NetworkInterfaceInfo } from 'node:os';
import { domainToASCII } from 'node:url';

/**
 * Address ranges that never lead out of a building or a machine: what the workshop's authority may vouch for. RFC 1918
 * (10/8, 172.16/12, 192.168/16), RFC 3927 (169.254/16), RFC 4193 (fc00::/7), RFC 4291 (fe80::/10, ::1), RFC 1122 (127/8).
 */
export const PRIVATE_RANGES = [
  '10.0.0.0/8',
  '172.16.0.0/12',
  '192.168.0.0/16',
  '169.254.0.0/16',
  '127.0.0.0/8',
  'fc00::/7',
  'fe80::/10',
  '::1/128',
] as const;

const privateRanges = new BlockList();
for (const range of PRIVATE_RANGES) {
  const [address, prefix] = range.split('/') as [string, string];
  privateRanges.addSubnet(address, Number(prefix), address.includes(':') ? 'ipv6' : 'ipv4');
}

const isPrivate = (address: string): boolean =>
  privateRanges.check(address, address.includes(':') ? 'ipv6' : 'ipv4');

/** A name inside the network: letters, digits and dashes, labels of 1 to 63 characters (RFC 1123, 2.1). */
const LABEL = /^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$/;
const LOCAL_NAMES = ['localhost'] as const;
const LOCAL_ADDRESSES = ['127.0.0.1', '::1'] as const;

/**
 * The names a certificate may give this machine, from what the machine calls itself. A bare name such as `guitars`
 * becomes `guitars.local` only: in an authority's constraints it would stand for everything below an end of the public
 * name system that is called the same.
 *
 * @param hostName  as the operating system says it, letters of any kind
 * @returns         lower case; none when the name cannot stand in a certificate
 */
export function hostNames(hostName: string): readonly string[] {
  const name = domainToASCII(hostName.trim().replace(/\.$/, '')).toLowerCase();
  const labels = name.split('.');
  if (name.length > 240 || !labels.every((l) => LABEL.test(l)) || /^[0-9.]+$/.test(name)) return [];
  const first = labels[0] as string;
  if (first === 'localhost') return [];
  return [...new Set([...(labels.length > 1 ? [name] : []), `${first}.local`])];
}

/** What this machine is called and where it is reached, as far as a certificate may say it. */
export interface OwnNames {
  /** Names and `localhost`. */
  readonly dns: readonly string[];
  /** Addresses in the workshop's network, then those of the machine itself. */
  readonly addresses: readonly string[];
  /** Those of the network alone. */
  readonly lanAddresses: readonly string[];
  /** One sentence for each thing that was left out. */
  readonly says: readonly string[];
}

type Interfaces = Readonly<Record<string, readonly NetworkInterfaceInfo[] | undefined>>;

/**
 * Names and addresses for the door's certificate.
 *
 * @param vouchedNames  names the authority may vouch for; a host name that is not among them is left out
 */
export function ownNames(
  hostName: string,
  interfaces: Interfaces,
  vouchedNames: readonly string[] = hostNames(hostName),
): OwnNames {
  const names = hostNames(hostName);
  const known = names.filter((n) => vouchedNames.some((v) => n === v || n.endsWith(`.${v}`)));
  const found = Object.values(interfaces)
    .flatMap((list) => list ?? [])
    .filter((i) => i.family === 'IPv4' && !i.internal)
    .map((i) => i.address);
  const lanAddresses = [...new Set(found.filter(isPrivate))].sort();
  const outside = [...new Set(found.filter((a) => !isPrivate(a)))];
  const isLocal = hostName.trim().toLowerCase().startsWith('localhost');
  return {
    dns: [...known, ...LOCAL_NAMES],
    addresses: [...lanAddresses, ...LOCAL_ADDRESSES],
    lanAddresses,
    says: [
      ...(names.length === 0 && !isLocal
        ? [
            `This machine calls itself "${hostName.slice(0, 80)}", which cannot stand in a certificate; over https it is reached by its address, or give it a name of letters, digits and dashes.`,
          ]
        : []),
      ...(names.length > known.length
        ? [
            `This machine is called ${names[0]} now, and the workshop's authority vouches for ${vouchedNames.join(' and ') || 'addresses'} only; tablets reach it by its address, or start once with --new-authority and put the new one on every tablet.`,
          ]
        : []),
      ...(outside.length > 0
        ? [
            `${outside.join(' and ')} is no private address, so https is not given under it; use an address of the workshop's own network.`,
          ]
        : []),
      ...(found.length === 0
        ? [
            'This machine has no network just now, so no other device can reach it; connect it, the certificate follows within a minute.',
          ]
        : []),
    ],
  };
}
