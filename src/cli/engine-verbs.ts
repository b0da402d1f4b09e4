import type { Command } from 'commander';
import type { Finish } from './verb-parts.ts';

/** Verbs of the engines: plates, projects. */
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
    .option('--seconds <number>', 'time to search')
    .option('--schedules <number>', 'schedules to try')
    .option('--seed <number>', 'seed of the search')
    .option('--json', 'as JSON')
    .description('a short schedule for any resource-constrained project')
    .action((file, options) => finish(import('./project.ts').then((m) => m.projectCommand(file, options))));
}
