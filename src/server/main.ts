import os from 'node:os';
import path from 'node:path';
import type { Server as TlsServer } from 'node:tls';
import type { FastifyInstance } from 'fastify';
import { InputError } from '../quantity/input-error.ts';
import { openStore } from '../store/open-store.ts';
import { buildApp } from './app.ts';
import type { OpenedSecureDoor } from './authority/open-secure-door.ts';
import { isEmpty, seedDemo } from './demo/demo.service.ts';
import { makeContext } from './make-context.ts';
import { forgetHealthOfHandedOver } from './people/hand-over.ts';
import { pdfMakerBeside } from './prints/pdf-maker.ts';

/** How the server is started. */
export interface StartOptions {
  /** Folder of the store. */
  readonly data: string;
  readonly port: number;
  /** Also other devices of the network may reach it. */
  readonly lan: boolean;
  /** With `lan`: a second door over https; false leaves plain http alone. */
  readonly https: boolean;
  /** Port of the https door; left out: the one after `port`. */
  readonly httpsPort?: number;
  /** Makes a new authority in place of the one that is there. */
  readonly newAuthority: boolean;
  /** Folder of the program. */
  readonly root: string;
  readonly log?: boolean;
  /** Begin with the invented class when nothing has been entered yet. */
  readonly demo: boolean;
}

/** A server that listens. */
export interface RunningServer {
  readonly addresses: readonly string[];
  /** The https door, when there is one. */
  readonly secure?: {
    readonly addresses: readonly string[];
    readonly fingerprint: string;
  };
  /** Sentences for whoever started it. */
  readonly says: readonly string[];
  close(): Promise<void>;
}

const RENEW_EVERY_MS = 60_000;

/** Addresses of this machine in the workshop's network. */
function lanAddresses(port: number): string[] {
  return Object.values(os.networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((i) => i.family === 'IPv4' && !i.internal)
    .map((i) => `http://${i.address}:${port}/`);
}

function httpsPortOf({ port, httpsPort }: StartOptions): number {
  const wanted = httpsPort ?? (port === 0 ? 0 : port + 1);
  if (wanted > 65_535)
    throw new InputError(
      'https-port',
      `The https door would come on port ${wanted}, and ports end at 65535; give one with --https-port.`,
    );
  if (wanted === port && port !== 0)
    throw new InputError(
      'https-port',
      `Both doors would come on port ${port}; give another one with --https-port.`,
    );
  return wanted;
}

/** Lets an app listen and gives its port. @throws InputError naming the option to change */
async function listen(app: FastifyInstance, host: string, port: number, option: string): Promise<number> {
  try {
    await app.listen({ host, port });
  } catch (error) {
    const { code, message } = error as { code?: string; message: string };
    if (code === 'EADDRINUSE')
      throw new InputError(
        'port-in-use',
        `Port ${port} is in use, perhaps by a Bracewright that already runs; stop that one, or give another with ${option}.`,
      );
    throw new InputError(
      'cannot-listen',
      `The server cannot listen on port ${port} (${message}); give another with ${option}.`,
    );
  }
  return (app.server.address() as { port: number }).port;
}

/** Looks every minute whether the door needs another certificate, and hangs it in. */
function keepFresh(
  secure: OpenedSecureDoor,
  app: FastifyInstance,
  tell: (words: string) => void,
): () => void {
  const timer = setInterval(() => {
    try {
      const renewed = secure.refresh();
      if (renewed)
        (app.server as unknown as TlsServer).setSecureContext({
          key: renewed.keyPem,
          cert: renewed.certificatePem,
          minVersion: 'TLSv1.2',
        });
    } catch (error) {
      tell(error instanceof Error ? error.message : String(error));
    }
  }, RENEW_EVERY_MS);
  timer.unref();
  return () => clearInterval(timer);
}

/** The https door of these options; undefined when they ask for none. */
async function secureDoorOf(options: StartOptions): Promise<OpenedSecureDoor | undefined> {
  if (!options.lan || !options.https) {
    if (!options.newAuthority) return undefined;
    throw new InputError(
      'new-authority',
      '--new-authority belongs to the https door, and that opens with --lan; give both and leave --no-https out.',
    );
  }
  const { openSecureDoor } = await import('./authority/open-secure-door.ts');
  const machine = { hostName: os.hostname, interfaces: os.networkInterfaces, nowMs: Date.now };
  return openSecureDoor(options.data, machine, options.newAuthority);
}

/**
 * Opens the store and listens: over plain http, and with `lan` over https too.
 *
 * @throws InputError when the folder, a port or the authority cannot be used
 */
export async function startServer(options: StartOptions): Promise<RunningServer> {
  const httpsPort = options.lan && options.https ? httpsPortOf(options) : 0;
  const store = await openStore(options.data);
  const closers: (() => Promise<unknown> | unknown)[] = [() => store.close()];
  const close = async () => {
    for (const closer of closers.splice(0).reverse()) await closer();
  };
  try {
    const secure = await secureDoorOf(options);
    const context = await makeContext(store, {
      dataFolder: path.join(options.root, 'data'),
      pdf: pdfMakerBeside(path.join(options.root, 'dist/cli/pdf-worker.mjs')),
      ...(secure ? { secureDoor: secure.door } : {}),
    });
    await forgetHealthOfHandedOver(context);
    if (options.demo && (await isEmpty(context))) await seedDemo(context);
    const common = {
      webFolder: path.join(options.root, 'dist/web'),
      ...(options.log ? { log: true } : {}),
    };
    const host = options.lan ? '0.0.0.0' : '127.0.0.1';
    const ports = { http: 0, https: 0 };
    if (secure) {
      const tls = { key: secure.first.keyPem, cert: secure.first.certificatePem };
      const app = await buildApp(context, { ...common, tls });
      closers.push(() => app.close());
      ports.https = await listen(app, host, httpsPort, '--https-port');
      closers.push(keepFresh(secure, app, (words) => process.stderr.write(`${words}\n`)));
    }
    const app = await buildApp(context, common);
    closers.push(() => app.close());
    ports.http = await listen(app, host, options.port, '--port');
    secure?.listensOn(ports);
    return {
      addresses: [`http://localhost:${ports.http}/`, ...(options.lan ? lanAddresses(ports.http) : [])],
      ...(secure
        ? {
            secure: {
              addresses: secure.door.hosts().map((name) => `https://${name}:${ports.https}/`),
              fingerprint: secure.door.authority.fingerprint,
            },
          }
        : {}),
      says: secure?.says ?? [],
      close,
    };
  } catch (error) {
    await close();
    throw error;
  }
}
