/**
 * A round that the last of several passes goes without: "leave out the knit round the fifth time", "do not work round 4
 * after the last of these", "but not round 5 on the final repeat". In: a cursor at the words. Out: which round it is, and
 * which pass; null and the cursor unmoved otherwise.
 */
import type { EndRound } from '../ast.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { roundByName } from './round-by-name.ts';

const JOINT =
  ',|;|.|(|-|and|but|only|just|now|please|though|however|you|we|i|one|except|excepting|that|save|must|should|need|do|there|is|to|so|always|simply*';
/** `false`: only where the words also tell which pass, or call the round the last one. */
const LEAVES_OUT: readonly (readonly [string, boolean])[] = [
  ["not|don't|never work|knit|purl|do|repeat|make|include|follow|add", false],
  ['omit|omitting|omits|skip|skipping|skips|drop|dropping|forget|ignore', true],
  ['leave|leaving|leaves|miss|missing away|out|off', true],
  ['without|minus', true],
  ['without|not working|knitting|purling|doing', true],
  ['except|excepting for?', false],
  ['no|not', false],
];
const LAST = 'last|final|very';
const TIMES =
  'time|times|repeat|repetition|rep|repeats|go|pass|set|sequence|round-about|occasion|#';
const WHEN = [
  `,? on|in|at|for|with|during? the|this|its|your|that? ${LAST}* % ${TIMES}`,
  `,? on|in|at|for|with|during? the|this|its|your|that? very? last|final very? ${TIMES} ,? round|around?`,
  ',? on|in|at|with the very? last|final of them|these|those',
  ',? at|in the very? end|last|finish',
  ',? after|behind|following|upon the|that|a|this|your? very? last|final of? them|these|those|all? decrease|decreasing|decreases|dec|increase|increasing|inc|shaping? @unit? #?',
  ',? after it|that|them|this|these',
];
const AGAIN = 'out|off|away|any|more|again|behind|then|too*';
const IS_NOT = [
  'is|are|being|will|be|gets|must|should|can|to|then|now* left|missed|dropped out|off|away?',
  'is|are|being|will|be|gets|must|should|can|to|then|now* omitted|skipped|dropped',
  "is|are|being|will|be|gets|must|should* not|never|n't then|longer|again|be* worked|knitted|knit|purled|made|done|repeated|needed|necessary",
  'is|are no longer? worked|knitted|made|done|needed|necessary',
  'falls|drops away|out|off',
];

/** The pass that is named: its number, null for the last one; undefined where none is. */
function pass(c: TokenCursor): number | null | undefined {
  const n = saysAny(c, WHEN);
  return n ? (n.find((k) => k !== null) ?? null) : undefined;
}

/** "finishing after round 4 on the last repeat": of the last pass, which the end is in any case. */
export function onLastPass(c: TokenCursor): void {
  c.takes(() => pass(c) === null || null);
}

/** Of a number behind "round", as in "after the last round 3", no pass is meant. */
function passSaid(c: TokenCursor): number | null | undefined {
  const { i } = c;
  const n = pass(c);
  return n === undefined
    ? n
    : /\b(?:after|behind|following|upon)\b/.test(c.slice(i, c.i))
      ? null
      : n;
}

interface Named {
  readonly round: EndRound | null;
  readonly last: boolean;
}

/** "the very last round 4", "the plain one", "it" */
function named(c: TokenCursor): Named | null {
  return c.attempt(() => {
    const { i } = c;
    says(c, 'that|the|your|this|out|also|any|another|a|more|further|last|final|very*');
    const last = /\b(?:last|final|another|more|further)\b/.test(c.slice(i, c.i));
    const round = roundByName(c);
    if (round) return { round, last };
    // "leave out the last round", "skip the last one"
    return last && says(c, '@unit|#') ? { round: null, last } : null;
  });
}

export function leftOut(c: TokenCursor): EndRound | null {
  return c.attempt(() => {
    const open = c.mark('(') || c.mark('(', 1);
    says(c, JOINT);
    let time = passSaid(c);
    if (time !== undefined) says(c, ',|:|do|you|we|is|are|the|only|just*');
    const told = (round: Named | null, plainly: boolean): EndRound | null => {
      if (!round) return null;
      says(c, AGAIN);
      if (time === undefined) time = passSaid(c);
      if (time === undefined && !round.last && !plainly) return null;
      const always = time === undefined && !round.last;
      if (/s$/.test(c.word(-1)) && c.i > 0 && /^(?:in|between|before)$/.test(c.word())) return null;
      if (open) c.eatMark(')');
      return { without: round.round, time: time ?? null, always };
    };
    for (const [rule, alone] of LEAVES_OUT) {
      const out = c.attempt(() => (says(c, rule) ? told(named(c), alone) : null));
      if (out) return out;
    }
    return c.attempt(() => {
      const round = named(c);
      if (!round) return null;
      says(c, ',|(');
      const before = time;
      if (time === undefined) time = passSaid(c);
      if (!saysAny(c, IS_NOT)) {
        time = before;
        return null;
      }
      return told(round, false);
    });
  });
}
