import { isMap, isScalar, isSeq } from 'yaml';
import { InputError } from '../quantity/input-error.ts';
import type { PatternPoint } from './pattern.ts';
import { parseSource } from './read-yaml.ts';

const written = ({ xMm, yMm }: PatternPoint): string =>
  `[${[xMm, yMm].map((mm) => `${Number(mm.toFixed(3))} mm`).join(', ')}]`;

/**
 * Changes both ends of one top bar in a pattern's text, keeping everything else letter for letter.
 *
 * @param text   YAML text of the pattern
 * @param barId  id of a straight bar under `brace.bars`
 * @param from   one end, mm
 * @param to     the other end, mm
 * @returns      the new text
 * @throws InputError when the pattern has no such straight bar
 * @source       arithmetic
 */
export function setBarEnds(text: string, barId: string, from: PatternPoint, to: PatternPoint): string {
  const once = setEnd(text, barId, 'from', from);
  return setEnd(once, barId, 'to', to);
}

function setEnd(text: string, barId: string, end: 'from' | 'to', at: PatternPoint): string {
  const { document } = parseSource(text, 'pattern');
  const bars = document.getIn(['brace', 'bars'], true);
  const bar = isSeq(bars)
    ? bars.items.find((item) => isMap(item) && String(item.get('id')) === barId)
    : undefined;
  const node = isMap(bar) ? bar.get(end, true) : undefined;
  if (isSeq(node) && node.range) {
    const [start, stop] = node.range;
    return text.slice(0, start) + written(at) + text.slice(stop);
  }
  const found = isScalar(node) ? 'a single value' : 'nothing';
  throw new InputError(
    'no-such-bar',
    `Bar "${barId}" has ${found} at "${end}"; only bars with both ends given can be moved, so give it from and to.`,
    'brace.bars',
  );
}
