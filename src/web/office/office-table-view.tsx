import {
  cellText,
  type OfficeCell,
  type OfficeColumn,
  type OfficeTable,
} from '../../course/office/office-table.ts';

const cellClass = (c: OfficeColumn): string => `cell-${c.kind}`;

/** A table of the office: rows stand as leaves on a phone; a register keeps its names and is moved sideways. */
export function OfficeTableView({ table }: { readonly table: OfficeTable }) {
  if (table.rows.length === 0) return <p className="none-yet">{table.none}</p>;
  const isRegister = table.columns.some((c) => c.kind === 'mark');
  const view = (
    <table className={isRegister ? 'register' : 'leaves'}>
      <caption className="vh">{table.title}</caption>
      <thead>
        <tr>
          {table.columns.map((c) => (
            <th key={c.id} scope="col" className={cellClass(c)}>
              {c.label}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {table.rows.map((row, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows have no name of their own and never move singly
          <Row key={i} table={table} row={row} />
        ))}
      </tbody>
      {table.sums && (
        <tfoot>
          <Row table={table} row={table.sums} />
        </tfoot>
      )}
    </table>
  );
  if (!isRegister) return view;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: who has no mouse moves the register sideways with the arrow keys
    <section className="sideways" aria-label={`${table.title}, move sideways`} tabIndex={0}>
      {view}
    </section>
  );
}

function Row({ table, row }: { readonly table: OfficeTable; readonly row: readonly OfficeCell[] }) {
  const lead = table.columns.findIndex((c) => c.id === 'name' || c.id === 'what');
  return (
    <tr>
      {table.columns.map((c, i) => {
        const said = cellText(row[i], c);
        const attributes = {
          className: cellClass(c),
          'data-label': c.label,
          'data-empty': said === '' || undefined,
        };
        return i === Math.max(lead, 0) && said !== '' ? (
          <th key={c.id} scope="row" {...attributes}>
            {said}
          </th>
        ) : (
          <td key={c.id} {...attributes}>
            {said}
          </td>
        );
      })}
    </tr>
  );
}
