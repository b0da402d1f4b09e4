/** What a member of an event's body must be. `check` gives what is wanted when a value is not it. */
export interface Shape<T> {
  readonly optional: boolean;
  check(value: unknown): string | undefined;
  /** Never read: carries T for the compiler. */
  readonly type?: T;
}

/** The type a shape describes. */
export type TypeOf<S> = S extends Shape<infer T> ? T : never;

const longestText = 4000;
const plain = <T>(check: (value: unknown) => string | undefined): Shape<T> => ({ optional: false, check });

/** Some text of at most 4000 characters. */
export const text: Shape<string> = plain((v) =>
  typeof v === 'string' && v.length > 0 && v.length <= longestText
    ? undefined
    : `1 to ${longestText} characters of text`,
);

/** A whole file as text: a pattern, a route, a shop. */
export const longText: Shape<string> = plain((v) =>
  typeof v === 'string' && v.length > 0 && v.length <= 2_000_000
    ? undefined
    : 'a text of at most 2 million characters',
);

/** The id of a person, build, operation, station and the like. */
export const id: Shape<string> = plain((v) =>
  typeof v === 'string' && /^[A-Za-z0-9._:-]{1,80}$/.test(v)
    ? undefined
    : '1 to 80 letters, digits, dots or dashes',
);

/** A finite number between limits. */
export function number(low: number, high: number): Shape<number> {
  return plain((v) =>
    typeof v === 'number' && Number.isFinite(v) && v >= low && v <= high
      ? undefined
      : `a number from ${low} to ${high}`,
  );
}

/** A time, ms since 1970-01-01, before the year 2200. */
export const timeMs: Shape<number> = number(0, 7_258_118_400_000);

export const flag: Shape<boolean> = plain((v) => (typeof v === 'boolean' ? undefined : 'true or false'));

/** One of some fixed words. */
export function oneOf<const W extends readonly string[]>(...words: W): Shape<W[number]> {
  return plain((v) => (words.includes(v as string) ? undefined : `one of ${words.join(', ')}`));
}

/** A list of at most 1000 things. */
export function list<T>(item: Shape<T>): Shape<readonly T[]> {
  return plain((v) => {
    if (!Array.isArray(v) || v.length > 1000) return 'a list of at most 1000';
    for (const x of v) {
      const wanted = item.check(x);
      if (wanted) return `a list of ${wanted}`;
    }
    return undefined;
  });
}

type Members = Readonly<Record<string, Shape<unknown>>>;
type MaybeShape<T> = Shape<T> & { readonly optional: true };
type MaybeKeys<M> = { [K in keyof M]: M[K] extends { readonly optional: true } ? K : never }[keyof M];
type ObjectOf<M> = { readonly [K in Exclude<keyof M, MaybeKeys<M>>]: TypeOf<M[K]> } & {
  readonly [K in MaybeKeys<M>]?: TypeOf<M[K]>;
};

/** A member that may be left out. */
export function maybe<T>(shape: Shape<T>): MaybeShape<T> {
  return { optional: true, check: (v) => (v === undefined ? undefined : shape.check(v)) };
}

/** An object with these members. Members it does not know are kept, so that a later version can add some. */
export function object<M extends Members>(members: M): Shape<ObjectOf<M>> {
  const entries = Object.entries(members);
  return plain((v) => {
    if (typeof v !== 'object' || v === null || Array.isArray(v)) return 'an object';
    for (const [name, shape] of entries) {
      const wanted = shape.check((v as Record<string, unknown>)[name]);
      if (wanted !== undefined) return `${name}: ${wanted}`;
    }
    return undefined;
  });
}
