/**
 * How the piece ends: bound off, drawn up, or left live on a holder. Input: the sentence that ends it.
 * Output: the ending, and the count of stitches that it names.
 */
import type { Ending } from './plan.ts';

/**
 * `before`: the ending so far. `endingFollows`: the next sentence ends the piece too. Null leaves it to
 * that one.
 */
export function readEnding(text: string, before: Ending, endingFollows: boolean): Ending | null {
  const held = /\b(?:holder|waste|live|needles?|scrap)\b/.test(text);
  if (held && !/bind|cast|\bbo\b|\bthrough\b/.test(text)) return 'live';
  if (/bind|cast|\bb\/?o\b/.test(text)) return 'bound-off';
  const draws = /draw|thread|run|pull|pass|through|fasten|gather/.test(text);
  if (!draws && before !== 'live') return before;
  // Broken yarn alone: the next sentence says how the loops are held.
  const onlyBroken = /^(?:break|cut)/.test(text) && !/through|draw|gather/.test(text);
  return onlyBroken && endingFollows ? null : 'drawn-up';
}

/** Stitches that the ending takes, where it says how many. */
export function endingCount(text: string): number | null {
  const m =
    /(?:remaining|rem\.?|last|all|these|the)\s+(\d{1,6})\s*(?:live\s+|remaining\s+)?(?:sts?|stitch|loops)/.exec(
      text,
    );
  return m && Number(m[1]);
}
