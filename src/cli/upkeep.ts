import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { makeEvent } from '../course/event.ts';
import { foldShop } from '../course/shop-facts.ts';
import { shopFileOf } from '../course/shop-of-record.ts';
import { InputError } from '../quantity/input-error.ts';
import { authorityFile } from '../server/authority/authority-place.ts';
import type { OpenStore } from '../store/dialect/open-sqlite.ts';
import { eventsRepository } from '../store/events/events.repository.ts';
import { openStore } from '../store/open-store.ts';
import { backUp, checkStore, exportRecord, importRecord, restore } from '../store/upkeep/upkeep.service.ts';
import { projectRoot, readText, say, sayJson, writeWhole } from './door.ts';
import { readCsv } from './import-csv.ts';
import { readingsToCsv, recordToCsv, stepsToCsv } from './record-csv.ts';
import { shopArgument } from './shop-argument.ts';

/** Options the commands of the store share. */
export interface UpkeepOptions {
  readonly data?: string;
  readonly json?: boolean;
}

const folderOf = (options: UpkeepOptions): string =>
  path.resolve(options.data ?? path.join(projectRoot, 'bracewright-data'));

function tell(options: UpkeepOptions, value: Readonly<Record<string, unknown>>, words: string): number {
  if (options.json) sayJson(value);
  else say(words);
  return 0;
}

/** `backup FILE`: the whole store in one file, also while the server runs. */
export async function backupCommand(
  file: string,
  options: UpkeepOptions & { readonly withHealthNotes?: boolean },
): Promise<number> {
  const isWith = options.withHealthNotes === true;
  const { events, bytes, healthNotesLeftOut } = await backUp(folderOf(options), file, {
    withHealthNotes: isWith,
  });
  const health = isWith
    ? ' Health notes are in it: delete the file when the instruments are handed over.'
    : ` Health notes stay behind (${healthNotesLeftOut} left out); --with-health-notes takes them along.`;
  const authority = fs.existsSync(authorityFile(folderOf(options)))
    ? ' The key of the https certificates is not in it; a machine restored from it makes new ones, and the tablets install them again.'
    : '';
  return tell(
    options,
    { events, bytes, health_notes_left_out: healthNotesLeftOut, authority_key: 'left out', file },
    `${events} events backed up into ${file}.${health}${authority}`,
  );
}

/** `restore FILE --data FOLDER`: a backup as the store of an empty folder. */
export async function restoreCommand(file: string, options: UpkeepOptions): Promise<number> {
  const done = await restore(file, folderOf(options));
  return tell(
    options,
    { ...done, data: folderOf(options) },
    `${done.events} events are back in ${folderOf(options)}.`,
  );
}

/** `check-data`: looks through the store; exit 1 with a fault. */
export async function checkDataCommand(options: UpkeepOptions): Promise<number> {
  const store = await openStore(folderOf(options));
  try {
    const { events, faults } = await checkStore(store);
    tell(
      options,
      { events, faults },
      [
        `${events} events looked at, ${faults.length} faults.`,
        ...faults.map((f) => `${f.what}: ${f.text}`),
      ].join('\n'),
    );
    return faults.length > 0 ? 1 : 0;
  } finally {
    await store.close();
  }
}

/** Options of `export`. */
export interface ExportOptions extends UpkeepOptions {
  readonly format?: string;
  readonly what?: string;
}

const EXPORTS: Readonly<Record<string, readonly string[]>> = {
  json: ['events'],
  csv: ['events', 'steps', 'readings'],
};

/** The record in the form asked for. */
async function exportText(store: OpenStore, format: string, what: string): Promise<string> {
  if (format === 'json') return exportRecord(store);
  const events = await eventsRepository(store.db).all();
  if (what === 'steps') return stepsToCsv(events);
  return what === 'readings' ? readingsToCsv(events) : recordToCsv(events);
}

/** `export FILE`: the record as JSON or CSV, no personal data. */
export async function exportCommand(file: string, options: ExportOptions): Promise<number> {
  const format = options.format ?? 'json';
  const what = options.what ?? 'events';
  const known = EXPORTS[format];
  if (!known)
    throw new InputError('export-format', `--format is "${format}"; it must be json or csv.`, 'format');
  if (!known.includes(what))
    throw new InputError(
      'export-what',
      `--what is "${what}"; with --format ${format} it must be ${known.join(', ').replace(/, (?=[^,]*$)/, ' or ')}.`,
      'what',
    );
  const store = await openStore(folderOf(options));
  try {
    writeWhole(file, await exportText(store, format, what));
    return tell(options, { file }, `The record is in ${file}. It names people by id only.`);
  } finally {
    await store.close();
  }
}

/** Options of `import`. */
export interface ImportOptions extends UpkeepOptions {
  readonly format?: string;
  readonly dryRun?: boolean;
}

/** Wrong lines named one by one; more would push the first off the screen. */
const MOST_FAULTS = 50;

/** Adds a table. @throws InputError with one sentence a wrong line; nothing is kept then */
async function importCsv(store: OpenStore, text: string, isDry: boolean) {
  const events = eventsRepository(store.db);
  const { read, events: fresh, faults } = readCsv(text, await events.all(), Date.now());
  if (faults.length > 0) {
    const more = faults.length - MOST_FAULTS;
    throw new InputError(
      'wrong-lines',
      [
        ...faults.slice(0, MOST_FAULTS),
        ...(more > 0 ? [`${more} more lines are wrong.`] : []),
        `Nothing was taken: ${faults.length} of ${read} lines are wrong.`,
      ].join('\n'),
    );
  }
  if (!isDry) await events.append(fresh);
  return { read, added: fresh.length };
}

/** Takes a shop file as the newest of the record; false when it has the same text already. */
async function takeShop(store: OpenStore, text: string, name: string, isDry: boolean): Promise<boolean> {
  const events = eventsRepository(store.db);
  const kept = await events.ofStreams(['shop:main']);
  if (shopFileOf(foldShop(kept))?.text === text) return false;
  const random = crypto.getRandomValues(new Uint8Array(16));
  const revision = `shop-${createHash('sha256').update(text).digest('hex').slice(0, 12)}`;
  const counter = kept.length;
  const lastTimeMs = kept.reduce((ms, e) => Math.max(ms, e.time), 0);
  const { event } = makeEvent(
    { device: 'command-line', counter, lastTimeMs },
    {
      stream: 'shop:main',
      kind: 'revision-made',
      by: 'teacher',
      body: { what: 'shop', revision, name, text },
    },
    Date.now(),
    random,
  );
  if (!isDry) await events.append([event]);
  return true;
}

/** `import FILE`: adds an exported record, a table or a shop file. */
export async function importCommand(file: string, options: ImportOptions): Promise<number> {
  const format = options.format ?? (/\.csv$/i.test(file) ? 'csv' : /\.ya?ml$/i.test(file) ? 'shop' : 'json');
  if (format !== 'json' && format !== 'csv' && format !== 'shop')
    throw new InputError('import-format', `--format is "${format}"; it must be json, csv or shop.`, 'format');
  const text = readText(file);
  const isDry = options.dryRun === true;
  const shop = format === 'shop' ? shopArgument(file) : undefined;
  const store = await openStore(folderOf(options));
  try {
    if (shop) {
      const isNew = await takeShop(store, text, shop.name, isDry);
      const words = isNew
        ? isDry
          ? `would be taken as ${shop.name}; nothing was kept, this was a trial.`
          : `is kept as ${shop.name}; cards, settings and batches follow it from now on.`
        : `is what the record has already as ${shop.name}; nothing was kept.`;
      return tell(
        options,
        { shop: shop.name, added: isNew ? 1 : 0, dry_run: isDry },
        `The shop file ${file} ${words}`,
      );
    }
    const done =
      format === 'csv' ? await importCsv(store, text, isDry) : await importRecord(store, text, isDry);
    return tell(
      options,
      { ...done, dry_run: isDry },
      isDry
        ? `${done.added} of ${done.read} events are new; nothing was kept, this was a trial.`
        : `${done.added} of ${done.read} events were new and are kept.`,
    );
  } finally {
    await store.close();
  }
}
