import { type ChildProcess, spawn } from 'node:child_process';
import http from 'node:http';
import net from 'node:net';
import path from 'node:path';

/** The server as a process of its own, as `npm start` runs it. */
export interface ServerProcess {
  readonly url: string;
  readonly child: ChildProcess;
  /** Ends it at once, without a chance to finish anything. */
  kill(): Promise<void>;
}

/**
 * Starts the server on a data folder and waits until it says that it is ready.
 *
 * @param port  0 for any free one
 */
export async function startProcess(data: string, port = 0, demo = false): Promise<ServerProcess> {
  const child = spawn(
    process.execPath,
    [
      path.resolve('bracewright'),
      ...['start', '--data', data, '--port', String(port)],
      ...(demo ? [] : ['--no-demo']),
    ],
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

/** A port that nothing listens on at the moment. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as net.AddressInfo;
      probe.close(() => resolve(port));
    });
  });
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

const agent = new http.Agent({ keepAlive: true });

/** Sends events over a connection that is kept; gives the ids the server says it keeps. */
export function sendTo(url: string, events: readonly unknown[]): Promise<readonly string[]> {
  const body = JSON.stringify({ events });
  return new Promise((resolve, reject) => {
    const request = http.request(
      `${url}/api/events`,
      {
        method: 'POST',
        agent,
        headers: { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) },
      },
      (response) => {
        let text = '';
        response.setEncoding('utf8');
        response.on('data', (chunk: string) => {
          text += chunk;
        });
        response.once('error', reject);
        response.once('end', () => {
          if (response.statusCode !== 200) reject(new Error(`the server answered ${response.statusCode}`));
          else resolve((JSON.parse(text) as { kept: string[] }).kept);
        });
        // an answer that is cut off half way
        response.once('close', () => reject(new Error('the answer was cut off')));
      },
    );
    request.once('error', reject);
    request.end(body);
  });
}

export const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
