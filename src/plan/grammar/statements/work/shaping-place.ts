/**
 * Where shaping told in a clause stands, and by which stitches it is worked, in any words behind it: ", one at the beginning and
 * one at the end of each needle", "working ssk after and k2tog before each corner", "(2 sts at each corner)". In: a cursor at the
 * words, the shaping told so far. Out: the shaping with its place; null and the cursor unmoved otherwise.
 */
import { DECREASE_WORDS, INCREASE_WORDS, SIDE_WORDS } from '../../../lexicon/words.ts';
import type { Shaping } from '../../ast.ts';
import { eatStitch } from '../../phrases.ts';
import { says } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';

const OF_EACH = 'of|on|in* each|every|all|both|the of? the|your? #? @side';
const CORNER = 'each|every|all|the of? the? #? @corner|m';
/** "at the beginning and one at the end of each needle", "before and after every marker" */
const BOTH_ENDS = [
  `at|on|in? the? beg|beginning|start of? it|each|every? @side? ,|and|&* 1|a|an|another|#? @sts? again? at|on|in? the? end|finish|other ${OF_EACH}`,
  `1|a|#? before ,|and|&* 1|a|another|#? after|behind ${CORNER}`,
  `in|into|of|on? the? first and|& last @sts? ${OF_EACH}`,
];

/** Both ends of every side, however that is said. */
export function bothEnds(c: TokenCursor): boolean {
  return BOTH_ENDS.some((rule) => says(c, rule) !== null);
}

/** `at each end`, `each side of every marker`, `at both ends of each needle`, `at each corner` */
export function besides(c: TokenCursor): 'ends' | 'sides' | null {
  return c.attempt(() => {
    c.phrase('at|on|to|in|off|from');
    const before = c.phrase('before and after|on');
    // "at the corners", "at the ends of the needles"
    const all = c.word() === 'the' && /^(?:corners|markers|ends|sides|edges)$/.test(c.word(1));
    if (!before && !c.phrase(all ? 'the' : 'each|both|either|every')) return null;
    if (before || c.phrase('end|ends|side|sides|edge|edges')) {
      const of = c.attempt(() => {
        if (!before && !c.phrase('of')) return null;
        c.phrase('each|every|all|the|both|marked');
        c.phrase('of');
        c.phrase('the');
        c.isNumber() && c.i++;
        if (
          c.peek()?.kind === 'word' &&
          !c.isWord(SIDE_WORDS) &&
          /^(?:markers?|m|corners?)$/.test(c.word(1))
        )
          c.i++;
        if (!(c.isWord(SIDE_WORDS) || /^(?:markers?|m|mkrs?)$/.test(c.word()))) return null;
        c.i++;
        c.phrase('st|stitch|sts|marker|markers|thread|threads');
        return true;
      });
      if (of) return 'sides';
      if (before) return null;
      c.attempt(() =>
        c.phrase('of') &&
        !/^(?:next|every|each|foll|following|this|the|alternate|alt)$/.test(c.word())
          ? null
          : true,
      );
      return 'ends';
    }
    if (/^(?:corners?|markers?|m|sides?|needles?|sections?)$/.test(c.word())) {
      c.i++;
      return 'sides';
    }
    return null;
  });
}

const LED = ',|:|(|-|that|is|ie|namely|with|working|having|making|placing|taking|doing|always|and*';

/** ", one at each end of every needle", "(2 at each corner)", "working the decreases at the ends of the needles" */
export function placeTold(c: TokenCursor, shaping: Shaping): Shaping | null {
  if (shaping.where === 'sides' && shaping.count === null && !shaping.edges) {
    // "decrease at the corners, 2 sts at each"
    const each = says(
      c,
      `${LED} # @sts? at|on|in|per each|every of? them|these? @corner|@side? )?`,
    )?.[0];
    return each == null ? null : { ...shaping, count: each, perSide: true };
  }
  if (shaping.where !== null) return null;
  return c.attempt<Shaping>(() => {
    const { i } = c;
    says(c, LED);
    const open = c.slice(i, c.i).includes('(');
    const led = c.i > i;
    const each =
      says(c, '# @sts? of? them?')?.[0] ?? (c.phrase('a|an|the|these|your|all') ? 1 : null);
    if (each !== null && (c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS))) c.i++;
    else if (each !== null && !/^\d/.test(c.slice(c.i - 1, c.i)) && c.i - i < 2) return null;
    if (!led && each === null && c.word() !== 'at') return null;
    const { i: at } = c;
    const found = bothEnds(c) ? 'sides' : besides(c);
    // "2 on each needle (one at either end)"
    const where = found && shaping.perSide ? 'sides' : found;
    if (!where || (open && !c.eatMark(')'))) return null;
    // "2 at each corner", but "1 at each end": of each side two
    const ends = /\b(?:end|ends|beg|beginning|start|first|before|either|both)\b/.test(
      c.slice(at, c.i),
    );
    const told = each === null || each < 1 ? null : ends ? 2 * each : each;
    if (shaping.perSide && told !== null && told !== shaping.count) return null;
    const sum = !shaping.perSide && where === 'sides' && told !== null && shaping.count !== null;
    return { ...shaping, where, ...(sum ? { each: told } : null) };
  });
}

const WORKING = ',|:|(|-|by|with|working|using|making|knitting|and|then|now|always|a|an|the*';

/** "working k2tog at the beginning and ssk at the end of each needle", "ssk after and k2tog before each marker", "k2tog at each end of every needle" */
export function edgesTold(c: TokenCursor): readonly [string, string] | null {
  return c.attempt(() => {
    const { i } = c;
    says(c, WORKING);
    const open = c.slice(i, c.i).includes('(');
    const told = stitchesTold(c, open);
    return told && open && !c.eatMark(')') ? null : told;
  });
}

function stitchesTold(c: TokenCursor, bracketed: boolean): readonly [string, string] | null {
  return c.attempt(() => {
    const both = togetherAtBoth(c);
    if (both) return both;
    const first = stitch(c);
    if (!first) return null;
    const { i } = c;
    if (bothEnds(c) || besides(c) === 'sides') return [first, first] as const;
    c.i = i;
    // "(ssk and k2tog)": in the order in which they come
    const pair = bracketed && says(c, 'and|&') ? stitch(c) : null;
    if (pair && c.mark(')')) return [first, pair] as const;
    c.i = i;
    const at = placeOf(c);
    if (!at || !says(c, ',|and|then|&* a|an|the?')) return null;
    const second = stitch(c);
    const other = second && placeOf(c);
    if (!second || !other || other === at) return null;
    return at === 'first' ? ([first, second] as const) : ([second, first] as const);
  });
}

function stitch(c: TokenCursor): string | null {
  const read = eatStitch(c);
  return read && !read.amount && read.name.length > 1 ? read.name : null;
}

/** "at the beginning", "after each marker": the first of a side; "before each corner": its last. */
function placeOf(c: TokenCursor): 'first' | 'last' | null {
  const { i } = c;
  const begins =
    says(c, 'at|on|in the? beg|beginning|start') ?? says(c, 'right|just|directly? after|past');
  if (begins || says(c, 'at|on|in the? end|finish') || says(c, 'right|just|directly? before')) {
    const first = begins !== null;
    if (/^(?:after|past|before)$/.test(c.word(-1))) says(c, 'each|every|the|a|all #? @corner|m');
    else says(c, OF_EACH) ?? says(c, 'of it|them');
    return first ? 'first' : 'last';
  }
  c.i = i;
  return null;
}

/** "the first two and the last two stitches of each needle together" */
function togetherAtBoth(c: TokenCursor): readonly [string, string] | null {
  const { i } = c;
  const n =
    says(
      c,
      `knit|purl|work|take? the? first # @sts? and the? last # @sts? ${OF_EACH} tog|together`,
    ) ??
    says(
      c,
      `knit|purl|work|take? tog|together the? first # @sts? and the? last # @sts? ${OF_EACH}`,
    );
  if (n?.[0] == null || n[0] !== n[1] || n[0] < 2 || n[0] > 3) return null;
  const name = `${/\bpurl/.test(c.slice(i, c.i)) ? 'p' : 'k'}${n[0]}tog`;
  return [name, name];
}
