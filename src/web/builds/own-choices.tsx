import { type FormEvent, useState } from 'react';
import type { BuildFacts } from '../../course/build-facts.ts';
import { sheetOfBuild } from '../../course/build-sheet.ts';
import { finishOf } from '../../course/class-state.ts';
import { frozenBy } from '../../course/freeze.ts';
import { allRules } from '../../figures/catalogue.ts';
import { compareRules, compareSheets } from '../../graph/compare.ts';
import { numberOf } from '../../graph/sheet.ts';
import type { InputSpec } from '../../pattern/input-spec.ts';
import { inputTable } from '../../pattern/input-table.ts';
import { capital } from '../../quantity/words.ts';
import type { FreezePoint } from '../../route/route-types.ts';
import type { BuildComputed } from '../class/build-context.ts';
import { operationName } from '../class/class-names.ts';
import { usePreferences } from '../frame/preferences.ts';
import { spokenText } from '../parts/amount-text.ts';
import { stateWords } from '../parts/gate.tsx';
import { Says } from '../parts/says.tsx';
import { fieldText, readTyped } from '../pattern/typed-number.ts';
import { enter, withdraw } from '../record/record.ts';
import type { BuildPartProps } from './build-part.ts';

type Props = BuildPartProps & { readonly computed: BuildComputed };

/** Choices learners usually ask for; the rest wait behind "more". */
const USUAL: ReadonlySet<string> = new Set([
  'handedness',
  'nut-width-spacing-taper',
  'sound-hole-and-rosette-radii',
  'binding',
  'finish',
]);

const inputsOf = (point: FreezePoint) =>
  inputTable.filter((i) =>
    point.inputs.some((p) => (p.endsWith('*') ? i.id.startsWith(p.slice(0, -1)) : p === i.id)),
  );

/** What this build has of its own, each with the last moment it can be changed. */
export function OwnChoices(props: Props) {
  const { state } = props;
  const points = state.route.freezePoints.filter(
    (p) => inputsOf(p).length > 0 || p.inputs.includes('handed') || p.inputs.includes('finish'),
  );
  const usual = points.filter((p) => USUAL.has(p.id));
  const more = points.filter((p) => !USUAL.has(p.id));
  return (
    <section className="choices">
      <h2 className="hd">Own choices</h2>
      {usual.map((p) => (
        <OneChoice key={p.id} {...props} point={p} />
      ))}
      <details>
        <summary>More that may be this build’s own ({more.length})</summary>
        {more.map((p) => (
          <OneChoice key={p.id} {...props} point={p} />
        ))}
      </details>
    </section>
  );
}

/** The sentence when something of this choice is fixed, or undefined. */
function frozenText({ state, facts }: Props, point: FreezePoint): string | undefined {
  const input = point.inputs[0] ?? '';
  return frozenBy(state.route, facts, input.replace(/\*$/, 'x'))?.text;
}

function OneChoice(props: Props & { readonly point: FreezePoint }) {
  const { course, state, facts, point } = props;
  const { largeUnit } = usePreferences();
  const isTeacher = course.record.me.role === 'teacher';
  const frozen = frozenText(props, point);
  const inputs = inputsOf(point).filter((i) => numberOf(props.computed.sheet, i.id) !== undefined);
  const own = inputs.filter((i) => facts.choices.has(i.id));
  const last = point.lastChangeBefore.map((op) => operationName(state, op)).join('; ');
  const canChange = isTeacher && frozen === undefined;
  return (
    <div className="one-choice" data-choice={point.id}>
      <h3 className="nm">{capital(point.choice)}</h3>
      <p className="q2">
        {point.inputs.includes('handed')
          ? `${capital(facts.setUp?.handed ?? 'right')}-handed. `
          : point.inputs.includes('finish')
            ? `${capital(finishWords(props))}. `
            : own.length === 0
              ? 'As the pattern. '
              : `Own: ${own.map((i) => `${i.label} ${spokenText(facts.choices.get(i.id)?.number ?? 0, i.unit, largeUnit)}`).join(', ')}. `}
        {frozen ?? `May be changed until: ${last}.`}
      </p>
      {canChange && point.inputs.includes('handed') && <HandedPick {...props} />}
      {canChange && point.inputs.includes('finish') && <FinishPick {...props} />}
      {canChange && inputs.length > 0 && (
        <details>
          <summary>Choose {point.choice}</summary>
          {inputs.map((i) => (
            <NumberChoice key={i.id} {...props} spec={i} />
          ))}
        </details>
      )}
    </div>
  );
}

const finishWords = ({ state, facts }: Props): string => finishOf(state, facts) ?? 'not chosen';

const choose = (build: string, choice: string, value: string, number?: number) =>
  enter([
    {
      stream: `build:${build}`,
      kind: 'choice-made',
      body: { choice, value, ...(number === undefined ? {} : { number }) },
    },
  ]);

function HandedPick({ build, facts }: Props) {
  const other = facts.setUp?.handed === 'left' ? 'right' : 'left';
  return (
    <button type="button" className="btn" onClick={() => void choose(build, 'handed', other)}>
      Make it {other}-handed
    </button>
  );
}

function FinishPick(props: Props) {
  const now = finishWords(props);
  return (
    <label>
      Finish{' '}
      <select
        className="pick"
        value={now}
        onChange={(e) => void choose(props.build, 'finish', e.target.value)}
      >
        {!props.state.route.finishes.some((f) => f.id === now) && <option value={now}>{now}</option>}
        {props.state.route.finishes.map((f) => (
          <option key={f.id} value={f.id}>
            {f.id}
          </option>
        ))}
      </select>
    </label>
  );
}

/** What a choice would change: how many figures, and which rules turn. */
function effectWords(props: Props, id: string, number: number): string {
  const { state, facts, computed } = props;
  const choices: BuildFacts['choices'] = new Map(facts.choices).set(id, {
    event: '',
    by: '',
    atMs: 0,
    value: '',
    number,
  });
  const after = sheetOfBuild(state.route, computed.pattern, { ...facts, choices }, undefined, computed.sheet);
  const figures = compareSheets(computed.sheet, after).length;
  const turned = compareRules(computed.sheet, after, allRules).map(
    (r) => `${r.label}: ${stateWords[r.from].toLowerCase()} to ${stateWords[r.to].toLowerCase()}`,
  );
  return `${figures} figures change. ${turned.length === 0 ? 'No rule turns.' : `${turned.slice(0, 4).join('; ')}.`}`;
}

function NumberChoice(props: Props & { readonly spec: InputSpec }) {
  const { build, facts, computed, spec } = props;
  const { id } = spec;
  const { largeUnit } = usePreferences();
  const value = numberOf(computed.sheet, id);
  const [text, setText] = useState<string>();
  const [says, setSays] = useState('');
  if (value === undefined) return null;
  const typed = text === undefined || text.trim() === '' ? undefined : readTyped(spec, text, largeUnit);
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    if (!typed) return setSays('Type the number first.');
    if (typed.kind !== 'value') return setSays(typed.text);
    await choose(build, id, typed.text, typed.value);
    setText(undefined);
    setSays('Kept.');
  };
  const own = facts.choices.get(id);
  return (
    <form className="number-choice" onSubmit={keep}>
      <label>
        {spec.label} <span className="q">now {spokenText(value, spec.unit, largeUnit)}</span>
        <input
          className="fld"
          inputMode="text"
          autoComplete="off"
          value={text ?? fieldText(spec, value, largeUnit)}
          aria-invalid={typed !== undefined && typed.kind !== 'value'}
          onChange={(e) => {
            setText(e.target.value);
            setSays('');
          }}
        />
      </label>
      <button type="submit" className="btn">
        Choose
      </button>
      {own && (
        <button type="button" className="btn" onClick={() => void withdraw(`build:${build}`, own.event)}>
          Take the last choice back
        </button>
      )}
      {typed?.kind === 'value' && Math.abs(typed.value - value) > 1e-9 && (
        <p className="says">{effectWords(props, id, typed.value)}</p>
      )}
      <Says words={says || (typed && typed.kind !== 'value' ? typed.text : '')} />
    </form>
  );
}
