import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  randomBytes,
  sign,
  X509Certificate,
} from 'node:crypto';
import { AsnConvert, OctetString } from '@peculiar/asn1-schema';
import {
  AlgorithmIdentifier,
  AttributeTypeAndValue,
  AttributeValue,
  AuthorityKeyIdentifier,
  BasicConstraints,
  Certificate,
  ExtendedKeyUsage,
  Extension,
  Extensions,
  GeneralName,
  GeneralSubtree,
  GeneralSubtrees,
  id_ce_authorityKeyIdentifier,
  id_ce_basicConstraints,
  id_ce_extKeyUsage,
  id_ce_keyUsage,
  id_ce_nameConstraints,
  id_ce_subjectAltName,
  id_ce_subjectKeyIdentifier,
  id_kp_serverAuth,
  KeyIdentifier,
  KeyUsage,
  KeyUsageFlags,
  Name,
  NameConstraints,
  RelativeDistinguishedName,
  SubjectAlternativeName,
  SubjectKeyIdentifier,
  SubjectPublicKeyInfo,
  TBSCertificate,
  Validity,
  Version,
} from '@peculiar/asn1-x509';
import { PRIVATE_RANGES } from './own-names.ts';

/** A certificate with its private key, both PEM. */
export interface KeyedCertificate {
  readonly keyPem: string;
  readonly certificatePem: string;
}

export const DAY_MS = 24 * 3600 * 1000;
/** Ten years: an authority outlives the tablets it is put on. */
const AUTHORITY_DAYS = 3650;
/** Browsers refuse certificates of more than 398 days (CA/Browser Forum Baseline Requirements 6.3.2); a day is kept for clocks that go wrong. */
const DOOR_DAYS = 397;
/** A tablet whose clock is somewhat behind must not refuse a certificate as not yet valid. */
const EARLIER_MS = DAY_MS;

const COMMON_NAME = '2.5.4.3';
const ECDSA_WITH_SHA256 = '1.2.840.10045.4.3.2';

const nameOf = (words: string): Name =>
  new Name([
    new RelativeDistinguishedName([
      new AttributeTypeAndValue({
        type: COMMON_NAME,
        // X.520 allows a common name of 64 characters
        value: new AttributeValue({ utf8String: words.slice(0, 64) }),
      }),
    ]),
  ]);

const extension = (extnID: string, value: unknown, critical = false): Extension =>
  new Extension({ extnID, critical, extnValue: new OctetString(AsnConvert.serialize(value)) });

/** A number nobody can foresee: 126 random bits, positive. */
function freshSerial(): ArrayBuffer {
  const bytes = new Uint8Array(randomBytes(16));
  bytes[0] = ((bytes[0] ?? 0) & 0x3f) | 0x40;
  return bytes.buffer;
}

const publicInfo = (key: KeyObject): SubjectPublicKeyInfo =>
  AsnConvert.parse(
    createPublicKey(key).export({ type: 'spki', format: 'der' }) as Buffer<ArrayBuffer>,
    SubjectPublicKeyInfo,
  );

/** Identifier of a key: SHA-1 of its bits (RFC 5280, 4.2.1.2, method 1); it names, it protects nothing. */
const keyIdOf = (info: SubjectPublicKeyInfo): ArrayBuffer =>
  new Uint8Array(createHash('sha1').update(new Uint8Array(info.subjectPublicKey)).digest()).buffer;

interface Wanted {
  readonly subject: Name;
  readonly issuer: Name;
  readonly subjectKey: KeyObject;
  readonly issuerKey: KeyObject;
  readonly fromMs: number;
  readonly untilMs: number;
  readonly extensions: readonly Extension[];
}

function signed(wanted: Wanted): string {
  const own = publicInfo(wanted.subjectKey);
  const algorithm = new AlgorithmIdentifier({ algorithm: ECDSA_WITH_SHA256 });
  const tbs = new TBSCertificate({
    version: Version.v3,
    serialNumber: freshSerial(),
    signature: algorithm,
    issuer: wanted.issuer,
    validity: new Validity({ notBefore: new Date(wanted.fromMs), notAfter: new Date(wanted.untilMs) }),
    subject: wanted.subject,
    subjectPublicKeyInfo: own,
    extensions: new Extensions([
      ...wanted.extensions,
      extension(id_ce_subjectKeyIdentifier, new SubjectKeyIdentifier(keyIdOf(own))),
      extension(
        id_ce_authorityKeyIdentifier,
        new AuthorityKeyIdentifier({
          keyIdentifier: new KeyIdentifier(keyIdOf(publicInfo(wanted.issuerKey))),
        }),
      ),
    ]),
  });
  const signature = sign('sha256', Buffer.from(AsnConvert.serialize(tbs)), wanted.issuerKey);
  const der = AsnConvert.serialize(
    new Certificate({
      tbsCertificate: tbs,
      signatureAlgorithm: algorithm,
      signatureValue: new Uint8Array(signature).buffer,
    }),
  );
  return new X509Certificate(Buffer.from(der)).toString();
}

const freshKey = (): KeyObject => generateKeyPairSync('ec', { namedCurve: 'prime256v1' }).privateKey;
const pemOf = (key: KeyObject): string => key.export({ type: 'pkcs8', format: 'pem' }) as string;

function usage(flags: number): KeyUsage {
  const wanted = new KeyUsage(new ArrayBuffer(0));
  wanted.fromNumber(flags);
  return wanted;
}

/** For servers only: neither mail nor programs. */
const forServers = extension(id_ce_extKeyUsage, new ExtendedKeyUsage([id_kp_serverAuth]));

const constraints = (names: readonly string[]): NameConstraints =>
  new NameConstraints({
    permittedSubtrees: new GeneralSubtrees([
      ...[...names, 'localhost'].map((dNSName) => new GeneralSubtree({ base: new GeneralName({ dNSName }) })),
      ...PRIVATE_RANGES.map((iPAddress) => new GeneralSubtree({ base: new GeneralName({ iPAddress }) })),
    ]),
  });

/**
 * A new authority of the workshop: self-signed, P-256, no authority below it, constrained (RFC 5280, 4.2.1.10) to the
 * names given, `localhost` and private addresses.
 *
 * @param names  names of this machine it may vouch for; everything below them counts as named too
 */
export function newAuthority(names: readonly string[], nowMs: number): KeyedCertificate {
  const key = freshKey();
  const day = new Date(nowMs).toISOString().slice(0, 10);
  const subject = nameOf(`Bracewright workshop ${names[0] ?? ''} ${day}`.replace('  ', ' '));
  const certificatePem = signed({
    subject,
    issuer: subject,
    subjectKey: key,
    issuerKey: key,
    fromMs: nowMs - EARLIER_MS,
    untilMs: nowMs + AUTHORITY_DAYS * DAY_MS,
    extensions: [
      extension(id_ce_basicConstraints, new BasicConstraints({ cA: true, pathLenConstraint: 0 }), true),
      extension(id_ce_keyUsage, usage(KeyUsageFlags.keyCertSign | KeyUsageFlags.cRLSign), true),
      extension(id_ce_nameConstraints, constraints(names), true),
      forServers,
    ],
  });
  return { keyPem: pemOf(key), certificatePem };
}

/** What a certificate is made out to. */
export interface MadeOutTo {
  readonly dns: readonly string[];
  readonly addresses: readonly string[];
}

/**
 * A certificate for a server, with a key of its own, valid for at most 397 days and never longer than its authority.
 * It names whatever it is told to: whether that is within the authority's constraints is for the reader to judge.
 */
export function issueCertificate(
  authority: KeyedCertificate,
  to: MadeOutTo,
  nowMs: number,
): KeyedCertificate {
  const issuer = AsnConvert.parse(
    new X509Certificate(authority.certificatePem).raw as Buffer<ArrayBuffer>,
    Certificate,
  ).tbsCertificate;
  const key = freshKey();
  const fromMs = Math.max(nowMs - EARLIER_MS, issuer.validity.notBefore.getTime().getTime());
  const certificatePem = signed({
    subject: nameOf('Bracewright'),
    issuer: issuer.subject,
    subjectKey: key,
    issuerKey: createPrivateKey(authority.keyPem),
    fromMs,
    untilMs: Math.min(fromMs + DOOR_DAYS * DAY_MS - 1000, issuer.validity.notAfter.getTime().getTime()),
    extensions: [
      extension(id_ce_basicConstraints, new BasicConstraints({ cA: false }), true),
      extension(id_ce_keyUsage, usage(KeyUsageFlags.digitalSignature), true),
      forServers,
      extension(
        id_ce_subjectAltName,
        new SubjectAlternativeName([
          ...to.dns.map((dNSName) => new GeneralName({ dNSName })),
          ...to.addresses.map((iPAddress) => new GeneralName({ iPAddress })),
        ]),
      ),
    ],
  });
  return { keyPem: pemOf(key), certificatePem };
}

const parsed = (pem: string): TBSCertificate =>
  AsnConvert.parse(new X509Certificate(pem).raw as Buffer<ArrayBuffer>, Certificate).tbsCertificate;

function extensionOf<T>(pem: string, id: string, type: new () => T): T | undefined {
  const found = parsed(pem).extensions?.find((e) => e.extnID === id);
  return found && AsnConvert.parse(found.extnValue.buffer, type);
}

/** Names, without addresses, an authority may vouch for; `localhost` aside. */
export function vouchedNames(authorityPem: string): readonly string[] {
  const found = extensionOf(authorityPem, id_ce_nameConstraints, NameConstraints);
  return [...(found?.permittedSubtrees ?? [])]
    .flatMap((s) => s.base.dNSName ?? [])
    .filter((n) => n !== 'localhost');
}

/** Names and addresses a certificate is made out to. */
export function madeOutTo(pem: string): MadeOutTo {
  const names = extensionOf(pem, id_ce_subjectAltName, SubjectAlternativeName) ?? [];
  return {
    dns: [...names].flatMap((n) => n.dNSName ?? []),
    addresses: [...names].flatMap((n) => n.iPAddress ?? []),
  };
}

/** From when until when a certificate holds, ms. */
export function validity(pem: string): { readonly fromMs: number; readonly untilMs: number } {
  const { notBefore, notAfter } = parsed(pem).validity;
  return { fromMs: notBefore.getTime().getTime(), untilMs: notAfter.getTime().getTime() };
}
