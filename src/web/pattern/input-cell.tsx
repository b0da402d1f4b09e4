import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { InputSpec } from '../../pattern/input-table.ts';
import { usePreferences } from '../frame/preferences.ts';
import { LargeNumber } from '../parts/amount.tsx';
import { spokenText } from '../parts/amount-text.ts';
import { fieldText, fieldUnit, readTyped, type TypedResult } from './typed-number.ts';

/** How an input stands with the teacher. */
export type Ownership = 'mine' | 'not-yet' | 'changed';

const ownWords: Readonly<Record<Ownership, string>> = {
  mine: 'yours',
  'not-yet': 'not yet yours',
  changed: 'typed in this draft',
};

/** A number that is changed in place: press it, type it in any notation, Enter. Escape leaves it as it was. */
export function InputCell(props: {
  readonly spec: InputSpec;
  readonly value: number;
  readonly ownership: Ownership;
  readonly onType: (value: number, text?: string) => void;
}) {
  const { spec, value } = props;
  const { largeUnit } = usePreferences();
  const [text, setText] = useState<string>();
  const [says, setSays] = useState<TypedResult>();
  const button = useRef<HTMLButtonElement>(null);
  const saysId = useId();

  const leave = (isFocusKept: boolean) => {
    flushSync(() => {
      setText(undefined);
      setSays(undefined);
    });
    if (isFocusKept) button.current?.focus();
  };
  const take = (typed: number, written: string | undefined, isFocusKept: boolean) => {
    if (Math.abs(typed - value) > 1e-9 || props.ownership === 'not-yet') props.onType(typed, written);
    leave(isFocusKept);
  };
  const read = (isFocusKept: boolean) => {
    if (text === undefined) return;
    if (text === fieldText(spec, value, largeUnit)) return take(value, undefined, isFocusKept);
    const result = readTyped(spec, text, largeUnit);
    if (result.kind === 'value') take(result.value, result.text, isFocusKept);
    else setSays(result);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter') read(true);
    if (event.key === 'Escape') leave(true);
  };

  if (text === undefined)
    return (
      <button
        ref={button}
        type="button"
        className={`numbtn is-${props.ownership}`}
        aria-label={`${spec.label}: ${spokenText(value, spec.unit, largeUnit)}, ${ownWords[props.ownership]}. Change it`}
        data-edit={spec.id}
        onClick={() => setText(fieldText(spec, value, largeUnit))}
      >
        <LargeNumber value={value} unit={spec.unit} />
      </button>
    );
  const unit = fieldUnit(spec, largeUnit);
  return (
    <span className="incell">
      <input
        className="fld"
        // the person has just pressed the number: the field stands in its place
        // biome-ignore lint/a11y/noAutofocus: see above
        autoFocus
        value={text}
        inputMode="text"
        autoComplete="off"
        aria-label={`${spec.label}${unit === '' ? '' : `, ${unit}`}`}
        aria-invalid={says !== undefined}
        aria-describedby={says ? saysId : undefined}
        data-field={spec.id}
        onFocus={(event) => event.target.select()}
        onChange={(event) => {
          setText(event.target.value);
          setSays(undefined);
        }}
        onKeyDown={onKeyDown}
        onBlur={(event) => {
          if (!event.currentTarget.parentElement?.contains(event.relatedTarget)) read(false);
        }}
      />
      <span className="unitword" aria-hidden="true">
        {unit}
      </span>
      {says && (
        <span className="says bad" id={saysId} role="alert">
          {says.kind === 'question' ? (
            <>
              Did you mean{' '}
              {says.meant.map((m) => (
                <button
                  key={m.text}
                  type="button"
                  className="btn sm"
                  onClick={() => take(m.value, m.text, true)}
                >
                  {m.text}
                </button>
              ))}
            </>
          ) : says.kind === 'refusal' ? (
            says.text
          ) : null}
        </span>
      )}
    </span>
  );
}
