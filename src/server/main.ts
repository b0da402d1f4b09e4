import os from 'node:os';
import path from 'node:path';
import { InputError } from '../quantity/input-error.ts';
import { openStore } from '../store/open-store.ts';
import { buildApp } from './app.ts';
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
  /** Folder of the program. */
  readonly root: string;
  readonly log?: boolean;
  /** Begin with the invented class when nothing has been entered yet. */
  readonly demo: boolean;
}

/** A server that listens. */
export interface RunningServer {
  readonly addresses: readonly string[];
  close(): Promise<void>;
}

/** Addresses of this machine in the workshop's network. */
function lanAddresses(port: number): string[] {
  return Object.values(os.networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((i) => i.family === 'IPv4' && !i.internal)
    .map((i) => `http://${i.address}:${port}/`);
}

/**
 * Opens the store and listens.
 *
 * @throws InputError when the folder or the port cannot be used
 */
export async function startServer(options: StartOptions): Promise<RunningServer> {
  const store = await openStore(options.data);
  const context = await makeContext(store, {
    dataFolder: path.join(options.root, 'data'),
    pdf: pdfMakerBeside(path.join(options.root, 'dist/cli/pdf-worker.mjs')),
  });
  await forgetHealthOfHandedOver(context);
  if (options.demo && (await isEmpty(context))) await seedDemo(context);
  const app = await buildApp(context, {
    webFolder: path.join(options.root, 'dist/web'),
    ...(options.log ? { log: true } : {}),
  });
  try {
    await app.listen({ host: options.lan ? '0.0.0.0' : '127.0.0.1', port: options.port });
  } catch (error) {
    await app.close();
    await store.close();
    if ((error as { code?: string }).code === 'EADDRINUSE')
      throw new InputError(
        'port-in-use',
        `Port ${options.port} is in use, perhaps by a Bracewright that already runs; stop that one, or give another with --port.`,
      );
    throw new InputError(
      'cannot-listen',
      `The server cannot listen on port ${options.port} (${(error as Error).message}); give another with --port.`,
    );
  }
  const port = (app.server.address() as { port: number }).port;
  return {
    addresses: [`http://localhost:${port}/`, ...(options.lan ? lanAddresses(port) : [])],
    close: async () => {
      await app.close();
      await store.close();
    },
  };
}
