/** A source of seeded chance: the same seed gives the same numbers on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  /** Whole number in [0, countBelow). */
  below(countBelow: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
}

/**
 * Makes a source of seeded chance (four 32-bit words, add-rotate-xor).
 *
 * @param seed  any finite number; its whole part counts
 * @returns     a source whose whole future follows from the seed
 * @assumes     good enough for simulation and search, not for secrets
 * @throws RangeError when the seed is not finite
 * @source      from memory
 */
export function makeRandom(seed: number): Random {
  if (!Number.isFinite(seed)) throw new RangeError(`makeRandom: seed ${seed} must be a finite number`);
  const scramble = seedScrambler(Math.trunc(seed));
  let a = scramble();
  let b = scramble();
  let c = scramble();
  let counter = 1;
  const word = (): number => {
    const sum = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    c |= 0;
    return sum >>> 0;
  };
  for (let i = 0; i < 12; i++) word();
  let spare: number | undefined;
  const next = (): number => word() / 4294967296;
  return {
    next,
    below: (countBelow) => Math.floor((word() / 4294967296) * countBelow),
    normal: () => {
      if (spare !== undefined) {
        const kept = spare;
        spare = undefined;
        return kept;
      }
      const radius = Math.sqrt(-2 * Math.log(1 - next()));
      const angle = 2 * Math.PI * next();
      spare = radius * Math.sin(angle);
      return radius * Math.cos(angle);
    },
  };
}

function seedScrambler(seed: number): () => number {
  let state = (seed % 4294967296) | 0;
  state ^= Math.floor(seed / 4294967296) | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    return mixed ^ (mixed >>> 15);
  };
}
