import type { Pass } from './pass-plan.ts';

/** The ring channel seen from above, result on the left, cutter's way on the right. */
export interface RingPicture {
  readonly kind: 'ring';
  readonly innerMm: number;
  readonly outerMm: number;
  readonly cutterMm: number;
  /** Pin to cutter centre, inner cut, outer cut, then the cleaning rings. */
  readonly innerCentreMm: number;
  readonly outerCentreMm: number;
  readonly betweenMm: readonly number[];
  readonly holeRadiusMm: number;
  readonly pinMm: number;
  readonly depthMm: number;
  readonly plateMm: number;
  readonly inlayMm: number;
}

/** Knife at the end of an arm on the pin. */
export interface ReachPicture {
  readonly kind: 'reach';
  readonly reachMm: number;
  readonly pinMm: number;
}

/** The hole centre on the joint line, from the neck end of the body. */
export interface PilotPicture {
  readonly kind: 'pilot';
  readonly fromNeckMm: number;
  readonly drillMm: number;
  readonly holeRadiusMm: number;
}

/** Two halves raised at their joint between two stops. */
export interface FramePicture {
  readonly kind: 'frame';
  readonly openingMm: number;
  readonly joinedMm: number;
}

/** The neck from the side, without its board. */
export interface NeckSidePicture {
  readonly kind: 'neck-side';
  readonly fret1Mm: number;
  readonly fret9Mm: number;
  readonly heelMm: number;
}

/** Fret slots from the nut face, with the running total. */
export interface SlotsPicture {
  readonly kind: 'slots';
  /** From the nut face, fret 1 first. */
  readonly placesMm: readonly number[];
  readonly nutWidthMm: number;
  readonly widthAt12Mm: number;
  readonly lengthMm: number;
  readonly scaleMm: number;
}

/** Numbers to type, pass by pass. */
export interface PassesPicture {
  readonly kind: 'passes';
  /** In which plates are measured; what is set stands in the machine's own unit. */
  readonly unit: 'mm' | 'in';
  readonly startMm: number;
  readonly passes: readonly Pass[];
  readonly lowMm?: number;
  readonly scrapMm?: number;
}

/** A long thin wedge or a leaned face. */
export interface WedgePicture {
  readonly kind: 'wedge';
  readonly angleDeg: number;
  readonly lengthMm: number;
  readonly riseMm: number;
  readonly words: string;
}

/** A ledge cut into an edge. */
export interface LedgePicture {
  readonly kind: 'ledge';
  readonly depthInMm: number;
  readonly heightMm: number;
  readonly bindingMm: number;
}

/** A groove seen end on. */
export interface GroovePicture {
  readonly kind: 'groove';
  readonly widthMm: number;
  readonly depthMm: number;
  readonly bodyMm: number;
  readonly words: string;
}

/** A dish under a straight chord. */
export interface DomePicture {
  readonly kind: 'dome';
  readonly radiusMm: number;
  readonly chordMm: number;
  readonly sagMm: number;
}

/** A side strip with its marks. */
export interface FormerPicture {
  readonly kind: 'former';
  readonly stripMm: number;
  readonly spareMm: number;
  readonly waistMarkMm: number;
  readonly radii: readonly { readonly label: string; readonly partMm: number; readonly formMm: number }[];
}

/** The saddle slot on the bridge, front edge below, treble right. */
export interface SaddlePicture {
  readonly kind: 'saddle';
  readonly bridgeLengthMm: number;
  readonly bridgeWidthMm: number;
  readonly slotLengthMm: number;
  readonly slotWidthMm: number;
  /** Front edge of the bridge to the slot line at the treble and the bass end of the slot. */
  readonly trebleMm: number;
  readonly bassMm: number;
  readonly isLeftHanded: boolean;
}

/** A row of holes. */
export interface HolesPicture {
  readonly kind: 'holes';
  readonly pitchMm: number;
  readonly holeMm: number;
  readonly count: number;
  readonly edgeMm?: number;
}

/** Saw line outside the drawn line. */
export interface StayOffPicture {
  readonly kind: 'stay-off';
  readonly allowanceMm: number;
  readonly mostMm: number;
  readonly tightestMm: number;
  readonly bladeMm: number;
}

/** A tapering board. */
export interface TaperPicture {
  readonly kind: 'taper';
  readonly lengthMm: number;
  readonly nutMm: number;
  readonly endMm: number;
  readonly halfAngleDeg: number;
}

/** What a card shows beside its numbers. */
export type Picture =
  | RingPicture
  | ReachPicture
  | PilotPicture
  | FramePicture
  | NeckSidePicture
  | SlotsPicture
  | PassesPicture
  | WedgePicture
  | LedgePicture
  | GroovePicture
  | DomePicture
  | FormerPicture
  | SaddlePicture
  | HolesPicture
  | StayOffPicture
  | TaperPicture;
