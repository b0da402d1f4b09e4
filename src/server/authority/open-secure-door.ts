import { X509Certificate } from 'node:crypto';
import type { NetworkInterfaceInfo } from 'node:os';
import type { SecureDoor } from '../doors/secure-door.ts';
import { openAuthority, openDoorCertificate } from './authority-files.ts';
import { type KeyedCertificate, validity, vouchedNames } from './certificates.ts';
import { hostNames, type OwnNames, ownNames } from './own-names.ts';

/** What a door asks of the machine it stands in. */
export interface Machine {
  readonly hostName: () => string;
  readonly interfaces: () => Readonly<Record<string, readonly NetworkInterfaceInfo[] | undefined>>;
  readonly nowMs: () => number;
}

/** The https door with what only the listener may hold. */
export interface OpenedSecureDoor {
  /** What routes may know. */
  readonly door: SecureDoor;
  /** Key and certificate to begin with. */
  readonly first: KeyedCertificate;
  readonly isNewAuthority: boolean;
  /** Sentences for whoever starts the server. */
  readonly says: readonly string[];
  /** Tells on which ports the doors really are. */
  listensOn(ports: { readonly http: number; readonly https: number }): void;
  /** Looks whether address, name or age ask for another certificate; gives it then. @throws InputError when it cannot be kept */
  refresh(): KeyedCertificate | undefined;
}

/**
 * Opens or makes the authority of a data folder and the certificate of its door.
 *
 * @throws InputError with the way forward when a file is missing, damaged or cannot be written
 */
export function openSecureDoor(dataFolder: string, machine: Machine, renew: boolean): OpenedSecureDoor {
  const opened = openAuthority(dataFolder, {
    names: hostNames(machine.hostName()),
    nowMs: machine.nowMs(),
    renew,
  });
  const { authority } = opened;
  const certificate = new X509Certificate(authority.certificatePem);
  const vouched = vouchedNames(authority.certificatePem);
  const namesNow = (): OwnNames => ownNames(machine.hostName(), machine.interfaces(), vouched);
  let names = namesNow();
  let ports = { http: 0, https: 0 };
  const first = openDoorCertificate(dataFolder, authority, names, machine.nowMs()).door;
  return {
    first,
    isNewAuthority: opened.isNew,
    says: [
      ...(opened.isNew
        ? [
            'A new authority was made for this workshop; a device that trusted an earlier one installs this one.',
          ]
        : []),
      ...opened.says,
      ...names.says,
    ],
    door: {
      authority: {
        pem: authority.certificatePem,
        der: certificate.raw,
        fingerprint: certificate.fingerprint256,
        untilMs: validity(authority.certificatePem).untilMs,
        names: vouched,
      },
      hosts: () => [...names.lanAddresses, ...names.dns.filter((n) => n !== 'localhost')],
      httpPort: () => ports.http,
      httpsPort: () => ports.https,
    },
    listensOn: (now) => {
      ports = now;
    },
    refresh: () => {
      names = namesNow();
      const { door, isNew } = openDoorCertificate(dataFolder, authority, names, machine.nowMs());
      return isNew ? door : undefined;
    },
  };
}
