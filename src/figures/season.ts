import { type Figure, figure } from '../graph/figure.ts';
import type { TopInput } from '../mechanics/top-problem.ts';
import { saddleResponse } from '../mechanics/top-swelling.ts';
import type { Finding } from '../quantity/finding.ts';
import { findSpecies } from '../wood/species.ts';
import { type RimResponses, saddleRange, type TopSeason, topSeason, topSize } from '../wood/top-seasons.ts';
import { topDome } from './dome.ts';
import { byInstrument, input } from './inputs.ts';
import { outline } from './outline.ts';
import { asFinding, coarseTop } from './structure.ts';
import { closedOutline, topInput } from './top-input.ts';

const practice = 'common practice, no published source';
/** The wood of the tops where nobody says otherwise. */
const usualTop = 'spruce-sitka';
const usualTempC = 20;

const humidity = (id: string, label: string, value: number) =>
  byInstrument({
    id: `season.${id}.humidity`,
    unit: 'fraction',
    label,
    source: practice,
    values: { steel: value, nylon: value, uke: value },
  });
/** Air in which the braces are glued, and the two ends of the year; at 20 C. */
export const seasonAir = {
  shop: humidity('shop', 'Humidity of the shop, where braces are glued', 0.45),
  dry: humidity('dry', 'Humidity of a dry winter room', 0.3),
  damp: humidity('damp', 'Humidity of a damp summer', 0.6),
};

type Season = 'dry' | 'damp';
const words: Readonly<Record<Season, string>> = { dry: 'in a dry winter', damp: 'in a damp summer' };

const seasonOf = (season: Season): Figure<TopSeason> =>
  figure({
    id: `season.${season}`,
    unit: 'shape',
    label: `The top ${words[season]}`,
    formula: `moisture of quartered Sitka spruce at rest at 20 C in the air of the shop and ${words[season]}, and how far it moves between the two`,
    source: 'wood-handbook',
    from: {
      shape: outline,
      thicknessMm: input('top.thickness.final'),
      shop: seasonAir.shop,
      later: seasonAir[season],
    },
    compute: ({ shape, thicknessMm, shop, later }): TopSeason | Finding =>
      asFinding(() =>
        topSeason(
          topSize(closedOutline(shape), thicknessMm),
          findSpecies(usualTop),
          { tempC: usualTempC, humidityFrac: shop },
          { tempC: usualTempC, humidityFrac: later },
        ),
      ),
  });
const seasons = { dry: seasonOf('dry'), damp: seasonOf('damp') };

const widthFigure = (season: Season): Figure<number> =>
  figure({
    id: `season.${season}.width`,
    unit: 'mm',
    label: `Width of the top ${words[season]}, if it were free`,
    formula: 'widest place x change per percent, radial x change of moisture; + grows',
    source: 'wood-handbook',
    from: { season: seasons[season] },
    compute: (v) => v.season.acrossMm,
  });

/**
 * How the saddle of a top answers to swelling wood, with both kinds of rim.
 *
 * @throws InputError when the top is no plate
 * @source timoshenko-bimetal
 */
export function swellingOf(top: TopInput, domeRadiusMm: number | undefined): RimResponses {
  return {
    held: saddleResponse(coarseTop(top), domeRadiusMm, 'held'),
    free: saddleResponse(coarseTop(top), domeRadiusMm, 'free'),
  };
}

/** How the saddle answers to swelling wood. */
export const swelling: Figure<RimResponses> = figure({
  id: 'structure.swelling',
  unit: 'shape',
  label: 'What swelling wood does at the saddle, computed as a plate',
  formula:
    'finite elements: the free growth of top, braces, bridge and bridge plate as a load of the domed top; once with a rim held in its plane, once with one that gives way',
  source: 'timoshenko-bimetal',
  from: { top: topInput, dome: topDome },
  dear: { version: 1 },
  compute: ({ top, dome }) => asFinding(() => swellingOf(top, dome.radiusMm)),
});

const saddleFigure = (season: Season, rim: 'held' | 'free'): Figure<number> =>
  figure({
    id: `season.${season}.saddle.${rim}`,
    unit: 'mm',
    label: `Saddle ${words[season]}, ${rim === 'held' ? 'sides that hold the top' : 'sides that give way'}`,
    formula: 'rise of the saddle for a growth of each wood x that growth; + rises; without creep',
    source: 'timoshenko-bimetal',
    from: { responses: swelling, season: seasons[season] },
    compute: (v) => saddleRange(v.responses, v.season)[rim === 'held' ? 0 : 1],
  });

const usual = (side: 'low' | 'high', value: number): Figure<number> =>
  byInstrument({
    id: `season.saddle.usual_${side}`,
    unit: 'mm',
    label: `Way of the saddle over a season in the trade, ${side === 'low' ? 'least' : 'most'}`,
    source: practice,
    values: { steel: value, nylon: value, uke: value },
  });

/** Figures of the seasons. */
export const seasonFigures: readonly Figure[] = [
  ...Object.values(seasonAir),
  seasons.dry,
  seasons.damp,
  widthFigure('dry'),
  widthFigure('damp'),
  swelling,
  saddleFigure('dry', 'held'),
  saddleFigure('dry', 'free'),
  saddleFigure('damp', 'held'),
  saddleFigure('damp', 'free'),
  usual('low', 0.2),
  usual('high', 0.6),
];
