import type { Command } from 'commander';
import { InputError } from '../quantity/input-error.ts';

/** What a verb gives back: its exit code, now or later. */
export type Outcome = number | Promise<number>;
/** Takes the outcome of the verb that was called. */
export type Finish = (outcome: Outcome) => void;

/** Gathers an option that may be given again. */
export const collect = (value: string, before: readonly string[]): string[] => [...before, value];

/** Reads a number of an option. @throws InputError with one sentence */
export const numberOption =
  (what: string, low: number, high = Number.MAX_VALUE) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value < low || value > high)
      throw new InputError(
        'option-number',
        `${what} is "${text}"; give a number ${high === Number.MAX_VALUE ? `of at least ${low}` : `between ${low} and ${high}`}.`,
      );
    return value;
  };

/** Adds options to a command that has them in common with others. */
export const withJson = (command: Command): Command => command.option('--json', 'as JSON');
