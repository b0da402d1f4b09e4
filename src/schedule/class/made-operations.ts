import type { Context } from './class-set-up.ts';
import type { RouteOperation, RoutePart } from './route-form.ts';

/** An operation as it is done for one instrument: parts left, their minutes scaled, everything in its place. */
export interface MadeOperation {
  readonly operation: RouteOperation;
  readonly parts: readonly {
    readonly part: RoutePart;
    readonly index: number;
    readonly scale: number;
    readonly turn: number;
  }[];
  /** Operations before, with those not made replaced by what comes before them. */
  readonly after: readonly string[];
}

/**
 * The operations that are made for one instrument: what the choice leaves out hands its forerunners on.
 *
 * @param context     the set-up
 * @param instrument  instrument family
 * @returns           operations by id, in the order of the route
 * @source            common practice, no published source
 */
export function madeOperations(context: Context, instrument: string): Map<string, MadeOperation> {
  const { route } = context.setUp;
  const all = new Map(route.operations.map((o) => [o.id, o]));
  const isMade = (o: RouteOperation): boolean =>
    (o.instruments?.includes(instrument) ?? true) &&
    o.variants?.[instrument]?.skip !== true &&
    !(context.choice?.skip?.includes(o.id) ?? false) &&
    !(o.kind === 'key' && o.optional === true);
  const resolve = (id: string, seen: Set<string>): string[] => {
    const o = all.get(id);
    if (o === undefined || seen.has(id)) return [];
    seen.add(id);
    return isMade(o) ? [id] : o.after.flatMap((a) => resolve(a, seen));
  };
  return new Map(
    route.operations.filter(isMade).map((operation) => {
      const after = [...new Set(operation.after.flatMap((a) => resolve(a, new Set())))];
      return [operation.id, { operation, parts: partsOf(context, operation, instrument), after }];
    }),
  );
}

function partsOf(context: Context, operation: RouteOperation, instrument: string): MadeOperation['parts'] {
  const dropped = context.choice?.dropParts?.filter((d) => d.op === operation.id).map((d) => d.part) ?? [];
  const usual = operation.parts.reduce((sum, p) => sum + p.minutes.likely, 0);
  const wanted = context.choice?.likelyMin?.[operation.id] ?? operation.variants?.[instrument]?.likelyMin;
  const scale = wanted === undefined || usual === 0 ? 1 : wanted / usual;
  return operation.parts.flatMap((part, i) => {
    if (dropped.includes(i + 1)) return [];
    const turns = part.repeat?.usualTimes ?? 1;
    return Array.from({ length: turns }, (_, turn) => ({
      part: inPreparation(context, operation, part, i),
      index: i,
      scale,
      turn,
    }));
  });
}

/** A part that the chosen simpler way moves into preparation hours. */
function inPreparation(
  context: Context,
  operation: RouteOperation,
  part: RoutePart,
  index: number,
): RoutePart {
  const moved = context.choice?.inPrep?.[operation.id];
  if (moved === undefined) return part;
  const only = /part (\d+)/.exec(moved.text)?.[1];
  if (only !== undefined && Number(only) !== index + 1) return part;
  return {
    ...part,
    who: 'helper',
    prep: { by: moved.by, usual: true },
    batch: {
      ...part.batch,
      scope: 'setting',
      most: 12,
      setUpMin: moved.setUpMin,
      eachMin: moved.eachMin,
      teacher: 'whole',
      teacherMin: 0,
    },
  };
}

/** Operations so that what comes before stands before, for every instrument; key checks right behind what they follow. */
export function inOrder(instruments: readonly ReadonlyMap<string, MadeOperation>[]): RouteOperation[] {
  const done = new Set<string>();
  const list: RouteOperation[] = [];
  const visit = (id: string): void => {
    if (done.has(id)) return;
    done.add(id);
    for (const made of instruments) for (const a of made.get(id)?.after ?? []) visit(a);
    list.push(instruments.find((made) => made.has(id))!.get(id)!.operation);
  };
  for (const made of instruments)
    for (const [id, { operation }] of made) if (operation.kind === 'key') visit(id);
  for (const made of instruments) for (const id of made.keys()) visit(id);
  return list;
}
