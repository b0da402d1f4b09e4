import { type KeyboardEvent, useMemo, useRef, useState } from 'react';
import { Link } from 'wouter';
import type { ClassState } from '../../../course/class-state.ts';
import type { SessionFact } from '../../../course/course-facts.ts';
import {
  type SheetRow,
  type SheetStep,
  sessionOfPaper,
  sessionSheet,
} from '../../../course/session-sheet.ts';
import { unitsOfClass } from '../../../course/shop-of-record.ts';
import type { LargeUnit } from '../../frame/preferences.ts';
import { enter } from '../../record/record.ts';
import { type BuildComputed, buildComputed } from '../build-context.ts';
import { buildName, courseNameBesideMark } from '../class-names.ts';
import { clock, day } from '../clock-words.ts';
import { DemoMark } from '../demo-mark.tsx';
import { NoCourse } from '../no-course.tsx';
import { typedUnit } from '../parse-reading.ts';
import { type CourseNow, useCourse } from '../use-course.ts';
import './paper.css';
import {
  cellEntries,
  type PaperCell,
  paperCells,
  readCell,
  type TypedCell,
  withClosingList,
} from './paper-cells.ts';

/** Types a paper evening back: looks like the sheet, Enter goes on. */
export function PaperPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="paper" data-state="loading" />;
  if (!course.state) return <NoCourse course={course} />;
  const session = sessionOfPaper(course.state, course.nowMs);
  if (course.record.me.role !== 'teacher' || !session)
    return (
      <main id="main" className="paper" data-state="empty">
        <p className="says bad">
          {session
            ? 'A sheet is typed back by the teacher; ask for the teacher.'
            : 'No session is open and none lies ahead, so there is no sheet; plan one first.'}
        </p>
      </main>
    );
  return <Paper key={session.session} course={course} state={course.state} session={session} />;
}

const keyOf = (course: string, session: string) => `bracewright-paper ${course} ${session}`;

/** What was typed so far, kept on this device until it is handed over. */
function keptTexts(key: string): Readonly<Record<string, string>> {
  try {
    return JSON.parse(localStorage.getItem(key) ?? '{}') as Record<string, string>;
  } catch {
    return {};
  }
}

function keepTexts(key: string, texts: Readonly<Record<string, string>>): void {
  try {
    localStorage.setItem(key, JSON.stringify(texts));
  } catch {
    // what was typed then lasts as long as the page is open
  }
}

interface PaperProps {
  readonly course: CourseNow;
  readonly state: ClassState;
  readonly session: SessionFact;
}

function Paper({ course, state, session }: PaperProps) {
  const key = keyOf(course.courseId, session.session);
  // from the first key on the sheet stays as it was printed
  const live = useMemo(() => ({ state, sheet: sessionSheet(state, session) }), [state, session]);
  const [frozen, freeze] = useState<typeof live>();
  const printed = frozen ?? live;
  const unit = unitsOfClass(printed.state);
  const cells = useMemo(() => paperCells(printed.sheet), [printed]);
  const [texts, setTexts] = useState(() => keptTexts(key));
  const [handed, setHanded] = useState(0);
  const form = useRef<HTMLFormElement>(null);
  const computed = useMemo(() => {
    const made = new Map<string, BuildComputed>();
    return (build: string): BuildComputed | undefined => {
      const facts = printed.state.builds.get(build);
      if (facts && !made.has(build)) made.set(build, buildComputed(printed.state, facts, unit));
      return made.get(build);
    };
  }, [printed, unit]);
  const type = (id: string, text: string) => {
    if (!frozen) freeze(live);
    const next = { ...texts, [id]: text };
    setTexts(next);
    keepTexts(key, next);
  };
  const goOn = (event: KeyboardEvent) => {
    if (event.key !== 'Enter' || (event.target as HTMLElement).tagName !== 'INPUT') return;
    event.preventDefault();
    const fields = [...(form.current?.querySelectorAll<HTMLElement>('input, button[type="submit"]') ?? [])];
    fields[fields.indexOf(event.target as HTMLElement) + (event.shiftKey ? -1 : 1)]?.focus();
  };
  const read = cells.map((cell): TypedCell => {
    const text = texts[cell.id] ?? '';
    const build = text === '' || cell.kind !== 'reading' ? undefined : computed(cell.build);
    return { cell, text, value: readCell(cell, text, session, build) };
  });
  const typed = withClosingList(state, read);
  const entries = typed.flatMap((t) => cellEntries(state, session, t));
  const wrong = typed.filter((t) => t.value.kind === 'wrong');
  const handOver = async () => {
    await enter(entries);
    const left = Object.fromEntries(wrong.map((t) => [t.cell.id, t.text]));
    setTexts(left);
    keepTexts(key, left);
    setHanded(handed + entries.length);
  };
  return (
    <main id="main" className="paper" data-state="ready">
      <h1>Type a sheet back</h1>
      <p className="q2">
        {courseNameBesideMark(state)}, {day(session.startMs)}, {clock(session.startMs)}{' '}
        <DemoMark isDemo={course.isDemo} />
      </p>
      <p className="q">
        The cells stand as on the paper; Enter goes on. Boxes: x when ticked, n for away. Times: 1940.
      </p>
      <form
        ref={form}
        onKeyDown={goOn}
        onSubmit={(e) => {
          e.preventDefault();
          void handOver();
        }}
      >
        <ol className="paper-rows">
          {printed.sheet.rows.map((row) => (
            <PaperRow
              key={row.build}
              row={row}
              name={buildName(state, row.build)}
              cells={typed.filter((t) => t.cell.build === row.build)}
              unit={unit}
              type={type}
            />
          ))}
        </ol>
        <p role="status">
          {handed > 0 && `${handed} entries kept. `}
          {wrong.length > 0 && `${wrong.length} cells cannot be read and stay here.`}
        </p>
        <button type="submit" className="btn go wide" disabled={entries.length === 0}>
          Keep {entries.length} entries
        </button>
        <Link className="btn" href="/session">
          To the session
        </Link>
      </form>
    </main>
  );
}

interface RowProps {
  readonly row: SheetRow;
  readonly name: string;
  readonly cells: readonly TypedCell[];
  /** The sheet is printed and typed back in the units of the class. */
  readonly unit: LargeUnit;
  readonly type: (id: string, text: string) => void;
}

function PaperRow({ row, name, cells, unit, type }: RowProps) {
  const here = cells.find((t) => t.cell.kind === 'here');
  return (
    <li className="paper-row">
      <div className="paper-name">
        {here && <Cell typed={here} label={`${name}: here`} words="here" type={type} />}
        <strong>{name}</strong>
      </div>
      {row.steps.map((step) => (
        <PaperStep
          key={`${step.op} ${step.part}`}
          step={step}
          name={name}
          cells={cells.filter(({ cell }) => cell.kind !== 'here' && cell.step === step)}
          unit={unit}
          type={type}
        />
      ))}
    </li>
  );
}

function wordsOf(cell: PaperCell, unit: LargeUnit): string {
  switch (cell.kind) {
    case 'here':
      return 'here';
    case 'done':
      return 'done';
    case 'clamps':
      return 'in clamps at';
    case 'signed':
      return 'signed';
    case 'reading':
      return `${cell.reading.name}, ${typedUnit(cell.reading, unit)}`;
  }
}

function PaperStep({ step, name, cells, unit, type }: Omit<RowProps, 'row'> & { readonly step: SheetStep }) {
  return (
    <div className="paper-step">
      <p>{step.name}</p>
      <div className="paper-cells">
        {cells.map((typed) => (
          <Cell
            key={typed.cell.id}
            typed={typed}
            label={`${name}, ${step.name}: ${wordsOf(typed.cell, unit)}`}
            words={wordsOf(typed.cell, unit)}
            type={type}
          />
        ))}
      </div>
    </div>
  );
}

function Cell(props: {
  readonly typed: TypedCell;
  readonly label: string;
  readonly words: string;
  readonly type: RowProps['type'];
}) {
  const { typed, label, words, type } = props;
  const { cell, text, value } = typed;
  const verdict = value.kind === 'number' ? value.verdict : undefined;
  const isWrong = value.kind === 'wrong' || (verdict !== undefined && verdict.state !== 'met');
  const says = value.kind === 'wrong' ? value.says : (verdict?.words ?? '');
  const id = `says-${cell.id.replaceAll(' ', '-')}`;
  return (
    <label className="paper-cell" data-kind={cell.kind}>
      <span>{words}</span>
      <input
        className="fld"
        aria-label={label}
        autoComplete="off"
        value={text}
        aria-invalid={isWrong}
        aria-describedby={isWrong ? id : undefined}
        onChange={(e) => type(cell.id, e.target.value)}
      />
      {isWrong && (
        <span className="says bad" id={id}>
          {says}
        </span>
      )}
    </label>
  );
}
