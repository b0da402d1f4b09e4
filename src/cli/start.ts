import path from 'node:path';
import { startServer } from '../server/main.ts';
import { projectRoot, say } from './door.ts';

/** Options of `start`. */
export interface StartCommandOptions {
  readonly data?: string;
  readonly port: number;
  readonly lan?: boolean;
  readonly https: boolean;
  readonly httpsPort?: number;
  readonly newAuthority?: boolean;
  readonly demo: boolean;
}

/** `start`: the server with the page, until it is told to stop. */
export async function startCommand(options: StartCommandOptions): Promise<number> {
  const data = path.resolve(options.data ?? path.join(projectRoot, 'bracewright-data'));
  const server = await startServer({
    data,
    port: options.port,
    lan: options.lan === true,
    https: options.https,
    ...(options.httpsPort === undefined ? {} : { httpsPort: options.httpsPort }),
    newAuthority: options.newAuthority === true,
    root: projectRoot,
    log: true,
    demo: options.demo,
  });
  say(`Bracewright is ready: ${server.addresses.join('  ')}`);
  if (server.secure) {
    const { addresses, fingerprint } = server.secure;
    say(`For the shared tablets and the teacher: ${addresses.join('  ')}`);
    say(
      `A device trusts that after ${new URL('tablets', server.addresses.at(-1)).href}. Compare the fingerprint there: ${fingerprint}`,
    );
  }
  for (const words of server.says) say(words);
  say(`What is entered is kept in ${data}. Stop with Ctrl+C.`);
  await new Promise<void>((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });
  await server.close();
  return 0;
}
