/** How a machine shows what it is set to. Lengths in mm. */
export type Reads =
  | { readonly kind: 'digital'; readonly stepMm: number }
  | { readonly kind: 'scale'; readonly stepMm: number }
  /** `stepMm` is the travel of one part of a turn. */
  | {
      readonly kind: 'crank';
      readonly stepMm: number;
      readonly travelMm: number;
      readonly partsCount: number;
      readonly zeroMm: number;
    };

/** What a machine setting is. */
export const MACHINE_SETS = ['thickness', 'depth', 'radius', 'fence', 'height', 'width'] as const;
export type MachineSets = (typeof MACHINE_SETS)[number];

/** Measured = alpha + beta x typed, with the day it was proved. */
export interface OffsetLine {
  readonly alphaMm: number;
  readonly beta: number;
  /** Year-month-day; undefined: never proved. */
  readonly provedOn?: string;
}

export interface Machine {
  readonly id: string;
  readonly name: string;
  /** Station of the route it stands at. */
  readonly station: string;
  readonly sets: MachineSets;
  readonly unit: 'mm' | 'in';
  readonly reads: Reads;
  readonly offset: OffsetLine;
  readonly smallestCutMm?: number;
  readonly largestCutMm?: number;
  readonly shortestPieceMm?: number;
  readonly widestPieceMm?: number;
  readonly snipe?: { readonly lengthMm: number; readonly depthMm: number };
}

/** Set once and for all, or over a range in steps. Unit of the jig: mm or deg. */
export type Adjust =
  | { readonly kind: 'fixed'; readonly at: readonly number[] }
  | { readonly kind: 'adjustable'; readonly from: number; readonly to: number; readonly step: number };

/** Kinds of jig the program knows, with the thing that is fixed or adjusted in words and its unit. */
export const JIG_KINDS = {
  'hole-cutter': { label: 'hole cutter', sets: 'pin centre to knife edge', unit: 'mm' },
  'ring-jig': { label: 'ring jig', sets: 'pin centre to cutter centre', unit: 'mm' },
  'slot-template': { label: 'slot template', sets: 'scale length', unit: 'mm' },
  'top-dish': { label: 'top dish', sets: 'sphere radius', unit: 'mm' },
  'back-dish': { label: 'back dish', sets: 'sphere radius', unit: 'mm' },
  'radius-block': { label: 'radius block', sets: 'face radius', unit: 'mm' },
  'ledge-bearings': { label: 'set of ledge bearings', sets: 'ledge depth in', unit: 'mm' },
  'tuner-guide': { label: 'tuner drill guide', sets: 'post to post', unit: 'mm' },
  'neck-wedge': { label: 'neck wedge', sets: 'angle', unit: 'deg' },
} as const;
export type JigKind = keyof typeof JIG_KINDS;

/** A jig that gives a length or an angle. */
export interface GaugedJig {
  readonly kind: JigKind;
  readonly id: string;
  readonly name: string;
  readonly adjust: Adjust;
}

/** A mould: the outline it was made to. */
export interface Mould {
  readonly kind: 'mould';
  readonly id: string;
  readonly name: string;
  readonly lengthMm: number;
  readonly upperBoutMm: number;
  readonly waistMm: number;
  readonly lowerBoutMm: number;
  /** Of the bending form that goes with it; spring-back already taken off it, as a share of the curvature. */
  readonly springBackFrac?: number;
}

export type Jig = GaugedJig | Mould;

/** A straight cutter or router bit. */
export interface Cutter {
  readonly diameterMm: number;
  readonly longestCutMm?: number;
}

/** How plates are taken down, when the machine does not say otherwise. */
export interface ThicknessSteps {
  readonly coarseMm: number;
  readonly denseMm: number;
  readonly fineMm: number;
  readonly fineCount: number;
}

export const AGE_BANDS = ['under_16', 'from_16_to_17', 'adult'] as const;
export type AgeBandKey = (typeof AGE_BANDS)[number];
export const AGE_WORDS = ['alone', 'adult beside', 'teacher does it', 'never'] as const;
export type AgeRuleWord = (typeof AGE_WORDS)[number];

/** What this shop says about a station of the route; what is left out stays as the route has it. */
export interface StationHere {
  /** False: this shop has none, the way without it is used. */
  readonly isHere: boolean;
  readonly capacity?: number;
  readonly key?: string;
  readonly protect?: readonly string[];
  /** Added to the cautions of the route, never in place of them. */
  readonly cautions: readonly string[];
  readonly without?: string;
}

export const PAPERS = ['letter', 'a4', 'a3', 'sheet'] as const;
export type PaperName = (typeof PAPERS)[number];

/** What is at hand in one workshop. */
export interface Shop {
  readonly name: string;
  readonly note?: string;
  /** Host name (and port) under which phones reach the server, e.g. `workshop.local:4180`; set once, printed on cards. */
  readonly host?: string;
  /** The school's own rule about machines, in its words. */
  readonly schoolRule?: string;
  /** Unit that stands first where something is set by rule, gauge or jig; machines have their own. */
  readonly unit: 'mm' | 'in';
  readonly paper: PaperName;
  /** What the printer made of 100 mm, across and along the page. */
  readonly printed100: { readonly xMm: number; readonly yMm: number };
  readonly pinsMm: readonly number[];
  readonly drillsMm: readonly number[];
  readonly bladesMm: readonly number[];
  readonly cutters: readonly Cutter[];
  readonly steps: ThicknessSteps;
  readonly machines: readonly Machine[];
  readonly jigs: readonly Jig[];
  readonly stations: ReadonlyMap<string, StationHere>;
  readonly ageRules: ReadonlyMap<string, Readonly<Record<AgeBandKey, AgeRuleWord>>>;
}

/** Steps of common practice: 0.25 coarse, 0.2 in dense wood, 0.10 for the last two. */
export const PLAIN_STEPS: ThicknessSteps = { coarseMm: 0.25, denseMm: 0.2, fineMm: 0.1, fineCount: 2 };

/** A shop about which nothing is known: displays that tell the truth, everything adjustable. */
export const PLAIN_SHOP: Shop = {
  name: 'no shop file',
  unit: 'mm',
  paper: 'a4',
  printed100: { xMm: 100, yMm: 100 },
  pinsMm: [],
  drillsMm: [],
  bladesMm: [],
  cutters: [],
  steps: PLAIN_STEPS,
  machines: [],
  jigs: [],
  stations: new Map(),
  ageRules: new Map(),
};

/**
 * The machine of a station that sets something.
 *
 * @returns  the first one in the order of the file; undefined when the shop names none
 * @source   arithmetic
 */
export function machineAt(shop: Shop, station: string, sets: MachineSets): Machine | undefined {
  return shop.machines.find((m) => m.station === station && m.sets === sets);
}

/** The jigs of one kind, in the order of the file. @source arithmetic */
export function jigsOf(shop: Shop, kind: JigKind): readonly GaugedJig[] {
  return shop.jigs.filter((j): j is GaugedJig => j.kind === kind);
}

/** The moulds of a shop. @source arithmetic */
export function mouldsOf(shop: Shop): readonly Mould[] {
  return shop.jigs.filter((j): j is Mould => j.kind === 'mould');
}
