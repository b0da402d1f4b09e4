import { halfWidthAtMm } from '../geometry/half-outline.ts';
import { domeHeightMm } from '../geometry/sphere.ts';
import { type Figure, figure } from '../graph/figure.ts';
import type { Rule } from '../graph/rule.ts';
import { finding } from '../quantity/finding.ts';
import { type TopDome, topDome } from './dome.ts';
import { input } from './inputs.ts';
import { lowerY, outline, upperY, waistY } from './outline.ts';
import { mend } from './rule-parts.ts';

const practice = 'common practice, no published source';

/** The sphere of the back: its centre lies on the centre line at `apexYMm`, z from the top-side rim plane toward the back. */
export interface BackSphere {
  readonly radiusMm: number;
  readonly apexYMm: number;
  readonly centreZMm: number;
}

/**
 * Height of the top edge of the rim over the rim plane, z toward the back: 0 at the neck end, - where the dome
 * bulges outward.
 *
 * @returns mm; undefined outside the sphere
 * @source  plane-geometry
 */
export function topEdgeZMm(dome: TopDome, xMm: number, yMm: number): number | undefined {
  if (dome.radiusMm === undefined) return 0;
  const height = domeHeightMm(dome.radiusMm, dome.apexYMm, xMm, yMm);
  return height === undefined ? undefined : -height;
}

/** Place of the back edge over the rim plane, mm; undefined outside the sphere. @source plane-geometry */
export function backEdgeZMm(sphere: BackSphere, xMm: number, yMm: number): number | undefined {
  const under = sphere.radiusMm ** 2 - xMm ** 2 - (yMm - sphere.apexYMm) ** 2;
  return under < 0 ? undefined : sphere.centreZMm + Math.sqrt(under);
}

/**
 * The sphere of the back through both ends of the rim.
 *
 * @param radiusMm   of the back dome
 * @param lengthMm   body length
 * @param neckZMm    back edge at the neck end, from the rim plane
 * @param tailZMm    back edge at the tail
 * @returns          sphere; undefined when it is too small for the body
 * @source           plane-geometry
 */
export function backSphereOf(
  radiusMm: number,
  lengthMm: number,
  neckZMm: number,
  tailZMm: number,
): BackSphere | undefined {
  // the sphere falls by `fall` from the neck end to the tail: sqrt(R^2 - y^2) - sqrt(R^2 - (L - y)^2) = fall
  const fall = neckZMm - tailZMm;
  const offAt = (y: number): number =>
    Math.sqrt(radiusMm * radiusMm - y * y) - Math.sqrt(radiusMm * radiusMm - (lengthMm - y) ** 2) - fall;
  const low = lengthMm - radiusMm * 0.999;
  const high = radiusMm * 0.999;
  if (low >= high || offAt(low) < 0 || offAt(high) > 0) return undefined;
  let y = lengthMm / 2 - (radiusMm * fall) / lengthMm;
  let a = low;
  let b = high;
  for (let i = 0; i < 60; i++) {
    if (!(y > a && y < b)) y = (a + b) / 2;
    const off = offAt(y);
    if (off > 0) a = y;
    else b = y;
    const slope =
      -y / Math.sqrt(radiusMm * radiusMm - y * y) -
      (lengthMm - y) / Math.sqrt(radiusMm * radiusMm - (lengthMm - y) ** 2);
    const step = off / slope;
    y -= step;
    if (Math.abs(step) < 1e-11) break;
  }
  return { radiusMm, apexYMm: y, centreZMm: neckZMm - Math.sqrt(radiusMm * radiusMm - y * y) };
}

/** The sphere of the back from the two rim heights. */
export const backSphere: Figure<BackSphere> = figure({
  id: 'dome.back.sphere',
  unit: 'shape',
  label: 'Sphere of the back',
  formula: 'sphere of the typed radius through the back edge at the neck end and at the tail',
  source: 'plane-geometry',
  from: {
    radiusMm: input('dome.back.radius'),
    neckMm: input('rim.height.neck'),
    tailMm: input('rim.height.tail'),
    lengthMm: input('body.length'),
    dome: topDome,
  },
  compute: ({ radiusMm, neckMm, tailMm, lengthMm, dome }) => {
    const neckZ = topEdgeZMm(dome, 0, 0);
    const tailZ = topEdgeZMm(dome, 0, lengthMm);
    const sphere =
      neckZ === undefined || tailZ === undefined
        ? undefined
        : backSphereOf(radiusMm, lengthMm, neckZ + neckMm, tailZ + tailMm);
    return (
      sphere ??
      finding({
        code: 'back-sphere-too-small',
        level: 'blocked',
        got: radiusMm,
        unit: 'mm',
        text: `A back dome of ${radiusMm} mm cannot join rims of ${neckMm} mm at the neck end and ${tailMm} mm at the tail; make the dome radius larger or the two heights more alike.`,
        source: 'plane-geometry',
      })
    );
  },
});

/** Apex of the back. */
export const backApexY: Figure<number> = figure({
  id: 'dome.back.apex_y',
  unit: 'mm',
  label: 'Back apex from the neck end',
  formula: 'where the sphere of the back stands highest; about L/2 + radius x height difference / L',
  source: 'plane-geometry',
  from: { sphere: backSphere },
  compute: ({ sphere }) => sphere.apexYMm,
});

/** Greatest depth of the box on the centre line, between the plates. */
export const boxDepth: Figure<number> = figure({
  id: 'box.depth.most',
  unit: 'mm',
  label: 'Inside depth of the box on the centre line, deepest',
  formula: 'largest distance from the top sphere to the back sphere on the centre line',
  source: 'plane-geometry',
  from: { sphere: backSphere, dome: topDome, lengthMm: input('body.length') },
  compute: ({ sphere, dome, lengthMm }) => {
    let most = 0;
    for (let i = 0; i <= 100; i++) {
      const y = (lengthMm * i) / 100;
      most = Math.max(most, (backEdgeZMm(sphere, 0, y) ?? 0) - (topEdgeZMm(dome, 0, y) ?? 0));
    }
    return most;
  },
});

const heightAt = (name: string, label: string, place: Figure<number>): Figure<number> =>
  figure({
    id: `rim.height.${name}`,
    unit: 'mm',
    label: `Rim height at the ${label}`,
    formula: `back sphere less top sphere at the outline, at the ${label}`,
    source: 'plane-geometry',
    from: { shape: outline, sphere: backSphere, dome: topDome, yMm: place },
    compute: ({ shape, sphere, dome, yMm }) => {
      const xMm = halfWidthAtMm(shape, yMm) ?? Number.NaN;
      return (backEdgeZMm(sphere, xMm, yMm) ?? Number.NaN) - (topEdgeZMm(dome, xMm, yMm) ?? Number.NaN);
    },
  });

/** Rim height at the upper bout. */
export const rimAtUpper = heightAt('upper_bout', 'upper bout', upperY);
/** Rim height at the waist. */
export const rimAtWaist = heightAt('waist', 'waist', waistY);
/** Rim height at the lower bout. */
export const rimAtLower = heightAt('lower_bout', 'lower bout', lowerY);

/** Taper of the rim. */
export const rimTaper: Figure<number> = figure({
  id: 'rim.taper',
  unit: 'mm',
  label: 'Rim taller at the tail by',
  formula: 'rim height at the tail less rim height at the neck end',
  source: practice,
  from: { neckMm: input('rim.height.neck'), tailMm: input('rim.height.tail') },
  compute: ({ neckMm, tailMm }) => tailMm - neckMm,
});

/** How far the back apex lies inside the body. */
export const backApexInside: Figure<number> = figure({
  id: 'dome.back.apex_share',
  unit: 'fraction',
  label: 'Back apex against body length',
  formula: 'back apex from the neck end / body length',
  source: practice,
  from: { apexMm: backApexY, lengthMm: input('body.length') },
  compute: ({ apexMm, lengthMm }) => apexMm / lengthMm,
});

/** Figures of the rim. */
export const rimFigures: readonly Figure[] = [
  backSphere,
  backApexY,
  backApexInside,
  boxDepth,
  rimAtUpper,
  rimAtWaist,
  rimAtLower,
  rimTaper,
];

/** Rules of the rim. */
export const rimRules: readonly Rule[] = [
  {
    id: 'rim-back-apex-inside',
    label: 'Apex of the back inside the body',
    subject: backApexInside,
    hard: { low: 0.1, high: 1.1 },
    soft: { low: 0.4, high: 0.9 },
    why: 'When the apex falls outside the body the back is a slope, not a dome, and the rim dish cannot be turned on it.',
    remedies: [
      mend('rim.height.tail', undefined, 0.5),
      mend('rim.height.neck', undefined, 0.5),
      mend('dome.back.radius', 'less', 50),
    ],
    source: practice,
    place: 'section',
  },
  {
    id: 'rim-taper',
    label: 'Rim taller at the tail',
    subject: rimTaper,
    hard: { low: -5, high: 30 },
    soft: { low: 0, high: 20 },
    why: 'Hardly any taper leaves the neck heel and the player no room, a strong one runs the back off its dish.',
    remedies: [mend('rim.height.tail', undefined, 0.5), mend('rim.height.neck', undefined, 0.5)],
    source: practice,
    place: 'section',
  },
];
