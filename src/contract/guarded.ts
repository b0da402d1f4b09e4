import type { EventKind } from '../course/event-kinds.ts';

/** What is accepted over https or from the server's own machine only, once https is set up. */
export type Guard = 'signing' | 'keys' | 'limits' | 'settings';

/** Kinds of events that sign, give keys, or set limits or machines. The rest is entered through either door. */
const guardOfKind: Readonly<Partial<Record<EventKind, Guard>>> = {
  'hold-signed': 'signing',
  'repair-decided': 'signing',
  'part-replaced': 'signing',
  'step-skipped': 'signing',
  'step-reopened': 'signing',
  'done-before-record': 'signing',
  'build-handed-over': 'signing',
  'incident-closed': 'signing',
  'person-anonymised': 'keys',
  'key-given': 'keys',
  'key-taken': 'keys',
  'key-lapsed': 'keys',
  'key-rule-set': 'limits',
  'age-rule-set': 'limits',
  'own-figure-set': 'limits',
  'choice-made': 'limits',
  'pattern-applied': 'limits',
  'revision-made': 'limits',
  'route-edited': 'limits',
  'station-set': 'settings',
  'station-proved': 'settings',
  'station-in-order': 'settings',
  'jig-proved': 'settings',
  'course-set-up': 'settings',
  'course-removed': 'settings',
  'build-set-up': 'settings',
  'learner-added': 'settings',
  'learner-removed': 'settings',
  'helper-added': 'settings',
};

/** What of the four an event of some kind is; undefined for one that either door takes, also for a kind not known here. */
export const guardOf = (kind: string): Guard | undefined =>
  Object.hasOwn(guardOfKind, kind) ? guardOfKind[kind as EventKind] : undefined;

/** One sentence for who came to the plain door with one of these. @param address  where it is accepted */
export const guardWords = (address: string): string =>
  `Signing, keys, limits and settings are not taken over plain http; open ${address} on this device, or use the machine Bracewright runs on.`;
