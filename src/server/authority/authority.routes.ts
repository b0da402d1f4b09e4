import type { FastifyReply } from 'fastify';
import { secureAddress } from '../doors/door.ts';
import type { SecureDoor } from '../doors/secure-door.ts';
import { Refusal } from '../refusal.ts';
import { type Ask, EVERYBODY, type ServerRoute } from '../routes.ts';

function doorOfServer({ context }: Ask): SecureDoor {
  if (context.secureDoor) return context.secureDoor;
  throw new Refusal(
    404,
    'no-https',
    'This server has no https door, so there is no certificate to install; start it with --lan to have one.',
  );
}

/** The type under which browsers and tablets offer to install a certificate rather than show it. */
const sendCertificate = (reply: FastifyReply, content: string | Uint8Array): FastifyReply =>
  reply
    .header('content-type', 'application/x-x509-ca-cert')
    .send(typeof content === 'string' ? content : Buffer.from(content));

/** The workshop's authority, for devices that are to trust it. Nothing here is secret. */
export const authorityRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/authority',
    roles: EVERYBODY,
    handle: async (ask) => {
      const door = doorOfServer(ask);
      return {
        fingerprint_sha256: door.authority.fingerprint,
        until_ms: door.authority.untilMs,
        names: door.authority.names,
        secure_address: secureAddress(door, ask.request),
        http_addresses: door.hosts().map((host) => `http://${host}:${door.httpPort()}/`),
        door: ask.door,
      };
    },
  },
  {
    method: 'GET',
    url: '/api/authority/bracewright-workshop.crt',
    roles: EVERYBODY,
    handle: async (ask) => sendCertificate(ask.reply, doorOfServer(ask).authority.der),
  },
  {
    method: 'GET',
    url: '/api/authority/bracewright-workshop.pem',
    roles: EVERYBODY,
    handle: async (ask) => sendCertificate(ask.reply, doorOfServer(ask).authority.pem),
  },
];
