/**
 * Words that no instruction holds, sentence by sentence. In: a passage, its stretch of tokens. Out: a statement for each sentence:
 * told, asked for and not followed, or a heading.
 */
import type { Statement } from './ast.ts';
import { readChangeTold } from './change-told.ts';
import { listsMeanings } from './explains.ts';
import { looksLikeRound } from './garbled.ts';
import { isChat } from './leftovers.ts';
import { asksForMore } from './mood.ts';
import { ordersBehind } from './out-of-place.ts';
import type { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { SECOND_PIECE } from './refused.ts';
import { asksForOwn } from './round-names.ts';
import { readStatedCount } from './steps/stated-counts.ts';
import { isLame, MOST_PARTS, stitchSentence } from './stitch-sentences.ts';
import { limits } from './word-law.ts';

/** "Now for the corners. On every needle …": where a round's stitches begin behind sentences that ask for nothing. */
export function behindProse(passage: Passage, from: number, end: number): number {
  let at = from;
  for (let n = 0; n < MOST_PARTS; n++) {
    const next = passage.sentenceEnd(at, end, '.!?') + 1;
    if (next >= end || sentenceInstructs(passage.tokens.slice(at, next - 1))) return from;
    at = next;
    const body = passage.body(null, at, end);
    if (body.kind === 'steps' && !isLame(body) && body.hasStitches) return at;
  }
  return from;
}

/** "Round 4. Here come the corners. On each needle: …": where the stitches of a labelled round begin behind mere chat. */
export function behindChat(passage: Passage, from: number, end: number): number {
  const at = behindProse(passage, from, end);
  const lead = passage.tokens.slice(from, at).filter((t) => t.kind !== 'mark');
  return isChat(lead) ? at : from;
}

/** Sentences behind an ending in its line: finishing, or what is said of stitches that are kept. */
export function sentencesBehind(
  passage: Passage,
  from: number,
  end: number,
  ended: boolean,
): Statement[] {
  const out: Statement[] = [];
  for (let i = from; i < end; ) {
    const next = Math.min(end, passage.sentenceEnd(i, end, '.!?') + 1);
    const words = passage.tokens.slice(i, next);
    out.push(
      ended
        ? behindTheEnd(passage, i, next)
        : {
            kind: 'prose',
            heading: false,
            instructs: sentenceInstructs(words),
            ...passage.span(i, next),
          },
    );
    i = next;
  }
  return out;
}

/** A sentence behind the end of the piece: finishing, or more to be knitted. */
function behindTheEnd(passage: Passage, from: number, end: number): Statement {
  const words = passage.tokens.slice(from, end);
  const at = passage.span(from, end);
  if (asksForMore(words)) return { kind: 'refused', ...SECOND_PIECE, ...at };
  const draws = DRAWS.test(words.map((t) => t.text).join(' '));
  const instructs =
    !listsMeanings(words) && (looksLikeRound(words) || (!draws && ordersBehind(words)));
  return { kind: 'prose', heading: true, instructs, ...at };
}

/** "Thread the 10 sts and close up the centre": told once more; whether there are as many is looked at where it stands. */
const DRAWS =
  /^(?:now |then |finally )?(?:thread|draw|gather|pass|pull|run)\b(?!.*\b(?:knit|purl|round|rnd|row|repeat)\b).{0,40}\b(?:sts|stitches|loops)\b/;

/** Sentences that no rule follows. */
export function proseSentences(
  passage: Passage,
  from: number,
  end: number,
  rounds = false,
): Statement[] {
  const out: Statement[] = [];
  let i = from;
  let heading = true;
  while (i < end) {
    const stop = passage.sentenceEnd(i, end, '.!?');
    const words = passage.tokens.slice(i, stop);
    if (words.length > 0) {
      const text = passage.text.slice(words[0].from, words[words.length - 1].to);
      const change = readChangeTold(passage.cursor(i, stop)) !== null;
      const stated = change || limits(words) ? null : readStatedCount(text);
      if (stated && /\bsts?\b|stitch/.test(text))
        out.push({ kind: 'count', stated, ...passage.span(i, stop) });
      else {
        const to = Math.min(end, stop + 1);
        const round = rounds ? stitchSentence(passage, i, stop, end) : null;
        out.push(
          round?.statement ?? {
            kind: 'prose',
            heading: heading && (stop >= end || words.length < 4),
            instructs: !change && (sentenceInstructs(words) || asksForOwn(passage.cursor(i, stop))),
            ...passage.span(i, to),
          },
        );
      }
    }
    heading = false;
    i = stop + 1;
  }
  return out;
}
