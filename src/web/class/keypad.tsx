import { useId } from 'react';

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0', '⌫'] as const;

/** A big keypad under a field: for a dusty thumb; a real keyboard works as well. */
export function Keypad(props: {
  readonly value: string;
  readonly label: string;
  readonly onChange: (text: string) => void;
  readonly onDone: () => void;
  readonly doneWords: string;
}) {
  const { value, label, onChange, onDone, doneWords } = props;
  const id = useId();
  const press = (key: string) => onChange(key === '⌫' ? value.slice(0, -1) : value + key);
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
        {KEYS.map((k) => (
          <button
            key={k}
            type="button"
            className="btn"
            aria-label={k === '⌫' ? 'Take back' : k}
            onClick={() => press(k)}
          >
            {k === '⌫' ? 'back' : k}
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
