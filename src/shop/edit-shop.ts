import { InputError } from '../quantity/input-error.ts';
import { withYamlValue } from './edit-yaml.ts';
import type { OffsetLine } from './shop.ts';
import { readShop } from './shop-file.ts';

const number = (value: number): number => Number(value.toFixed(4));

/**
 * The shop file with a newly proved offset of one machine; everything else stays as it was written.
 *
 * @param text       the shop file
 * @param machineId  id of the machine
 * @param line       the fitted line and the day of the proof
 * @returns          the new text, already checked by reading it
 * @throws InputError when the shop has no such machine
 * @source           arithmetic
 */
export function withOffset(text: string, machineId: string, line: OffsetLine): string {
  const machines = readShop(text).machines;
  const index = machines.findIndex((m) => m.id === machineId);
  if (index < 0)
    throw new InputError(
      'unknown-machine',
      `The shop has no machine ${machineId}; it has ${machines.map((m) => m.id).join(', ') || 'none'}.`,
      'machines',
    );
  let next = withYamlValue(text, ['machines', index, 'offset', 'alpha'], `${number(line.alphaMm)} mm`);
  next = withYamlValue(next, ['machines', index, 'offset', 'beta'], number(line.beta));
  if (line.provedOn) next = withYamlValue(next, ['machines', index, 'offset', 'proved'], line.provedOn);
  readShop(next);
  return next;
}

/**
 * The shop file with what the printer made of 100 mm.
 *
 * @param text  the shop file
 * @param xMm   measured across the page, 90 to 110
 * @param yMm   measured along the page, 90 to 110
 * @source      arithmetic
 */
export function withPrinter(text: string, xMm: number, yMm: number): string {
  let next = withYamlValue(text, ['printer', 'printed_100_x'], `${number(xMm)} mm`);
  next = withYamlValue(next, ['printer', 'printed_100_y'], `${number(yMm)} mm`);
  readShop(next);
  return next;
}
