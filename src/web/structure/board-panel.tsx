import { useCallback, useState } from 'react';
import { numberOf, type Sheet } from '../../graph/sheet.ts';
import type { TopInput } from '../../mechanics/top-problem.ts';
import { InputError } from '../../quantity/input-error.ts';
import type { Estimate } from '../../wood/board.ts';
import { answerBoard, type BoardAnswer } from '../../wood/board-answer.ts';
import { boardFormat, readBoardFile } from '../../wood/board-file.ts';
import { clampThickness, type ThicknessAnswer } from '../../wood/board-thickness.ts';
import { TapListener } from './tap-listener.tsx';
import { useEngine } from './use-engine.ts';

/** A field of the form: key, label, unit, whether it has to be given. */
const fields = [
  ['length_mm', 'Length along the grain', 'mm', true],
  ['width_mm', 'Width', 'mm', true],
  ['thickness_mm', 'Thickness', 'mm', true],
  ['mass_g', 'Mass', 'g', true],
  ['span_mm', 'Bending test: between the rests', 'mm', false],
  ['weight_g', 'Bending test: weight in the middle', 'g', false],
  ['deflection_mm', 'Bending test: sinks by', 'mm', false],
  ['along_hz', 'Tap note along', 'Hz', false],
  ['across_hz', 'Tap note across', 'Hz', false],
  ['twist_hz', 'Tap note in twist', 'Hz', false],
  ['ring_angle_deg', 'Rings off upright at the end grain', 'degrees', false],
  ['runout_deg', 'Runout: grain off the face', 'degrees', false],
] as const;
type FieldKey = (typeof fields)[number][0];
type Typed = Readonly<Partial<Record<FieldKey, string>>>;
type Species = 'spruce' | 'cedar' | 'other';

/** Numbers as typed, with a decimal point or comma; undefined where nothing stands. */
function typedNumber(typed: Typed, key: FieldKey): number | undefined {
  const text = typed[key]?.trim().replace(',', '.');
  if (!text) return undefined;
  const value = Number(text);
  const label = fields.find(([k]) => k === key)?.[1] ?? key;
  if (!Number.isFinite(value))
    throw new InputError('board-field', `${label} is "${typed[key]}"; type a plain number.`, key);
  return value;
}

/** What was typed, in the form of a board file with the pattern as the reference. */
function boardOf(
  typed: Typed,
  species: Species,
  top: TopInput,
  limits: { low: number; high: number },
): unknown {
  const given = (...keys: readonly FieldKey[]): Record<string, number> =>
    Object.fromEntries(
      keys.flatMap((key) => {
        const value = typedNumber(typed, key);
        return value === undefined ? [] : [[key, value]];
      }),
    );
  const missing = fields.find(([key, , , isNeeded]) => isNeeded && !typed[key]?.trim());
  if (missing)
    throw new InputError(
      'board-field',
      `${missing[1]} is missing; measure the board and type it.`,
      missing[0],
    );
  const bending = given('span_mm', 'weight_g', 'deflection_mm');
  const taps = given('along_hz', 'across_hz', 'twist_hz');
  const { wood } = top;
  return {
    format: boardFormat,
    name: 'this board',
    species,
    ...given('length_mm', 'width_mm', 'thickness_mm', 'mass_g'),
    ...(Object.keys(bending).length > 0 ? { bending } : {}),
    ...(Object.keys(taps).length > 0 ? { taps } : {}),
    ...given('ring_angle_deg', 'runout_deg'),
    reference: {
      thickness_mm: top.thicknessMm,
      e_along_gpa: wood.eAlongMPa / 1000,
      e_across_gpa: wood.eAcrossMPa / 1000,
      shear_gpa: wood.shearMPa / 1000,
      density_kg_m3: wood.densityKgPerM3,
      low_mm: limits.low,
      high_mm: limits.high,
    },
  };
}

/** One measured board beside the board of the pattern. */
export function BoardPanel({ top, sheet }: { readonly top: TopInput; readonly sheet: Sheet }) {
  const [typed, setTyped] = useState<Typed>({});
  const [species, setSpecies] = useState<Species>('spruce');
  const [fault, setFault] = useState<string>();
  const [answer, setAnswer] = useState<BoardAnswer>();
  const [byTop, setByTop] = useState<ThicknessAnswer>();
  const low = numberOf(sheet, 'top.thickness.scrap') ?? top.thicknessMm;
  const high = numberOf(sheet, 'top.thickness.most') ?? top.thicknessMm;
  const { progress, ask, cancel } = useEngine(
    useCallback(
      (told) => {
        if (told.kind === 'board')
          setByTop(clampThickness('equal tilt', told.thicknessMm, { lowMm: low, highMm: high }));
        else if (told.kind === 'refused') setFault(told.sentence);
      },
      [low, high],
    ),
  );
  const compute = (): void => {
    setFault(undefined);
    setByTop(undefined);
    setAnswer(undefined);
    try {
      const file = readBoardFile(boardOf(typed, species, top, { low, high }));
      const found = answerBoard(file);
      setAnswer(found);
      ask({ kind: 'board', top, reference: file.reference, material: found.material });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setFault(error.message);
    }
  };
  return (
    <section aria-label="One board" className="s-board" data-state={progress ? 'working' : 'ready'}>
      <h2>One board: how thin should it be?</h2>
      <form
        noValidate
        onSubmit={(e) => {
          e.preventDefault();
          compute();
        }}
      >
        <div className="s-fields">
          {fields.map(([key, label, unit]) => (
            <label key={key}>
              {label}, {unit}
              <input
                inputMode="decimal"
                name={key}
                value={typed[key] ?? ''}
                onChange={(e) => setTyped({ ...typed, [key]: e.target.value })}
              />
            </label>
          ))}
          <label>
            Wood
            <select value={species} onChange={(e) => setSpecies(e.target.value as Species)}>
              <option value="spruce">spruce</option>
              <option value="cedar">cedar</option>
              <option value="other">other</option>
            </select>
          </label>
        </div>
        <p>
          <button type="submit" className="btn">
            Work out this board
          </button>{' '}
          {progress ? (
            <button type="button" className="btn sm" onClick={cancel}>
              Stop
            </button>
          ) : null}
        </p>
      </form>
      <TapListener onNote={(key, hz) => setTyped((t) => ({ ...t, [key]: hz.toFixed(1) }))} />
      <p role="alert" className="s-fault">
        {fault}
      </p>
      {answer ? (
        <BoardSays answer={answer} byTop={byTop} top={top} isWorking={progress !== undefined} />
      ) : null}
    </section>
  );
}

/** What ring angle and runout cost; the readings of this board have them in already. */
function grainWords({ ringAngleFrac, runoutFrac }: BoardAnswer): string {
  const pct = (frac: number) => `${(100 * frac).toFixed(0)} %`;
  if (ringAngleFrac === 1 && runoutFrac === 1)
    return 'Rings upright and grain parallel to the face cost nothing; rings 10 degrees off leave about 60 % of the stiffness across.';
  return `This grain leaves ${pct(ringAngleFrac)} of the stiffness across (rings) and ${pct(runoutFrac)} of the stiffness along (runout), against the same wood cut true; bending test and tap notes have it in already, what is taken by the handbook ratio has not.`;
}

function BoardSays(props: {
  readonly answer: BoardAnswer;
  readonly byTop: ThicknessAnswer | undefined;
  readonly top: TopInput;
  readonly isWorking: boolean;
}) {
  const { answer, byTop, top, isWorking } = props;
  const { properties: p } = answer;
  const rows: readonly (readonly [string, Estimate, number, string])[] = [
    ['Density', p.densityKgPerM3, top.wood.densityKgPerM3, 'kg/m3'],
    ['E along', p.eAlongMPa, top.wood.eAlongMPa, 'MPa'],
    ['E across', p.eAcrossMPa, top.wood.eAcrossMPa, 'MPa'],
    ['Shear modulus', p.shearMPa, top.wood.shearMPa, 'MPa'],
  ];
  const words: Readonly<Record<ThicknessAnswer['rule'], string>> = {
    'equal tilt': 'same slope of the bridge, whole top',
    'cube root': 'same stiffness along (cube root)',
    'equal pitch': 'same pitch of a strip',
    'equal f11': 'same first note of a plate',
  };
  const answers = byTop ? [byTop, ...answer.thickness] : answer.thickness;
  return (
    <div className="s-boardsays">
      <table>
        <caption>This board beside the board of the pattern</caption>
        <thead>
          <tr>
            <th scope="col">Property</th>
            <th scope="col">This board</th>
            <th scope="col">Pattern</th>
            <th scope="col">From</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, e, reference, unit]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td className="n">
                {e.value.toFixed(0)} ± {e.plusMinus.toFixed(0)} {unit}
              </td>
              <td className="n" data-label="pattern">
                {reference.toFixed(0)} {unit}
              </td>
              <td>{e.from}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <table>
        <caption>
          Thickness for this board, ± {answer.thicknessPlusMinusMm.toFixed(2)} mm
          {isWorking ? '; the whole top is being tried' : ''}
        </caption>
        <thead>
          <tr>
            <th scope="col">Rule</th>
            <th scope="col">Use</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {answers.map((t) => (
            <tr key={t.rule} data-rule={t.rule}>
              <th scope="row">{words[t.rule]}</th>
              <td className="n">{t.usedMm.toFixed(2)} mm</td>
              <td>{t.reason}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p data-number="grain">{grainWords(answer)}</p>
      {p.doubts.map((d) => (
        <p key={d.text}>doubtful: {d.text}</p>
      ))}
    </div>
  );
}
