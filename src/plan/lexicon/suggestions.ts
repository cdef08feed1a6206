/**
 * The stitch word that a mistyped one most likely means, by the fewest slips of the fingers
 * (letters swapped, missed, doubled or wrong: Damerau–Levenshtein distance).
 */
const WORDS = (
  'k2tog p2tog k3tog p3tog ssk ssp sssk skp skpo sk2p s2kp cdd yo kfb pfb m1 m1l m1r m1p m1lp m1rp ktbl ptbl ' +
  'psso tbl wyif wyib knit purl repeat rep round row marker pm sm turn twice times around'
).split(' ');

function distance(a: string, b: string): number {
  const width = b.length + 1;
  const d = new Array<number>((a.length + 1) * width).fill(0);
  for (let i = 0; i <= a.length; i++) d[i * width] = i;
  for (let j = 0; j <= b.length; j++) d[j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(
        d[(i - 1) * width + j] + 1,
        d[i * width + j - 1] + 1,
        d[(i - 1) * width + j - 1] + cost,
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, d[(i - 2) * width + j - 2] + 1);
      }
      d[i * width + j] = best;
    }
  }
  return d[a.length * width + b.length];
}

/** The known word nearest to `word`, or null if none is near. `more` are the plan's own words. */
export function nearestWord(word: string, more: Iterable<string> = []): string | null {
  if (word.length < 2 || word.length > 12) return null;
  if (WORDS.includes(word)) return null;
  let best: string | null = null;
  let least = word.length <= 3 ? 2 : 3;
  for (const known of [...WORDS, ...more]) {
    if (Math.abs(known.length - word.length) > 2 || known[0] !== word[0]) continue;
    const d = distance(word, known);
    if (d > 0 && d < least) {
      least = d;
      best = known;
    }
  }
  return best;
}

/** True where `word` is one slip of the fingers from one of `known` (two in a long word), and not in it. */
export function near(word: string, known: readonly string[]): boolean {
  if (word.length < 4) return false;
  for (const k of known) {
    if (Math.abs(k.length - word.length) > 2 || k[0] !== word[0]) continue;
    const d = distance(word, k);
    if (d > 0 && d <= (k.length >= 6 ? 2 : 1)) return true;
  }
  return false;
}
