import data from '../../data/species.json' with { type: 'json' };
import { InputError } from '../quantity/input-error.ts';

/** What is known of a species; names of `data/species.json`. */
export type SpeciesKey =
  | 'specific_gravity_12'
  | 'specific_gravity_green'
  | 'modulus_12_mpa'
  | 'modulus_green_mpa'
  | 'rupture_12_mpa'
  | 'rupture_green_mpa'
  | 'shear_strength_12_mpa'
  | 'shear_strength_green_mpa'
  | 'et_over_el'
  | 'er_over_el'
  | 'glr_over_el'
  | 'glt_over_el'
  | 'grt_over_el'
  | 'poisson_lr'
  | 'poisson_lt'
  | 'poisson_rt'
  | 'poisson_tr'
  | 'poisson_rl'
  | 'poisson_tl'
  | 'shrinkage_radial_frac'
  | 'shrinkage_tangential_frac'
  | 'shrinkage_volumetric_frac'
  | 'change_radial_per_pct'
  | 'change_tangential_per_pct'
  | 'mp_frac';

/** How a value was obtained. */
export type Provenance = 'published' | 'partly from memory' | 'from memory' | 'computed';

/** One value with where it comes from. */
export interface SpeciesValue {
  readonly value: number;
  /** Id in data/SOURCES.md, or `from memory`. */
  readonly source: string;
  readonly where: string;
  readonly provenance: Provenance;
  /** As printed, where the table is in other units. */
  readonly printed?: string;
}

/** One listed species. */
export interface Species {
  readonly id: string;
  readonly name: string;
  readonly kind: 'softwood' | 'hardwood';
  readonly values: Readonly<Partial<Record<SpeciesKey, SpeciesValue>>>;
}

/** All listed species, by id. */
export const allSpecies: readonly Species[] = data.species as unknown as readonly Species[];

/** Moisture where green properties end, for species without their own. */
export const mpFracOfOthers: number = data.mp_frac_any_other.value;

const wordsOf = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^a-z]+/g, ' ')
    .trim()
    .split(' ')
    .sort()
    .join(' ');

/**
 * The species of a name, whichever way round its words stand.
 *
 * @param name  e.g. `Sitka spruce`, `spruce-sitka`, `Spruce, Sitka`
 * @returns     the species
 * @throws InputError naming near ones when the list has none of this name
 * @source      arithmetic
 */
export function findSpecies(name: string): Species {
  const wanted = wordsOf(name);
  const found = allSpecies.find(
    (s) => s.id === name || wordsOf(s.id) === wanted || wordsOf(s.name) === wanted,
  );
  if (found) return found;
  const parts = wanted.split(' ').filter((w) => w.length > 2);
  const near = allSpecies.filter((s) => parts.some((w) => wordsOf(s.name).includes(w)));
  const list = (near.length > 0 ? near : allSpecies).slice(0, 12).map((s) => s.id);
  throw new InputError(
    'unknown-species',
    `No species is called ${name}; ${near.length > 0 ? 'near it are' : 'listed are, among others,'} ${list.join(', ')}.`,
    'species',
  );
}
