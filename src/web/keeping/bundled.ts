import type { PatternText } from './server.ts';

const texts = import.meta.glob('../../../data/patterns/*.yaml', {
  query: '?raw',
  import: 'default',
  eager: true,
}) as Record<string, string>;

const ORDER = ['small-steel-string', 'nylon-string', 'tenor-ukulele'];

/** The starting patterns, bundled with the page so that it works without a server. */
export const bundledPatterns: readonly PatternText[] = Object.entries(texts)
  .map(([path, text]) => {
    const id = path.replace(/^.*\//, '').replace(/\.yaml$/, '');
    return { id, name: /^name:\s*(.+)$/m.exec(text)?.[1]?.trim() ?? id, text };
  })
  .sort((a, b) => ORDER.indexOf(a.id) - ORDER.indexOf(b.id));
