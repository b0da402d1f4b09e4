import { type Drawing, type Entity, line, text } from '../drawing/model.ts';
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
    ...sign({ x: middle - 7, y: 0 }, 14),
    said(26, 'Certificate', 8, true),
    ...(about.maker === undefined
      ? [line('text', { x: middle - 45, y: 42 }, { x: middle + 45, y: 42 }, { widthMm: 0.25 })]
      : [said(42, about.maker, 7, true)]),
    said(54, `was here on ${about.sessions} sessions of ${about.course}, ${about.hours} hours,`, 3.4),
    said(62, `and ${state}: ${about.instrument}.`, 3.4),
    ...(about.isDemo ? [said(76, 'DEMO, nothing here is real', 3.4, true)] : []),
    line('text', { x: 10, y: 110 }, { x: 80, y: 110 }, { widthMm: 0.25 }),
    text('text', { x: 10, y: 115 }, 'Teacher', 2.2),
    text('text', { x: WIDTH_MM - 10, y: 115 }, `printed ${about.printedOn}`, 2.2, { anchorX: 'end' }),
  ];
  return {
    id: 'certificate',
    title: 'Certificate',
    seenFrom: 'the front',
    frame: { minX: 0, minY: 0, maxX: WIDTH_MM, maxY: HEIGHT_MM },
    entities,
  };
}
