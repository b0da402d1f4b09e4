import type { PersonFacts } from './class-state.ts';
import { demoNames } from './demo-readings.ts';

/** The invented people: teacher, helper, learners of each age band, with consent given, refused or not asked. */
export function demoPeople(): PersonFacts[] {
  const adult = { ageBand: 'adult', machines: 'yes' } as const;
  return [
    { id: 'teacher', label: 'Mara', role: 'teacher', ...adult, photos: 'yes' },
    { id: 'helper', label: 'Oskar', role: 'helper', ...adult, photos: 'not asked' },
    ...demoNames.map(learner),
  ];
}

function learner(label: string, i: number): PersonFacts {
  return {
    id: `p${i + 1}`,
    label,
    role: 'learner',
    ageBand: i === 9 ? 'under16' : i === 5 || i === 10 ? 'from16to17' : 'adult',
    machines: 'yes',
    photos: i % 4 === 3 ? 'no' : i % 5 === 1 ? 'not asked' : 'yes',
  };
}
