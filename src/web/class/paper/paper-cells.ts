import { judgeReading, limitsInBuild } from '../../../course/build-sheet.ts';
import type { ClassState } from '../../../course/class-state.ts';
import { CLOSING_OP, closingList, closingListFault } from '../../../course/closing-list.ts';
import type { SessionFact } from '../../../course/course-facts.ts';
import type { ShownVerdict } from '../../../course/reading-verdict.ts';
import type { SessionSheet, SheetStep } from '../../../course/session-sheet.ts';
import { capital } from '../../../quantity/words.ts';
import type { Reading } from '../../../route/route-types.ts';
import type { Entry } from '../../record/record.ts';
import { gluingOf } from '../acts.ts';
import type { BuildComputed } from '../build-context.ts';
import { keptVerdict, parseReading } from '../parse-reading.ts';

/** One cell of the paper, in reading order. */
export type PaperCell =
  | { readonly id: string; readonly kind: 'here'; readonly build: string; readonly person: string }
  | {
      readonly id: string;
      readonly kind: 'done' | 'clamps';
      readonly build: string;
      readonly step: SheetStep;
    }
  | { readonly id: string; readonly kind: 'signed'; readonly build: string; readonly step: SheetStep }
  | {
      readonly id: string;
      readonly kind: 'reading';
      readonly build: string;
      readonly step: SheetStep;
      readonly reading: Reading;
    };

/** The cells of a sheet as they stand on the paper: row by row, step by step. */
export function paperCells(sheet: SessionSheet): readonly PaperCell[] {
  return sheet.rows.flatMap(({ build, person, steps }): readonly PaperCell[] => [
    { id: `${build} here`, kind: 'here', build, person },
    ...steps.flatMap((step): readonly PaperCell[] => {
      const id = `${build} ${step.op} ${step.part}`;
      return [
        { id: `${id} done`, kind: 'done', build, step },
        ...(step.rests ? [{ id: `${id} clamps`, kind: 'clamps', build, step } as const] : []),
        ...step.readings.map(
          (reading) => ({ id: `${id} ${reading.id}`, kind: 'reading', build, step, reading }) as const,
        ),
        ...(step.sign === undefined ? [] : [{ id: `${id} signed`, kind: 'signed', build, step } as const]),
      ];
    }),
  ]);
}

/** What a typed cell means. */
export type CellValue =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'yes' }
  | { readonly kind: 'no' }
  | { readonly kind: 'time'; readonly atMs: number }
  | { readonly kind: 'number'; readonly value: number; readonly verdict: ShownVerdict | undefined }
  | { readonly kind: 'wrong'; readonly says: string };

/** `1940` or `19:40` on the day of the session. */
function timeOf(text: string, session: SessionFact): CellValue {
  const read = /^(\d{1,2})[:.h]?(\d{2})$/.exec(text.trim());
  const hours = Number(read?.[1]);
  const minutes = Number(read?.[2]);
  if (!read || hours > 23 || minutes > 59)
    return { kind: 'wrong', says: `"${text}" is no time of the day; type four digits, such as 1940.` };
  const at = new Date(session.startMs);
  at.setHours(hours, minutes, 0, 0);
  return { kind: 'time', atMs: at.getTime() };
}

/** Reads one cell. A value outside its limits is a value: it is marked, and typing goes on. */
export function readCell(
  cell: PaperCell,
  text: string,
  session: SessionFact,
  computed: BuildComputed | undefined,
): CellValue {
  const typed = text.trim().toLowerCase();
  if (typed === '') return { kind: 'nothing' };
  if (cell.kind === 'clamps') return timeOf(typed, session);
  if (cell.kind !== 'reading') {
    if (['x', 'y', 'yes', '1', '+'].includes(typed)) return { kind: 'yes' };
    if (['n', 'no', '0', '-'].includes(typed)) return { kind: 'no' };
    return {
      kind: 'wrong',
      says: `"${text}" is neither x nor n; type x for a ticked box, or leave it empty.`,
    };
  }
  if (!computed) return { kind: 'wrong', says: 'This build has no sheet; type it on its bench page.' };
  const read = parseReading(
    cell.reading,
    limitsInBuild(computed.judge, cell.reading),
    text,
    computed.judge.lengthUnit,
  );
  if ('says' in read) return { kind: 'wrong', says: read.says };
  const verdict = judgeReading(computed.judge, cell.reading, read.value);
  return { kind: 'number', value: read.value, verdict };
}

/** A cell with what was typed in it. */
export interface TypedCell {
  readonly cell: PaperCell;
  readonly text: string;
  readonly value: CellValue;
}

/** Marks the box that says a body was glued while its closing list is signed neither in the record nor on this sheet. */
export function withClosingList(state: ClassState, cells: readonly TypedCell[]): readonly TypedCell[] {
  const signed = new Set(
    cells
      .filter(
        ({ cell, value }) => cell.kind === 'signed' && cell.step.op === CLOSING_OP && value.kind === 'yes',
      )
      .map(({ cell }) => cell.build),
  );
  return cells.map((typed) => {
    const { cell, value } = typed;
    const isGlued = (cell.kind === 'done' && value.kind === 'yes') || value.kind === 'time';
    if (!isGlued || cell.kind === 'here' || signed.has(cell.build)) return typed;
    const facts = state.builds.get(cell.build);
    const fault = facts && closingListFault(state.route, facts, [cell.step.op]);
    return fault ? { ...typed, value: { kind: 'wrong', says: capital(fault) } } : typed;
  });
}

function readingEntry({ cell, text, value }: TypedCell): readonly Entry[] {
  if (cell.kind !== 'reading' || value.kind !== 'number') return [];
  return [
    {
      stream: `build:${cell.build}`,
      kind: 'reading',
      body: {
        op: cell.step.op,
        reading: cell.reading.id,
        value: value.value,
        unit: cell.reading.unit,
        said: text.trim(),
        ...(cell.reading.toolId ? { tool: cell.reading.toolId } : {}),
        ...(value.verdict ? { verdict: keptVerdict(value.verdict) } : {}),
      },
    },
  ];
}

/** A signature on the sheet; under the closing list it stands for the items printed at the foot of the sheet. */
function signBody(state: ClassState, build: string, { op, sign }: SheetStep) {
  const facts = state.builds.get(build);
  const items = op === CLOSING_OP && facts ? closingList(state.route, facts).map((i) => i.item) : undefined;
  return { op, sign: sign ?? 'signed on paper', ...(items ? { checked: items } : {}) };
}

/** The events a typed cell makes; a cell that is wrong or empty makes none. */
export function cellEntries(state: ClassState, session: SessionFact, typed: TypedCell): readonly Entry[] {
  const { cell, value } = typed;
  if (value.kind === 'nothing' || value.kind === 'wrong') return [];
  if (cell.kind === 'here')
    return [
      {
        stream: `course:${state.course.course ?? ''}`,
        kind: value.kind === 'no' ? 'absent' : 'present',
        body: { session: session.session, person: cell.person },
      } as Entry,
    ];
  if (cell.kind === 'reading') return readingEntry(typed);
  const stream = `build:${cell.build}` as const;
  const { op, part } = cell.step;
  if (cell.kind === 'done' && value.kind === 'yes')
    return [{ stream, kind: 'step-done', body: { op, part, atMs: session.endMs } }];
  if (cell.kind === 'signed' && value.kind === 'yes')
    return [{ stream, kind: 'hold-signed', body: signBody(state, cell.build, cell.step) }];
  if (cell.kind !== 'clamps' || value.kind !== 'time') return [];
  const { holds } = gluingOf(state, cell.build, op, part);
  return [{ stream, kind: 'put-in-clamps', body: { op, part, holds, atMs: value.atMs } }];
}
