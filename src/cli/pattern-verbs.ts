import type { Command } from 'commander';
import { collect, type Finish, numberOption } from './verb-parts.ts';

/** Verbs over patterns. */
export function addPatternVerbs(program: Command, finish: Finish): void {
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
    .option('--shop <file>', 'shop file the settings are for')
    .option('--judge', 'exit 1 when the second breaks a rule')
    .option('--json', 'as JSON')
    .description('what differs between two patterns, or what a change touches')
    .action((a, b, options) => finish(import('./compare.ts').then((m) => m.compareCommand(a, b, options))));
  program
    .command('draw')
    .argument('<pattern>', 'pattern file or name')
    .requiredOption('--what <drawing>', 'which drawing; "list" lists them, "all" takes all into one PDF')
    .option('--format <format>', 'svg, pdf or dxf', 'pdf')
    .option('--paper <paper>', 'letter, a4, a3, or sheet for one large sheet', 'letter')
    .option('--printed-100 <length>', 'what your printer made of the 100 mm line; the set is corrected by it')
    .option('--set <input=value>', 'change an input; may be given again', collect, [])
    .option('--out <file>', 'file to write')
    .option('--json', 'as JSON')
    .description('a drawing at full scale')
    .action((pattern, options) => finish(import('./draw.ts').then((m) => m.drawCommand(pattern, options))));
  program
    .command('cards')
    .argument('<pattern>', 'pattern file or name')
    .requiredOption('--out <file>', 'PDF to write')
    .option('--shop <file>', 'shop file: machines and jigs the cards are for')
    .option('--set <input=value>', 'change an input; may be given again', collect, [])
    .option('--paper <paper>', 'letter, a4, a3 or sheet')
    .option('--address <address>', 'address that opens a card on a phone, without the id of the card')
    .option('--json', 'as JSON')
    .description('all setting cards')
    .action((pattern, options) => finish(import('./cards.ts').then((m) => m.cardsCommand(pattern, options))));
  program
    .command('fit-outline')
    .argument('<file>', 'measured half widths (CSV, YAML) or a closed curve (SVG, DXF)')
    .option('--out <file>', 'pattern file to write')
    .option('--svg <file>', 'drawing of what is left over to write')
    .option('--own', 'keep the curve through the measured places instead of the few numbers')
    .option(
      '--curve <number>',
      'which closed curve of body size in a drawing with several, the largest is 1',
      numberOption('--curve', 1, 20),
    )
    .option('--json', 'as JSON')
    .description('a pattern from a template, with what is left over')
    .action((file, options) => finish(import('./fit.ts').then((m) => m.fitOutlineCommand(file, options))));
  program
    .command('fit-frets')
    .argument('<file>', 'measured fret places')
    .option('--json', 'as JSON')
    .description('the scale of a measured board and its worst slot')
    .action((file, options) => finish(import('./fit.ts').then((m) => m.fitFretsCommand(file, options))));
  program
    .command('pass-plan')
    .requiredOption('--start <length>', 'thickness now')
    .requiredOption('--target <length>', 'thickness wanted')
    .requiredOption('--per-pass <length>', 'taken off in one pass')
    .option('--last-per-pass <length>', 'taken off in each of the last passes')
    .option('--last-passes <count>', 'how many last passes')
    .option('--alpha <length>', 'offset of the machine: measured = alpha + beta x typed')
    .option('--beta <number>', 'slope of the machine')
    .option('--faces <word>', 'alternate or one')
    .option('--low <length>', 'low limit: no pass goes under it')
    .option('--json', 'as JSON')
    .description('the numbers to type at the thickness sander')
    .action((options) => finish(import('./pass-plan.ts').then((m) => m.passPlanCommand(options))));
}
