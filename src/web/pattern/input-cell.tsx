import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { InputSpec } from '../../pattern/input-spec.ts';
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

  const isLeft = useRef(false);

  const begin = () => {
    isLeft.current = false;
    setText(fieldText(spec, value, largeUnit));
  };
  const leave = (isByKey: boolean) => {
    // taking the field away blurs it once more
    isLeft.current = true;
    flushSync(() => {
      setText(undefined);
      setSays(undefined);
    });
    if (isByKey) button.current?.focus();
  };
  const take = (typed: number, written: string | undefined, isByKey: boolean) => {
    props.onType(typed, written);
    leave(isByKey);
  };
  const read = (isByKey: boolean) => {
    if (text === undefined || isLeft.current) return;
    const isSame = text === fieldText(spec, value, largeUnit);
    // Enter on an unchanged number confirms it as one's own; leaving the field does not
    if (isSame && isByKey && props.ownership === 'not-yet') take(value, undefined, true);
    else if (isSame) leave(isByKey);
    else {
      const result = readTyped(spec, text, largeUnit);
      if (result.kind === 'value') take(result.value, result.text, isByKey);
      else setSays(result);
    }
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'Enter' && event.key !== 'Escape') return;
    // the button gets the focus back and must not be pressed by the same key
    event.preventDefault();
    if (event.key === 'Enter') read(true);
    else leave(true);
  };

  if (text === undefined)
    return (
      <button
        ref={button}
        type="button"
        className={`numbtn is-${props.ownership}`}
        aria-label={`${spec.label}: ${spokenText(value, spec.unit, largeUnit)}, ${ownWords[props.ownership]}. Change it`}
        data-edit={spec.id}
        onClick={begin}
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
