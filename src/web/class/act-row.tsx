import type { ReactNode } from 'react';

/** One line of a list: what, in a second line why, and at the right what to do. */
export function ActRow(props: {
  readonly head: ReactNode;
  readonly note?: ReactNode;
  readonly acts?: ReactNode;
  readonly isFirst?: boolean;
  readonly mark?: ReactNode;
}) {
  return (
    <li className={`act-row${props.isFirst ? ' first' : ''}`}>
      {props.mark !== undefined && <span className="mark-cell">{props.mark}</span>}
      <div>
        <strong className="nm">{props.head}</strong>
        {props.note !== undefined && props.note !== '' && <p>{props.note}</p>}
      </div>
      {props.acts !== undefined && <div className="acts">{props.acts}</div>}
    </li>
  );
}

/** A list with a heading; left out when it is empty. */
export function ActList(props: {
  readonly title: string;
  readonly aside?: string;
  readonly children: readonly ReactNode[];
}) {
  if (props.children.length === 0) return null;
  return (
    <section className="act-list">
      <h2 className="hd">
        {props.title} {props.aside && <span className="q">{props.aside}</span>}
      </h2>
      <ul>{props.children}</ul>
    </section>
  );
}
