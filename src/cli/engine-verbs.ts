import os from 'node:os';
import type { Command } from 'commander';
import { collect, type Finish, numberOption } from './verb-parts.ts';

/** Lets everything else on this machine go first: the class's own server must answer while a plan is made. */
function giveWay(): void {
  try {
    os.setPriority(os.constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // some systems forbid it; the command is as right at the usual priority
  }
}

/** Verbs of the engines: plates, projects, wood. */
export function addEngineVerbs(program: Command, finish: Finish): void {
  program
    .command('plate')
    .argument('<problem>', 'plate problem, JSON')
    .option('--check', 'estimate the error from a second mesh')
    .option('--json', 'as JSON')
    .description('frequencies and movements of one plate')
    .action((file, options) =>
      finish(
        import('./plate.ts').then((m) =>
          m.plateCommand(file, { check: options.check === true, json: options.json === true }),
        ),
      ),
    );
  program
    .command('project')
    .argument('<instance>', 'resource-constrained project, JSON')
    .option('--seconds <number>', 'time to search', numberOption('--seconds', 0.01, 86_400))
    .option('--schedules <number>', 'schedules to try', numberOption('--schedules', 1, 1e9))
    .option(
      '--seed <number>',
      'seed of the search',
      numberOption('--seed', Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER),
    )
    .option('--json', 'as JSON')
    .description('a short schedule for any resource-constrained project')
    .action((file, options) => finish(import('./project.ts').then((m) => m.projectCommand(file, options))));
  program
    .command('moisture')
    .requiredOption('--temperature <C>', 'temperature of the room, C')
    .requiredOption('--humidity <percent>', 'relative humidity of the room')
    .option('--to-humidity <percent>', 'humidity it changes to')
    .option('--species <name>', 'wood; without it a few usual ones')
    .option('--width <mm>', 'width across the grain, mm')
    .option('--pattern <pattern>', 'say as well how far the saddle of this pattern moves')
    .option('--json', 'as JSON')
    .description('moisture of wood in a room, and how far it moves')
    .action((options) => finish(import('./moisture.ts').then((m) => m.moistureCommand(options))));
  program
    .command('board')
    .argument('<board>', 'measured board, YAML or JSON')
    .option('--pattern <pattern>', 'the pattern whose top it is for: a file or a name', 'small-steel-string')
    .option('--json', 'as JSON')
    .description('what one measured board is, and how thick it wants to be in the whole top')
    .action((file, options) =>
      finish(
        import('./board.ts').then((m) =>
          m.boardCommand(file, { json: options.json === true, pattern: options.pattern }),
        ),
      ),
    );
  program
    .command('schedule')
    .argument('<courses...>', 'course files of one shop, YAML')
    .option('--seconds <number>', 'time to search', numberOption('--seconds', 0.01, 86_400))
    .option(
      '--iterations <number>',
      'plans to try; the same count and seed give the same plan',
      numberOption('--iterations', 1, 1e9),
    )
    .option('--seed <number>', 'seed of the search', numberOption('--seed', -1e15, 1e15))
    .option('--published <file>', 'plan file whose sessions stand')
    .option('--replan <course>', 'a course of it that is planned anew; may be given again', collect, [])
    .option('--publish <file>', 'plan file to write')
    .option('--ics <file>', 'calendar file to write')
    .option('--csv <file>', 'table of the plan to write')
    .option('--draw <file>', 'drawing to write: .pdf with one sheet per session, .svg for the overview')
    .option('--json', 'as JSON')
    .description(
      'a plan for the running courses of a shop, with what it asks and what limits it; exit 1 when a date cannot be met',
    )
    .hook('preAction', giveWay)
    .action((files, options) =>
      finish(import('./schedule.ts').then((m) => m.scheduleCommand(files, options))),
    );
  program
    .command('forecast')
    .argument('<courses...>', 'course files of one shop, YAML')
    .option('--courses <number>', 'courses to play through', numberOption('--courses', 10, 1e6))
    .option('--seed <number>', 'seed of the chance', numberOption('--seed', -1e12, 1e12))
    .option('--json', 'as JSON')
    .description('who will finish when, with what chance, and which step to pull forward')
    .hook('preAction', giveWay)
    .action((files, options) =>
      finish(import('./forecast.ts').then((m) => m.forecastCommand(files, options))),
    );
}
