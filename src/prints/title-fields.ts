import type { Drawing } from '../drawing/model.ts';
import type { TitleFields } from '../drawing/title-block.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { inputSpec } from '../pattern/pattern-file.ts';

/** What a print says of where it comes from. */
export interface PrintOrigin {
  /** Revision as people say it. */
  readonly revision: string;
  /** Day in words, given by the caller. */
  readonly drawnOn: string;
  readonly isDemo?: boolean;
}

const NAMED_AT_MOST = 4;

/**
 * The sentence for numbers that are not yet the teacher's own; undefined when all are.
 *
 * @source arithmetic
 */
export function notYetMineNote(pattern: Pattern): string | undefined {
  const open = [...pattern.numbers.keys()].filter((id) => !pattern.mine.has(id));
  if (open.length === 0) return undefined;
  const named = open.slice(0, NAMED_AT_MOST).map((id) => inputSpec(id)?.label ?? id);
  const more = open.length > NAMED_AT_MOST ? ` and ${open.length - NAMED_AT_MOST} more` : '';
  return `Rests on numbers that are not yet yours: ${named.join(', ')}${more}. Confirm them before you cut.`;
}

/**
 * Title block of a drawing of a pattern.
 *
 * @source common practice, no published source
 */
export function titleFieldsOf(pattern: Pattern, drawing: Drawing, origin: PrintOrigin): TitleFields {
  const note = notYetMineNote(pattern);
  return {
    pattern: pattern.name,
    revision: origin.revision,
    title: drawing.title,
    seenFrom: drawing.seenFrom,
    units: 'mm (in)',
    drawnOn: origin.drawnOn,
    ...(pattern.handed === 'left' ? { isLeftHanded: true } : {}),
    ...(origin.isDemo ? { isDemo: true } : {}),
    ...(note ? { notes: [note] } : {}),
  };
}
