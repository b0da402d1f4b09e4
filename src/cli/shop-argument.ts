import { InputError } from '../quantity/input-error.ts';
import { PLAIN_SHOP, type Shop } from '../shop/shop.ts';
import { readShop } from '../shop/shop-file.ts';
import { readText } from './door.ts';

/** A shop named on the command line. @throws InputError naming the file */
export function shopArgument(file: string | undefined): Shop {
  if (file === undefined) return PLAIN_SHOP;
  const text = readText(file);
  try {
    return readShop(text);
  } catch (error) {
    if (error instanceof InputError)
      throw new InputError(error.code, `${file}: ${error.message}`, error.member);
    throw error;
  }
}
