import fs from 'node:fs';
import path from 'node:path';
import { officeParts } from '../course/office/office-parts.ts';
import { cellValue, type OfficeTable } from '../course/office/office-table.ts';
import { InputError } from '../quantity/input-error.ts';
import { buildForCaller, passportPdf, recordFile } from '../server/builds/builds.service.ts';
import type { Context } from '../server/context.ts';
import { TEACHER } from '../server/doors/caller.ts';
import { makeContext } from '../server/make-context.ts';
import { sessionsCalendar } from '../server/office/calendar.service.ts';
import { officeCsv, officeInput, officePdf, tableAsked } from '../server/office/office.service.ts';
import { Refusal } from '../server/refusal.ts';
import { openStore, STORE_FILE } from '../store/open-store.ts';
import { projectRoot, say, sayJson, writeWhole } from './door.ts';

/** Options the commands of the office share. */
export interface OfficeOptions {
  readonly data?: string;
  readonly course?: string;
  readonly out?: string;
  readonly paper?: string;
  readonly timeZone?: string;
  readonly json?: boolean;
}

const TEACHER_HERE = { role: 'teacher', person: TEACHER, course: '', build: '', tokenHash: '' } as const;

/**
 * Reads a store with the code of the server; nothing is written.
 *
 * @throws InputError when there is no store, or with what the server would have said
 */
async function withStore(
  options: OfficeOptions,
  use: (context: Context) => Promise<number>,
): Promise<number> {
  const folder = path.resolve(options.data ?? path.join(projectRoot, 'bracewright-data'));
  if (!fs.existsSync(path.join(folder, STORE_FILE)))
    throw new InputError('no-store', `There is no store in ${folder}; give its folder with --data.`);
  const store = await openStore(folder);
  try {
    return await use(await makeContext(store, { dataFolder: path.join(projectRoot, 'data') }));
  } catch (error) {
    if (error instanceof Refusal) throw new InputError(error.code, error.message);
    throw error;
  } finally {
    await store.close();
  }
}

/** The course asked for, or the only one; the invented one counts only when there is no other. */
async function courseAsked(context: Context, asked: string | undefined): Promise<string> {
  if (asked !== undefined) return asked;
  const set = await context.events.ofKinds(['course-set-up', 'course-removed']);
  const removed = new Set(set.filter((e) => e.kind === 'course-removed').map((e) => e.stream));
  const there = set.filter((e) => e.kind === 'course-set-up' && !removed.has(e.stream));
  const real = there.filter((e) => (e.body as { demo?: unknown }).demo !== true);
  const ids = [...new Set((real.length > 0 ? real : there).map((e) => e.stream.slice('course:'.length)))];
  if (ids.length === 1) return ids[0] as string;
  throw new InputError(
    'which-course',
    ids.length === 0
      ? 'There is no course in this store yet; begin one on the page.'
      : `This store has ${ids.length} courses; give one with --course: ${ids.join(', ')}.`,
  );
}

const asJson = (table: OfficeTable) => ({
  id: table.id,
  title: table.title,
  says: table.says,
  rows: table.rows.map((row) =>
    Object.fromEntries(table.columns.map((c, i) => [c.id, cellValue(row[i], c) ?? null])),
  ),
});

const LIST = officeParts.map((p) => ({
  part: p.id,
  tables: [...p.tables, ...(p.fileOnly ?? [])].map((t) => t.id),
}));

/**
 * `office [WHAT] [--out FILE.csv|.pdf]`: a table as CSV, a part on paper; without WHAT the list of both.
 *
 * @throws InputError with one sentence
 */
export function officeCommand(what: string | undefined, options: OfficeOptions): Promise<number> {
  return withStore(options, async (context) => {
    const input = await officeInput(context, await courseAsked(context, options.course));
    if (options.out !== undefined && /\.pdf$/i.test(options.out)) {
      writeWhole(options.out, await officePdf(context, input, what ?? 'all', options.paper));
      return told(options, `The office is on paper in ${options.out}.`);
    }
    if (what === undefined) {
      if (options.json) sayJson({ parts: LIST });
      else say(LIST.map((p) => `${p.part}: ${p.tables.join(', ')}`).join('\n'));
      return 0;
    }
    const table = tableAsked(input, what);
    if (options.out !== undefined) {
      if (!/\.csv$/i.test(options.out))
        throw new InputError('office-format', `--out is "${options.out}"; it must end in .csv or .pdf.`);
      writeWhole(options.out, officeCsv(table));
      return told(options, `${table.rows.length} rows are in ${options.out}.`);
    }
    if (options.json) sayJson(asJson(table));
    else process.stdout.write(officeCsv(table));
    return 0;
  });
}

function told(options: OfficeOptions, words: string): number {
  if (options.json) sayJson({ file: options.out });
  else say(words);
  return 0;
}

/**
 * `passport BUILD --out FILE.pdf|.json`: passport and certificate, or the full file of one instrument.
 *
 * @throws InputError with one sentence
 */
export function passportCommand(build: string, options: OfficeOptions): Promise<number> {
  const out = options.out ?? '';
  if (!/\.(pdf|json)$/i.test(out))
    throw new InputError('passport-format', `--out is "${out}"; give a file that ends in .pdf or .json.`);
  return withStore(options, async (context) => {
    const found = await buildForCaller(context, TEACHER_HERE, build);
    const isPdf = /\.pdf$/i.test(out);
    writeWhole(
      out,
      isPdf
        ? await passportPdf(context, found, options.paper)
        : `${JSON.stringify(await recordFile(context, TEACHER_HERE, found), null, 1)}\n`,
    );
    return told(options, `${isPdf ? 'Passport and certificate are' : 'The full file is'} in ${out}.`);
  });
}

/**
 * `sessions --out FILE.ics`: the sessions of a course as a calendar.
 *
 * @throws InputError with one sentence
 */
export function sessionsCommand(options: OfficeOptions): Promise<number> {
  const out = options.out ?? '';
  if (!/\.ics$/i.test(out))
    throw new InputError('sessions-format', `--out is "${out}"; give a file that ends in .ics.`);
  return withStore(options, async (context) => {
    const course = await courseAsked(context, options.course);
    const zone = options.timeZone ?? new Intl.DateTimeFormat().resolvedOptions().timeZone;
    const text = await sessionsCalendar(context, course, zone);
    if (text === undefined)
      throw new InputError('no-such-course', `There is no course "${course}" in this store.`);
    writeWhole(out, text);
    return told(options, `The sessions are in ${out}, times as in ${zone}.`);
  });
}
