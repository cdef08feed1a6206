/**
 * Rounds told by others: "as round 3", "repeat the decreases of round 2", "6, 8, 10: as the 4th, 2 sts fewer each time". In: a cursor
 * behind the label. Out: a body that names the rounds meant; null and the cursor unmoved where any word is left.
 */
import type { RoundBody, RoundLabel, RoundsRef } from './ast.ts';
import { readColour } from './colours.ts';
import { inTurn } from './in-turn.ts';
import { nthsAlone, numberList, ordinalList } from './number-lists.ts';
import { isUnit, nameBeforeUnit, unit } from './phrases.ts';
import { roundsRef } from './round-refs.ts';
import { says } from './rules.ts';
import { isOutcome } from './statements/going-on/stops.ts';
import { readGoingOn } from './statements/going-on.ts';
import { emptyTail, type OpenTail, stopOf } from './tail/open-tail.ts';
import { readTimesPart } from './tail/times.ts';
import { readTailPart } from './tail.ts';
import type { TokenCursor } from './token-cursor.ts';

const SHAPED_AGAIN =
  'work|knit|make|do|rep|repeat|with|working|making|,* the|your|these|all|same* decreases|decrease|dec|decs|decreasing|increases|increase|inc|increasing|shaping|narrow|widen again? #? @sts?';

/** `as round 3`, `same as for 2nd row`, `repeat round 4`, `as set by rounds 7 and 8` */
export function readLike(c: TokenCursor, label: RoundLabel): RoundBody | null {
  return c.attempt<RoundBody>(() => {
    let repeats = false;
    const open = c.eatMark('(') !== null;
    says(c, 'still|again|once|more|then|now*');
    const colour = readColour(c);
    if (colour) c.eatMark(',:');
    // "work the decreases as in round 2", "repeat the decreases of round 2"
    const { i } = c;
    const shaped = says(c, SHAPED_AGAIN) !== null;
    repeats = shaped && /\brep/.test(c.slice(i, c.i));
    says(c, 'just|exactly|precisely*');
    if (shaped && (/^(?:as|like|in)$/.test(c.word()) || (c.word() === 'of' && repeats)))
      says(c, 'of|in the? same? way|manner?');
    else [c.i, repeats] = [i, false];
    for (let n = 0; n < 3; n++) {
      if (c.phrase('rep|repeat|alternate|alternating')) repeats = true;
      else if (inTurn(c)) continue;
      else if (!c.phrase('work|knit|exactly|continue|cont')) break;
    }
    let follows = false;
    let as = c.phrase('as set|est|established by|in');
    if (as) follows = true;
    else {
      c.phrase('the? same');
      as = c.phrase('as|like') || c.eatMark('=') !== null || c.word(-1) === 'same';
      if (as) says(c, 'you|we|i|it|was|have* did|done|do|worked|work|shown|told');
      c.phrase('for|in|on|given|per|with');
      c.phrase('for');
    }
    const tail = emptyTail();
    const rounds =
      label.numbers.length > 1 && (as || repeats || !c.isNumber() ? null : bareList(c, tail));
    if (!as && !repeats) says(c, 'a|an|1 dec|decrease|inc|increase') && c.i--;
    const plain = c.word() === 'plain' && isUnit(c, 1);
    const bare =
      plain || c.word() === 'r' || isUnit(c) || /^(?:dec|decrease|inc|increase)$/.test(c.word());
    if (!as && !repeats && !bare && !rounds) return null;
    const which =
      (rounds || null) ??
      c.attempt(() => asMany(c, label)) ??
      roundsRef(c) ??
      (as ? nthsAlone(c) : null) ??
      parityRef(c) ??
      (as || repeats || bare ? namedRef(c) : null);
    if (!which) return null;
    says(c, ',|-* again|each');
    while (!c.done && (readTailPart(c, tail) || c.eatMark(open ? ').,;:' : '.,;:')));
    // "Rounds 5-14: as rounds 3 and 4, 5 more times"
    const named = which.kind === 'numbers' ? which.numbers.length : 0;
    if (tail.times !== null && named * tail.times === label.numbers.length) tail.times = null;
    const stop = stopOf(tail);
    if (stop !== null || tail.open) return null;
    // "…, increase as in round 2 on every even round": not of all of them
    if (tail.every !== null && tail.every > 1) return null;
    if (!c.done || tail.fewer !== null) return null;
    return { kind: 'like', which, stated: tail.stated, follows: follows || tail.follows, colour };
  });
}

/** "13: as 3 – 16": a number behind the dash that makes no range of as many rounds is a count. */
function asMany(c: TokenCursor, label: RoundLabel): RoundsRef | null {
  const { i, end } = c;
  const whole = roundsRef(c);
  if (whole?.kind !== 'numbers' || label.numbers.length % whole.numbers.length === 0) return whole;
  let dash = i + 1;
  while (dash < c.i && !isSpacedDash(c, dash)) dash++;
  if (dash >= c.i) return whole;
  [c.i, c.end] = [i, dash];
  const which = roundsRef(c);
  c.end = end;
  return which;
}

function isSpacedDash({ tokens }: TokenCursor, k: number): boolean {
  return tokens[k].text === '-' && tokens[k].spaced && tokens[k + 1]?.spaced === true;
}

/** "3-4 x4", "4 x 3-4": rounds by their numbers alone. */
function bareList(c: TokenCursor, tail: OpenTail): RoundsRef | null {
  return c.attempt(() => {
    readTimesPart(c, tail);
    says(c, 'of|rounds|rnds');
    const numbers = numberList(c);
    if (!numbers || numbers.length < 2) return null;
    const ends = c.done || c.mark('.,;(-=') || c.word() === 'again' || readTimesPart(c, tail);
    return ends ? { kind: 'numbers', numbers } : null;
  });
}

/** "as the other even rounds" */
function parityRef(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    c.phrase('all|the? other? previous?');
    const even = c.phrase('even');
    if (!even && !c.phrase('odd')) return null;
    c.eatMark('-');
    c.phrase('numbered');
    return unit(c) ? { kind: 'parity' as const, even } : null;
  });
}

function namedRef(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    c.phrase('the|a|last');
    const name = c.phrase('plain') ? 'plain' : nameBeforeUnit(c);
    return name && unit(c) ? { kind: 'named' as const, name } : null;
  });
}

const AS_BEFORE =
  'work|worked|knit|exactly|just|continue|is|are|the|same* as|like|= for|in|on|of|with|per|given|the*';

/** "as the 4th", "decrease as in round 2": the round that words behind it say how it changes. */
function likeRound(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    says(c, SHAPED_AGAIN);
    if (!says(c, AS_BEFORE) && !says(c, 'repeat|rep the? of?')) return null;
    const which = roundsRef(c);
    if (which) return which;
    const numbers = ordinalList(c) ?? (c.isNumber() ? numberList(c) : null);
    return numbers && { kind: 'numbers' as const, numbers };
  });
}

const WORKED_LIKE = 'is|are|will|all|be|being|then|now|also* worked|knitted|done|made|go|goes|run';
const SHAPES_ON = /^(?:decrease|increase|decreasing|increasing)$/;

/**
 * "7-14: continue like this, one more stitch before each kfb on odd rounds": the shaping so far, as often as the label says;
 * "6, 8, 10: as the 4th, with 2 sts fewer between the decreases each time".
 */
export function readGoing(c: TokenCursor, label: RoundLabel): RoundBody | null {
  const many = label.upTo ? 2 : Math.max(label.numbers.length, label.repeat);
  return c.attempt<RoundBody>(() => {
    const like = likeRound(c);
    if (many < 2 && !like) return null;
    // "Rounds 4-9 are worked the same way, the odd ones plain"
    const led = !like && many > 1 && (says(c, WORKED_LIKE) !== null || SHAPES_ON.test(c.word()));
    const going = readGoingOn(c, like, like !== null || led);
    if (!going || (led && going.tail.every === null && !going.tail.follows)) return null;
    const tail: OpenTail = { ...going.tail };
    // "At the end of round 22 there are 24 sts"
    const outcome = isOutcome(going) && tail.untilRound === label.numbers.at(-1);
    if (going.stop !== null && !like && !outcome && tail.untilStitches === null) return null;
    const { untilStitches } = tail;
    const left =
      untilStitches === null
        ? null
        : tail.perSide
          ? { total: null, perSide: untilStitches, change: null }
          : { total: untilStitches, perSide: null, change: null };
    const told = tail.fewer !== null || tail.crosses !== null;
    const single =
      like?.kind === 'numbers' &&
      like.numbers.length === 1 &&
      tail.every !== null &&
      tail.every > 1;
    if (single) tail.likeRound = like;
    const which = told && !single ? going.which : null;
    // "All even rounds from 4 to 18: decrease as before"
    const apart = led && tail.follows && label.numbers[1] > label.numbers[0] + 1;
    const paced = apart || (tail.every ?? tail.eachPass) !== null || (going.asks && tail.follows);
    if (!told && ((going.which && !single) || !paced)) return null;
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    const { times, more, every } = tail;
    // "Repeat rounds 5 and 6 four more times" is told of the label's rounds.
    if (times !== null && times * (every ?? many / times) !== many) return null;
    if (!c.done || tail.open || (more && times === null)) return null;
    return { kind: 'going', which, tail, stated: tail.stated ?? left };
  });
}
