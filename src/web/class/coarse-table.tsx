import { type KeyboardEvent, type ReactNode, useRef, useState } from 'react';
import './coarse-table.css';

/** What one cell of the wall of coarse steps shows. */
export interface CoarseCell {
  /** Shape of the cell: how far it is. */
  readonly look: 'open' | 'part' | 'done' | 'before' | 'ready' | 'resting' | 'to sign' | 'left out';
  /** Share done, 0 to 1; drawn for `part`. */
  readonly doneFrac?: number;
  /** Said by a screen reader behind the names of row and step. */
  readonly words: string;
}

export interface CoarseRow {
  readonly id: string;
  readonly head: ReactNode;
  /** Name without markup. */
  readonly name: string;
}

interface CoarseTableProps {
  readonly label: string;
  readonly steps: readonly { readonly id: string; readonly name: string }[];
  readonly rows: readonly CoarseRow[];
  readonly cell: (row: string, step: string) => CoarseCell;
  readonly onTouch: (row: string, step: string) => void;
}

/** Where the arrows go from a cell; undefined for other keys. */
function moved(key: string, at: readonly [number, number], rows: number, columns: number) {
  const [r, c] = at;
  const to: Readonly<Record<string, readonly [number, number]>> = {
    ArrowRight: [r, Math.min(columns - 1, c + 1)],
    ArrowLeft: [r, Math.max(0, c - 1)],
    ArrowDown: [Math.min(rows - 1, r + 1), c],
    ArrowUp: [Math.max(0, r - 1), c],
    Home: [r, 0],
    End: [r, columns - 1],
  };
  return to[key];
}

/** Learners down, about 28 coarse steps across; one stop of the Tab key, arrows go from cell to cell. */
export function CoarseTable({ label, steps, rows, cell, onTouch }: CoarseTableProps) {
  const [at, setAt] = useState<readonly [number, number]>([0, 0]);
  const table = useRef<HTMLTableElement>(null);
  const here: readonly [number, number] = [
    Math.min(at[0], Math.max(0, rows.length - 1)),
    Math.min(at[1], steps.length - 1),
  ];
  const onKey = (event: KeyboardEvent) => {
    const to = moved(event.key, here, rows.length, steps.length);
    if (!to) return;
    event.preventDefault();
    setAt(to);
    table.current?.querySelector<HTMLElement>(`[data-at="${to[0]} ${to[1]}"]`)?.focus();
  };
  return (
    <div className="coarse">
      <table ref={table} aria-label={label}>
        <thead>
          <tr>
            <td />
            {steps.map((s) => (
              <th key={s.id} scope="col">
                <span>{s.name}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody onKeyDown={onKey}>
          {rows.map((row, r) => (
            <tr key={row.id}>
              <th scope="row">{row.head}</th>
              {steps.map((s, c) => {
                const { look, doneFrac, words } = cell(row.id, s.id);
                return (
                  <td key={s.id}>
                    <button
                      type="button"
                      data-at={`${r} ${c}`}
                      data-look={look}
                      tabIndex={r === here[0] && c === here[1] ? 0 : -1}
                      aria-label={`${row.name}, ${s.name}: ${words}`}
                      onFocus={() => setAt([r, c])}
                      onClick={() => onTouch(row.id, s.id)}
                    >
                      {look === 'part' && (
                        <svg viewBox="0 0 10 10" preserveAspectRatio="none" aria-hidden="true">
                          <rect width={10 * (doneFrac ?? 0)} height="10" />
                        </svg>
                      )}
                    </button>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
