/**
 * How the round is joined: plainly, with the first and last stitch crossed, with an extra stitch, twisted. In: the
 * words, numbers in digits. Out: the method and the half turns; null where they say nothing of it.
 */
import type { Join } from '../ast.ts';

/** What twisted means where no turns are named: see `work/join-notes.ts`. */
const FULL_TURN = 2;

/** Half turns named in a join: `twisted by 1 half turn`, `a full twist`. Numbers in digits. */
export function readJoin(text: string): Join | null {
  let halfTurns = 0;
  let assumed = false;
  // "being careful not to twist" is the opposite of a twist.
  const clean = text.replace(
    /(?:not\s+(?:to\s+(?:be\s+|get\s+|let\s+)?|be\s+)?|without\s+|no\s+|never\s+|un|isn't\s+|aren't\s+|don't\s+|(?:is|are)\s+not\s+|avoid(?:ing)?\s+(?:any\s+)?)(?:(?:the|your)\s+)?(?:(?:sts|stitches|cast-?on|edge)\s+)?(?:is\s+|are\s+)?(?:twist\w*)/g,
    ' ',
  );
  if (/\btwist|half[\s-]*turns?|m[oö]bius|moebius/.test(clean)) {
    const half = /(\d+)\s*(?:x\s*)?half[\s-]*(?:turns?|twists?)/.exec(clean);
    const full = /(?:(\d+)|a)\s*full\s*(?:turns?|twists?)/.exec(clean);
    if (half) halfTurns = Number(half[1]);
    else if (full) halfTurns = 2 * (full[1] ? Number(full[1]) : 1);
    else if (/m[oö]bius|moebius|half/.test(clean)) halfTurns = 1;
    else [halfTurns, assumed] = [FULL_TURN, true];
    if (!(halfTurns <= 100)) halfTurns = FULL_TURN;
  }
  const join = (method: Join['method']): Join => ({
    method,
    halfTurns,
    ...(assumed && { assumed: true as const }),
  });
  if (
    /\bcross(?:ed|ing)?\b|swap|(?:exchange|trade|switch)\b.*(?:first|last)|(?:first|last)\b.*\bover\b.*(?:first|last)/.test(
      clean,
    )
  ) {
    return join('crossed');
  }
  if (/\bextra\b|1\s+more\s+st/.test(clean)) return join('extra');
  if (halfTurns > 0 || /plain|simple|normal|usual|not\s+to|careful|join/.test(text)) {
    return join('plain');
  }
  return null;
}
