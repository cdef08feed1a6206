/**
 * Clauses that begin with what is worked: "Rounds 3 and 4 are worked 5 more times", "both are then repeated", "Rounds 1
 * and 2 again". In: a cursor and the slots of the clause. Out: true where one stands here, with the slots it fills.
 */
import { LEADS } from '../../../lexicon/words.ts';
import { inTurn } from '../../in-turn.ts';
import { nameBeforeUnit, unit } from '../../phrases.ts';
import { roundsRef } from '../../round-refs.ts';
import { says, saysAny } from '../../rules.ts';
import { emptyTail } from '../../tail/open-tail.ts';
import { readTimesPart } from '../../tail/times.ts';
import { readUntil } from '../../tail/until.ts';
import { readStated } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { SHAPED_NAME } from './finished-clause.ts';
import { emptySlots, type Slots, type Verb } from './slots.ts';

/** Between the rounds and the verb of a passive sentence. */
const BEING =
  'is|are|get|gets|will|should|must|being|be|now|then|all|also|again|always|simply|each|both|to';
const REPEATED = `${BEING}|have* repeated|rep`;
const WORKED = `${BEING}|have* worked|done|made|carried|continued out|on?`;
const KNITTED = `${BEING}* knit|knitted`;
const PURLED = `${BEING}* purl|purled`;

/** "Rounds 3 and 4 are worked 5 more times", "The next 6 rounds are all knitted", "the decreases are now worked in every round" */
export function subjectFirst(c: TokenCursor, slots: Slots): boolean {
  const got = c.takes(() => {
    const often = c.takes(() => oftenFirst(c, slots));
    if (often) return true;
    c.skip(LEADS);
    says(c, 'from here|now|there on|onwards? ,? it|that? is|are? just|simply?');
    const which = roundsRef(c) ?? (saysThem(c) ? { kind: 'these' as const } : null);
    if (which) {
      slots.which = which;
      apposition(c);
      const told = 'numbers' in which || (which.kind === 'last' && which.count > 1);
      if (told && (onceMore(c, slots) || roundsInTurn(c, slots))) return true;
    } else if (c.takes(() => namedOnceMore(c, slots))) return true;
    else if (!subject(c, slots)) return null;
    if (!/^(?:is|are|get|gets|will|should|must|being|be|now|then|all|also|again)$/.test(c.word()))
      return null;
    if (which?.kind === 'numbers' && likeOthers(c, slots, which.numbers.length)) return true;
    for (const [verb, rule] of PASSIVE) {
      if (!says(c, rule)) continue;
      // "Now 4 rounds are done"
      if (slots.rounds !== null && c.word(-1) === 'done' && /^(?:is|are)$/.test(c.word(-2)))
        return null;
      // "Row 1 is worked on the wrong side and is knit", "round 1 is worked in purl": what that round is
      if (which && says(c, 'in|on|from the? purl|knit|plain|wrong|right|ws|rs|back')) return null;
      // "The round is worked on 4 needles" asks for nothing.
      slots.verb = slots.shaping && verb !== 'work' ? 'repeat' : verb;
      return which && (verb === 'knit' || verb === 'purl') ? null : true;
    }
    return null;
  });
  if (!got) Object.assign(slots, emptySlots());
  return got;
}

/** "Once more those 2 rounds", "twice more rounds 3 and 4" */
function oftenFirst(c: TokenCursor, slots: Slots): boolean {
  says(c, 'and|then|now|,|you|we|need|want|make*');
  if (!readTimesPart(c, slots.tail) && !says(c, 'once? again')) return false;
  // "5 more repeats of rounds 2-3", "8 more goes at them"
  says(c, 'of|at|through|with');
  slots.which = roundsRef(c);
  if (says(c, 'in all|total') ?? says(c, 'altogether')) slots.tail.total = true;
  slots.verb = 'repeat';
  return (
    slots.which !== null &&
    (c.done || c.mark('.,;:()') !== false || /^(?:so|and|then)$/.test(c.word()))
  );
}

/** "They are repeated", "both are then repeated", "(which) is repeated": the rounds told before. */
function saysThem(c: TokenCursor): boolean {
  const { i } = c;
  says(c, 'they|these|both|which|all*');
  const them = c.i;
  const repeated = says(c, 'are|is now|then|to|be|being|all|both|simply|just* repeated');
  c.i = repeated ? them : i;
  return repeated !== null;
}

/** "Rounds 1 and 2 again", "Rounds 3-4 five more times": no verb at all. */
function onceMore(c: TokenCursor, slots: Slots): boolean {
  return c.takes(() => {
    // "Rounds 2 and 3: 7 more times"
    c.eatMark(':');
    const { i } = c;
    says(
      c,
      'always|now|then|to|be|are|in|total|all* work|worked|repeat|repeated|knit|knitted|do|done|make|made?',
    );
    if (/\b(?:knit|knitted)$/.test(c.slice(i, c.i)) && !c.isNumber()) return null;
    const times = readTimesPart(c, slots.tail);
    if (!times && (c.i > i || !says(c, 'over? again'))) return null;
    if (/\btotal\b|\bin all\b/.test(c.slice(i, c.i))) slots.tail.total = true;
    says(c, 'work|worked|repeat|repeated');
    if (!(c.done || c.mark('.,;()=-') || BESIDE.test(c.word()))) return null;
    slots.verb = 'repeat';
    return true;
  });
}

/** What may stand behind how often. */
const BESIDE = /^(?:then|and|with|whereby|thereby|always|each|every|while|working|until)$/;

/** "repeat constantly", "are always to repeat", "repeat themselves" */
const REPEAT_THEM = 'always|constantly|then|now|to|all* repeat|repeating|do|work themselves?';
/** "Rounds 3 and 4 over and over until 12 sts are left": what is to be done with them has no verb. */
function roundsInTurn(c: TokenCursor, slots: Slots): boolean {
  return c.takes(() => {
    if (/^(?:is|are|get|gets|will|should|must|being|have|has)$/.test(c.word())) return null;
    const colon = c.eatMark(':') !== null;
    const told = inTurn(c) || says(c, REPEAT_THEM) !== null;
    if (told) while (inTurn(c));
    // "Rounds 5-12: repeat rounds 3 and 4 …" tells what those are.
    if (colon && !(told && /^(?:until|till|til|to|down)$/.test(c.word()))) return null;
    const { i } = c;
    for (let n = 0; n < 24 && !c.done && !c.mark('.;:*'); n++, c.i++) {
      if (
        !/^(?:until|till|til|down|to)$/.test(c.word()) ||
        !c.takes(() => readUntil(c, emptyTail()))
      )
        continue;
      c.i = i;
      slots.verb = 'repeat';
      return true;
    }
    return null;
  });
}

const ENDS_WITH =
  'then|now|just|and|you|we|i* finish|end|close|finally|lastly|do|make|work off? with|by|on? just|only?';
const ONE_MORE = [
  '# more|further|additional|last|final|other|extra',
  'another|one|a|the more|further|additional|last|final|extra',
  'another',
];

/** "Decrease round once more", "one last decrease round", "finish with a decrease round" */
function namedOnceMore(c: TokenCursor, slots: Slots): boolean {
  const { i } = c;
  const ending = says(c, ENDS_WITH) !== null && /^(?:with|by|on|just|only)$/.test(c.word(-1));
  const told = saysAny(c, ONE_MORE) ?? (ending ? says(c, 'a|the') : null);
  if (!told) c.i = i;
  if (!told) c.phrase('the');
  const name = nameBeforeUnit(c);
  if (name === null || !unit(c) || (told && !SHAPED_NAME.test(name))) return false;
  if (!told) {
    if (!onceMore(c, slots)) return false;
  } else {
    const [many] = told;
    if (many && many > 1) Object.assign(slots.tail, { times: many, more: true });
    says(c, 'more|again');
    // "Another decrease round brings you down to 4"
    const counts = c.takes(() =>
      /^(?:bring|leave|take|give|get|make)s?$/.test(c.word())
        ? readStated(c, slots.tail, true)
        : null,
    );
    if (!counts && !(c.done || c.mark('.,;()=-:') || /^(?:then|and|which|so)$/.test(c.word())))
      return false;
    slots.verb = 'repeat';
  }
  slots.name = name;
  return true;
}

const PASSIVE: readonly (readonly [Verb, string])[] = [
  ['repeat', REPEATED],
  ['work', WORKED],
  ['knit', KNITTED],
  ['purl', PURLED],
];

/** "Rounds 5 to 14 are just rounds 3 and 4 over again" */
function likeOthers(c: TokenCursor, slots: Slots, rounds: number): boolean {
  return c.takes(() => {
    if (!says(c, 'are|is|will|be nothing? new? ,? just|simply|exactly|the|same|like|as|again*'))
      return null;
    const which = roundsRef(c);
    if (!which) return null;
    says(c, 'over|once? again|more');
    slots.which = which;
    slots.verb = 'repeat';
    slots.tail.forRounds = rounds;
    return true;
  });
}

/** What is worked, besides rounds told before. */
function subject(c: TokenCursor, slots: Slots): boolean {
  const n = says(c, 'the|for|another* next|following|first|last* # more|further|next? @unit');
  if (n) {
    slots.rounds = n[0];
    return n[0] !== null;
  }
  // "Every round is knitted until …"
  if (says(c, 'every|each|all the|these|following* @unit')) return true;
  const shaped = says(
    c,
    'the|these|those|this same? decreases|decrease|shaping|shapings|decreasings',
  );
  if (shaped || says(c, 'the|these|those|this same? increases|increase|increasings')) {
    // "The decreases of the 2nd round are repeated 3 times"
    const which = c.attempt(() => (says(c, 'of|in|from|as in|for? the?') ? roundsRef(c) : null));
    if (which) slots.which = which;
    else slots.shaping = { decrease: shaped !== null, count: null, where: null, stitch: null };
    return true;
  }
  return c.takes(() => {
    if (!c.phrase('the|a|this')) return null;
    slots.name = nameBeforeUnit(c);
    return slots.name !== null && unit(c) !== null;
  });
}

/** ", the decrease round and the purl round," behind the rounds that they are */
function apposition(c: TokenCursor): void {
  const { i } = c;
  if (!c.eatMark(',(')) return;
  for (let n = 0; n < 6; n++) {
    if (!says(c, ',|and* the|a|one ~ ~? @unit')) break;
    if (c.eatMark(',)')) {
      if (/^(?:is|are|will|should|must|being|now|then|all)$/.test(c.word())) return;
      c.i--;
    }
  }
  c.i = i;
}
