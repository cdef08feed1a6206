/**
 * How the piece ends: bound off, drawn up, or left live on a holder. In: a cursor where such a sentence may
 * begin. Out: true and the cursor behind its first words; the rest of it says how (`endingOf`).
 */

import { LEADS } from '../../lexicon/words.ts';
import type { Ending } from '../../plan.ts';
import { colourName } from '../colours.ts';
import { eatStitches } from '../phrases.ts';
import type { TokenCursor } from '../token-cursor.ts';

/** The sentence that begins here ends the piece. */
export function readEndHead(c: TokenCursor): boolean {
  return c.takes(() => {
    c.skip(LEADS);
    if (c.attempt(() => (/^(?:using|with)$/.test(c.word()) ? offLater(c) : null))) return true;
    c.phrase('loosely|carefully');
    if (c.phrase('bind|binding|cast|casting off') || c.phrase('bo') || c.slashed('b', 'o')) {
      return notAtEdge(c) || null;
    }
    if (c.phrase('break|cut|b')) {
      if (
        c.attempt(() => {
          c.phrase('off');
          c.phrase('the');
          return colourName(c);
        })
      )
        return null;
      if (c.eatMark('&') || c.phrase('and')) return c.phrase('draw|thread|t|pull') || null;
      c.phrase('off');
      c.phrase('the|your');
      return c.phrase('yarn|wool|working|thread|tail') || c.done || c.mark('.,') || null;
    }
    if (c.phrase('draw|thread|run|pull|pass|take|lead|bring')) {
      const yarn = /^(?:take|lead|bring)$/.test(c.word(-1));
      if (c.phrase('up')) return true;
      for (let n = 0; n < 12 && !c.done && !c.mark('.'); n++) {
        if (c.phrase('through'))
          return (
            !yarn ||
            /\b(?:sts|stitches|loops)\b/.test(c.slice(c.i, Math.min(c.end, c.i + 6))) ||
            null
          );
        c.i++;
      }
      return null;
    }
    if (c.phrase('fasten|finish|tie|close off')) return true;
    if (c.phrase('gather')) {
      c.phrase('up');
      return c.phrase('the|remaining|rem|last|sts|all') || null;
    }
    if (c.phrase('leave|slip|place|put|transfer')) return held(c) || null;
    return null;
  });
}

/** "Using a stretchy method, bind off". */
function offLater(c: TokenCursor): true | null {
  for (let n = 0; n < 14 && !c.done && !c.mark('.'); n++) {
    if (c.phrase('bind|cast off') || c.phrase('bo')) return true;
    if (c.isNumber() || /^(?:knit|purl|k|p)$/.test(c.word())) return null;
    c.i++;
  }
  return null;
}

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
function notAtEdge(c: TokenCursor): boolean {
  const start = c.i;
  c.phrase('the?');
  c.phrase('first|next');
  const n = c.number();
  let edge = false;
  if (n !== null) {
    eatStitches(c);
    edge =
      c.mark(',;') || /^(?:at|then|and|k|p|knit|purl)$/.test(c.word()) || /^[kp]\d/.test(c.word());
  }
  c.i = start;
  return !edge;
}

/** "Place remaining sts on a holder". */
function held(c: TokenCursor): boolean {
  for (let n = 0; n < 6; n++) {
    if (c.phrase('the|all|remaining|rem|live|these|last|your') || c.number() !== null) continue;
    break;
  }
  if (!c.phrase('sts|stitches|st|loops|stitch')) return false;
  for (let n = 0; n < 10 && !c.done && !c.mark('.'); n++) {
    if (/^(?:each|every)$/.test(c.word())) return false;
    if (c.phrase('holder|waste|live|scrap|thread|holders|spare')) return true;
    c.i++;
  }
  return /\bon\s+(?:the\s+)?needles?\b/.test(c.slice(Math.max(0, c.i - 6), c.i));
}

/**
 * `text`: all of the sentence. `before`: the ending so far. `endingFollows`: the next sentence ends the piece
 * too. Null leaves it to that one.
 */
export function endingOf(text: string, before: Ending, endingFollows: boolean): Ending | null {
  const holds = /\b(?:holder|waste|live|needles?|scrap)\b/.test(text);
  if (holds && !/bind|cast|\bbo\b|\bthrough\b/.test(text)) return 'live';
  if (/bind|cast|\bb\/?o\b/.test(text)) return 'bound-off';
  const draws = /draw|thread|run|pull|pass|through|fasten|gather|tighten/.test(text);
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
