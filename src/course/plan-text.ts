import { InputError } from '../quantity/input-error.ts';
import { MINUTE_MS } from '../quantity/time.ts';

/** One step of a published plan. */
export interface PublishedStep {
  /** As the planner names it. */
  readonly activityId: string;
  readonly op: string;
  /** Number of the part of the operation, from 1, as the record names parts. */
  readonly part: string;
  readonly builds: readonly string[];
  /** Begin and end of the work; two pieces when it is broken off at the end of a session. */
  readonly pieces: readonly { readonly startMs: number; readonly endMs: number }[];
  readonly wayIndex: number;
  readonly station?: string;
  /** Minutes of changing over right before. */
  readonly setUpMin: number;
  /** Who attends, one for each attendance of the way; undefined for nobody. */
  readonly people: readonly (string | undefined)[];
  readonly helper?: string;
}

/** Form of the text of a published plan. */
export const planFormat = 'bracewright-plan-1';

const none = '-';
const fieldCount = 10;

/**
 * Steps of a plan as text: one line a step, fields between tabs, times in whole minutes since 1970-01-01 UTC.
 *
 * @param steps  the plan
 * @source       arithmetic
 */
export function writePlanText(steps: readonly PublishedStep[]): string {
  return steps
    .map((s) =>
      [
        s.activityId,
        s.op,
        s.part,
        s.builds.join(',') || none,
        s.pieces.map((p) => `${minute(p.startMs)}+${minute(p.endMs) - minute(p.startMs)}`).join(';'),
        s.wayIndex,
        s.station ?? none,
        s.setUpMin,
        s.people.map((p) => p ?? none).join(',') || none,
        s.helper ?? none,
      ].join('\t'),
    )
    .join('\n');
}

const minute = (ms: number): number => Math.round(ms / MINUTE_MS);

/**
 * Reads the text of a published plan.
 *
 * @param text  as written
 * @throws InputError when a line has not the fields of a step
 * @source      arithmetic
 */
export function readPlanText(text: string): readonly PublishedStep[] {
  return text.split('\n').flatMap((line, i) => (line === '' ? [] : [readLine(line, i + 1)]));
}

function readLine(line: string, number: number): PublishedStep {
  const fields = line.split('\t');
  const [activityId, op, part, builds, pieces, way, station, setUp, people, helper] = fields;
  const read = (pieces ?? '').split(';').map(readPiece);
  if (fields.length !== fieldCount || read.some((p) => p === undefined))
    throw new InputError(
      'plan-text',
      `Line ${number} of the published plan has ${fields.length} fields, of which ${fieldCount} make a step; publish the plan anew.`,
      'steps',
    );
  return {
    activityId: activityId as string,
    op: op as string,
    part: part as string,
    builds: listOf(builds as string),
    pieces: read as PublishedStep['pieces'],
    wayIndex: Number(way),
    ...(station === none ? {} : { station: station as string }),
    setUpMin: Number(setUp),
    people: people === none ? [] : (people as string).split(',').map((p) => (p === none ? undefined : p)),
    ...(helper === none ? {} : { helper: helper as string }),
  };
}

const listOf = (field: string): readonly string[] => (field === none ? [] : field.split(','));

function readPiece(text: string): PublishedStep['pieces'][number] | undefined {
  const found = /^(\d+)\+(\d+)$/.exec(text);
  if (!found) return undefined;
  const startMs = Number(found[1]) * MINUTE_MS;
  return { startMs, endMs: startMs + Number(found[2]) * MINUTE_MS };
}
