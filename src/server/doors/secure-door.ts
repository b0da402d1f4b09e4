/** The https door of a running server, as the routes need to know it. */
export interface SecureDoor {
  /** Certificate of the workshop's authority; no key. */
  readonly authority: {
    readonly pem: string;
    readonly der: Uint8Array;
    /** SHA-256 of the whole certificate, pairs of hexadecimal digits with colons. */
    readonly fingerprint: string;
    readonly untilMs: number;
    /** Names it may vouch for, beside private addresses. */
    readonly names: readonly string[];
  };
  /** Names and addresses other devices may type, best first. */
  readonly hosts: () => readonly string[];
  readonly httpPort: () => number;
  readonly httpsPort: () => number;
}
