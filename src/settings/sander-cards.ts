import { isFinding } from '../quantity/finding.ts';
import { formatInches, formatMm } from '../quantity/print-length.ts';
import { machineAt } from '../shop/shop.ts';
import { machineLength } from './make-setting.ts';
import { passPlan } from './pass-plan.ts';
import { type CardSpec, cardSpec, MAY_CHANGE } from './setting.ts';

/** One thing that is brought to thickness at the sander. */
interface SanderCard {
  readonly id: string;
  readonly title: string;
  readonly operation: string;
  readonly lie: string;
  /** Thickness before: a figure, the part of the rough wood, or what it is sawn over size by. */
  readonly start: string | { readonly stock: string } | { readonly sawnOverMm: number };
  /** Figures: wanted, and the scrap limit where there is one. */
  readonly target: string;
  readonly scrap?: string;
  /** What is left for hand sanding above the target figure, mm. */
  readonly handMm: number;
  /** Low and high limit of the reading, from the number that is aimed at. */
  readonly minusMm: number;
  readonly plusMm: number;
  readonly faces: 'alternate' | 'one';
  /** Fine cuts only: the ring is in and the face is final. */
  readonly isFine?: boolean;
  readonly wood: 'soft' | 'dense';
  readonly onPiece: readonly string[];
  readonly hold?: string;
}

const SANDER = 'thickness-sander';

/** Thickness before the first pass, mm. */
function startOf(
  { start, target }: SanderCard,
  of: (id: string) => number,
  stock: (part: string) => { readonly thicknessMm: number } | undefined,
): number {
  if (typeof start === 'string') return of(start);
  if ('sawnOverMm' in start) return of(target) + start.sawnOverMm;
  return stock(start.stock)?.thicknessMm ?? of(target) + 1;
}

/** The card of one thickness, with its passes. */
function sanderCard(c: SanderCard): CardSpec {
  return cardSpec({
    id: c.id,
    title: c.title,
    station: SANDER,
    operations: [c.operation],
    lie: c.lie,
    mayChange: MAY_CHANGE.key,
    ...(c.hold === undefined ? {} : { hold: c.hold }),
    from: typeof c.start === 'string' ? [c.start, c.target] : [c.target],
    build({ of, maybe, stock, shop }) {
      const startMm = startOf(c, of, stock);
      const machine = machineAt(shop, SANDER, 'thickness');
      const aimMm = of(c.target) + c.handMm;
      const scrapMm = c.scrap === undefined ? undefined : maybe(c.scrap);
      const lowMm = Math.max(aimMm - c.minusMm, scrapMm ?? 0);
      const plan = passPlan({
        startMm,
        targetMm: aimMm,
        perPassMm: Math.min(
          c.wood === 'dense' ? shop.steps.denseMm : shop.steps.coarseMm,
          machine?.largestCutMm ?? 1,
        ),
        lastPerPassMm: shop.steps.fineMm,
        lastPassesCount: c.isFine ? 100 : shop.steps.fineCount,
        faces: c.faces,
        lowMm,
        ...(machine ? { machine } : {}),
      });
      const length = (valueMm: number, places: 1 | 2): string =>
        shop.unit === 'in' ? `${formatInches(valueMm)} in` : `${formatMm(valueMm, places)} mm`;
      const passes = isFinding(plan) ? [] : plan.passes;
      const words = {
        id: `${c.id}.last`,
        label: machine?.reads.kind === 'crank' ? 'Last setting of the crank' : 'Last number',
        figures: [c.target],
        low: lowMm,
        high: aimMm + c.plusMm,
      };
      const last = machineLength(words, aimMm, machine, 'more');
      const note = isFinding(plan) ? plan.text : (last.note ?? plan.note);
      return {
        settings: [note === undefined ? last : { ...last, note }],
        picture: {
          kind: 'passes',
          unit: shop.unit,
          startMm,
          passes,
          lowMm,
          ...(scrapMm === undefined ? {} : { scrapMm }),
        },
        onScrap: [
          'Two scrap strips through first: read them, compare with the number typed',
          ...(machine?.offset.provedOn
            ? [`Offset proved on ${machine.offset.provedOn}; prove it anew after a belt change`]
            : ['Offset not proved yet: prove it with three strips']),
          ...(machine?.snipe
            ? [
                `Ends of ${length(machine.snipe.lengthMm, 1)} lose ${length(machine.snipe.depthMm, 2)}: keep them outside the outline`,
              ]
            : []),
        ],
        onPiece: c.onPiece,
      };
    },
  });
}

/** What is brought to thickness. Limits of the readings are those of the route. */
const thicknesses: readonly SanderCard[] = [
  {
    id: 'sand-top',
    title: 'Sand the top, before the ring',
    operation: 'T4',
    lie: 'Faces in turn, end for end.',
    start: 'top.thickness.rough',
    target: 'top.thickness.before_rosette',
    scrap: 'top.thickness.scrap',
    handMm: 0,
    minusMm: 0.1,
    plusMm: 0.15,
    faces: 'alternate',
    wood: 'soft',
    onPiece: ['Type one step, read it back aloud, then feed', 'Measure the thickest place after each pass'],
    hold: 'The teacher sees the first number typed and the offset proved.',
  },
  {
    id: 'sand-top-inside',
    title: 'Sand the inside to final thickness',
    operation: 'T10',
    lie: 'Inside up; the front face is finished.',
    start: 'top.thickness.before_rosette',
    target: 'top.thickness.final',
    scrap: 'top.thickness.scrap',
    handMm: 0,
    minusMm: 0.05,
    plusMm: 0.1,
    faces: 'one',
    isFine: true,
    wood: 'soft',
    onPiece: [
      'Check the word INSIDE on the face that is up',
      'The least reading at the bridge decides, not the mean',
    ],
    hold: 'The teacher sees the target and the face marked INSIDE.',
  },
  {
    id: 'sand-back',
    title: 'Sand the back',
    operation: 'K2',
    lie: 'Faces in turn, end for end.',
    start: 'back.thickness.rough',
    target: 'back.thickness.before_final',
    scrap: 'back.thickness.scrap',
    handMm: 0,
    minusMm: 0.1,
    plusMm: 0.15,
    faces: 'alternate',
    wood: 'dense',
    onPiece: ['Let it cool between passes', 'Oily wood: half the cut'],
  },
  {
    id: 'sand-sides',
    title: 'Sand the sides',
    operation: 'S1',
    lie: 'On the carrier board, faces in turn.',
    start: 'side.thickness.rough',
    target: 'side.thickness.final',
    scrap: 'side.thickness.scrap',
    handMm: 0,
    minusMm: 0.1,
    plusMm: 0.1,
    faces: 'alternate',
    wood: 'dense',
    onPiece: ['Both strips at each number, so that they bend alike'],
  },
  {
    id: 'sand-head',
    title: 'Sand the head',
    operation: 'N4',
    lie: 'Head on the table, heel held up and level.',
    start: { sawnOverMm: 1.5 },
    target: 'neck.head.thickness',
    handMm: 0,
    minusMm: 0.3,
    plusMm: 0.3,
    faces: 'one',
    wood: 'dense',
    onPiece: ['With a face veneer: its thickness is taken off this number'],
  },
  {
    id: 'sand-board',
    title: 'Sand the fretboard blank',
    operation: 'F1',
    lie: 'Faces in turn, end for end.',
    start: { stock: 'fretboard' },
    target: 'board.thickness.rough',
    handMm: 0,
    minusMm: 0.1,
    plusMm: 0.2,
    faces: 'alternate',
    wood: 'dense',
    onPiece: ['Flat before thin: no light under a straightedge'],
  },
];

/** Cards of the thickness sander. */
export const sanderCards: readonly CardSpec[] = thicknesses.map(sanderCard);
