import { braceSegments } from '../figures/braces.ts';
import { topInput } from '../figures/top-input.ts';
import { figureValue, numberOf, type Sheet } from '../graph/sheet.ts';
import { mean } from '../numeric/statistics.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { limitNumber } from '../route/limits.ts';
import type { PlannedRoute } from '../route/planned-route.ts';
import { readingOf } from '../route/reading-of.ts';
import type { Reading } from '../route/route-types.ts';
import { type JudgeContext, judgeReading, limitsInBuild, readingNumber } from './build-sheet.ts';
import { isBegun } from './freeze.ts';
import { pieceOfOperation, replacementOf, replaceRescue } from './replace-part.ts';
import { blankSpareMm, type Rescue, sayIn } from './rescue.ts';
import { holeRescue } from './rescue-hole.ts';
import { actionRescue, neckAngleRescue, restRescue } from './rescue-neck.ts';
import { thinPlateRescue } from './rescue-plate.ts';

/** What rescues of one build are computed from. */
export interface RescueContext extends JudgeContext {
  readonly plan: PlannedRoute;
  readonly pattern: Pattern;
}

/** Clearance of the X legs from the hole: rule of the brace plan. */
const xClearMm = 6;

/**
 * What to do about a reading that is not met: computed rescues first, what the route says about its faults after them,
 * replacing last.
 *
 * @param c        of the build, with the reading not yet in it or in it alike
 * @param op       operation of the reading
 * @param reading  which reading
 * @param value    what was read; for several spots the one number they come to
 * @returns        empty when the reading is met
 * @source         common practice, no published source
 */
export function rescuesFor(c: RescueContext, op: string, reading: Reading, value: number): readonly Rescue[] {
  const verdict = judgeReading(c, reading, value);
  if (!verdict || verdict.state === 'met') return [];
  const found: Rescue[] = [];
  const own = computed(c, reading, value);
  if (own) found.push(own);
  const limits = limitsInBuild(c, reading);
  const isScrap = limits.scrapLimit !== undefined && value < limits.scrapLimit;
  const piece = pieceOfOperation(op);
  if (
    piece &&
    (isScrap || own?.decision === 'replace' || own?.orReplace || (verdict.state === 'broken' && !own))
  ) {
    const r = replacementOf(c.plan, c.facts, piece, c.pattern.stock);
    found.push(
      replaceRescue(
        r,
        isScrap ? 'It is under the scrap limit.' : (own?.orReplace ?? 'If nothing else helps:'),
        sayIn(c.lengthUnit),
      ),
    );
  }
  return found;
}

function computed(c: RescueContext, reading: Reading, value: number): Rescue | undefined {
  const sheet = c.sheetWithout(reading.replaces);
  switch (reading.id) {
    case 'T10.1':
      return value < (numberOf(sheet, 'top.thickness.final') ?? 0) ? thinTop(c, sheet, value) : undefined;
    case 'T7.2':
    case 'T7.3':
      return thinTop(c, sheet, plateNow(c, sheet), reading.id === 'T7.2' ? value : undefined);
    case 'T6.1':
      return offCentre(c, sheet, value);
    case 'U6.1':
    case 'U6.2':
      return action(c, sheet);
    case 'N10.1':
    case 'U1.1':
      return neckAngle(c, sheet, reading, value);
    case 'U6.3':
      return rest(c, sheet, value);
    default:
      return undefined;
  }
}

/** The finished plate: measured when it was, else its target. */
function plateNow(c: RescueContext, sheet: Sheet): number {
  const reading = readingOf(c.route, 'T10.1');
  const read = reading ? readingNumber(reading, c.facts.readings.get('T10.1') ?? []) : undefined;
  return read ?? numberOf(sheet, 'top.thickness.final') ?? 0;
}

function thinTop(c: RescueContext, sheet: Sheet, measuredMm: number, channelMm?: number): Rescue | undefined {
  const drawnMm = numberOf(sheet, 'top.thickness.final');
  const scrapMm = numberOf(sheet, 'top.thickness.scrap');
  const depthMm = channelMm ?? numberOf(sheet, 'rosette.channel.depth');
  const modulusMPa = numberOf(sheet, 'brace.modulus');
  const segments = figureValue(sheet, braceSegments);
  if (
    drawnMm === undefined ||
    scrapMm === undefined ||
    depthMm === undefined ||
    modulusMPa === undefined ||
    !segments
  )
    return undefined;
  const barsAre = isBegun(c.facts, 'R9') ? 'carved' : isBegun(c.facts, 'R6') ? 'glued' : undefined;
  const rescue = thinPlateRescue(
    {
      measuredMm,
      drawnMm,
      scrapMm,
      channelMm: depthMm,
      channelIsCut: channelMm !== undefined || isBegun(c.facts, 'T7'),
      bars: segments.map(({ id, widthMm, heightMm }) => ({ id, widthMm, heightMm })),
      modulusMPa,
      blankSpareMm,
      ...(barsAre ? { barsAre } : {}),
    },
    sayIn(c.lengthUnit),
  );
  const top = figureValue(sheet, topInput);
  const canBeRaised = top !== undefined && measuredMm < drawnMm;
  const barsAreCarved = barsAre === 'carved';
  return canBeRaised ? { ...rescue, thinTop: { drawn: top, measuredMm, barsAreCarved } } : rescue;
}

function offCentre(c: RescueContext, sheet: Sheet, offsetMm: number): Rescue | undefined {
  const segments = figureValue(sheet, braceSegments);
  const centreYMm = numberOf(sheet, 'hole.centre_y');
  const radiusMm = numberOf(sheet, 'hole.radius');
  const leastMm = numberOf(sheet, 'brace.clear_of_hole.least');
  const bodyMm = numberOf(sheet, 'body.lower_bout.width');
  const plateHalfMm =
    numberOf(sheet, 'stock.half_width') ?? c.pattern.stock.find((s) => s.part === 'top half')?.widthMm;
  if (
    !segments ||
    centreYMm === undefined ||
    radiusMm === undefined ||
    leastMm === undefined ||
    bodyMm === undefined ||
    plateHalfMm === undefined
  )
    return undefined;
  const bars = segments.map((s) => ({
    id: s.id,
    polygon: s.polygon,
    leastMm: s.id.startsWith('X-') ? xClearMm : leastMm,
  }));
  const hole = { offsetMm, centreYMm, radiusMm, bars, plateHalfMm, bodyHalfMm: bodyMm / 2 };
  return holeRescue(hole, !isBegun(c.facts, 'T11') && !isBegun(c.facts, 'T7'), sayIn(c.lengthUnit));
}

function action(c: RescueContext, sheet: Sheet): Rescue | undefined {
  const sides = (['U6.1', 'U6.2'] as const).flatMap((id) => {
    const reading = readingOf(c.route, id);
    const read = reading && readingNumber(reading, c.facts.readings.get(id) ?? []);
    const wanted = reading && limitsInBuild(c, reading).nominal;
    return read === undefined || wanted === undefined ? [] : [read - wanted];
  });
  const saddleYMm = numberOf(sheet, 'saddle.y');
  const heelMm = numberOf(sheet, 'neck.heel.height');
  const protrusionMm = numberOf(sheet, 'bridge.protrusion');
  if (sides.length === 0 || saddleYMm === undefined || heelMm === undefined || protrusionMm === undefined)
    return undefined;
  return actionRescue(
    {
      qMm: mean(sides),
      saddleYMm,
      heelMm,
      protrusionMm,
      protrusionLeastMm: numberOf(sheet, 'bridge.protrusion.usual_low') ?? 1.5,
      protrusionMostMm: numberOf(sheet, 'bridge.protrusion.usual_high') ?? 5,
      neckComesOff: true,
    },
    sayIn(c.lengthUnit),
  );
}

function neckAngle(c: RescueContext, sheet: Sheet, reading: Reading, value: number): Rescue | undefined {
  const wanted = limitNumber(reading.limits?.of, c.instrument, (id) => numberOf(sheet, id));
  const saddleYMm = numberOf(sheet, 'saddle.y');
  const heelMm = numberOf(sheet, 'neck.heel.height');
  if (wanted === undefined || saddleYMm === undefined || heelMm === undefined) return undefined;
  return neckAngleRescue(value - wanted, saddleYMm, heelMm, sayIn(c.lengthUnit));
}

function rest(c: RescueContext, sheet: Sheet, cents: number): Rescue | undefined {
  const scaleMm = numberOf(sheet, 'scale.length');
  const reachMm = numberOf(sheet, 'scale.saddle_reach');
  if (scaleMm === undefined || reachMm === undefined) return undefined;
  return restRescue(cents, scaleMm, reachMm, sayIn(c.lengthUnit));
}
