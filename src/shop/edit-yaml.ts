import { isScalar, parseDocument } from 'yaml';
import { InputError } from '../quantity/input-error.ts';

/** Keys and list places (0 first) from the top of a file to one value. */
export type YamlPath = readonly (string | number)[];

/**
 * Parses YAML text into plain values.
 *
 * @param text  the file
 * @param what  what the file is called in a sentence: `The shop file`
 * @throws InputError with line and column when the text is no YAML
 * @source from memory
 */
export function parseYaml(text: string, what: string): unknown {
  const document = parseDocument(text, { prettyErrors: true, uniqueKeys: true });
  const error = document.errors[0];
  if (error) {
    const place = error.linePos?.[0];
    const where = place ? ` at line ${place.line}, column ${place.col}` : '';
    const why = error.message.split(/ at line|\n/)[0] ?? 'it cannot be read';
    throw new InputError(
      'broken-yaml',
      `${what} is no readable YAML${where}: ${why}; mend that line and try again.`,
    );
  }
  try {
    return document.toJS({ maxAliasCount: 100 });
  } catch (thrown) {
    // an alias (*name) without its anchor, or far too many of them, is found only here
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    throw new InputError(
      'broken-yaml',
      `${what} is no readable YAML: ${why}; write the values out and try again.`,
    );
  }
}

/**
 * Writes one value into YAML text and leaves every other byte, comments and spacing as they are.
 *
 * @param text   the file as it is
 * @param path   where the value stands
 * @param value  the new value, as it is to be written
 * @returns      the new text; a key that was not there is added at the end of its group
 * @source       arithmetic
 */
export function withYamlValue(text: string, path: YamlPath, value: string | number): string {
  const document = parseDocument(text, { keepSourceTokens: true });
  const node = document.getIn(path, true);
  if (isScalar(node) && node.range) {
    const [from, to] = node.range;
    return text.slice(0, from) + asScalar(value) + text.slice(to);
  }
  document.setIn(path, value);
  return document.toString({ lineWidth: 0 });
}

/** A scalar as YAML text, quoted only where plain text would be read as something else. */
function asScalar(value: string | number): string {
  const text = String(value);
  const isPlain =
    /^[A-Za-z0-9.+-][A-Za-z0-9 ./%+-]*$/.test(text) && !/^(true|false|null|yes|no)$/i.test(text);
  return isPlain ? text : JSON.stringify(text);
}
