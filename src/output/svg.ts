import { explode, isPrinted } from '../drawing/assemble.ts';
import { type DimensionStyle, PRINT_DIMENSION_STYLE } from '../drawing/dimension-style.ts';
import {
  FILL_GREY_FRAC,
  INK_GREY_FRAC,
  type InkName,
  LAYER_NAMES,
  LAYERS,
  printDashesMm,
} from '../drawing/line-types.ts';
import type { Drawing, Entity, PlainEntity, TextEntity } from '../drawing/model.ts';
import { splitFractions } from '../drawing/text-runs.ts';
import { fontSizeMm } from '../drawing/text-size.ts';
import { number3 } from './number-3.ts';
import { arcData, pathData } from './svg-path.ts';
import { baselinePoint } from './text-place.ts';

/**
 * A drawing as an SVG file at full scale: sizes in mm, true arcs and cubics, words as words, one class per layer.
 * Layers that are not printed are left out. The same drawing gives the same bytes.
 *
 * @throws RangeError when a coordinate is not finite
 */
export function drawingToSvg(drawing: Drawing): string {
  const { minX, minY, maxX, maxY } = drawing.frame;
  const [width, height] = [number3(maxX - minX), number3(maxY - minY)];
  const title = `${drawing.title}, seen from ${drawing.seenFrom}`;
  const printed = drawing.entities.filter(isPrinted);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="${number3(minX)} ${number3(minY)} ${width} ${height}" role="img" aria-label="${escapeXml(title)}">`,
    `<title>${escapeXml(title)}</title>`,
    `<style>${stylesheet()}</style>`,
    svgLayers(printed, PRINT_DIMENSION_STYLE),
    '</svg>',
    '',
  ].join('\n');
}

/**
 * The groups of a drawing, one `<g class="layer NAME">` per layer, bottom first, without frame or stylesheet.
 *
 * @param style  sizes of dimensions: print, or a screen's
 */
export function svgLayers(entities: readonly Entity[], style: DimensionStyle): string {
  const plain = explode(entities, style);
  return LAYER_NAMES.flatMap((layer) => {
    const here = plain.filter((entity) => entity.layer === layer);
    return here.length === 0
      ? []
      : [`<g class="layer ${layer}">`, ...here.map((entity) => svgElement(entity)), '</g>'];
  }).join('\n');
}

/** The stylesheet of print: every layer's width, dashes and ink from the one table. */
function stylesheet(): string {
  const layers = LAYER_NAMES.flatMap((layer) => {
    const { printMm, printInk, lineType } = LAYERS[layer];
    if (printMm === undefined) return [];
    const dashes = printDashesMm(lineType);
    const dash = dashes.length === 0 ? '' : `;stroke-dasharray:${dashes.join(' ')}`;
    const ink = greyOf(printInk);
    return [`.${layer}{stroke:${ink};stroke-width:${printMm}${dash}}.${layer} text{fill:${ink}}`];
  });
  return [
    '.layer{fill:none;stroke-linejoin:round}',
    ...layers,
    'text{stroke:none;stroke-dasharray:none;font-family:"Encode Sans","Encode Sans Variable",sans-serif;font-variant-numeric:tabular-nums lining-nums}',
    '.name{font-family:"National Park","National Park Variable",sans-serif}',
    '.fr{font-feature-settings:"frac"}',
    '.halo{paint-order:stroke;stroke:#fff;stroke-linejoin:round}',
  ].join('');
}

function svgElement(entity: PlainEntity): string {
  switch (entity.kind) {
    case 'line': {
      const { from, to } = entity;
      return `<line x1="${number3(from.x)}" y1="${number3(from.y)}" x2="${number3(to.x)}" y2="${number3(to.y)}"${shared(entity)}/>`;
    }
    case 'circle':
      return `<circle cx="${number3(entity.centre.x)}" cy="${number3(entity.centre.y)}" r="${number3(entity.radiusMm)}"${shared(entity)}/>`;
    case 'arc':
      return `<path d="${arcData(entity)}"${shared(entity)}/>`;
    case 'path':
      return `<path d="${pathData(entity)}"${shared(entity)}/>`;
    case 'text':
      return textElement(entity);
  }
}

/** Figure id, handle and whatever differs from the layer. */
function shared(entity: Exclude<PlainEntity, TextEntity>): string {
  const style: string[] = [];
  if (entity.ink !== undefined) style.push(`stroke:${greyOf(entity.ink)}`);
  if (entity.widthMm !== undefined) style.push(`stroke-width:${number3(entity.widthMm)}`);
  if (entity.lineType !== undefined)
    style.push(`stroke-dasharray:${printDashesMm(entity.lineType).join(' ') || 'none'}`);
  if ('fill' in entity && entity.fill !== undefined)
    style.push(`fill:${greyOf(entity.fill, FILL_GREY_FRAC)}`);
  if ('isStroked' in entity && entity.isStroked === false) style.push('stroke:none');
  return `${style.length === 0 ? '' : ` style="${style.join(';')}"`}${dataOf(entity)}`;
}

function dataOf({ key, handle }: PlainEntity): string {
  const keyData = key === undefined ? '' : ` data-key="${escapeXml(key)}"`;
  return handle === undefined
    ? keyData
    : `${keyData} data-input="${escapeXml(handle.inputId)}" data-axis="${handle.axis}"`;
}

function textElement(entity: TextEntity): string {
  const at = baselinePoint(entity);
  const [x, y] = [number3(at.x), number3(at.y)];
  const degrees = number3((entity.rotationRad * 180) / Math.PI);
  const classes = [entity.face === 'name' ? 'name' : '', entity.hasHalo === true ? 'halo' : ''].filter(
    Boolean,
  );
  const attributes = [
    `x="${x}" y="${y}" font-size="${number3(fontSizeMm(entity))}"`,
    degrees === '0' ? '' : `transform="rotate(${degrees} ${x} ${y})"`,
    entity.anchorX === 'start' ? '' : `text-anchor="${entity.anchorX}"`,
    entity.weight === 400 && entity.face === 'sans'
      ? ''
      : `font-weight="${entity.face === 'name' ? 700 : entity.weight}"`,
    classes.length === 0 ? '' : `class="${classes.join(' ')}"`,
    textStyle(entity),
  ].filter(Boolean);
  return `<text ${attributes.join(' ')}${dataOf(entity)}>${textContent(entity)}</text>`;
}

function textStyle({ ink, hasHalo, heightMm }: TextEntity): string {
  const style = [
    ink === undefined ? '' : `fill:${greyOf(ink)}`,
    hasHalo === true ? `stroke-width:${number3(heightMm * 0.3)}` : '',
  ].filter(Boolean);
  return style.length === 0 ? '' : `style="${style.join(';')}"`;
}

function textContent(entity: TextEntity): string {
  const runs = splitFractions(entity.text);
  return runs
    .map(({ words, isFraction, gapBeforeRatio }) => {
      if (!isFraction) return escapeXml(words);
      const gap = gapBeforeRatio === 0 ? '' : ` dx="${number3(gapBeforeRatio * fontSizeMm(entity))}"`;
      return `<tspan class="fr"${gap}>${words.replace('/', '\u2044')}</tspan>`;
    })
    .join('');
}

function greyOf(ink: InkName, greys = INK_GREY_FRAC): string {
  const level = Math.round(greys[ink] * 255)
    .toString(16)
    .padStart(2, '0');
  return `#${level}${level}${level}`;
}

/** Characters that XML does not allow at all become spaces. */
function escapeXml(words: string): string {
  return words
    .replace(/[\p{Cc}\p{Cs}\ufffe\uffff]/gu, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
