/**
 * One clause of prose: a verb, and what is said of it in any order. In: a cursor at the clause, the verb of the
 * clause before, which may hold on. Out: the clause, the cursor behind the last word understood; null where
 * it says too little.
 */
import type { Token } from '../../../lex/tokens.ts';
import { DECREASE_WORDS, INCREASE_WORDS } from '../../../lexicon/words.ts';
import type { WorkClause } from '../../ast.ts';
import { inColour, restsColour } from '../../colours.ts';
import { readCrossingPart } from '../../crossings.ts';
import { isUnit, length, nameBeforeUnit, unit } from '../../phrases.ts';
import { roundsRef } from '../../round-refs.ts';
import { says } from '../../rules.ts';
import { readFabric, readKnits } from '../../steps/patterns.ts';
import { readInTurns } from '../../tail/in-turns.ts';
import { readBetweenLike, readFewer, readLikeRound, readManner } from '../../tail/manner.ts';
import { emptyTail } from '../../tail/open-tail.ts';
import { readInAll } from '../../tail/times.ts';
import { readTailPart } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { toldAgain } from '../going-on/shaping.ts';
import { FIRST, passes, roundsHere, thisForRounds } from './clause-rounds.ts';
import { bindsEdge, stitchAtEdge } from './edge-clauses.ts';
import {
  asEarlier,
  explanation,
  fabricByStitches,
  fabricTold,
  facing,
  repeatsFabric,
  stitchesNamed,
  throughBacks,
  yarnOversTwisted,
} from './fabric-clauses.ts';
import { finish, SHAPED_NAME } from './finished-clause.ts';
import { fabricFirst, opening, roundsFirst, verb } from './openings.ts';
import { ownRounds } from './own-rounds.ts';
import { readShapingInto, repeatedShaping, shapingPlace } from './shaping-words.ts';
import { emptySlots, type Slots, type Verb } from './slots.ts';
import { subjectFirst } from './subjects.ts';
import { alike, eachPass, moreSets, overStitches, placing, roundsTold } from './told-beside.ts';

/** Most tokens of one clause. Chosen: a longer sentence is no instruction. */
export const LONGEST = 160;

/** Tokens that stand between a clause and the end of what was looked at, so that its reading hangs on nothing behind. Chosen. */
const CLEAR = 8;

interface Known {
  readonly clause: WorkClause | null;
  /** The token behind it. */
  readonly next: number;
}

/** Clauses of long sentences by the tokens of a text: chains that begin at each of them read the same ones again. */
const known = new WeakMap<readonly Token[], Map<string, Known>>();

export function clause(c: TokenCursor, carry: Verb): WorkClause | null {
  const { i: start, tokens } = c;
  // Nearer to the end there are few.
  if (c.end - start < LONGEST) return readClause(c, carry);
  const key = `${start} ${carry} ${c.behind}`;
  const before = known.get(tokens)?.get(key);
  if (before) {
    c.i = before.next;
    return before.clause;
  }
  const read = readClause(c, carry);
  if (c.i + CLEAR < start + LONGEST) {
    const all = known.get(tokens) ?? new Map<string, Known>();
    known.set(tokens, all.set(key, { clause: read, next: c.i }));
  }
  return read;
}

function readClause(c: TokenCursor, carry: Verb): WorkClause | null {
  return verbClause(c, carry) ?? ownRounds(c);
}

function verbClause(c: TokenCursor, carry: Verb): WorkClause | null {
  return c.attempt(() => {
    const start = c.i;
    const slots = emptySlots();
    const edge = bindsEdge(c, start) ?? stitchAtEdge(c, start);
    if (edge) return edge;
    if (roundsFirst(c, slots) || fabricFirst(c, slots) || subjectFirst(c, slots)) {
      // The verb stands behind, or none does.
      // "The first 3 rounds are purl, knit, purl": one each.
      if (slots.rounds !== null && c.takes(() => says(c, ', knit|purl|k|p') && !c.isNumber()))
        return null;
    } else if (
      carry === 'shape' &&
      c.word() !== 'leaving' &&
      c.takes(() => readTailPart(c, slots.tail))
    ) {
      // "every other round until 64 sts remain, then every round until 8 sts remain"
      slots.verb = 'go-on';
      slots.tail.follows = true;
    } else if (!opening(c, slots)) {
      // "knit 4 rounds, then 2 rounds in garter st", "rep rows 1-8 once, then rows 1-4"
      const goesOn = carry === 'repeat' ? isRef(c) : c.isNumber();
      if (carry === 'none' || carry === 'shape' || !goesOn) return null;
      slots.verb = carry;
    }
    everyRound(c, slots);
    const stop = Math.min(c.end, start + LONGEST);
    const end = c.end;
    c.end = stop;
    let filled = c.i;
    while (!c.done) {
      if (slots.rounds !== null && slots.shaping === null && shapesApart(c)) break;
      if (fill(c, slots, filled === c.i)) {
        filled = c.i;
        continue;
      }
      if (goesOnWorking(c, slots)) continue;
      if (ends(c, slots) || !passes(c)) break;
    }
    c.i = filled;
    c.end = end;
    if (slots.tail.open) while (!c.done && !c.mark('.;')) c.i++;
    return finish(slots, c, start);
  });
}

/** "Knit every round, and on every 3rd round decrease …": how the rounds are worked that shaping is told of. */
function everyRound(c: TokenCursor, slots: Slots): void {
  if (slots.verb !== 'knit' && slots.verb !== 'purl') return;
  c.takes(() => {
    if (!says(c, 'every|each|all the? @unit') || !says(c, ',|;|and|but|with|while*')) return null;
    for (let n = 0; n < 12 && !(c.done || c.mark('.;')); n++) {
      if (c.isWord(DECREASE_WORDS, n) || c.isWord(INCREASE_WORDS, n)) return true;
    }
    return null;
  });
}

/** "Knit 4 rounds …, and dec 1 st at each end of the next round": an order of its own, for rounds of its own. */
function shapesApart(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.eatMark(',;');
    return (
      c.phrase('and|then now|then?') &&
      /^(?:dec|decs|decrease|inc|incs|increase)$/.test(c.word()) &&
      /\b(?:next|every|foll|following|alt|alternate|other)\b[^.;]{0,24}\b(?:rounds?|rnds?|rows?)\b/.test(
        c.slice(c.i, c.end).split(/[.;]/)[0],
      )
    );
  });
}

const KINDS =
  'the|a|an|first|#* dec|decrease|decreasing|inc|increase|increasing|knit|knitted|k|purl|purled|p|plain|even|shaping|shaped one|round|rnd|row?';
const APPOSED = `,|(|-|: ${KINDS} and|then|,|&|+|/* ${KINDS} ,|)?`;

/** "Decrease on the next 6 rounds": on each of them. */
function nextRounds(c: TokenCursor, { tail }: Slots): boolean {
  if (tail.times !== null || tail.follows || tail.every !== null) return false;
  const n = c.attempt(() => says(c, 'on|in all|each? of? the? next|following|coming # @unit'))?.[0];
  if (n == null) return false;
  Object.assign(tail, { every: 1, times: n, atOnce: true });
  return true;
}

const LIKE_FIRST =
  ',|exactly|just* like|as the|those first|last|previous|earlier|others|other|before one|ones|time?';

/** Reads one thing that is said of the verb. */
function fill(c: TokenCursor, slots: Slots, close: boolean): boolean {
  const { tail } = slots;
  if (slots.verb === 'none') return false;
  // "knit round after round until …": how long decides.
  if (c.takes(() => says(c, '@unit after|upon @unit') && /^(?:until|till|for)$/.test(c.word())))
    return true;
  // "those 2 rounds, decrease and purl, until …": what they are
  if (slots.which && says(c, 'over again')) return true;
  if (
    slots.which &&
    c.takes(
      () =>
        says(c, APPOSED) !== null &&
        (c.done ||
          c.mark('.,;') ||
          c.isNumber() ||
          /^(?:until|till|over|again|alternately)$/.test(c.word())),
    )
  )
    return true;
  const acts = slots.verb !== 'shape';
  if (!acts && nextRounds(c, slots)) return true;
  if (acts && takesTurns(c, slots)) return true;
  if (acts && slots.which === null && slots.rounds === null && slots.name === null) {
    if (slots.verb !== 'purl') {
      const which = roundsRef(c);
      if (which) {
        slots.which = which;
        return true;
      }
    }
    if (moreSets(c, slots) || thisForRounds(c, slots) || repeatedShaping(c, slots)) return true;
  }
  // "every second round you lose 8 stitches"
  if (slots.shaping === null && c.takes(() => says(c, 'you|we|i') && readShapingInto(c, slots)))
    return true;
  if (slots.shaping === null && readShapingInto(c, slots)) return true;
  if (acts && slots.rounds === null && slots.mm === null && slots.which === null) {
    const { i } = c;
    const all = c.attempt(() => says(c, 'a? total of') && roundsHere(c, slots));
    const n = all ?? roundsHere(c, slots);
    if (n !== null) {
      slots.rounds = n;
      slots.first = FIRST.test(c.slice(Math.max(0, i - 1), c.i));
      // "Work 1 purl round"
      const [faced] =
        /\b(?:wrong|right|ws|rs)\b(?=[- ](?:side[- ])?row)/.exec(c.slice(i, c.i)) ?? [];
      if (faced && n === 1) tail.startWith = [/^w/.test(faced) ? 'WS' : 'RS'];
      const named = /\b(?:knit|purl)(?= (?:round|rnd|row))/.exec(c.slice(i, c.i))?.[0];
      if (named && slots.verb === 'work') slots.verb = named === 'purl' ? 'purl' : 'knit';
      if (!readInAll(c, tail)) tail.total ||= all !== null;
      if (slots.verb === 'work' && /^ridges?$/.test(c.word(-1)))
        slots.fabric ??= { rule: 'garter' };
      return true;
    }
    const mm = slots.name === null ? length(c) : null;
    if (mm !== null) {
      slots.mm = mm;
      return true;
    }
  }
  if (slots.rounds !== null && !tail.total && readInAll(c, tail)) return true;
  // "finish with 2 rounds of purl"
  if (slots.rounds !== null && slots.verb === 'work' && !slots.fabric) {
    const plain = c.attempt(() => {
      const { i } = c;
      if (!says(c, 'of|in|all plain? knit|knitting|purl|purling')) return null;
      const purled = c.slice(i, c.i).includes('purl');
      return c.isNumber() || /^(?:side|st|sts|stitch)$/.test(c.word()) ? null : { purled };
    });
    if (plain) slots.verb = plain.purled ? 'purl' : 'knit';
    if (plain) return true;
  }
  if (readCrossingPart(c, tail) || readBetweenLike(c, tail)) return true;
  const shapes = !acts || slots.verb === 'go-on' || slots.name !== null;
  // "a second decrease round like the first"
  if (slots.name !== null && c.takes(() => says(c, LIKE_FIRST) !== null && !isUnit(c))) return true;
  if (shapes && readLikeRound(c, tail)) return true;
  if (alike(c, slots) || shapingPlace(c, slots) || placing(c, slots)) return true;
  if (readTailPart(c, tail)) return true;
  if (facing(c, slots)) return true;
  if (yarnOversTwisted(c, slots) || throughBacks(c, slots) || fabricTold(c, slots)) return true;
  if (slots.fabric === null || slots.fabric.rule === 'set') {
    const fabric = readFabric(c) ?? (slots.fabric ? null : fabricByStitches(c));
    if (fabric) {
      slots.fabric = fabric;
      return true;
    }
  }
  if (
    c.phrase('even') ||
    says(
      c,
      'without|with no|any? further? shaping|decreasing|increasing|decrease|decreases|increase|increases|dec|inc|decs|incs',
    ) ||
    c.phrase('straight up?')
  ) {
    slots.even = true;
    return true;
  }
  if (c.phrase('plain')) return true;
  const runs = slots.verb === 'knit' || slots.verb === 'purl';
  if (runs && close && slots.rounds === null && says(c, 'all|every|each of? the? @sts'))
    return true;
  if (
    (slots.rounds !== null || slots.fabric !== null) &&
    ((overStitches(c, slots) || says(c, 'of it|this|these|that|them|those')) ??
      says(c, 'back|across'))
  )
    return true;
  if (slots.colour === null) {
    const colour = inColour(c);
    if (colour) {
      slots.colour = colour;
      return true;
    }
  }
  if ((!acts || slots.verb === 'go-on') && toldAgain(c)) return true;
  if (stitchesNamed(c, slots)) return true;
  if (slots.fabric !== null && (repeatsFabric(c, slots.fabric) || asEarlier(c, slots))) return true;
  if (eachPass(c, slots) || roundsTold(c, slots) || restsColour(c) || explanation(c, slots))
    return true;
  if (
    acts &&
    close &&
    slots.name === null &&
    slots.which === null &&
    slots.rounds === null &&
    slots.shaping === null
  ) {
    // "1 more decrease round", "2 further decrease rounds"
    let many: number | null = null;
    const name = c.attempt(() => {
      many = says(c, '# more|further|additional|last|final|other*')?.[0] ?? null;
      const alone = many !== null && c.isNumber(-1);
      if (many === null) says(c, 'the|a|this|another|one|last|final*');
      const found = nameBeforeUnit(c);
      // "2 decrease rounds", but "one plain round and one decrease round" is a pair.
      const several = !alone || (many !== 1 && SHAPED_NAME.test(found ?? ''));
      return found && unit(c) && several ? found : null;
    });
    if (name) {
      slots.name = name;
      if (many !== null && many > 1) Object.assign(tail, { times: many, more: true });
      return true;
    }
  }
  return false;
}

/** "Continue in rib, k2 and p2 alternately, and work 6 rounds": one clause with two verbs. */
function goesOnWorking(c: TokenCursor, slots: Slots): boolean {
  if (slots.fabric === null || slots.rounds !== null || slots.mm !== null || slots.which)
    return false;
  return c.takes(() => {
    c.eatMark(',');
    return c.phrase('and|then work|knit|do') && (c.isNumber() || /^(?:for|until)$/.test(c.word()));
  });
}

/** "Work 1 plain round and 2 decrease rounds until 20 sts remain" */
function takesTurns(c: TokenCursor, slots: Slots): boolean {
  const { which, rounds, name, shaping, tail } = slots;
  if (which !== null || rounds !== null || name !== null || shaping !== null) return false;
  return c.takes(() => {
    const told = { ...tail };
    if (!readInTurns(c, told)) return null;
    if (!/^[^.;]*\b(?:until|till|down to)\b/.test(c.slice(c.i, c.end))) return null;
    Object.assign(tail, told, { follows: true });
    return true;
  });
}

const ON_NEXT = 'on|in|at|with the very? next|following @unit';

/** The sentence or clause ends here. */
function ends(c: TokenCursor, slots: Slots): boolean {
  const t = c.peek();
  if (!t || (t.kind === 'mark' && '.;!?:*)]}'.includes(t.text))) return true;
  const start = c.i;
  const joins = c.eatMark(',&') !== null || c.phrase('and|then') || c.eatMark('-') !== null;
  if (!joins) return false;
  const then = c.here() === 'then' || c.here(-1) === 'then';
  for (let n = 0; n < 4 && c.phrase('and|then|now'); n++);
  if (
    c.takes(() => readManner(c, emptyTail()) || readFewer(c, emptyTail()) || readKnits(c) !== null)
  )
    return c.back(start, false);
  const { untilStitches, times, untilRound, untilRounds } = slots.tail;
  const bounded = (untilStitches ?? times ?? untilRound ?? untilRounds) !== null;
  // "Knit 4 rounds, then every other round decrease 8 sts": those rounds are worked before.
  if (then && (bounded || slots.rounds !== null) && /^(?:every|each|on)$/.test(c.word())) {
    c.i = start;
    return true;
  }
  // "Knit 2 rounds, then on the next round decrease 1 stitch at each end"
  if (slots.rounds !== null && c.takes(() => says(c, ON_NEXT) !== null)) {
    c.i = start;
    return true;
  }
  // "Work a decrease round and a plain round"
  if (slots.name !== null && slots.tail.times === null && slots.tail.untilStitches === null) {
    const named = c.ahead(() => {
      c.phrase('a|the|one');
      const plain = c.phrase('plain|even|knit|knitted|purl|purled');
      return (plain || nameBeforeUnit(c) !== null) && isUnit(c);
    });
    if (named) {
      c.i = start;
      return true;
    }
  }
  const whole =
    slots.rounds !== null || slots.mm !== null || slots.which !== null || slots.name !== null;
  const next = { ...slots, tail: emptyTail() };
  const verbNext = c.attempt(() => (verb(c, next) ? next.verb : null));
  // "Knit 1 round, dec 8 sts evenly": in that round
  const within =
    slots.rounds === 1 &&
    c.here(-1) === ',' &&
    /^(?:dec|decs|decrease|inc|incs|increase)$/.test(c.word());
  const participle =
    within || (/ing$/.test(c.word()) && !/^(?:working|knitting|purling|repeating)$/.test(c.word()));
  c.i = start;
  if (verbNext === null) return false;
  // "Continue in this way through round 10, then decrease in every round": another pace
  if (verbNext === 'shape')
    return !participle && ((whole && slots.verb !== 'go-on') || (then && bounded));
  return !(participle && !whole);
}

function isRef(c: TokenCursor): boolean {
  return c.ahead(() => roundsRef(c) !== null);
}
