import type { RecordEvent } from './event.ts';
import { bodyFault, isKnownKind, type KnownEvent } from './event-kinds.ts';

/** What ids are called. */
export interface EventNames {
  readonly operation: (op: string) => string;
  readonly place: (id: string) => string;
  readonly reading: (id: string) => string;
  readonly choice: (id: string) => string;
  readonly revision: (id: string) => string;
}

/**
 * One event of a build in plain words.
 *
 * @param event  of the stream of a build
 * @param names  what operations, stations, readings, choices and revisions are called
 * @source       arithmetic
 */
export function eventWords(event: RecordEvent, names: EventNames): string {
  if (!isKnownKind(event.kind) || bodyFault(event) !== undefined)
    return `Something this version cannot read (${event.kind}); it is kept and passed on`;
  const e = event as KnownEvent;
  switch (e.kind) {
    case 'build-set-up':
      return `Build begun: ${names.revision(e.body.pattern)}, ${e.body.handed}-handed`;
    case 'pattern-applied':
      return `Pattern applied: ${names.revision(e.body.pattern)}${because(e.body.reason)}`;
    case 'choice-made':
      return `Own choice: ${names.choice(e.body.choice)} ${e.body.value}`;
    case 'own-figure-set':
      return `${names.choice(e.body.figure)} set to ${plainNumber(e.body.value)} ${e.body.unit}${because(e.body.reason)}`;
    case 'step-started':
      return `Started: ${names.operation(e.body.op)}${e.body.station ? `, ${names.place(e.body.station)}` : ''}`;
    case 'step-done':
      return `Done: ${names.operation(e.body.op)}${e.body.part ? `, part ${e.body.part}` : ''}`;
    case 'step-reopened':
      return `Opened again: ${names.operation(e.body.op)}${because(e.body.reason)}`;
    case 'step-skipped':
      return `Left out: ${names.operation(e.body.op)}${because(e.body.reason)}`;
    case 'coarse-step-done':
      return `Done in one: ${e.body.ops.map(names.operation).join('; ')}`;
    case 'done-before-record':
      return `Done before the record began: ${e.body.ops.map(names.operation).join('; ')}`;
    case 'put-in-clamps':
      return `Put in clamps: ${names.operation(e.body.op)}${held(e.body.holds, names)}`;
    case 'released':
      return `Released: ${names.operation(e.body.op)}${e.body.what ? `, ${names.place(e.body.what)}` : ''}`;
    case 'reading':
      return readingWords(e.body, names);
    case 'hold-signed':
      return `Signed: ${names.operation(e.body.op)}, ${e.body.sign}`;
    case 'part-replaced':
      return `Made again from ${names.operation(e.body.op)}${because(e.body.reason)}`;
    case 'repair-decided':
      return `Decided, ${e.body.decision}: ${e.body.fault}`;
    case 'repair-done':
      return `Repair done: ${names.operation(e.body.op)}${because(e.body.how)}`;
    case 'help-asked':
      return 'Asked for the teacher';
    case 'help-given':
      return 'The teacher came';
    case 'build-handed-over':
      return 'Handed over';
    case 'note':
      return `Note: ${e.body.text}`;
    case 'photo':
      return `Photo${because(e.body.words)}`;
    case 'incident':
      return `Incident, ${e.body.severity}: ${e.body.text}`;
    case 'incident-closed':
      return `Incident closed: ${e.body.text}`;
    case 'revision-made':
      return `Revision kept: ${e.body.name ?? e.body.revision}`;
    case 'price-entered':
      return `Price of ${e.body.part}: ${plainNumber(e.body.price)} ${e.body.currency}`;
    case 'event-withdrawn':
      return `Took back an entry${because(e.body.reason)}`;
    default:
      return e.kind;
  }
}

const because = (words: string | undefined): string => (words ? `: ${words}` : '');
const plainNumber = (value: number): string => String(Number(value.toFixed(4)));

function held(holds: readonly { readonly what: string }[], names: EventNames): string {
  const what = holds.map((h) => names.place(h.what));
  return what.length > 0 ? `, ${what.join(', ')}` : '';
}

function readingWords(
  body: Extract<KnownEvent, { readonly kind: 'reading' }>['body'],
  names: EventNames,
): string {
  const unit = body.unit && body.unit !== '-' ? ` ${body.unit}` : '';
  const value = body.value === undefined ? (body.said ?? 'checked') : `${plainNumber(body.value)}${unit}`;
  const spot = body.spot ? ` at ${body.spot}` : '';
  const verdict = body.verdict ? `, ${body.verdict.state}` : '';
  return `Read: ${names.reading(body.reading)}${spot} ${value}${verdict}`;
}
