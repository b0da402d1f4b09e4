import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';

/** The server as a process of its own, as `npm start` runs it. */
export interface ServerProcess {
  readonly url: string;
  readonly child: ChildProcess;
  /** Ends it at once, without a chance to finish anything. */
  kill(): Promise<void>;
}

/** Starts the server on a data folder and waits until it says that it is ready. */
export async function startProcess(data: string): Promise<ServerProcess> {
  const child = spawn(
    process.execPath,
    [path.resolve('bracewright'), 'start', '--data', data, '--port', '0', '--no-demo'],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const url = await new Promise<string>((resolve, reject) => {
    let said = '';
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = /http:\/\/localhost:(\d+)\//.exec(said);
      if (found) resolve(`http://localhost:${found[1]}`);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
  });
  return {
    url,
    child,
    kill: async () => {
      child.kill('SIGKILL');
      await gone;
    },
  };
}

let counter = 0;

/** One reading as a device sends it. */
export function readingEvent(device: string, value: number) {
  counter++;
  return {
    id: `${device}-${counter}`,
    stream: `build:b${counter % 30}`,
    kind: 'reading',
    device,
    counter,
    time: Date.now(),
    by: 'teacher',
    body: { op: 'T4', reading: 'T4.1', value, unit: 'mm' },
  };
}

/** Sends events; gives the ids the server says it keeps. */
export async function sendTo(url: string, events: readonly unknown[]): Promise<readonly string[]> {
  const response = await fetch(`${url}/api/events`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ events }),
  });
  if (!response.ok) throw new Error(`the server answered ${response.status}`);
  return ((await response.json()) as { kept: string[] }).kept;
}
