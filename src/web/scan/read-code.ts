/** What there is to find: builds of the courses on this device, setting cards of the pattern, stations. */
export interface Known {
  readonly builds: readonly { readonly id: string; readonly number?: number; readonly name: string }[];
  readonly cards: readonly { readonly id: string; readonly title: string }[];
  readonly stations: readonly { readonly id: string; readonly name: string }[];
}

/** Where a code leads inside the book, or one sentence why nowhere. */
export type Found =
  | { readonly kind: 'path'; readonly path: string }
  | { readonly kind: 'says'; readonly says: string };

const to = (path: string): Found => ({ kind: 'path', path });
const says = (words: string): Found => ({ kind: 'says', says: words });

const ID = /^[A-Za-z0-9._-]{1,80}$/;
/** First parts of addresses that codes on paper carry. */
const PLACES = ['card', 'bench', 'builds', 'station'] as const;

/** The path of an address printed on paper. Only the path counts: paper outlives the address of the machine. */
function ofAddress(text: string): Found | undefined {
  let path: string;
  try {
    path = new URL(text).pathname;
  } catch {
    return undefined;
  }
  const [, place, id, more] = path.split('/');
  const isOurs = PLACES.some((p) => p === place) && ID.test(id ?? '') && !more;
  return isOurs
    ? to(`/${place}/${id}`)
    : says(
        `That code says "${text.slice(0, 60)}", which is nothing of this workshop; scan a part tag or a setting card.`,
      );
}

const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ');

/**
 * Where a scanned or typed code leads.
 *
 * @param text  an address from a printed code; or typed: the number on a part tag with or without the part (`4`,
 *              `4 top`), a name, the id or title of a card, a station
 */
export function readCode(text: string, known: Known): Found {
  const typed = plain(text);
  if (typed === '') return says('Type the number on the part tag, or the word over the code of the card.');
  if (/^[a-z][a-z0-9+.-]*:/i.test(text.trim())) {
    const found = ofAddress(text.trim());
    if (found) return found;
  }
  const number = /^#?(\d{1,4})(?!\d)/.exec(typed)?.[1];
  if (number !== undefined) {
    const builds = known.builds.filter((b) => b.number === Number(number));
    if (builds.length === 1) return to(`/bench/${builds[0]?.id}`);
    return says(
      builds.length > 1
        ? `Several builds have the number ${number}; type the name instead.`
        : `No build has the number ${number}; look at the tag again, or type the name.`,
    );
  }
  const builds = known.builds.filter((b) => b.id.toLowerCase() === typed || plain(b.name) === typed);
  if (builds.length === 1) return to(`/bench/${builds[0]?.id}`);
  if (builds.length > 1) return says(`Several builds belong to a "${text.trim()}"; type the number instead.`);
  const dashed = typed.replaceAll(' ', '-');
  const card = known.cards.find((c) => c.id === dashed || plain(c.title) === typed);
  if (card) return to(`/card/${card.id}`);
  const station = known.stations.find((s) => s.id === dashed || plain(s.name) === typed);
  if (station) return to(`/station/${station.id}`);
  return says(
    `Nothing here is called "${text.trim().slice(0, 60)}"; type the number on the part tag, a name, or the word over the code of the card.`,
  );
}
