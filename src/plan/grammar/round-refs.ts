/**
 * Which rounds are meant: "the last 2 rounds", "rounds 3 and 4", "point 5", "both rounds". In: a cursor at the words. Out: a
 * RoundsRef, the cursor behind it; null and the cursor unmoved otherwise.
 */
import type { RoundsRef } from './ast.ts';
import { inTurn } from './in-turn.ts';
import {
  ITEM_WORDS,
  itemNumber,
  listOf,
  numberList,
  once,
  ordinalList,
  separator,
} from './number-lists.ts';
import { betweenMarks } from './passages.ts';
import { isUnit, unit } from './phrases.ts';
import { says, saysAny } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

function turns(c: TokenCursor): boolean {
  return c.ahead(() => inTurn(c));
}

/** A hyphen between a number and the word that it belongs to: "repeat 4-stitch cables". */
function tiesOn(c: TokenCursor): boolean {
  return c.mark('-') && !c.peek()?.spaced && c.peek(1)?.kind === 'word';
}

const OF_PATTERN =
  'of|from the|this|your? ~? chart|pattern|patt|pat|panel|table|cable|lace|motif|repeat|sequence';

/** How often or how long stands behind, or nothing more. */
function endsOrGoesOn(c: TokenCursor): boolean {
  return (
    c.isNumber() ||
    c.done ||
    c.mark('.,;') !== false ||
    /^(?:until|twice|once|for|a|another)$/.test(c.word())
  );
}

/** "the pair of rounds 2 and 3", but "this pair of rounds 4 times" */
function numbersThem(c: TokenCursor): boolean {
  return c.isNumber() && !/^(?:times?|x|more|further)$/.test(c.word(1));
}

/** "both rounds", "this pair of rounds" */
const BOTH = ['both of? the|these|those? @unit', 'the|this|that|your? pair of the|these? @unit'];

/** "repeat 4) and 5)": as the list numbers them. */
function bracketedItems(c: TokenCursor): number[] | null {
  if (!/^(?:repeat|rep|work|do|as|like|with)$/.test(c.word(-1))) return null;
  const out: number[] = [];
  for (;;) {
    const n = c.number();
    if (n === null || !Number.isInteger(n) || !c.eatMark(')')) return null;
    out.push(n);
    if (!says(c, ',|and|&|+*') || !c.isNumber()) return out;
  }
}

/** "points 3 and 4", "the 2 rounds of points 3 up to and including 5", "no. 3" */
export function itemRef(c: TokenCursor): number[] | null {
  return c.attempt(() => {
    const marked = c.attempt(() => bracketedItems(c));
    if (marked) return marked;
    says(c, 'the|both|all* #? @unit of|in|from|under');
    says(c, 'the|from*');
    if (!c.eatWord(ITEM_WORDS)) return null;
    c.eatMark('#');
    const list = numberList(c) ?? listOf(c, () => itemNumber(c));
    says(c, '(|,? inclusive|incl )?');
    return list;
  });
}

/** Which rounds: "rounds 1 and 2", "the last 4 rounds", "these rounds", "steps 2-4", "2nd to 6th rounds". */
export function roundsRef(c: TokenCursor): RoundsRef | null {
  return c.attempt<RoundsRef>(() => {
    // "repeat only round 2", "point 3 alone"
    c.phrase('only|just|merely');
    const which = namedRounds(c);
    if (which && which.kind !== 'these') says(c, 'alone|only') ?? says(c, 'by itself|themselves');
    return which;
  });
}

function namedRounds(c: TokenCursor): RoundsRef | null {
  return c.attempt<RoundsRef>(() => {
    // "repeat (R3, R4)"
    if (c.mark('(') && /^(?:repeat|rep|work|do|as|of|like)$/.test(c.word(-1))) {
      c.i++;
      const inside = roundsRef(c);
      return inside && c.eatMark(')') ? inside : null;
    }
    const passage = betweenMarks(c);
    if (passage) return passage;
    if (c.takes(() => saysAny(c, BOTH) !== null && !numbersThem(c)))
      return { kind: 'last', count: 2 };
    const since = c.phrase('from|starting the? from?');
    c.anyPhrase(['all of the|these?', 'all the?', 'the', 'both']);
    // "the pattern rows"
    if (says(c, 'pattern|patt|chart rounds|rows|rnds')) return { kind: 'these' };
    const items = itemRef(c);
    if (items) return { kind: 'items', numbers: items };
    // "repeat 3+4 twice", "as 1"
    if (c.isNumber() && /^(?:repeat|rep|as|like)$/.test(c.word(-1))) {
      const numbers = c.attempt(() => {
        const list = numberList(c);
        return list && !isUnit(c) && !tiesOn(c) && c.word() !== 'last' ? list : null;
      });
      if (numbers) return { kind: 'numbers', numbers };
    }
    const r = c.word() === 'r' && c.isNumber(1);
    if (r || isUnit(c)) {
      c.i++;
      c.anyPhrase(['no', 'nos', 'numbers?']);
      c.eatMark('#');
      const letter = /^[a-h]$/.exec(c.word());
      if (letter) {
        c.i++;
        const names = [letter[0]];
        const more = (): string | null => {
          if (separator(c) !== 'and') return null;
          if (isUnit(c)) c.i++;
          const next = /^[a-h]$/.exec(c.word());
          if (next) c.i++;
          return next?.[0] ?? null;
        };
        for (let n = 0; n < 8; n++) {
          const next = c.attempt(more);
          if (next === null) break;
          names.push(next);
        }
        return names.length > 1 ? { kind: 'letters', names } : { kind: 'named', name: letter[0] };
      }
      const numbers = once(numberList(c));
      if (!numbers) return null;
      says(c, OF_PATTERN);
      if (since && numbers.length === 1 && c.phrase('onwards|onward|on')) {
        return { kind: 'since', number: numbers[0] };
      }
      return since && numbers.length === 1
        ? { kind: 'since', number: numbers[0] }
        : { kind: 'numbers', numbers };
    }
    const nth = c.attempt(() => {
      const numbers = ordinalList(c);
      return numbers && unit(c) ? numbers : null;
    });
    if (nth)
      return since && nth.length === 1
        ? { kind: 'since', number: nth[0] }
        : { kind: 'numbers', numbers: nth };
    // "Repeat the pattern", "repeat this sequence"
    const worked = /^(?:rep(?:eat)?|work|do|knit)$/.test(c.word(c.word(-1) === 'the' ? -2 : -1));
    if (worked && c.takes(() => says(c, 'this|that? ~? pattern|patt|sequence') && endsOrGoesOn(c)))
      return { kind: 'these' };
    // "work the set 5 more times"
    const set = c.takes(() => {
      const given = /^(?:the|this|that)$/.test(c.word(-1)) || c.phrase('the|this|that');
      const named = given && says(c, 'whole|full? set|stripe|cycle|pair|block') !== null;
      return named && (endsOrGoesOn(c) || c.word() === 'of');
    });
    // "repeat the pair"
    const of = set ? c.attempt(() => (says(c, 'of') ? roundsRef(c) : null)) : null;
    if (of) return of;
    if (set) return c.word(-1) === 'pair' ? { kind: 'last', count: 2 } : { kind: 'set' };
    const near =
      /^(?:last|previous|prev|preceding|these|those|above|this|that|foregoing|both|same)$/.exec(
        c.word(),
      )?.[0];
    if (near) {
      c.i++;
      if (c.word() === 'last' || c.word() === 'previous' || c.word() === 'above') c.i++;
      const count = c.number();
      c.eatMark('-');
      const plural = /s$/.test(c.word());
      if (!unit(c)) {
        // "repeat those two (dec round + knit round) 7 more times"
        const goesOn = c.mark('(') || c.isNumber() || /^(?:until|till)$/.test(c.word());
        return count !== null && goesOn ? { kind: 'last', count } : null;
      }
      c.phrase('above|again|sequence|pattern|patt|pat|rep|repeat');
      if (count !== null) return { kind: 'last', count };
      if (near === 'both') return { kind: 'last', count: 2 };
      return plural && /these|those|above|foregoing/.test(near)
        ? { kind: 'these' }
        : { kind: 'last', count: 1 };
    }
    if (
      /^(?:them|it)$/.test(c.word()) &&
      (c.isNumber(1) || /^(?:twice|once|again|a|another|until)$/.test(c.word(1)))
    ) {
      c.i++;
      // "Work it 50 times", "repeat it until …"; "keep at it until …" is said of all.
      const repeated = /^(?:rep|repeat|repeating|do|doing|work|working)$/.test(c.word(-2));
      return c.word(-1) === 'it' && (repeated || c.word() !== 'until')
        ? { kind: 'these', one: true }
        : { kind: 'these' };
    }
    // "the 4-round pattern", "these 2 rounds"
    const given = c.word(-1) === 'the';
    const count = c.number();
    if (count !== null && Number.isInteger(count)) {
      // "with the 2 rounds, a decrease round and a purl round, until …"
      if (
        given &&
        count > 1 &&
        c.takes(
          () =>
            unit(c) !== null &&
            (c.mark(',(') || /^(?:until|till|over|again)$/.test(c.word()) || turns(c)),
        )
      )
        return { kind: 'last', count };
      c.eatMark('-');
      if (says(c, '@unit just|already worked|given|made|completed|done|told|knitted|described'))
        return { kind: 'last', count };
      const named = c.phrase('pattern|patt|chart');
      if (
        unit(c) &&
        (named ||
          c.phrase('cable|lace? pattern|patt|pat|rep|repeat|sequence') ||
          c.phrase('above') ||
          says(c, OF_PATTERN))
      )
        return { kind: 'last', count };
    }
    return null;
  });
}
