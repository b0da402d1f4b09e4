import { useCallback, useEffect, useState } from 'react';
import type { TopInput } from '../../mechanics/top-problem.ts';
import { type Finding, isFinding } from '../../quantity/finding.ts';
import { InputError } from '../../quantity/input-error.ts';
import { allSpecies, findSpecies } from '../../wood/species.ts';
import {
  type RimResponses,
  saddleRange,
  seasonModelLimits,
  type TopSeason,
  topSeason,
  topSize,
} from '../../wood/top-seasons.ts';
import { useEngine } from './use-engine.ts';

const usualTempC = 20;
/** How long the sliders have to rest before the swelling is computed. */
const stillMs = 800;
/** Woods of tops: softwoods that move by a known amount. */
const topWoods = allSpecies.filter((s) => s.kind === 'softwood' && s.values.change_radial_per_pct);
const fields = [
  ['shop', 'Shop, where it is glued', '45'],
  ['dry', 'Dry winter room', '30'],
  ['damp', 'Damp summer', '60'],
] as const;
type FieldKey = (typeof fields)[number][0];

function humidityOf(text: string, label: string): number {
  const pct = Number(text.trim().replace(',', '.').replace(/ *%$/, ''));
  if (text.trim() === '' || !Number.isFinite(pct) || pct < 1 || pct > 95)
    throw new InputError('humidity', `${label} is "${text}"; type a humidity from 1 to 95 %.`, label);
  return pct / 100;
}

/** What the top does between the shop and the seasons: width, saddle, stiffness, and how long it takes. */
export function SeasonsPanel(props: { readonly top: TopInput; readonly domeRadiusMm: number | undefined }) {
  const { domeRadiusMm } = props;
  const { top } = props;
  const [typed, setTyped] = useState<Readonly<Record<FieldKey, string>>>({
    shop: '45',
    dry: '30',
    damp: '60',
  });
  const [speciesId, setSpeciesId] = useState('spruce-sitka');
  const [swelling, setSwelling] = useState<RimResponses | string>();
  const { ask } = useEngine(
    useCallback((told) => {
      if (told.kind === 'swelling') setSwelling(told.responses);
      if (told.kind === 'refused') setSwelling(told.sentence);
    }, []),
  );
  useEffect(() => {
    setSwelling(undefined);
    // a slider that moves gives many tops; the last one counts
    const later = setTimeout(() => ask({ kind: 'swelling', top, domeRadiusMm }), stillMs);
    return () => clearTimeout(later);
  }, [ask, top, domeRadiusMm]);
  const answer = seasonsOf(top, speciesId, typed);
  return (
    <section aria-label="Seasons" className="s-seasons">
      <h2>From the shop into winter and summer</h2>
      <div className="s-fields">
        {fields.map(([key, label]) => (
          <label key={key}>
            {label}, % humidity
            <input
              inputMode="decimal"
              name={`humidity_${key}`}
              value={typed[key]}
              onChange={(e) => setTyped({ ...typed, [key]: e.target.value })}
            />
          </label>
        ))}
        <label>
          Wood of the top
          <select name="season_species" value={speciesId} onChange={(e) => setSpeciesId(e.target.value)}>
            {topWoods.map((s) => (
              <option key={s.id} value={s.id}>
                {s.name}
              </option>
            ))}
          </select>
        </label>
      </div>
      {typeof answer === 'string' ? (
        <p role="alert" className="s-fault">
          {answer}
        </p>
      ) : (
        <SeasonTable dry={answer.dry} damp={answer.damp} swelling={swelling} />
      )}
    </section>
  );
}

function seasonsOf(
  top: TopInput,
  speciesId: string,
  typed: Readonly<Record<FieldKey, string>>,
): { readonly dry: TopSeason; readonly damp: TopSeason } | string {
  try {
    const air = (key: FieldKey) => ({
      tempC: usualTempC,
      humidityFrac: humidityOf(typed[key], fields.find(([k]) => k === key)?.[1] ?? key),
    });
    const species = findSpecies(speciesId);
    const size = topSize(top.outlineMm, top.thicknessMm);
    const dry = topSeason(size, species, air('shop'), air('dry'));
    const damp = topSeason(size, species, air('shop'), air('damp'));
    if (isFinding(dry)) return dry.text;
    return isFinding(damp) ? damp.text : { dry, damp };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.message;
  }
}

const signed = (value: number, digits: number): string =>
  `${value > 0 ? '+' : value < 0 ? '\u2212' : ''}${Math.abs(value).toFixed(digits)}`;
const changePct = (ratio: number | Finding): string =>
  isFinding(ratio) ? 'not in the tables' : `${signed(100 * (ratio - 1), 1)} %`;

/** Both ends in one direction or the two words that differ. */
function saddleWords(swelling: RimResponses | string | undefined, season: TopSeason): string {
  if (swelling === undefined) return 'computing';
  if (typeof swelling === 'string') return 'cannot be computed';
  const [one, two] = saddleRange(swelling, season);
  const [low, high] = Math.abs(one) < Math.abs(two) ? [one, two] : [two, one];
  const word = (mm: number) => (mm < 0 ? 'falls' : 'rises');
  if (word(low) !== word(high))
    return `${word(low)} ${Math.abs(low).toFixed(1)} to ${word(high)} ${Math.abs(high).toFixed(1)} mm`;
  return `${word(high)} ${Math.abs(low).toFixed(1)} to ${Math.abs(high).toFixed(1)} mm`;
}

function SeasonTable(props: {
  readonly dry: TopSeason;
  readonly damp: TopSeason;
  readonly swelling: RimResponses | string | undefined;
}) {
  const { dry, damp, swelling } = props;
  const rows: readonly (readonly [string, string, (s: TopSeason) => string])[] = [
    ['moisture', 'Moisture of the wood', (s) => `${(100 * s.toMoistureFrac).toFixed(1)} %`],
    ['across', 'Width, if it were free', (s) => `${signed(s.acrossMm, 2)} mm`],
    ['along', 'Length', (s) => `${signed(s.alongMm, 2)} mm`],
    ['saddle', 'Saddle and strings', (s) => saddleWords(swelling, s)],
    ['modulus', 'Stiffness of the wood along', (s) => changePct(s.modulusRatio)],
    ['density', 'Weight of the same piece', (s) => changePct(s.densityRatio)],
    [
      'rest',
      'Nine tenths of it, bare wood',
      (s) => `${s.rest.low.toFixed(0)} to ${s.rest.high.toFixed(0)} days`,
    ],
  ];
  return (
    <>
      <table>
        <caption>
          From {(100 * dry.fromMoistureFrac).toFixed(1)} % moisture in the shop, at 20 C, once the wood has
          come to rest{dry.isFromMemory ? '; the movement of this species is from memory' : ''}
        </caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Dry winter</th>
            <th scope="col">Damp summer</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([key, label, words]) => (
            <tr key={key} data-season={key}>
              <th scope="row">{label}</th>
              <td className="n" data-label="dry">
                {words(dry)}
              </td>
              <td className="n" data-label="damp">
                {words(damp)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {typeof swelling === 'string' ? (
        <p role="alert" className="s-fault">
          {swelling}
        </p>
      ) : null}
      <p className="q2">{seasonModelLimits}</p>
      <p className="q2">
        In the trade a saddle moves 0.2 to 0.6 mm over a season (common practice, no published source).
      </p>
      <p className="q2">
        Glue in the shop's air after the boards have rested: a top glued damp shrinks against its braces in
        the first dry room, and below 30 % for a week cracks are likely.
      </p>
    </>
  );
}
