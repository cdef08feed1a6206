/**
 * How the round is joined: plainly, with the first and last stitch crossed, with an extra stitch, twisted. In: the
 * words, numbers in digits. Out: the method and the half turns; null where they say nothing of it.
 */
import type { Join } from '../ast.ts';

/** What twisted means where no turns are named: see `work/join-notes.ts`. */
const FULL_TURN = 2;

/** Most half turns that a text is believed. Chosen: nobody joins a ring with more. */
const MOST_HALF_TURNS = 100;

/** What warns of a twist; nearly every pattern does. */
const WARNS =
  /\b(?:not?|none|nothing|never|nor|neither|without|avoid\w*|free|any|check\w*|mind\w*|watch\w*|look\w*|see|care\w*|sure|beware|ensur\w*|if|whether|unless|until|lest|should|can(?:not)?|may|might|must|prevent\w*|straight\w*|risk\w*|easily)\b|n't\b|\?$/;
/** Half turns that are told, in the order of what is plainest. Numbers in digits. */
const TWISTS: readonly {
  readonly says: RegExp;
  readonly each: number;
  readonly assumed?: true;
}[] = [
  { says: /(\d+)?\s*(?:x\s*)?half[\s-]*(?:turn|twist)s?\b/, each: 1 },
  { says: /(?:(\d+)|\ban?)\s*(?:full|whole|complete)[\s-]*(?:turn|twist)s?\b/, each: FULL_TURN },
  { says: /\bm[oö]bius|\bmoebius|\bhalf\b.*\btwist/, each: 1 },
  { says: /(?:(\d+)|\ban?|\bwith)\s+twists?\b/, each: FULL_TURN, assumed: true },
  // A "German twisted cast-on" twists its loops, not the ring.
  {
    says: /(?<!\b(?:is|are|was|were|be|been|being|has|have|had|gets?|got|becomes?|goes)\s+)\btwisted\b(?!(?:\s+[a-z-]+){0,2}\s+cast(?:ing)?[\s-]*on\b)/,
    each: FULL_TURN,
    assumed: true,
  },
  { says: /^(?:[\s()]|and\b|then\b|now\b)*twist(?:ing)?\b/, each: FULL_TURN, assumed: true },
];

/** The twist that a text asks for: "twisted by 1 half turn", "a full twist"; one that it warns of is none. */
function twistOf(text: string): { readonly halfTurns: number; readonly assumed: boolean } {
  for (const part of text.split(/(?<=[,.;:!?()])/)) {
    if (WARNS.test(part)) continue;
    for (const { says, each, assumed = false } of TWISTS) {
      const found = says.exec(part);
      if (!found) continue;
      const told = each * Number(found[1] ?? 1);
      return { halfTurns: told <= MOST_HALF_TURNS ? told : FULL_TURN, assumed };
    }
  }
  return { halfTurns: 0, assumed: false };
}

/** How a join is told; null where nothing is said of it. */
export function readJoin(text: string): Join | null {
  const { halfTurns, assumed } = twistOf(text);
  const join = (method: Join['method']): Join => ({
    method,
    halfTurns,
    ...(assumed && { assumed: true as const }),
  });
  if (
    /\bcross(?:ed|ing)?\b|swap|\bchang(?:e|ing) (?:the )?places|(?:exchange|trade|switch)\b.*(?:first|last)|(?:first|last)\b.*\bover\b(?:.*(?:first|last)| it\b| them\b| the other\b)/.test(
      text,
    )
  ) {
    return join('crossed');
  }
  if (/\bextra\b|1\s+more\s+st/.test(text)) return join('extra');
  if (halfTurns > 0 || /plain|simple|normal|usual|not\s+to|careful|join/.test(text)) {
    return join('plain');
  }
  return null;
}
