import type { Instrument, StockSpec } from '../pattern/pattern.ts';
import type { Sizes } from '../quantity/print-length.ts';
import type { Shop } from '../shop/shop.ts';
import type { Picture } from './picture.ts';

export type SettingUnit = 'mm' | 'deg' | 'count' | 'degC';

/** One number that something is set to. */
export interface Setting {
  /** Permanent id, e.g. `hole.reach`. */
  readonly id: string;
  readonly label: string;
  readonly unit: SettingUnit;
  /** What pattern and rules ask for, in `unit`. */
  readonly wanted: number;
  /** What comes out of the setting, in `unit`. */
  readonly result: number;
  /** What the machine or jig is set to, its own unit first: number and unit apart. */
  readonly big: { readonly text: string; readonly unit: string };
  /** The same in the other unit; missing for counts and angles. */
  readonly small?: string;
  /** Set by rule, gauge or jig, so that the shop's unit stands first. */
  readonly isByRule?: boolean;
  /** What comes out, where it is not the number that is set: `2.78 mm`. */
  readonly gives?: string;
  /** How far the result stays on the side that leaves wood, mm; missing where nothing is left. */
  readonly leavesMm?: number;
  /** What may be read on the wood afterwards, in `unit`. */
  readonly low?: number;
  readonly high?: number;
  /** Ids of the figures it comes from. */
  readonly figures: readonly string[];
  /** One sentence where the shop cannot give what is wanted. */
  readonly note?: string;
}

/** Everything for one card: one station, one thing to set. */
export interface SettingCard {
  readonly kind: 'card';
  /** Permanent id, e.g. `ring-channel`. */
  readonly id: string;
  readonly title: string;
  /** Station of the route. */
  readonly station: string;
  /** Operations of the route that it serves. */
  readonly operations: readonly string[];
  /** How the work lies and is held. */
  readonly lie: string;
  readonly settings: readonly Setting[];
  readonly picture: Picture;
  /** How to check it on scrap, before the piece. */
  readonly onScrap: readonly string[];
  /** What to watch on the piece. */
  readonly onPiece: readonly string[];
  readonly mayChange: string;
  /** What the teacher signs before the first piece. */
  readonly hold?: string;
  /** All figures behind it. */
  readonly figures: readonly string[];
}

/** A card that cannot be had for this pattern. */
export interface Unset {
  readonly kind: 'unset';
  readonly id: string;
  readonly title: string;
  readonly reason: string;
  /** True when the instrument has no such thing, which is nobody's fault. */
  readonly isAbsent: boolean;
}

/** What a card is made from. */
export interface CardContext<Id extends string> {
  /** Value of a needed figure. */
  of(id: Id): number;
  /** Value of any figure, or undefined. */
  maybe(id: string): number | undefined;
  /** One line of the rough wood, by its part: `fretboard`. */
  stock(part: string): StockSpec | undefined;
  readonly shop: Shop;
  /** Lengths in the unit of the shop, for the words of the card. */
  readonly size: Sizes;
  readonly instrument: Instrument;
  readonly isLeftHanded: boolean;
}

/** The part of a card that is computed. */
export type CardBody = Pick<SettingCard, 'settings' | 'picture' | 'onScrap' | 'onPiece'> &
  Partial<Pick<SettingCard, 'lie'>>;

/** How one card is made. */
export interface CardSpec<Id extends string = string> {
  readonly id: string;
  readonly title: string;
  readonly station: string;
  readonly operations: readonly string[];
  readonly lie: string;
  readonly mayChange: string;
  readonly hold?: string;
  /** Figures without which there is no card. */
  readonly from: readonly Id[];
  /** Instruments it is for; all when left out. */
  readonly only?: readonly Instrument[];
  build(context: CardContext<Id>): CardBody;
}

/** Keeps the figure ids of a card checked by the compiler. */
export const cardSpec = <const Id extends string>(spec: CardSpec<Id>): CardSpec =>
  spec as unknown as CardSpec;

/** Who may change a setting, in the words of the cards. */
export const MAY_CHANGE = {
  teacher: 'The teacher only. Learners prove it, they do not turn it.',
  key: 'Whoever holds the key of this station; the number is read back aloud.',
  own: 'Everyone, each for the own piece.',
} as const;
