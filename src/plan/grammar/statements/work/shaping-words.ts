/**
 * Shaping told within a clause: "decreasing 8 sts evenly", "working 1 decrease at each end of every needle",
 * "repeat the dec"; where it stands in the round. In: a cursor and the slots of the clause. Out: true where
 * it stands here, kept in the slot.
 */
import {
  DECREASE_WORDS,
  FILLERS,
  INCREASE_WORDS,
  MARKER_WORDS,
  SIDE_WORDS,
} from '../../../lexicon/words.ts';
import type { Shaping } from '../../ast.ts';
import { eatStitch, eatStitches, isUnit, unit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import { emptyTail } from '../../tail/open-tail.ts';
import { readTimesPart } from '../../tail/times.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { isHarmless } from '../../word-law.ts';
import { besides, bothEnds, edgesTold, placeTold } from './shaping-place.ts';
import type { Slots } from './slots.ts';

const AT_ENDS = /\b(?:ends?|sides?|edges?|before|beg\w*|start|first)\b/;
const EACH_PART =
  '( that? is|means|makes|i.e.|ie|=? # @sts? per|on|at|for|in|to|along each|every|a|one? @side )';

const ON_THE_LAST = 'on|in|during|at|over the|its? very? last|final @unit|of|#? them|these|those?';

/** "on the last of them", "on the third" of three */
function onTheLast(c: TokenCursor, rounds: number | null): boolean {
  return c.takes(() => {
    const last = says(c, ON_THE_LAST);
    if (last) return last[0] === null || last[0] === 1;
    const nth = says(c, 'on|in the % @unit|of|#? them|these|those?');
    return nth !== null && nth[0] === rounds;
  });
}

export function readShapingInto(c: TokenCursor, slots: Slots): boolean {
  return c.takes(() => {
    if (slots.verb !== 'shape') c.phrase('and|to|by|but|with');
    // "with 6 increases every 2nd round"
    const ahead = c.word(-1) === 'with' && c.isNumber() ? c.number() : null;
    const decrease = c.isWord(DECREASE_WORDS);
    if (!decrease && !c.isWord(INCREASE_WORDS)) return null;
    c.i++;
    if (isUnit(c)) return null;
    c.phrase('by');
    let count: number | null = ahead;
    // "decrease another 7 times", "decrease 7 more times"
    const often = c.ahead(
      () => readTimesPart(c, emptyTail()) && /^times?|more|x$/.test(c.word(-1)),
    );
    if (count === null && c.isNumber() && !often) {
      count = c.number();
      if (!eatStitches(c)) {
        const t = c.peek();
        const known =
          !t ||
          t.kind === 'mark' ||
          FILLERS.has(t.text) ||
          /^(?:evenly|even|until|as|every)$/.test(t.text);
        if (!known || c.phrase('times|time') || isUnit(c)) return null;
      }
    } else if (c.phrase('a st|stitch')) count = 1;
    // "8 sts (2 per needle)"
    const each = count === null ? null : c.attempt(() => says(c, EACH_PART))?.[0];
    const perSide =
      count !== null &&
      (c.takes(() => c.phrase('per|a needle|side|section|marker|corner|dpn|quarter')) ||
        (!c.isWord(MARKER_WORDS) &&
          c.takes(
            () =>
              c.phrase('on|in|for|along each|every needle|side|section|dpn|quarter') &&
              !/^(?:of)$/.test(c.word()),
          )));
    let where: Shaping['where'] = null;
    let corner = false;
    const place = (): boolean => {
      // "Knit 6 rounds, decreasing 4 sts on the last round"
      if ((slots.rounds ?? 0) > 1 && onTheLast(c, slots.rounds)) {
        where ??= 'evenly';
        return true;
      }
      c.attempt(() => {
        c.eatMark(',');
        return (
          c.phrase('spacing|spreading|placing|distributing|spaced|distributed them|these|out?') &&
          /^(?:evenly|equally)$/.test(c.word())
        );
      });
      if (c.phrase('evenly|even|equally')) {
        c.phrase('spaced|distributed|spread');
        if (c.isNumber() && count === null) {
          count = c.number();
          eatStitches(c) || c.phrase('times');
        }
        acrossRound(c);
        where = 'evenly';
        return true;
      }
      const { i } = c;
      const ends: Shaping['where'] =
        (bothEnds(c) ? 'sides' : besides(c)) ?? atEdge(c) ?? atCentre(c);
      if (ends) where = ends;
      // "2 sts at each corner" are those of a side, "1 st at each end" of a side half.
      const said = c.slice(i, c.i);
      corner ||= ends === 'sides' && /\b(?:each|every)\b/.test(said) && !AT_ENDS.test(said);
      return ends !== null;
    };
    while (place());
    // One double decrease over the middle stitch; other numbers are not told how.
    if (where === 'centre' && !(decrease && (count ?? 2) === 2)) return null;
    const after = c.peek();
    if (
      after?.kind === 'word' &&
      !often &&
      !FILLERS.has(after.text) &&
      after.text !== 'like' &&
      isHarmless(after)
    )
      return null;
    if (count === null && !often && c.isNumber() && where === null) return null;
    const stitch = c.attempt(() => {
      const open = c.eatMark('(') !== null;
      if (!c.phrase('by|using|with') && !open) return null;
      c.phrase('working|a|an|knitting');
      const read = eatStitch(c);
      if (!read || read.name.length < 2) return null;
      c.phrase('each time');
      return open && !c.eatMark(')') ? null : read.name;
    });
    slots.shaping = {
      decrease,
      count,
      where,
      stitch,
      ...(perSide || (corner && count !== null) ? { perSide: true } : null),
      ...(each ? { each } : null),
    };
    return true;
  });
}

/** "working 1 decrease at each end of every needle", ", one at the beginning and one at the end of each needle": where the shaping told before is worked, and by which stitches. */
export function shapingPlace(c: TokenCursor, slots: Slots): boolean {
  const { shaping } = slots;
  if (!shaping) return false;
  const placed = placeTold(c, shaping);
  if (placed) {
    slots.shaping = placed;
    return true;
  }
  // "decrease at both ends of every needle: k2tog at the beginning, ssk at the end"
  if (shaping.edges || !(shaping.where === null || shaping.where === 'sides')) return false;
  const edges = edgesTold(c);
  if (!edges) return false;
  const { count, decrease } = shaping;
  if (count !== null && shaping.where === null) slots.tail.eachPass ??= decrease ? -count : count;
  slots.shaping = { ...shaping, count: null, where: 'sides', edges };
  return true;
}

/** "repeat the dec": the shaping before, once more. */
export function repeatedShaping(c: TokenCursor, slots: Slots): boolean {
  const again = slots.verb === 'repeat' || slots.verb === 'go-on';
  if (!again && slots.verb !== 'work') return false;
  return c.takes(() => {
    if (!c.phrase('the|this|these|those|last|same')) return null;
    const same = c.phrase('same|last') || /^(?:these|those|same)$/.test(c.word(-1));
    // "Make the same decreases once more"
    if (!again && !same) return null;
    if (!c.isWord(DECREASE_WORDS) && !c.isWord(INCREASE_WORDS)) return null;
    const decrease = c.isWord(DECREASE_WORDS);
    c.i++;
    if (isUnit(c)) return null;
    c.attempt(() => {
      if (!c.phrase('of|from|in the? last|previous?')) return null;
      c.ordinal();
      if (!unit(c)) return null;
      c.number();
      return true;
    });
    slots.shaping = { decrease, count: null, where: null, stitch: null };
    if (!again) slots.verb = 'repeat';
    return true;
  });
}

function acrossRound(c: TokenCursor): void {
  c.attempt(() => {
    if (!c.phrase('across|around|over|along|in|on')) return null;
    c.phrase('the|this|whole|entire|all');
    if (/^(?:round|rnd|row|sts|stitches|needles)$/.test(c.word())) {
      c.i++;
      return true;
    }
    return /^(?:across|around)$/.test(c.word(-1)) || null;
  });
}

/** "at the centre of", "over the middle 3 sts": a row's or round's, not that of each side. */
function atCentre(c: TokenCursor): 'centre' | null {
  return c.attempt(() => {
    if (!says(c, 'at|in|on|over|across the|its centre|center|middle|central #? @sts?')) return null;
    c.phrase('of');
    return c.isWord(SIDE_WORDS) || c.isWord(SIDE_WORDS, 1) || c.isWord(SIDE_WORDS, 2)
      ? null
      : 'centre';
  });
}

/** "at the beginning of", "at the end of": only the words before "every row". */
export function atEdge(c: TokenCursor): 'begin' | 'end' | null {
  return c.attempt(() => {
    if (!c.phrase('at|on|in the? beg|beginning|start|end')) return null;
    const where = c.word(-1) === 'end' ? 'end' : 'begin';
    c.phrase('of');
    if (!/^(?:every|each|next|the|foll|following|alternate)$/.test(c.word())) return null;
    return c.isWord(SIDE_WORDS, 1) ? null : where;
  });
}
