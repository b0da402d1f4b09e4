import type { Dispatch } from 'react';
import type { InputSpec } from '../../../pattern/input-spec.ts';
import { fieldText, fieldUnit, readTyped } from '../../pattern/typed-number.ts';
import type { PatternHead } from './begin-course-now.ts';
import type { BeginForm } from './begin-form.ts';
import { planInputs } from './plan-inputs.ts';

interface PlanProps {
  readonly form: BeginForm;
  readonly patterns: readonly PatternHead[];
  /** Id of the pattern taken. */
  readonly chosen: string | undefined;
  /** Its numbers, by input id. */
  readonly numbers: ReadonlyMap<string, number> | undefined;
  readonly change: Dispatch<Partial<BeginForm>>;
}

/** The nearest pattern, and the numbers of the teacher's own plan where they differ. */
export function PlanPart({ form, patterns, chosen, numbers, change }: PlanProps) {
  return (
    <section className="begin-part">
      <h2 className="hd">The nearest pattern</h2>
      <fieldset className="radios">
        <legend className="vh">Pattern</legend>
        {patterns.map((p) => (
          <label key={p.id}>
            <input
              type="radio"
              name="pattern"
              value={p.id}
              checked={p.id === chosen}
              onChange={() => change({ patternId: p.id })}
            />
            {p.name}
          </label>
        ))}
      </fieldset>
      <h3>Numbers of your own plan</h3>
      <p className="q">
        Only where they differ. As you write them: 18 57/64, 480 mm, .100. What you type counts as yours.
      </p>
      <div className="plan-numbers">
        {numbers &&
          planInputs.map((spec) => (
            <PlanNumber
              key={spec.id}
              spec={spec}
              form={form}
              standsMm={numbers.get(spec.id)}
              type={(text) => change({ plan: { ...form.plan, [spec.id]: text } })}
            />
          ))}
      </div>
    </section>
  );
}

function PlanNumber(props: {
  readonly spec: InputSpec;
  readonly form: BeginForm;
  readonly standsMm: number | undefined;
  readonly type: (text: string) => void;
}) {
  const { spec, form, standsMm, type } = props;
  const text = form.plan[spec.id] ?? '';
  const read = text.trim() === '' ? undefined : readTyped(spec, text, form.units);
  const says = read && read.kind !== 'value' ? read.text : '';
  const id = `plan-${spec.id}`;
  return (
    <div>
      <label htmlFor={id}>
        {spec.label}, {fieldUnit(spec, form.units)}
      </label>
      <input
        id={id}
        className="fld"
        autoComplete="off"
        value={text}
        placeholder={standsMm === undefined ? '' : fieldText(spec, standsMm, form.units)}
        aria-invalid={says !== ''}
        aria-describedby={says === '' ? undefined : `${id}-says`}
        onChange={(e) => type(e.target.value)}
        onBlur={() => {
          // only another unit makes sense: it is written out, for everybody to see
          const [only, ...more] = read?.kind === 'question' ? read.meant : [];
          if (only && more.length === 0) type(only.text);
        }}
      />
      {says !== '' && (
        <p className="says bad" id={`${id}-says`}>
          {says}
        </p>
      )}
    </div>
  );
}
