/** How one kind of device is told, in general terms: menus are named differently from year to year. */
export interface WayToTrust {
  readonly kind: string;
  readonly install: readonly string[];
  readonly remove: string;
}

/** Kinds of devices a workshop has. @source from memory */
export const waysToTrust: readonly WayToTrust[] = [
  {
    kind: 'iPad, iPhone',
    install: [
      'Get the certificate with the device’s own browser and allow the download of a profile.',
      'In Settings, at the top or under General, VPN and device management, open the downloaded profile, compare the fingerprint under More details, and install it.',
      'In Settings, General, About, Certificate trust settings, switch full trust for this certificate on. Without this last step the browser still refuses.',
    ],
    remove:
      'Settings, General, VPN and device management: open the profile called Bracewright workshop and remove it.',
  },
  {
    kind: 'Android tablet or phone, Chromebook',
    install: [
      'Get the certificate; it lands in the downloads.',
      'In Settings, under Security or Privacy, find Encryption and credentials, Install a certificate, CA certificate, and choose the file. The warning there is meant: install it only on a device of the workshop. The device wants a screen lock.',
      'Under Trusted credentials, User, the fingerprint can be compared. A notice that the network may be watched stays on some devices: it means this certificate.',
    ],
    remove:
      'Settings, Encryption and credentials, Trusted credentials, User: open Bracewright workshop and remove it.',
  },
  {
    kind: 'Windows',
    install: [
      'Get the certificate, open the file, compare the fingerprint under Details (some versions show the shorter SHA-1 there: then compare in the browser afterwards), and press Install certificate.',
      'Choose Current user, then Place all certificates in the following store, Trusted root certification authorities.',
    ],
    remove:
      'Open Manage user certificates, Trusted root certification authorities, Certificates, and delete Bracewright workshop.',
  },
  {
    kind: 'Mac',
    install: [
      'Get the certificate and open it: it goes into the keychain of your login.',
      'In Keychain access open it, compare the fingerprint, and under Trust choose Always trust for secure sockets (SSL) only.',
    ],
    remove: 'In Keychain access find Bracewright workshop and delete it.',
  },
  {
    kind: 'Linux, and browsers with a list of their own',
    install: [
      'Get the certificate as PEM.',
      'In the browser’s settings, under Privacy and security, Certificates, Authorities, import it and trust it for websites only. The list of the system is not always the list of the browser.',
    ],
    remove: 'In the same list of authorities choose Bracewright workshop and delete it.',
  },
];
