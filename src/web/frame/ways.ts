/** One way through the book. It appears in the frame when its page works. */
export interface Way {
  readonly name: string;
  readonly href: string;
  /** The way is the present one when the address begins with one of these. */
  readonly under: readonly string[];
  /** Left out for learners and helpers. */
  readonly isTeachers?: boolean;
}

/** The ways that exist, in the order of the frame. */
export const ways: readonly Way[] = [
  {
    name: 'Session',
    href: '/session',
    under: ['/session', '/station', '/bench', '/begin', '/paper', '/people', '/card', '/tablets', '/scan'],
  },
  { name: 'Builds', href: '/builds', under: ['/builds'] },
  { name: 'Pattern', href: '/pattern', under: ['/pattern'] },
  { name: 'Route', href: '/route', under: ['/route'] },
  { name: 'Forecast', href: '/forecast', under: ['/forecast'] },
  { name: 'Office', href: '/office', under: ['/office'], isTeachers: true },
];
