import { Fragment, memo, useMemo, useState } from 'react';
import type { FigureUnit } from '../../graph/figure.ts';
import { usePreferences } from '../frame/preferences.ts';
import { LargeNumber, SmallNumber } from '../parts/amount.tsx';
import { movedAs, ownedAs, pageSpec } from './bar-inputs.ts';
import { type Group, groupsOf, type Row } from './figure-list.ts';
import { InputCell, type Ownership } from './input-cell.tsx';
import { type WhyContext, WhyPanel } from './why-panel.tsx';

/** Which numbers are listed. */
type Filter = 'all' | 'changed' | 'not-yet';

/** What the list does with a press. */
export interface NumberActions {
  readonly onType: (id: string, value: number, text?: string) => void;
  readonly onConfirm: (ids: readonly string[]) => void;
  readonly onLook: (id: string | undefined) => void;
}

export interface NumbersProps extends NumberActions {
  readonly context: WhyContext;
  /** How the last revision is called in the head of its column, e.g. `rev 3`; undefined: nothing to compare with. */
  readonly beforeName: string | undefined;
  readonly open: string | undefined;
}

const isChanged = (row: Row, before: ReadonlyMap<string, number | string>): boolean => {
  // nothing to compare with
  if (before.size === 0) return false;
  if (row.members) return row.members.some((m) => isChanged(m, before));
  const was = before.get(row.id);
  return typeof was === 'number' && typeof row.value === 'number'
    ? Math.abs(was - row.value) > 1e-9 * Math.max(1, Math.abs(was))
    : was !== row.value && row.value !== undefined;
};

function filtered(
  groups: readonly Group[],
  words: string,
  filter: Filter,
  context: WhyContext,
): readonly Group[] {
  const wanted = words.trim().toLowerCase();
  const isWanted = (row: Row): boolean => {
    if (wanted !== '' && !`${row.label} ${row.id}`.toLowerCase().includes(wanted)) return false;
    if (filter === 'changed') return isChanged(row, context.before);
    return filter === 'all' || (row.isInput && pageSpec(row.id) !== undefined && !context.mine.has(row.id));
  };
  return groups
    .map(({ name, rows }) => ({ name, rows: rows.filter(isWanted) }))
    .filter(({ rows }) => rows.length > 0);
}

/** All numbers: typed ones first in each group, each with the other unit and the last revision beside it. */
export const NumbersPanel = memo(function NumbersPanel(props: NumbersProps) {
  const { context } = props;
  const { largeUnit } = usePreferences();
  const [words, setWords] = useState('');
  const [filter, setFilter] = useState<Filter>('all');
  const groups = useMemo(() => groupsOf(context.sheet), [context.sheet]);
  const shown = filtered(groups, words, filter, context);
  const openInputs = groups
    .flatMap((g) => g.rows)
    .filter((r) => r.isInput && pageSpec(r.id) !== undefined && !context.mine.has(r.id))
    .map((r) => r.id);
  return (
    <div className="numbers">
      <div className="findrow noprint">
        <input
          className="fld"
          type="search"
          placeholder="Find a number"
          aria-label="Find a number"
          value={words}
          onChange={(event) => setWords(event.target.value)}
        />
        <select
          className="pick"
          aria-label="Which numbers"
          value={filter}
          onChange={(event) => setFilter(event.target.value as Filter)}
        >
          <option value="all">All numbers</option>
          <option value="changed">Changed ones</option>
          <option value="not-yet">Not yet yours</option>
        </select>
      </div>
      {openInputs.length > 0 && (
        <p className="ownline noprint">
          <span className="ownkey is-not-yet">dashed</span>
          {openInputs.length} numbers are not yet yours.{' '}
          <button type="button" className="link" onClick={() => props.onConfirm(openInputs)}>
            Confirm them all
          </button>
        </p>
      )}
      <table className={props.beforeName ? 'figs' : 'figs alone'}>
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col" className="r">
              {largeUnit}
            </th>
            <th scope="col" className="r">
              {largeUnit === 'mm' ? 'in' : 'mm'}
            </th>
            <th scope="col" className="r gh">
              {props.beforeName ?? ''}
            </th>
          </tr>
        </thead>
        {shown.map((group) => (
          <GroupRows key={group.name} group={group} isSearched={words !== ''} {...props} />
        ))}
      </table>
      {shown.length === 0 && (
        <p className="says">
          No number of this pattern is called so. Try a shorter word, or choose All numbers.
        </p>
      )}
    </div>
  );
});

function GroupRows({
  group,
  isSearched,
  ...props
}: NumbersProps & { readonly group: Group; readonly isSearched: boolean }) {
  return (
    <tbody>
      <tr className="grp">
        <th colSpan={4} scope="rowgroup">
          {group.name}
        </th>
      </tr>
      {group.rows.map((row) =>
        row.members ? (
          <FamilyRows key={row.id} row={row} isSearched={isSearched} {...props} />
        ) : (
          <OneRow key={row.id} row={row} {...props} />
        ),
      )}
    </tbody>
  );
}

function FamilyRows({
  row,
  isSearched,
  ...props
}: NumbersProps & { readonly row: Row; readonly isSearched: boolean }) {
  const members = row.members ?? [];
  const [isOpen, setOpen] = useState(false);
  const isShown = isOpen || members.some((m) => m.id === props.open);
  return (
    <>
      <tr className={isChanged(row, props.context.before) ? 'chg' : undefined}>
        <th scope="row">
          <button type="button" className="fig fam" aria-expanded={isShown} onClick={() => setOpen(!isShown)}>
            {row.label}
          </button>
        </th>
        <td className="n mm q" colSpan={2}>
          {members.length} numbers
        </td>
        <td className="n was" />
      </tr>
      {isShown && members.map((member) => <OneRow key={member.id} row={member} isMember {...props} />)}
    </>
  );
}

function OneRow({
  row,
  isMember,
  ...props
}: NumbersProps & { readonly row: Row; readonly isMember?: boolean }) {
  const { context, open } = props;
  const was = context.before.get(row.id);
  const changed = isChanged(row, context.before);
  const isOpen = open === row.id;
  const ownership = ownershipOf(row.id, context);
  return (
    <Fragment>
      <PlainRow
        row={row}
        isMember={isMember === true}
        isOpen={isOpen}
        isChanged={changed}
        was={changed ? was : undefined}
        ownership={ownership}
        onType={props.onType}
        onLook={props.onLook}
      />
      {isOpen && (
        <tr className="open">
          <td colSpan={4}>
            {row.isInput && pageSpec(row.id) && (
              <InputFacts
                row={row}
                ownership={ownership}
                onConfirm={() => props.onConfirm([ownedAs(row.id)])}
              />
            )}
            {!row.isInput && <WhyPanel id={row.id} context={context} />}
          </td>
        </tr>
      )}
    </Fragment>
  );
}

function ownershipOf(id: string, { typed, mine }: WhyContext): Ownership {
  if (typed.has(movedAs(id))) return 'changed';
  return mine.has(ownedAs(id)) ? 'mine' : 'not-yet';
}

interface PlainRowProps {
  readonly row: Row;
  readonly isMember: boolean;
  readonly isOpen: boolean;
  readonly isChanged: boolean;
  readonly was: number | string | undefined;
  readonly ownership: Ownership;
  readonly onType: NumberActions['onType'];
  readonly onLook: NumberActions['onLook'];
}

const sameRow = (a: PlainRowProps, b: PlainRowProps): boolean =>
  a.row.id === b.row.id &&
  a.row.value === b.row.value &&
  a.row.reason === b.row.reason &&
  a.row.label === b.row.label &&
  a.isOpen === b.isOpen &&
  a.isChanged === b.isChanged &&
  a.was === b.was &&
  a.ownership === b.ownership;

const PlainRow = memo(function PlainRow(props: PlainRowProps) {
  const { row, isOpen, was } = props;
  const names = [props.isChanged ? 'chg' : '', isOpen ? 'sel' : '', props.isMember ? 'member' : ''];
  return (
    <tr className={names.filter(Boolean).join(' ') || undefined} data-figure={row.id}>
      <th scope="row">
        <button
          type="button"
          className="fig"
          aria-expanded={isOpen}
          onClick={() => props.onLook(isOpen ? undefined : row.id)}
        >
          {row.label}
        </button>
      </th>
      <td className="n mm">
        <RowNumber {...props} />
      </td>
      <td className="n in">
        {typeof row.value === 'number' && <SmallNumber value={row.value} unit={row.unit} />}
      </td>
      <td className="n was">{was !== undefined && <Before value={was} unit={row.unit} />}</td>
    </tr>
  );
}, sameRow);

function Before({ value, unit }: { readonly value: number | string; readonly unit: FigureUnit }) {
  return typeof value === 'number' ? <LargeNumber value={value} unit={unit} /> : value;
}

function RowNumber({ row, ownership, onType }: PlainRowProps) {
  const spec = row.isInput ? pageSpec(row.id) : undefined;
  if (spec && typeof row.value === 'number')
    return (
      <InputCell
        spec={spec}
        value={row.value}
        ownership={ownership}
        onType={(value, text) => onType(row.id, value, text)}
      />
    );
  if (typeof row.value === 'number') return <LargeNumber value={row.value} unit={row.unit} />;
  if (typeof row.value === 'string') return <>{row.value}</>;
  return (
    <span className="none" title={row.reason}>
      no value
    </span>
  );
}

const ownSentence: Readonly<Record<Ownership, string>> = {
  mine: 'Yours: you gave or confirmed it.',
  changed: 'Typed in this draft, yours.',
  'not-yet': 'From the starting pattern, not yet yours. What rests on it says so until you confirm it.',
};

function InputFacts({
  row,
  ownership,
  onConfirm,
}: {
  readonly row: Row;
  readonly ownership: Ownership;
  readonly onConfirm: () => void;
}) {
  const spec = pageSpec(row.id);
  if (!spec) return null;
  return (
    <div className="why facts" data-state="open" data-why={row.id}>
      <p>{ownSentence[ownership]}</p>
      <p className="q">
        Between <LargeNumber value={spec.low} unit={spec.unit} /> and{' '}
        <LargeNumber value={spec.high} unit={spec.unit} />; a number beyond is taken for a slip. Press the
        number to change it: 3 15/16, .100, 2.5 mm, 98,5 are all read.
      </p>
      {ownership === 'not-yet' && (
        <button type="button" className="btn sm" onClick={onConfirm}>
          Confirm it as yours
        </button>
      )}
    </div>
  );
}
