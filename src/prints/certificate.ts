import { box, type Drawing, type Entity, line, text } from '../drawing/model.ts';
import { fittedText } from './card-words.ts';
import { sign } from './sign.ts';

/** What a certificate says. */
export interface CertificateAbout {
  /** undefined: a line to write the name on. */
  readonly maker?: string;
  readonly course: string;
  readonly instrument: string;
  readonly sessions: number;
  readonly hours: number;
  /** Days of the first and the last session, ISO dates. */
  readonly fromTo?: readonly [string, string];
  /** Share of the route done, 0 to 1. */
  readonly doneFrac: number;
  readonly printedOn: string;
  readonly isDemo: boolean;
}

const WIDTH_MM = 186;
const HEIGHT_MM = 130;

/**
 * A certificate of the hours somebody built, with a line for the teacher's signature.
 *
 * @source common practice, no published source
 */
export function certificate(about: CertificateAbout): Drawing {
  const middle = WIDTH_MM / 2;
  const said = (y: number, words: string, heightMm: number, isName = false): Entity =>
    fittedText(words, { x: middle, y }, WIDTH_MM - 20, heightMm, {
      anchorX: 'middle',
      ...(isName ? ({ face: 'name', weight: 700 } as const) : {}),
    });
  const state =
    about.doneFrac >= 1 ? 'finished' : `built ${Math.floor(about.doneFrac * 100)} % of the way so far`;
  const entities: Entity[] = [
    box('text', { minX: 0, minY: -10, maxX: WIDTH_MM, maxY: HEIGHT_MM - 4 }, { widthMm: 0.7 }),
    box('text', { minX: 1.6, minY: -8.4, maxX: WIDTH_MM - 1.6, maxY: HEIGHT_MM - 5.6 }, { widthMm: 0.25 }),
    ...sign({ x: middle - 7, y: 0 }, 14),
    said(26, 'Certificate', 8, true),
    ...(about.maker === undefined
      ? [line('text', { x: middle - 45, y: 42 }, { x: middle + 45, y: 42 }, { widthMm: 0.25 })]
      : [said(42, about.maker, 7, true)]),
    said(53, `was here on ${about.sessions} sessions of ${about.course}, ${about.hours} hours,`, 3.4),
    ...(about.fromTo ? [said(60, `from ${about.fromTo[0]} to ${about.fromTo[1]},`, 3.4)] : []),
    said(67, `and ${state}: ${about.instrument}.`, 3.4),
    ...(about.isDemo ? [said(80, 'DEMO, nothing here is real', 3.4, true)] : []),
    line('text', { x: 10, y: 110 }, { x: 80, y: 110 }, { widthMm: 0.25 }),
    text('text', { x: 10, y: 115 }, 'Teacher', 2.2),
    text('text', { x: WIDTH_MM - 10, y: 115 }, `printed ${about.printedOn}`, 2.2, { anchorX: 'end' }),
  ];
  return {
    id: 'certificate',
    title: 'Certificate',
    seenFrom: 'the front',
    frame: { minX: 0, minY: -10, maxX: WIDTH_MM, maxY: HEIGHT_MM - 4 },
    entities,
  };
}
