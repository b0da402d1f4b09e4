/** One of two or three things shown at a time, as words side by side. */
export function Switch<V extends string>(props: {
  readonly label: string;
  readonly options: readonly { readonly value: V; readonly words: string }[];
  readonly value: V;
  readonly onChange: (value: V) => void;
}) {
  return (
    <fieldset className="switch" aria-label={props.label}>
      {props.options.map(({ value, words }) => (
        <button
          key={value}
          type="button"
          aria-pressed={value === props.value}
          onClick={() => props.onChange(value)}
        >
          {words}
        </button>
      ))}
    </fieldset>
  );
}
