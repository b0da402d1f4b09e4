import { Command, CommanderError, InvalidArgumentError } from 'commander';
import { InputError } from '../quantity/input-error.ts';

const collect = (value: string, before: readonly string[]): string[] => [...before, value];

const numberOption =
  (what: string, low: number, high = Number.MAX_VALUE) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value < low || value > high)
      throw new InvalidArgumentError(
        `${what} is "${text}"; give a number ${high === Number.MAX_VALUE ? `of at least ${low}` : `between ${low} and ${high}`}.`,
      );
    return value;
  };

/** What a verb gives back: its exit code, now or later. */
type Outcome = number | Promise<number>;

function buildProgram(finish: (outcome: Outcome) => void): Command {
  const program = new Command('bracewright')
    .description(
      'One pattern gives every number of the instrument; one record gives every verdict and next step.',
    )
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .showHelpAfterError(false);

  program
    .command('sheet')
    .argument('<pattern>', 'pattern file, or the name of a starting pattern')
    .option('--shop <file>', 'shop file: also the rules of pattern against shop')
    .option('--set <input=value>', 'change an input; may be given again', collect, [])
    .option('--only <prefix>', 'only figures whose id begins so')
    .option('--structure', 'also the dear figures: what the top does under the strings')
    .option('--judge', 'exit 1 when a rule is broken')
    .option('--json', 'as JSON')
    .description('every figure and rule of a pattern')
    .action((pattern, options) => finish(import('./sheet.ts').then((m) => m.sheetCommand(pattern, options))));
  program
    .command('figures')
    .option('--json', 'as JSON')
    .description('all figures with unit, label, formula and source')
    .action((options) => finish(import('./sheet.ts').then((m) => m.figuresCommand(options))));
  program
    .command('why')
    .argument('<figure>', 'figure id')
    .argument('<pattern>', 'pattern file or name')
    .option('--set <input=value>', 'change an input; may be given again', collect, [])
    .option('--json', 'as JSON')
    .description('the tree of formula, inputs and sources behind one number')
    .action((figure, pattern, options) =>
      finish(import('./why.ts').then((m) => m.whyCommand(figure, pattern, options))),
    );
  program
    .command('compare')
    .argument('<a>', 'pattern file or name')
    .argument('[b]', 'second pattern; left out with --set')
    .option('--set <input=value>', 'change an input of the second; may be given again', collect, [])
    .option('--judge', 'exit 1 when the second breaks a rule')
    .option('--json', 'as JSON')
    .description('what differs between two patterns, or what a change touches')
    .action((a, b, options) => finish(import('./compare.ts').then((m) => m.compareCommand(a, b, options))));
  addMoreVerbs(program, finish);
  return program;
}

function addMoreVerbs(program: Command, finish: (outcome: Outcome) => void): void {
  const stores = [
    ['backup', 'the whole store in one file, also while the server runs', 'backupCommand'],
    ['restore', 'puts a backup in place as the store of an empty folder', 'restoreCommand'],
    ['export', 'the record as JSON, people by id only', 'exportCommand'],
    ['import', 'adds an exported record', 'importCommand'],
  ] as const;
  for (const [verb, description, command] of stores)
    program
      .command(verb)
      .argument('<file>')
      .option('--data <folder>', 'folder of the store')
      .option('--json', 'as JSON')
      .description(description)
      .action((file, options) => finish(import('./upkeep.ts').then((m) => m[command](file, options))));
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
    .option('--lan', 'also for other devices of the network')
    .description('the server with the page')
    .action((options) => finish(import('./start.ts').then((m) => m.startCommand(options))));
}

/** One sentence for what commander found wrong with the words of the command. */
function usageSentence(error: CommanderError): string {
  const said = error.message
    .replace(/^error: /, '')
    .replace(/\s+/g, ' ')
    .trim();
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}${/[.?]$/.test(said) ? '' : '; the option --help shows how it is used.'}`;
}

/**
 * Runs one command.
 *
 * @param args  words behind `bracewright`
 * @returns     exit code: 0 done, 1 judged and found wanting, 2 wrong use or bad input (one sentence on standard error)
 */
export async function main(args: readonly string[]): Promise<number> {
  let outcome: Outcome = 0;
  const program = buildProgram((o) => {
    outcome = o;
  });
  try {
    if (args.length === 0) {
      program.outputHelp();
      return 0;
    }
    await program.parseAsync([...args], { from: 'user' });
    return await outcome;
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      process.stderr.write(`${usageSentence(error)}\n`);
      return 2;
    }
    if (error instanceof InputError) {
      process.stderr.write(`${error.message}\n`);
      return 2;
    }
    process.stderr.write(
      `This is a fault of the program, not yours: ${error instanceof Error ? error.message : String(error)}. Nothing was written.\n`,
    );
    if (process.env['BRACEWRIGHT_TRACE'])
      process.stderr.write(`${error instanceof Error ? error.stack : ''}\n`);
    return 2;
  }
}
