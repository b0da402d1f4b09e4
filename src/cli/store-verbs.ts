import type { Command } from 'commander';
import { type Finish, numberOption } from './verb-parts.ts';

/** Verbs of the server and its store. */
export function addStoreVerbs(program: Command, finish: Finish): void {
  program
    .command('backup')
    .argument('<file>')
    .option('--data <folder>', 'folder of the store')
    .option('--with-health-notes', 'take the health notes along; without it they stay behind')
    .option('--json', 'as JSON')
    .description('the store in one file, also while the server runs; health notes only when asked for')
    .action((file, options) => finish(import('./upkeep.ts').then((m) => m.backupCommand(file, options))));
  program
    .command('restore')
    .argument('<file>')
    .option('--data <folder>', 'folder of the store')
    .option('--json', 'as JSON')
    .description('puts a backup in place as the store of an empty folder')
    .action((file, options) => finish(import('./upkeep.ts').then((m) => m.restoreCommand(file, options))));
  program
    .command('import')
    .argument('<file>')
    .option('--data <folder>', 'folder of the store')
    .option('--format <format>', 'json, csv or shop; by the ending of the file when left out')
    .option('--dry-run', 'only says what would be added and which lines are wrong')
    .option('--json', 'the answer as JSON')
    .description(
      'adds an exported record, a table of events or of steps and readings, or a shop file; all of it or nothing',
    )
    .action((file, options) => finish(import('./upkeep.ts').then((m) => m.importCommand(file, options))));
  program
    .command('export')
    .argument('<file>')
    .option('--data <folder>', 'folder of the store')
    .option('--format <format>', 'json or csv', 'json')
    .option('--what <what>', 'with csv: events, steps or readings', 'events')
    .option('--json', 'the answer as JSON')
    .description('the record as JSON or CSV, people by id only')
    .action((file, options) => finish(import('./upkeep.ts').then((m) => m.exportCommand(file, options))));
  program
    .command('check-data')
    .option('--data <folder>', 'folder of the store')
    .option('--json', 'as JSON')
    .description('looks through the store; exit 1 with a fault')
    .action((options) => finish(import('./upkeep.ts').then((m) => m.checkDataCommand(options))));
  program
    .command('start')
    .option('--data <folder>', 'where everything is kept')
    .option(
      '--port <number>',
      'port to listen on; 0 takes a free one',
      numberOption('--port', 0, 65_535),
      4180,
    )
    .option(
      '--lan',
      'also for other devices of the network: http for phones, https for tablets and the teacher',
    )
    .option('--no-https', 'with --lan: plain http only')
    .option(
      '--https-port <number>',
      'port of the https door (default: the one after --port)',
      numberOption('--https-port', 0, 65_535),
    )
    .option('--new-authority', 'with --lan: a new certificate authority; every tablet installs it again')
    .option('--demo', 'begin with an invented class when nothing has been entered yet', true)
    .option('--no-demo', 'begin empty')
    .description('the server with the page')
    .action((options) => finish(import('./start.ts').then((m) => m.startCommand(options))));
}
