import type { StockSpec } from '../pattern/pattern.ts';
import type { PlannedRoute } from '../route/planned-route.ts';
import type { BuildFacts } from './build-facts.ts';
import { partDoneMs } from './progress.ts';
import { type Rescue, type SayLength, sayMm, shown } from './rescue.ts';

/** A piece that can be made again by itself. */
export type Piece = 'top' | 'back' | 'sides' | 'neck' | 'board' | 'bridge';

interface Line {
  readonly name: string;
  readonly ops: readonly string[];
  /** Rough wood, and the operation from which on it is lost with the piece. */
  readonly stock: readonly { readonly part: string; readonly from?: string }[];
}

const words = (text: string): readonly string[] => text.split(' ');

/** Operations of the route that make a piece, and the rough wood it takes. */
const lines: Readonly<Record<Piece, Line>> = {
  top: {
    name: 'top',
    ops: words('T1 T2 T3 T4 T5 T6 T7 T8 T9 T10 T12 T11 T13 R2 R3 R4 R5 R6 R7 R8 R9 X1'),
    stock: [{ part: 'top half' }, { part: 'bridge plate', from: 'R4' }, { part: 'brace billet', from: 'R6' }],
  },
  back: {
    name: 'back',
    ops: words('K1 K2 K3 K4 K5 K6 K7 X4'),
    stock: [{ part: 'back half' }, { part: 'centre strip for back', from: 'K4' }],
  },
  sides: {
    name: 'pair of sides',
    ops: words('S1 S2 S3 S4 S6 S7 S8 S8b S9 S10 S10b'),
    stock: [{ part: 'side' }, { part: 'linings', from: 'S8' }],
  },
  neck: {
    name: 'neck',
    ops: words('N1 N2 N3 N4 N4n N5 N6 N7 N8 N9 N10 N11'),
    stock: [
      { part: 'neck blank' },
      { part: 'heel stack pieces', from: 'N3' },
      { part: 'head plate', from: 'N4' },
      { part: 'fretboard', from: 'N9' },
    ],
  },
  board: { name: 'fretboard', ops: words('F1 F2 F3 F4 F5 N9 F6 F7'), stock: [{ part: 'fretboard' }] },
  bridge: { name: 'bridge', ops: words('G1 G1n G2 G3 G4 G5'), stock: [{ part: 'bridge blank' }] },
};

/** The piece an operation works on, the first that fits. @source common practice, no published source */
export function pieceOfOperation(op: string): Piece | undefined {
  return (Object.keys(lines) as Piece[]).find((p) => lines[p].ops.includes(op));
}

/** What making a piece again takes. */
export interface Replacement {
  readonly piece: Piece;
  /** Operations done so far that have to be done again, in order. */
  readonly undone: readonly string[];
  readonly lowMin: number;
  readonly likelyMin: number;
  readonly highMin: number;
  /** Usual rests along the longest chain of them. */
  readonly restH: number;
  readonly stock: readonly StockSpec[];
}

/**
 * What it takes to make a piece again: the steps already done, their hours and rests, the rough wood.
 *
 * @param plan   route of the build
 * @param facts  of the build
 * @param piece  what is given up
 * @param stock  rough wood of the pattern
 * @source       common practice, no published source
 */
export function replacementOf(
  plan: PlannedRoute,
  facts: BuildFacts,
  piece: Piece,
  stock: readonly StockSpec[],
): Replacement {
  const line = new Set(lines[piece].ops);
  const redo = plan.operations.filter(
    (p) => line.has(p.op.id) && p.parts.some((x) => partDoneMs(facts, p.op.id, x.id) !== undefined),
  );
  const sum = (which: 'low' | 'likely' | 'high'): number =>
    redo.reduce((all, p) => all + p.parts.reduce((m, x) => m + x.minutes[which], 0), 0);
  const ids = new Set(redo.map((p) => p.op.id));
  const restAt = new Map<string, number>();
  for (const p of redo) {
    const before = p.before.filter((l) => ids.has(l.from)).map((l) => (restAt.get(l.from) ?? 0) + l.usualH);
    const inner = p.parts.reduce((h, x) => h + (x.rest?.usualH ?? 0), 0);
    restAt.set(p.op.id, Math.max(0, ...before) + inner);
  }
  return {
    piece,
    undone: redo.map((p) => p.op.id),
    lowMin: sum('low'),
    likelyMin: sum('likely'),
    highMin: sum('high'),
    restH: Math.max(0, ...restAt.values()),
    stock: stock.filter((s) =>
      lines[piece].stock.some((w) => w.part === s.part && (w.from === undefined || ids.has(w.from))),
    ),
  };
}

/**
 * The replacement in words and numbers.
 *
 * @source common practice, no published source
 */
export function replaceRescue(r: Replacement, reason: string, say: SayLength = sayMm): Rescue {
  const wood = r.stock.map(
    (s) =>
      `${s.count} ${s.part} ${say(s.lengthMm, 0)} x ${say(s.widthMm, 0)} x ${say(s.thicknessMm, 1)} (${s.material})`,
  );
  return {
    title: `Replace the ${lines[r.piece].name}`,
    action: 'stop',
    decision: 'replace',
    sentence: `${reason} A new ${lines[r.piece].name} takes about ${shown(r.likelyMin / 60, 1)} h of work (${shown(r.lowMin / 60, 1)} to ${shown(r.highMin / 60, 1)}) and ${shown(r.restH / 24, 1)} ${shown(r.restH / 24, 1) === '1' ? 'day' : 'days'} of rests${wood.length > 0 ? `, and from the shelf: ${wood.join('; ')}` : ''}.`,
    numbers: [
      { label: 'hours of work, likely', value: r.likelyMin / 60, unit: 'h' },
      { label: 'days of rests', value: r.restH / 24, unit: 'days' },
      { label: 'steps done again', value: r.undone.length, unit: 'count' },
    ],
  };
}
