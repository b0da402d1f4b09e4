/** First letter large, the rest as it is. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Distance in letters, for "did you mean". */
function letterDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(
        Math.min(
          (row[j] ?? 0) + 1,
          (next[j - 1] ?? 0) + 1,
          (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1),
        ),
      );
    row = next;
  }
  return row[b.length] as number;
}

/** The known word nearest to a wrong one, when it is near enough to be a slip. @source arithmetic */
export function nearestWord(word: string, known: Iterable<string>): string | undefined {
  let best: string | undefined;
  let bestDistance = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const k of known) {
    const d = letterDistance(word, k);
    if (d < bestDistance) {
      best = k;
      bestDistance = d;
    }
  }
  return best;
}
