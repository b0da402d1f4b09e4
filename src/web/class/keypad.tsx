import { useId } from 'react';

const BACK = '⌫';
const KEYS: readonly string[] = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0', BACK];

/** Keys that are not digits, as they are called. */
const KEY_NAMES: Readonly<Record<string, string>> = { [BACK]: 'Take back', ' ': 'Space', '-': 'Minus' };
const KEY_WORDS: Readonly<Record<string, string>> = { [BACK]: 'back', ' ': 'space', '-': '\u2212' };

/** A big keypad under a field: for a dusty thumb; a real keyboard works as well. */
export function Keypad(props: {
  readonly value: string;
  readonly label: string;
  readonly onChange: (text: string) => void;
  readonly onDone: () => void;
  readonly doneWords: string;
  /** A minus may be typed. */
  readonly canBeNegative?: boolean;
  /** Fractions may be typed: 3 15/16. */
  readonly isInches?: boolean;
}) {
  const { value, label, onChange, onDone, doneWords, canBeNegative = false, isInches = false } = props;
  const keys = [...KEYS, ...(isInches ? ['/', ' '] : []), ...(canBeNegative ? ['-'] : [])];
  const id = useId();
  const press = (key: string) => onChange(key === BACK ? value.slice(0, -1) : value + key);
  return (
    <div className="keypad">
      <label className="vh" htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="fld"
        inputMode="none"
        autoComplete="off"
        value={value}
        onChange={(e) => onChange(e.target.value)}
        onKeyDown={(e) => {
          if (e.key === 'Enter') onDone();
        }}
      />
      <div className="keys">
        {keys.map((k) => (
          <button
            key={k}
            type="button"
            className="btn"
            aria-label={KEY_NAMES[k] ?? k}
            onClick={() => press(k)}
          >
            {KEY_WORDS[k] ?? k}
          </button>
        ))}
      </div>
      <button
        type="button"
        className={value.trim() === '' ? 'btn wait wide' : 'btn go wide'}
        disabled={value.trim() === ''}
        onClick={onDone}
      >
        {doneWords}
      </button>
    </div>
  );
}
