/**
 * The route data the class problem is made from: the shape of the published operations file, as far as
 * planning needs it. Members that are not named here are ignored.
 */
export interface RouteForm {
  readonly operations: readonly RouteOperation[];
  readonly stations: readonly RouteStation[];
  readonly jigs: readonly { readonly id: string; readonly name: string; readonly count: number }[];
  readonly ageRules?: { readonly byStation: Readonly<Record<string, Readonly<Record<string, string>>>> };
  readonly longHolds?: readonly RouteLongHold[];
  readonly choices?: readonly RouteChoice[];
}

export interface RouteStation {
  readonly id: string;
  readonly name: string;
  readonly capacity: number;
  readonly key: string;
  readonly teacherOnly?: boolean;
}

export interface RouteLongHold {
  readonly what: string;
  readonly fromOp: string;
  readonly untilRestOf?: string;
  readonly untilStartOf?: string;
}

export interface RouteChoice {
  readonly id: string;
  readonly skip?: readonly string[];
  readonly likelyMin?: Readonly<Record<string, number>>;
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
  readonly dropParts?: readonly { readonly op: string; readonly part: number }[];
}

export interface RouteHours {
  readonly leastH: number;
  readonly usualH: number;
}

export interface RoutePart {
  readonly what: string;
  readonly at: readonly string[];
  readonly minutes: { readonly low: number; readonly likely: number; readonly high: number };
  readonly then: string;
  readonly helperMin: number;
  readonly who: string;
  readonly batch: {
    readonly scope: string;
    readonly most: number;
    readonly setUpMin: number;
    readonly eachMin: number;
    readonly teacher: string;
    readonly teacherMin: number;
  };
  readonly prep: { readonly by: readonly string[]; readonly usual: boolean } | null;
  readonly rest?: RouteHours & { readonly holds: readonly (RouteHours & { readonly what: string })[] };
  readonly repeat?: { readonly usualTimes: number; readonly rest: RouteHours };
}

export interface RouteOperation {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly instruments?: readonly string[];
  readonly optional?: boolean;
  readonly after: readonly string[];
  readonly parts: readonly RoutePart[];
  readonly jigs: readonly string[];
  readonly givesKey?: string;
  readonly rest: null | {
    readonly holds: readonly (RouteHours & { readonly what: string })[];
    readonly before: readonly (RouteHours & { readonly op: string })[];
    readonly beforeOthers: RouteHours;
  };
  readonly variants?: Readonly<Record<string, { readonly skip?: boolean; readonly likelyMin?: number }>>;
}
