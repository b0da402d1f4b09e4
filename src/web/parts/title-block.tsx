import type { ReactNode } from 'react';
import './title-block.css';

/** One field of a title block: what it is, and what stands in it. */
export interface TitleField {
  readonly name: string;
  readonly value: ReactNode;
  readonly isPast?: boolean;
}

/** The block at the lower right of a drawing, fields in the spirit of ISO 7200 (standard named from memory). */
export function TitleBlock({ fields }: { readonly fields: readonly TitleField[] }) {
  return (
    <dl className="tblock">
      {fields.map(({ name, value, isPast }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd className={isPast ? 'gh' : undefined}>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
