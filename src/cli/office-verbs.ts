import type { Command } from 'commander';
import type { Finish } from './verb-parts.ts';

const withStore = (command: Command): Command =>
  command.option('--data <folder>', 'folder of the store').option('--json', 'as JSON');

/** Verbs of the office: what a teacher wants without a page. */
export function addOfficeVerbs(program: Command, finish: Finish): void {
  withStore(program.command('office'))
    .argument('[what]', 'a table, or with --out FILE.pdf a part; left out: the list of them, or all on paper')
    .option('--course <id>', 'which course; not needed when there is one')
    .option('--out <file>', 'a .csv or .pdf file; left out: CSV on standard output')
    .option('--paper <paper>', 'a4 or letter')
    .description('registers, consent, material and end of term of a course as CSV, JSON or PDF')
    .action((what, options) => finish(import('./office.ts').then((m) => m.officeCommand(what, options))));
  withStore(program.command('passport'))
    .argument('<build>', 'id of the build, as in the address of its page')
    .requiredOption('--out <file>', 'a .pdf file, or .json for the full file')
    .option('--paper <paper>', 'a4 or letter')
    .description('passport and certificate of an instrument, or its full file')
    .action((build, options) => finish(import('./office.ts').then((m) => m.passportCommand(build, options))));
  withStore(program.command('sessions'))
    .requiredOption('--out <file>', 'an .ics file')
    .option('--course <id>', 'which course; not needed when there is one')
    .option('--time-zone <name>', 'a name such as Europe/Vienna; left out: that of this machine')
    .description('the sessions of a course as a calendar')
    .action((options) => finish(import('./office.ts').then((m) => m.sessionsCommand(options))));
}
