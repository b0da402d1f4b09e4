import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { readPattern } from '../../pattern/pattern-file.ts';
import type { Context } from '../context.ts';
import { Refusal } from '../refusal.ts';

/** A pattern with its newest text. */
export interface PatternHead {
  readonly id: string;
  readonly name: string;
  /** Hash of the newest revision. */
  readonly hash: string;
  readonly text: string;
  /** True for a starting pattern nobody has changed. */
  readonly isStarting: boolean;
}

/** One revision of a pattern. */
export interface PatternRevision {
  readonly hash: string;
  readonly parent: string | null;
  readonly note: string;
  readonly savedAt: string;
  readonly text: string;
}

/** The stream that holds the shop's patterns, routes and shop files. */
export const SHOP_STREAM = 'shop:main';

/** Id of a text: hash of its content. */
export const contentHash = (text: string): string =>
  createHash('sha256').update(text).digest('hex').slice(0, 32);

interface RevisionBody {
  readonly what: string;
  readonly revision: string;
  readonly parent?: string;
  readonly name?: string;
  readonly text: string;
  readonly of?: string;
  readonly note?: string;
}

const startingFiles = (context: Context): readonly { readonly id: string; readonly text: string }[] => {
  const folder = path.join(context.dataFolder, 'patterns');
  const order = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];
  return fs
    .readdirSync(folder)
    .filter((f) => f.endsWith('.yaml'))
    .map((f) => ({ id: f.replace(/\.yaml$/, ''), text: fs.readFileSync(path.join(folder, f), 'utf8') }))
    .sort((a, b) => order.indexOf(a.id) - order.indexOf(b.id));
};

const nameOf = (text: string): string => /^name:\s*(.+)$/m.exec(text)?.[1]?.trim() ?? 'Pattern';

async function revisionBodies(
  context: Context,
): Promise<readonly (RevisionBody & { readonly timeMs: number })[]> {
  const events = await context.events.ofStreams([SHOP_STREAM]);
  return events
    .filter((e) => e.kind === 'revision-made' && (e.body as RevisionBody).what === 'pattern')
    .map((e) => ({ ...(e.body as RevisionBody), timeMs: e.time }));
}

/** All that is kept of patterns: what they start with and what was made since. */
interface KeptPatterns {
  readonly starting: ReturnType<typeof startingFiles>;
  readonly bodies: Awaited<ReturnType<typeof revisionBodies>>;
}

const readKept = async (context: Context): Promise<KeptPatterns> => ({
  starting: startingFiles(context),
  bodies: await revisionBodies(context),
});

/** All revisions of a pattern, the oldest first; a starting pattern begins with its own text. */
export async function revisionsOf(context: Context, id: string): Promise<readonly PatternRevision[]> {
  return revisionsIn(await readKept(context), id);
}

function revisionsIn(kept: KeptPatterns, id: string): readonly PatternRevision[] {
  const starting = kept.starting.find((s) => s.id === id);
  const first: PatternRevision[] = starting
    ? [
        {
          hash: contentHash(starting.text),
          parent: null,
          note: 'Starting pattern',
          savedAt: new Date(0).toISOString(),
          text: starting.text,
        },
      ]
    : [];
  const made = kept.bodies
    .filter((b) => b.of === id)
    .map((b) => ({
      hash: b.revision,
      parent: b.parent ?? null,
      note: b.note ?? '',
      savedAt: new Date(b.timeMs).toISOString(),
      text: b.text,
    }));
  const all = [...first, ...made];
  if (all.length === 0)
    throw new Refusal(
      404,
      'no-such-pattern',
      `There is no pattern "${id}" here; the list of patterns shows what there is.`,
    );
  return all;
}

/** Every pattern with its newest text. */
export async function allPatterns(context: Context): Promise<readonly PatternHead[]> {
  const kept = await readKept(context);
  const own = kept.bodies.map((b) => b.of ?? '').filter((id) => id !== '');
  const ids = [...new Set([...kept.starting.map((s) => s.id), ...own])];
  return ids.map((id) => {
    const revisions = revisionsIn(kept, id);
    const newest = revisions.at(-1) as PatternRevision;
    return {
      id,
      name: nameOf(newest.text),
      hash: newest.hash,
      text: newest.text,
      isStarting: revisions.length === 1 && newest.parent === null && newest.savedAt.startsWith('1970'),
    };
  });
}

/**
 * Keeps a new revision. Two revisions from one parent are both kept; the second maker is told, so that nothing is overwritten.
 *
 * @throws InputError when the text is no pattern, Refusal 409 when another revision stands on the same parent
 */
export async function saveRevision(
  context: Context,
  id: string,
  revision: { readonly text: string; readonly parent: string | null; readonly note: string },
  by: string,
): Promise<{ readonly hash: string }> {
  const { name } = readPattern(revision.text);
  const known = await revisionsOf(context, id);
  const hash = contentHash(revision.text);
  if (known.at(-1)?.hash === hash) return { hash };
  const parent = revision.parent ?? (known[0] as PatternRevision).hash;
  if (!known.some((r) => r.hash === parent))
    throw new Refusal(
      409,
      'unknown-parent',
      'The revision this one was made from is not kept here; open the pattern again and make the change there.',
    );
  const brother = known.find((r) => r.parent === parent && r.hash !== hash);
  await keepRevision(context, { of: id, name, text: revision.text, parent, note: revision.note, hash }, by);
  if (brother)
    throw new Refusal(
      409,
      'two-revisions',
      'Another revision was made from the same one meanwhile; both are kept. Look at the two and choose which to go on with.',
      { hash, other: brother.hash },
    );
  return { hash };
}

/** Keeps the first revision of a new pattern; its id is made from its name. */
export async function addPattern(
  context: Context,
  text: string,
  note: string,
  by: string,
): Promise<{ readonly id: string; readonly hash: string }> {
  const { name } = readPattern(text);
  const taken = new Set((await allPatterns(context)).map((p) => p.id));
  const base =
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 60) || 'pattern';
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
  const hash = contentHash(text);
  await keepRevision(context, { of: id, name, text, note, hash }, by);
  return { id, hash };
}

async function keepRevision(
  context: Context,
  r: {
    readonly of: string;
    readonly name: string;
    readonly text: string;
    readonly parent?: string;
    readonly note: string;
    readonly hash: string;
  },
  by: string,
): Promise<void> {
  const body = {
    what: 'pattern',
    revision: r.hash,
    name: r.name,
    text: r.text,
    of: r.of,
    ...(r.parent ? { parent: r.parent } : {}),
    ...(r.note.trim() ? { note: r.note } : {}),
  };
  const arrived = await context.events.append([
    context.recorder.make({ stream: SHOP_STREAM, kind: 'revision-made', by, body }),
  ]);
  context.live.tell(arrived);
}
