import { Command, CommanderError } from 'commander';
import { InputError } from '../quantity/input-error.ts';
import { capital } from '../quantity/words.ts';
import { addEngineVerbs } from './engine-verbs.ts';
import { addOfficeVerbs } from './office-verbs.ts';
import { addPatternVerbs } from './pattern-verbs.ts';
import { addStoreVerbs } from './store-verbs.ts';
import type { Finish, Outcome } from './verb-parts.ts';

function buildProgram(finish: Finish): Command {
  const program = new Command('bracewright')
    .description(
      'One pattern gives every number of the instrument; one record gives every verdict and next step.',
    )
    .exitOverride()
    .configureOutput({ writeErr: () => undefined })
    .showHelpAfterError(false);
  addPatternVerbs(program, finish);
  addEngineVerbs(program, finish);
  addStoreVerbs(program, finish);
  addOfficeVerbs(program, finish);
  return program;
}

/** One sentence for what commander found wrong with the words of the command. */
function usageSentence(error: CommanderError): string {
  const said = error.message
    .replace(/^error: /, '')
    .replace(/\s+/g, ' ')
    .trim();
  return `${capital(said)}${/[.?]$/.test(said) ? '' : '; the option --help shows how it is used.'}`;
}

/**
 * Runs one command.
 *
 * @param args  words behind `bracewright`
 * @returns     exit code: 0 done, 1 judged and found wanting, 2 wrong use or bad input (one sentence on standard error)
 */
export async function main(args: readonly string[]): Promise<number> {
  let outcome: Outcome = 0;
  try {
    const program = buildProgram((o) => {
      outcome = o;
    });
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
