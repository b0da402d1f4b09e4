import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { input } from './inputs.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

const steps = (
  id: string,
  label: string,
  formula: string,
  from: Record<string, Figure<number>>,
): Figure<number> =>
  figure({
    id,
    unit: 'mm',
    label,
    formula,
    source: practice,
    from,
    compute: (v) => {
      const list = Object.values(v) as unknown as readonly number[];
      let least = Number.POSITIVE_INFINITY;
      for (let i = 1; i < list.length; i++) least = Math.min(least, list[i - 1]! - list[i]!);
      return least;
    },
  });

/** Smallest step of the top's thicknesses. */
export const topSteps = steps(
  'top.thickness.least_step',
  'Top thicknesses in order, smallest step',
  'least of: rough - at the ring - thickest - final - scrap limit',
  {
    rough: input('top.thickness.rough'),
    ring: input('top.thickness.before_rosette'),
    most: input('top.thickness.most'),
    final: input('top.thickness.final'),
    scrap: input('top.thickness.scrap'),
  },
);
/** Smallest step of the back's thicknesses. */
export const backSteps = steps(
  'back.thickness.least_step',
  'Back thicknesses in order, smallest step',
  'least of: rough - thickest - final - scrap limit',
  {
    rough: input('back.thickness.rough'),
    most: input('back.thickness.most'),
    final: input('back.thickness.final'),
    scrap: input('back.thickness.scrap'),
  },
);
/** Smallest step of the sides' thicknesses. */
export const sideSteps = steps(
  'side.thickness.least_step',
  'Side thicknesses in order, smallest step',
  'least of: rough - thickest - final - scrap limit',
  {
    rough: input('side.thickness.rough'),
    most: input('side.thickness.most'),
    final: input('side.thickness.final'),
    scrap: input('side.thickness.scrap'),
  },
);

const toRemove = (part: 'top' | 'back' | 'side', label: string): Figure<number> =>
  figure({
    id: `${part}.thickness.to_remove`,
    unit: 'mm',
    label: `${label}, to be taken off from rough to final`,
    formula: 'rough thickness less final thickness',
    source: practice,
    from: { roughMm: input(`${part}.thickness.rough`), finalMm: input(`${part}.thickness.final`) },
    compute: ({ roughMm, finalMm }) => roughMm - finalMm,
  });

/** What is taken off the top. */
export const topToRemove = toRemove('top', 'Top');
/** What is taken off the back. */
export const backToRemove = toRemove('back', 'Back');
/** What is taken off the sides. */
export const sideToRemove = toRemove('side', 'Side');

/** Inside of the top still to be sanded after the ring is in. */
export const topAfterRing: Figure<number> = figure({
  id: 'top.thickness.after_ring',
  unit: 'mm',
  label: 'Taken off the inside of the top after the ring is in',
  formula: 'top when the channel is cut, less final top',
  source: practice,
  from: { ringMm: input('top.thickness.before_rosette'), finalMm: input('top.thickness.final') },
  compute: ({ ringMm, finalMm }) => ringMm - finalMm,
});

/** Figures of the thicknesses. */
export const thicknessFigures: readonly Figure[] = [
  topSteps,
  backSteps,
  sideSteps,
  topToRemove,
  backToRemove,
  sideToRemove,
  topAfterRing,
];

const orderRule = (part: 'top' | 'back' | 'side', label: string, subject: Figure<number>): Rule => ({
  id: `thickness-order-${part}`,
  label,
  subject,
  hard: { low: 0 },
  why: 'A piece only gets thinner: a later thickness above an earlier one cannot be made.',
  remedies: [
    mend(`${part}.thickness.final`, undefined, 0.05),
    mend(`${part}.thickness.scrap`, 'less', 0.05),
    mend(`${part}.thickness.most`, undefined, 0.05),
    mend(`${part}.thickness.rough`, 'more', 0.05),
    ...(part === 'top' ? [mend('top.thickness.before_rosette', undefined, 0.05)] : []),
  ],
  source: practice,
  place: part,
});

/** Rules of the thicknesses. */
export const thicknessRules: readonly Rule[] = [
  orderRule('top', 'Top thicknesses in order', topSteps),
  orderRule('back', 'Back thicknesses in order', backSteps),
  orderRule('side', 'Side thicknesses in order', sideSteps),
];
