/** The three kinds of instrument. */
export type InstrumentId = 'steel' | 'nylon' | 'uke';
export const instrumentIds: readonly InstrumentId[] = ['steel', 'nylon', 'uke'];

export interface Minutes {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Least and usual hours of a rest. */
export interface Hours {
  readonly leastH: number;
  readonly usualH: number;
}

/** A thing held while something rests. */
export interface Hold extends Hours {
  readonly what: string;
}

export interface Batch {
  readonly scope: 'class' | 'group' | 'setting' | 'none';
  readonly most: number;
  readonly setUpMin: number;
  readonly eachMin: number;
  readonly teacher: 'whole' | 'each' | 'first' | 'sign' | 'none';
  readonly teacherMin: number;
}

/** One stretch of work at one station, with what comes after it. */
export interface Part {
  readonly what: string;
  /** Any one of these stations; the first is the usual one. */
  readonly at: readonly string[];
  readonly minutes: Minutes;
  /** stop: may be left; glue: something rests now; go on: the next part follows at once. */
  readonly then: 'stop' | 'glue' | 'go on';
  readonly helperMin: number;
  readonly who: 'learner' | 'teacher' | 'helper';
  readonly batch: Batch;
  readonly prep?: { readonly by: readonly ('teacher' | 'helper')[]; readonly usual: boolean };
  readonly rest?: Hours & { readonly holds: readonly Hold[] };
  readonly repeat?: { readonly times: string; readonly usualTimes: number; readonly rest: Hours };
}

export interface Rest {
  readonly kind: 'glue' | 'settle' | 'dry' | 'cure' | 'cool';
  readonly holds: readonly Hold[];
  readonly before: readonly (Hours & { readonly op: string })[];
  readonly beforeOthers: Hours;
}

/** A number, the id of a figure, or one number for each instrument. */
export type LimitValue = number | string | Readonly<Record<InstrumentId, number>>;

export interface Limits {
  readonly of?: LimitValue;
  readonly minus?: LimitValue;
  readonly plus?: LimitValue;
  readonly minusPct?: number;
  readonly plusPct?: number;
  readonly low?: LimitValue;
  readonly high?: LimitValue;
}

/** Something read from the wood or the room. */
export interface Reading {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  /** figure: feeds a computation; hold: asked at a hold point; may: behind "more". */
  readonly need: 'figure' | 'hold' | 'may';
  readonly kind: 'number' | 'check' | 'record';
  readonly tool: string;
  readonly certainty: 'solid' | 'typical' | 'varies by shop';
  readonly limits?: Limits;
  readonly softLimits?: Limits;
  readonly nominal?: LimitValue;
  readonly scrapLimit?: LimitValue;
  readonly expected?: string;
  readonly toolId?: string;
  /** Figure this reading stands in for in its build. */
  readonly replaces?: string;
  /** How several spots become one number. */
  readonly combine?: 'last' | 'mean' | 'least' | 'least at bridge';
  readonly computed?: boolean;
  /** The humidity of the room at a gluing. */
  readonly room?: boolean;
  readonly note?: string;
  readonly instruments?: readonly InstrumentId[];
  readonly spots?: { readonly names: readonly string[]; readonly default: number; readonly all: number };
}

/** Something set or marked before the cut, with the figures it is computed from. */
export interface Setting {
  readonly id: string;
  readonly name: string;
  readonly formula: string;
  readonly unit: string;
  readonly figures: readonly string[];
  readonly example?: string;
}

export interface Fault {
  readonly fault: string;
  readonly cause: string;
  readonly rescue: string;
  readonly scrapLimit: string;
}

export interface Operation {
  readonly id: string;
  readonly kind: 'build' | 'key';
  readonly name: string;
  readonly stage: string;
  readonly step: string;
  readonly instruments: readonly InstrumentId[];
  readonly optional: boolean;
  readonly gives: string;
  readonly after: readonly string[];
  readonly makes: readonly string[];
  readonly needs: readonly string[];
  readonly usesUp: readonly string[];
  readonly parts: readonly Part[];
  readonly jigs: readonly string[];
  readonly rest?: Rest;
  readonly settings: readonly Setting[];
  readonly readings: readonly Reading[];
  readonly good: string;
  readonly faults: readonly Fault[];
  readonly cautions: readonly string[];
  readonly variants: Readonly<Partial<Record<InstrumentId, Variant>>>;
  readonly source: string;
  /** A key check: the demonstration it rides on, the key and the station. */
  readonly joinTo?: string;
  readonly givesKey?: string;
  readonly station?: string;
  /** The teacher's own text, photo (content hash) and link. */
  readonly ownText?: string;
  readonly photo?: string;
  readonly link?: string;
}

export interface Variant {
  readonly text?: string;
  readonly likelyMin?: number;
}

export interface Station {
  readonly id: string;
  readonly name: string;
  readonly capacity: number;
  readonly unit: string;
  readonly key: string;
  readonly protect: readonly string[];
  readonly cautions: readonly string[];
  readonly adultBeside: boolean;
  readonly teacherOnly: boolean;
  readonly without: {
    readonly how: 'none' | 'hand' | 'teacher';
    readonly text: string;
    readonly timesLonger?: number;
  };
  readonly source: string;
  readonly shortestPieceMm?: number;
}

export interface Jig {
  readonly id: string;
  readonly name: string;
  readonly count: number;
}

export interface Key {
  readonly id: string;
  readonly text: string;
  readonly checkedBy?: string;
}

export type AgeBand = 'under16' | 'from16to17' | 'adult';
export type AgeWord = 'alone' | 'adult beside' | 'teacher does it' | 'never';

export interface HoldPoint {
  readonly op: string;
  readonly sign: string;
  readonly when: 'before' | 'after';
  readonly people: number;
  readonly signatures: number;
}

export interface FreezePoint {
  readonly id: string;
  readonly choice: string;
  readonly lastChangeBefore: readonly string[];
  readonly text: string;
  /** Input ids of the pattern; a star stands for the rest of the name. */
  readonly inputs: readonly string[];
}

export interface CoarseStep {
  readonly id: string;
  readonly name: string;
  readonly stage: string;
  readonly operations: readonly string[];
}

export interface Finish {
  readonly id: string;
  readonly coats: readonly number[];
  readonly minEach: number;
  readonly betweenH: readonly number[];
  readonly cureH: readonly number[];
  readonly by: string;
  readonly filmMm: readonly number[];
  readonly polishMin: number;
  readonly fillPores: boolean;
  readonly source: string;
}

export interface RouteChoice {
  readonly id: string;
  readonly name: string;
  readonly skip: readonly string[];
  readonly likelyMin: Readonly<Record<string, number>>;
  readonly inPrep?: Readonly<
    Record<
      string,
      {
        readonly by: readonly string[];
        readonly setUpMin: number;
        readonly eachMin: number;
        readonly text: string;
      }
    >
  >;
  readonly openBench?: { readonly hours: number; readonly text: string };
  readonly dropParts?: readonly { readonly op: string; readonly part: number }[];
}

export interface MeasuringTool {
  readonly id: string;
  readonly name: string;
  readonly unit: string;
  readonly resolution: number;
  readonly source: string;
  readonly repeatability?: number;
  readonly repeatabilityPct?: number;
}

export interface Alternative {
  readonly id: string;
  readonly instruments: readonly InstrumentId[];
  readonly name: string;
  readonly replaces: readonly string[];
  readonly after: readonly string[];
  readonly before: readonly string[];
  readonly minutes: Minutes;
  readonly readings: string;
  readonly note: string;
}

/** The whole route: operations and everything they name. */
export interface Route {
  readonly format: 'bracewright-route/1';
  readonly name: string;
  readonly about: string;
  readonly instruments: readonly InstrumentId[];
  readonly stations: readonly Station[];
  readonly jigs: readonly Jig[];
  readonly keys: readonly Key[];
  readonly keyRule: {
    readonly lapsesAfterMonths: number;
    readonly lapsesAfterGapWeeks: number;
    readonly gapCounts: string;
    readonly lapsesAfterIncident: boolean;
  };
  readonly ageRules: {
    readonly mark: string;
    readonly bands: readonly string[];
    readonly words: readonly AgeWord[];
    readonly consent: string;
    readonly otherStations: AgeWord;
    readonly byStation: Readonly<Record<string, Readonly<Record<AgeBand, AgeWord>>>>;
  };
  readonly pieces: readonly {
    readonly id: string;
    readonly madeBy: string;
    readonly text: string;
    readonly instruments: readonly InstrumentId[];
    readonly usedUpBy?: string;
  }[];
  readonly stageOf: {
    readonly stages: readonly { readonly id: string; readonly name: string }[];
    readonly steps: readonly CoarseStep[];
  };
  readonly roomHolds: {
    readonly operations: readonly string[];
    readonly humidityPct: { readonly met: readonly number[]; readonly doubtful: readonly number[] };
    readonly temperatureC: readonly number[];
    readonly hoursBefore: number;
    readonly plateMoisturePct: readonly number[];
    readonly doubtful: string;
    readonly broken: string;
    readonly withoutALogger: string;
    readonly source: string;
  };
  readonly holdPoints: readonly HoldPoint[];
  readonly demonstrations: readonly { readonly ops: readonly string[]; readonly min: number }[];
  readonly longHolds: readonly {
    readonly what: string;
    readonly fromOp: string;
    readonly untilRestOf?: string;
    readonly untilStartOf?: string;
    readonly note?: string;
  }[];
  readonly freezePoints: readonly FreezePoint[];
  readonly finishes: readonly Finish[];
  readonly choices: readonly RouteChoice[];
  readonly measuringTools: readonly MeasuringTool[];
  readonly alternatives: readonly Alternative[];
  readonly operations: readonly Operation[];
}
