import { readingEvent, sendTo, wait } from './server-process.ts';

/** What a crowd of devices saw. */
export interface CrowdReport {
  /** Ids the server said it keeps. */
  readonly acknowledged: ReadonlySet<string>;
  /** Time to each answer, ms, shortest first. */
  readonly tookMs: readonly number[];
  /** Times that a device had to send again because no answer came. */
  readonly tries: number;
}

/** The wish of a crowd. */
export interface CrowdWish {
  readonly url: string;
  readonly devices: number;
  /** Readings of each device, one a second. */
  readonly readings: number;
}

/** The time within which a part of the answers came, ms. */
export const withinMs = (report: CrowdReport, frac: number): number =>
  report.tookMs[Math.min(report.tookMs.length - 1, Math.floor(report.tookMs.length * frac))] ?? Number.NaN;

/**
 * Devices that each send a reading a second, spread over the second. As a real device does, each keeps a reading
 * until it is acknowledged and sends it again when no answer comes.
 */
export async function crowd({ url, devices, readings }: CrowdWish): Promise<CrowdReport> {
  const acknowledged = new Set<string>();
  const tookMs: number[] = [];
  let tries = 0;
  const device = async (d: number): Promise<void> => {
    const begin = performance.now() + (d * 1000) / devices;
    for (let r = 0; r < readings; r++) {
      await wait(Math.max(0, begin + r * 1000 - performance.now()));
      const event = readingEvent(`d${d}`, 2.8);
      for (let isKept = false; !isKept; ) {
        const from = performance.now();
        try {
          const kept = await sendTo(url, [event]);
          if (!kept.includes(event.id)) throw new Error(`the reading ${event.id} was refused`);
          acknowledged.add(event.id);
          tookMs.push(performance.now() - from);
          isKept = true;
        } catch (error) {
          if (error instanceof Error && /refused/.test(error.message)) throw error;
          tries++;
          await wait(100);
        }
      }
    }
  };
  await Promise.all(Array.from({ length: devices }, (_, d) => device(d)));
  tookMs.sort((a, b) => a - b);
  return { acknowledged, tookMs, tries };
}
