import type { Finding } from '../quantity/finding.ts';

/** Units a figure may have. Angles of figures are degrees because a figure is what a person reads; formulas turn them into radians in their first lines. */
export type FigureUnit =
  | 'mm'
  | 'mm2'
  | 'cm2'
  | 'litre'
  | 'deg'
  | 'mm per mm'
  | 'N'
  | 'N m'
  | 'N m2'
  | 'N mm2'
  | 'MPa'
  | 'kg'
  | 'g'
  | 'g per m'
  | 'kg per m3'
  | 'Hz'
  | 'cents'
  | 'fraction'
  | 'count'
  | 'min'
  | 'degC'
  | 'text'
  | 'shape';

/** A figure that has no meaning for this instrument ("a fan has no crossing"). It travels to dependents like a finding but is nobody's fault. */
export interface Absent {
  readonly kind: 'absent';
  readonly reason: string;
}

/** Makes an absent value; `reason` is a short sentence for people. */
export function absent(reason: string): Absent {
  return { kind: 'absent', reason };
}

/** Whether a value is `Absent`. */
export function isAbsent(value: unknown): value is Absent {
  return typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === 'absent';
}

/** One number of a family, e.g. fret 7 of `fret.place`. Its id is `family id.key`, e.g. `fret.place.7`. */
export interface Member {
  readonly key: string;
  readonly label: string;
  readonly value: number;
}

/** A named value with its unit, its formula in words, its source and what it is computed from. */
export interface Figure<V = unknown> {
  readonly id: string;
  readonly unit: FigureUnit;
  /** Plain label, e.g. "Hole edge to X side". */
  readonly label: string;
  /** Formula in words, e.g. "hole centre to leg line, less hole radius, less half the brace". Inputs: "typed". */
  readonly formula: string;
  readonly source: string;
  /** `input`: comes from the pattern; `figure`: computed; `dear`: computed apart, in a worker. */
  readonly role: 'input' | 'figure' | 'dear';
  /** Version of the formula of a dear figure, part of its cache key. */
  readonly version: number;
  readonly inputs: readonly Figure[];
  /** For each input: true when `undefined` is passed instead of letting its absence travel on. */
  readonly optional: readonly boolean[];
  readonly compute: (values: readonly unknown[]) => V | Finding | Absent;
  /** For a family: the single numbers in it. */
  members?(value: V): readonly Member[];
  /** The plainer figure shown beside this one while it is pending. */
  readonly plainer?: Figure;
  /** Never read: carries V for the compiler. */
  readonly type?: V;
}

type ValuesOf<F extends Record<string, Figure>> = {
  readonly [K in keyof F]: F[K] extends { readonly type?: infer V } ? Exclude<V, undefined> : never;
};
type MaybeValuesOf<F extends Record<string, Figure>> = {
  readonly [K in keyof F]: ValuesOf<F>[K] | undefined;
};

/** What is written to define a computed figure. */
export interface FigureSpec<
  V,
  F extends Record<string, Figure>,
  M extends Record<string, Figure> = Record<never, never>,
> {
  readonly id: string;
  readonly unit: FigureUnit;
  readonly label: string;
  readonly formula: string;
  readonly source: string;
  /** Figures it needs: a finding or an absence in one of them becomes its own. */
  readonly from: F;
  /** Figures it can do without: absent ones arrive as undefined. */
  readonly maybe?: M;
  readonly compute: (values: ValuesOf<F> & MaybeValuesOf<M>) => V | Finding | Absent;
  members?(value: V): readonly Member[];
  readonly dear?: { readonly version: number };
  readonly plainer?: Figure;
}

/**
 * Defines a computed figure. Figures refer to each other as objects, so the compiler checks the graph and a cycle
 * cannot be written.
 *
 * @source arithmetic
 * @example const hole = figure({ id: 'hole.diameter', unit: 'mm', label: 'Sound hole', formula: '2 x radius', source: 'plane-geometry', from: { r: holeRadius }, compute: ({ r }) => 2 * r });
 */
export function figure<
  V,
  F extends Record<string, Figure>,
  M extends Record<string, Figure> = Record<never, never>,
>(spec: FigureSpec<V, F, M>): Figure<V> {
  const names = [...Object.keys(spec.from), ...Object.keys(spec.maybe ?? {})];
  const inputs = [...Object.values(spec.from), ...Object.values(spec.maybe ?? {})];
  const neededCount = Object.keys(spec.from).length;
  return {
    id: spec.id,
    unit: spec.unit,
    label: spec.label,
    formula: spec.formula,
    source: spec.source,
    role: spec.dear ? 'dear' : 'figure',
    version: spec.dear?.version ?? 1,
    inputs,
    optional: inputs.map((_, i) => i >= neededCount),
    compute: (values) => {
      const named: Record<string, unknown> = {};
      for (let i = 0; i < names.length; i++) named[names[i] as string] = values[i];
      return spec.compute(named as ValuesOf<F> & MaybeValuesOf<M>);
    },
    ...(spec.members ? { members: spec.members } : {}),
    ...(spec.plainer ? { plainer: spec.plainer } : {}),
  };
}

/**
 * Defines an input: its value is given by the pattern. An input not given is absent.
 *
 * @source arithmetic
 */
export function inputFigure<V>(spec: {
  readonly id: string;
  readonly unit: FigureUnit;
  readonly label: string;
  readonly source: string;
  members?(value: V): readonly Member[];
}): Figure<V> {
  return {
    ...spec,
    formula: 'typed',
    role: 'input',
    version: 1,
    inputs: [],
    optional: [],
    compute: () => absent(`${spec.label} is not given in this pattern`),
  };
}
