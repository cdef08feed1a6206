/**
 * What stands behind a round's label: stitches, "as round 3", "repeat rounds 1 and 2 twice", or a bind-off. In: a
 * cursor over all of it. Out: the body with the remarks met while reading.
 */

import type { Place } from '../lex/source.ts';
import type { Abbreviations } from '../lexicon/abbreviations.ts';
import { LEADS } from '../lexicon/words.ts';
import type { RoundBody, RoundLabel, RoundsRef, Tail, WorkClause } from './ast.ts';
import { inColour, readColour } from './colours.ts';
import { inTurn } from './in-turn.ts';
import { strayInstructs } from './leftovers.ts';
import { nthsAlone, numberList, ordinalList } from './number-lists.ts';
import { isUnit, nameBeforeUnit, unit } from './phrases.ts';
import { roundsRef } from './round-refs.ts';
import { says } from './rules.ts';
import { readEnding } from './statements/ending.ts';
import { isOutcome } from './statements/going-on/stops.ts';
import { readGoingOn } from './statements/going-on.ts';
import { readWork } from './statements/work.ts';
import type { DeclaredRepeats } from './steps/declared-repeats.ts';
import { cycleOf } from './steps/patterns.ts';
import { readSteps } from './steps/step-reader.ts';
import type { Step } from './steps/steps.ts';
import { emptyTail, type OpenTail, stopOf } from './tail/open-tail.ts';
import { readTimesPart } from './tail/times.ts';
import { readStated, readTailPart } from './tail.ts';
import type { TokenCursor } from './token-cursor.ts';
import { toldPlain } from './told-plain.ts';

/** Binding everything off; "bind off 3 sts, k to end" only begins a row. */
const BINDS_OFF =
  /^[\s"']*(?:loosely\s+)?(?:bind(?:ing)?[\s-]*off|cast[\s-]*off|b\/?o(?![a-z]))(?!\s*(?:first\s+|next\s+|the\s+)*\d+\s*(?:sts?|stitches)?\s*(?:,|;|at\s|then\s|and\s|[kp]))/;

export function readBody(
  c: TokenCursor,
  label: RoundLabel | null,
  abbreviations: Abbreviations,
): RoundBody {
  const from = c.from();
  const to = c.i < c.end ? c.tokens[c.end - 1].to : from;
  const text = c.text.slice(from, to);
  if (c.i < c.end && BINDS_OFF.test(text)) return bindOff(c);
  if (label) {
    const like = readLike(c, label);
    if (like)
      return 'colour' in like && label.colour
        ? { ...like, colour: like.colour ?? label.colour }
        : like;
    const several = readOneEach(c, label) ?? readGoing(c, label) ?? readClauses(c, label);
    if (several) return several;
  }
  if (!label) {
    c.skip(LEADS);
    if (says(c, 'after that|this ,?')) c.skip(LEADS);
  }
  const plain = readPlain(c, label);
  if (plain) return plain;
  const letter =
    label && /^[a-f]$/.test(c.word()) && c.peek(1) !== null && !c.mark('=', 1) ? c.word() : null;
  if (letter) c.i++;
  // "Row 2, b: knit"
  if (letter) c.eatMark(':');
  // "Round 5: with dark red, k40"
  const led = label ? c.attempt(() => ledBy(c)) : null;
  const rounds = forRounds(c, label === null || label.numbers.length === 0);
  const until = label?.every ? untilAtEnd(c) : null;
  const begin = c.i < c.end ? c.from() : from;
  const stop = c.end > c.i ? c.tokens[c.end - 1].to : begin;
  const read = readSteps(c.text.slice(begin, stop), begin, abbreviations);
  const colour =
    led ??
    read.colour ??
    (letter ? `colour ${letter.toUpperCase()}` : null) ??
    label?.colour ??
    null;
  const often = { ...(rounds === null ? null : { rounds }), ...(until && { until }) };
  const steps = onEverySide(read.steps, abbreviations.repeats.rounds);
  return { kind: 'steps', ...read, steps, colour, ...often };
}

const WORDED =
  /^(?:this|it|that|which|is|are|will|gets|all|the|simply|just|you|we|in|worked|and|plain|straight)$/;

/** "is a purl round", ": this one is knit (72 sts)", "all straight" */
function readPlain(c: TokenCursor, label: RoundLabel | null): RoundBody | null {
  if (!label || label.every) return null;
  const { i } = c;
  says(c, 'on|along each|every|all of? the? #? @side :');
  const it =
    /^(?:knit|purl|k|p)$/.test(c.word()) && /^(?:it|round|row|across|this)$/.test(c.word(1));
  const worded = it || WORDED.test(c.word());
  const told = worded ? plainBody(c) : null;
  if (!told) c.i = i;
  return told && { ...told, colour: label.colour };
}

function plainBody(c: TokenCursor): Extract<RoundBody, { kind: 'steps' }> | null {
  return c.attempt(() => {
    const start = c.i;
    const verb = toldPlain(c, false);
    if (verb === null) return null;
    const at = c.span(start);
    const tail = emptyTail();
    while (!c.done && (readStated(c, tail) || c.eatMark('.;,!')));
    if (!c.done) return null;
    const [steps] = cycleOf(verb, null, false, at);
    const { stated } = tail;
    return {
      kind: 'steps',
      steps,
      stated,
      unread: 0,
      failed: false,
      hasStitches: true,
      colour: null,
      unfinished: false,
      remarks: [],
    };
  });
}

/** "Work the instruction once on each of the 4 sides": a round's stitches so often, or as they stand where those fill it. */
function onEverySide(steps: readonly Step[], rounds: DeclaredRepeats['rounds']): readonly Step[] {
  const [first] = steps;
  if (rounds === null || !first || steps.some((s) => s.kind === 'group' && (s.eachSide || s.part)))
    return steps;
  const fixed = steps.every((s) => !('amount' in s) || 'times' in s.amount);
  // "Round 4: knit"
  if (!fixed && steps.length === 1) return steps;
  const place = { from: first.from, to: steps[steps.length - 1].to };
  const each = { kind: 'group', steps, otherTimes: null, ...place } as const;
  if (rounds === 'sides' || !fixed)
    return [
      {
        ...each,
        amount: { times: 1 },
        eachSide: true,
        ...(rounds === 'sides' ? fixed && { otherSteps: steps } : { sides: rounds }),
      },
    ];
  return [{ ...each, amount: { times: rounds }, eachSide: false, otherSteps: steps }];
}

function ledBy(c: TokenCursor): string | null {
  const colour = inColour(c);
  // "with dark red knit"
  const led = c.eatMark(',:') !== null || /^(?:k|p|knit|purl|work)$/.test(c.word());
  return colour !== null && led ? colour : null;
}

/** "…, knit to end, until there are 40 sts" behind the stitches of every row; cuts it off. */
function untilAtEnd(c: TokenCursor): Tail | null {
  const { i, end } = c;
  for (let at = i + 1; at < end; at++) {
    if (!/^(?:until|till)$/.test(c.tokens[at].text)) continue;
    if (!/^(?:,|\)|end|across|row|round|rnd)$/.test(c.tokens[at - 1].text)) continue;
    c.i = at;
    const tail = emptyTail();
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;!')));
    const { done } = c;
    c.i = i;
    if (!done || tail.untilStitches === null) continue;
    c.end = at;
    return tail;
  }
  return null;
}

/** Binding off, and the first of its words that no rule follows and that could ask for something. */
function bindOff(c: TokenCursor): RoundBody {
  const start = c.i;
  const { unread } = readEnding(c);
  const lost = unread.find(({ first, end, core }) => {
    const before = c.tokens[first - 1];
    const behind = first > start && before.kind !== 'mark' && !/^(?:and|then)$/.test(before.text);
    return strayInstructs(c.tokens.slice(first, end), behind, core - first);
  });
  if (!lost) return { kind: 'bind-off' };
  const to = c.tokens[Math.max(lost.first, lost.end - 1)].to;
  return { kind: 'bind-off', lost: { from: c.tokens[lost.first].from, to } };
}

/** "…, for 4 rows" at the end; cuts it off. */
function forRounds(c: TokenCursor, bare: boolean): number | null {
  const { i, end } = c;
  let last = end;
  while (last > i && c.tokens[last - 1].text === '.') last--;
  for (let back = 3; back <= 7; back++) {
    c.i = last - back;
    if (c.i <= i) break;
    const rounds = c.attempt(() => {
      const comma = c.eatMark(',;:-') !== null;
      c.phrase('the? first|next|following');
      // "k2, p2 rib, 8 rounds"
      if (!c.phrase('for|during|over') && !(bare && comma)) return null;
      const n = c.number();
      if (n === null || !unit(c)) return null;
      says(c, 'in? all|total|altogether');
      return c.i === last ? n : null;
    });
    if (rounds !== null) {
      c.i = i;
      c.end = last - back;
      return rounds;
    }
  }
  c.i = i;
  return null;
}

const SHAPED_AGAIN =
  'work|knit|make|do|rep|repeat|with|working|making|,* the|your|these|all|same* decreases|decrease|dec|decs|decreasing|increases|increase|inc|increasing|shaping|narrow|widen again? #? @sts?';

/** `as round 3`, `same as for 2nd row`, `repeat round 4`, `as set by rounds 7 and 8` */
function readLike(c: TokenCursor, label: RoundLabel): RoundBody | null {
  return c.attempt<RoundBody>(() => {
    let repeats = false;
    const open = c.eatMark('(') !== null;
    c.phrase('still|again');
    const colour = readColour(c);
    if (colour) c.eatMark(',:');
    // "work the decreases as in round 2", "repeat the decreases of round 2"
    const { i } = c;
    const shaped = says(c, SHAPED_AGAIN) !== null;
    repeats = shaped && /\brep/.test(c.slice(i, c.i));
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

const PLAIN_ROUND =
  '1|a|the|then|next|first|all|work* knit|k|purl|p|knitted|purled all|every|each|the|of|@sts|across|around|throughout*';
const IN_TURN = 'in? alternately|alternating|alternate|turn|alternation|rotation';

/** "5-7: purl, knit, purl": a plain round each; "1-6: knit, purl alternately". */
function readOneEach(c: TokenCursor, label: RoundLabel): RoundBody | null {
  const many = Math.max(label.numbers.length, label.repeat);
  if (many < 2) return null;
  return c.attempt<RoundBody>(() => {
    const found: WorkClause[] = [];
    let turns = says(c, IN_TURN) !== null;
    for (;;) {
      const start = c.i;
      if (!says(c, PLAIN_ROUND)) return null;
      const at = c.span(start);
      const purl = c.tokens.slice(start, c.i).some((t) => /^p/.test(t.text));
      c.phrase('1') || c.phrase('a|one');
      if (c.isNumber()) {
        if (c.here() !== '1' || !isUnit(c, 1)) return null;
        c.i++;
      }
      unit(c);
      found.push(plainRound(purl ? 'purl' : 'knit', at));
      if (found.length > many) return null;
      const more = c.attempt(() => {
        const mark = c.eatMark(',;/&+');
        if (!says(c, 'and|then|next|finally*') && !mark) return null;
        c.eatMark(',');
        const at = c.here() === '1' ? 1 : 0;
        return /^(?:a|the|then|next|first|all|work|k|knit|knitted|p|purl|purled)$/.test(c.here(at));
      });
      if (!more) break;
    }
    turns ||= says(c, IN_TURN) !== null;
    const tail = emptyTail();
    says(c, '( # of? each )') ?? says(c, ',|-* # of? each') ?? says(c, ',|-* again|each');
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    if (!c.done || tail.times !== null || tail.untilStitches !== null) return null;
    if (turns ? found.length < 2 : found.length !== many) return null;
    const clauses = Array.from({ length: many }, (_, i) => found[i % found.length]);
    return { kind: 'clauses', clauses, stated: tail.stated };
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

const WORKED_LIKE = 'is|are|will|all|be|being|then|now|also* worked|knitted|done|made';
const SHAPES_ON = /^(?:decrease|increase|decreasing|increasing)$/;

/**
 * "7-14: continue like this, one more stitch before each kfb on odd rounds": the shaping so far, as often as the label says;
 * "6, 8, 10: as the 4th, with 2 sts fewer between the decreases each time".
 */
function readGoing(c: TokenCursor, label: RoundLabel): RoundBody | null {
  const many = label.upTo ? 2 : Math.max(label.numbers.length, label.repeat);
  return c.attempt<RoundBody>(() => {
    const like = likeRound(c);
    if (many < 2 && !like) return null;
    // "Rounds 4-9 are worked the same way, the odd ones plain"
    const led = !like && many > 1 && (says(c, WORKED_LIKE) !== null || SHAPES_ON.test(c.word()));
    const going = readGoingOn(c, like, like !== null || led);
    if (!going || (led && going.tail.every === null)) return null;
    const tail: OpenTail = { ...going.tail };
    // "At the end of round 22 there are 24 sts"
    const outcome = isOutcome(going) && tail.untilRound === label.numbers.at(-1);
    if (going.stop !== null && !like && !outcome) return null;
    const told = tail.fewer !== null || tail.crosses !== null;
    const which = told ? going.which : null;
    if (!told && (going.which || (tail.every ?? tail.eachPass) === null)) return null;
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    const { times, more, every } = tail;
    // "Repeat rounds 5 and 6 four more times" is told of the label's rounds.
    if (times !== null && times * (every ?? many / times) !== many) return null;
    if (!c.done || tail.open || (more && times === null)) return null;
    const { untilStitches } = tail;
    const left =
      untilStitches === null
        ? null
        : tail.perSide
          ? { total: null, perSide: untilStitches, change: null }
          : { total: untilStitches, perSide: null, change: null };
    return { kind: 'going', which, tail, stated: tail.stated ?? left };
  });
}

function plainRound(verb: 'knit' | 'purl', at: Place): WorkClause {
  const cycle = cycleOf(verb, null, false, at);
  const none = { lengthMm: null, last: null, colour: null };
  return { kind: 'plain', cycle, rounds: 1, ...none, tail: emptyTail(), ...at };
}

/** Clauses that ask for several rounds; one round's stitches are read as such. */
function readClauses(c: TokenCursor, label: RoundLabel): RoundBody | null {
  return c.attempt<RoundBody>(() => {
    const clauses = readWork(c);
    if (!clauses) return null;
    const tail = emptyTail();
    while (!c.done && (readTailPart(c, tail) || c.eatMark('.,;')));
    if (!c.done) return null;
    const [first] = clauses;
    const many = Math.max(label.numbers.length, label.repeat);
    if (
      clauses.length === 1 &&
      first.kind === 'shape' &&
      (first.shaping === null ||
        first.shaping.where === 'evenly' ||
        first.shaping.where === null) &&
      first.tail.every === null &&
      first.tail.untilStitches === null
    ) {
      return null;
    }
    if (clauses.every((k) => k.kind === 'plain')) {
      let total = 0;
      for (const k of clauses) {
        if (k.kind !== 'plain' || k.rounds === null) return null;
        total += k.rounds;
      }
      if (total !== many && (clauses.length > 1 || many <= 1)) return null;
    }
    return { kind: 'clauses', clauses, stated: tail.stated };
  });
}
