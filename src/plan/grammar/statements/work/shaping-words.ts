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
import { stitchesAt } from '../going-on/shaping.ts';
import type { Slots } from './slots.ts';

const EACH_PART =
  '( that? is|means|makes|i.e.|ie|=? # @sts? per|on|at|for|in|to|along each|every|a|one? @side )';

const ON_THE_LAST =
  'on|in|during|at|over the|its? very? last|final @unit|of|one|1? them|these|those?';

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
    const { i } = c;
    const often = readTimesPart(c, emptyTail()) && /^times?|more|x$/.test(c.word(-1));
    c.i = i;
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
    const place = (): boolean => {
      // "Knit 6 rounds, decreasing 4 sts on the last round"
      if ((slots.rounds ?? 0) > 1 && says(c, ON_THE_LAST)) {
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
      const ends: Shaping['where'] = besides(c) ?? atEdge(c);
      if (ends) where = ends;
      return ends !== null;
    };
    while (place());
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
      if (!c.phrase('by|using|with')) return null;
      c.phrase('working|a|knitting');
      const read = eatStitch(c);
      if (!read || read.name.length < 2) return null;
      c.phrase('each time');
      return read.name;
    });
    slots.shaping = {
      decrease,
      count,
      where,
      stitch,
      ...(perSide ? { perSide } : null),
      ...(each ? { each } : null),
    };
    return true;
  });
}

/** "working 1 decrease at each end of every needle": where the shaping told before is worked. */
export function shapingPlace(c: TokenCursor, slots: Slots): boolean {
  const { shaping } = slots;
  if (!shaping || shaping.where !== null) return false;
  // "working k2tog at beg and ssk at end of each needle"
  const edges = c.attempt(() => {
    const { i } = c;
    const [first, last] = stitchesAt(c) ?? [];
    const told = /\b(?:beg|beginning|start) and\b.*\bend of (?:each|every)\b/.test(c.slice(i, c.i));
    return first && last && told ? ([first, last] as const) : null;
  });
  if (edges) {
    const { count, decrease } = shaping;
    if (count !== null) slots.tail.eachPass ??= decrease ? -count : count;
    slots.shaping = { ...shaping, count: null, where: 'sides', edges };
    return true;
  }
  return c.takes(() => {
    c.eatMark(',');
    if (!c.phrase('working|with|having|making|placing|doing')) return null;
    c.number();
    c.phrase('a|one|the|these|your|all');
    if (!c.isWord(DECREASE_WORDS) && !c.isWord(INCREASE_WORDS)) return null;
    c.i++;
    const where = besides(c);
    if (!where) return null;
    slots.shaping = { ...shaping, where };
    return true;
  });
}

/** "repeat the dec": the shaping before, once more. */
export function repeatedShaping(c: TokenCursor, slots: Slots): boolean {
  if (slots.verb !== 'repeat' && slots.verb !== 'go-on') return false;
  return c.takes(() => {
    if (!c.phrase('the|this|these|last|same')) return null;
    c.phrase('same|last');
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

/** `at each end`, `each side of every marker`, `at both ends of each needle`, `at each corner` */
function besides(c: TokenCursor): 'ends' | 'sides' | null {
  return c.attempt(() => {
    c.phrase('at|on|to|in');
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
