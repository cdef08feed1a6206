/**
 * Slots → the clause that they make: a repeat, plain rounds, shaping, a named round. In: the slots, the cursor
 * behind the words, the token where they began. Out: the clause; null where the slots say too little.
 */
import type { Place } from '../../../lex/source.ts';
import type { Shaping, Tail, WorkClause } from '../../ast.ts';
import type { MarkersHung } from '../../markers-hung.ts';
import { says } from '../../rules.ts';
import { cycleOf, stitchSteps } from '../../steps/patterns.ts';
import type { Step } from '../../steps/steps.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Slots } from './slots.ts';

/** What rounds that shape are called. */
export const SHAPED_NAME = /^(?:[a-z]+ )?(?:decrease|increase|shaping)$/;

/** The clause that the slots make; null where they say too little. */
export function finish(slots: Slots, c: TokenCursor, start: number): WorkClause | null {
  const clause = finished(slots, c, start);
  // "With B, repeat rounds 1-3"
  return clause && slots.colour !== null && clause.kind !== 'plain'
    ? { ...clause, colour: slots.colour }
    : clause;
}

function finished(slots: Slots, c: TokenCursor, start: number): WorkClause | null {
  if (slots.onEach) {
    const shaping = slots.shaping && ofEach(slots.shaping);
    if (!shaping) return null;
    slots.shaping = shaping;
  }
  const behind = tellsBehind(slots, c, start);
  const made = behind ?? clauseOf(slots, c, start);
  if (made?.kind !== 'shape') return made;
  const { fabric, verb } = slots;
  if (fabric && fabric.rule !== 'set') return { ...made, fabric };
  return verb === 'knit' || verb === 'purl'
    ? { ...made, fabric: verb === 'knit' ? 'k' : 'p' }
    : made;
}

/** "On every needle, decrease 1 st at each end": the shaping of one of them; null where it isn't told of one. */
function ofEach(shaping: Shaping): Shaping | null {
  const { where, count } = shaping;
  if (where === 'begin' || where === 'end') return null;
  if (where === 'ends' || where === 'sides') return { ...shaping, where: 'sides' };
  return count === null ? null : { ...shaping, perSide: true };
}

const THUS =
  'as follows|foll|set|below?|thus|like|so|this|these|in|this|the|following|way|manner|by|working|with*';

/** "Decrease on every other round as follows: …": what each of them is stands behind the colon. */
function tellsBehind(slots: Slots, c: TokenCursor, start: number): WorkClause | null {
  const { shaping, tail, rounds, which, name, verb } = slots;
  const shapes = shaping !== null || verb === 'shape';
  if (!shapes || tail.every === null || which || name !== null || rounds !== null) return null;
  return c.attempt(() => {
    says(c, THUS);
    if (!c.mark(':') || !c.eatMark(':') || c.done) return null;
    return { kind: 'shape' as const, shaping, tail, tellsBehind: true as const, ...c.span(start) };
  });
}

function clauseOf(slots: Slots, c: TokenCursor, start: number): WorkClause | null {
  const { verb: v, which, name, shaping, rounds, mm, fabric } = slots;
  const tail = withNext(slots.tail);
  const at = c.span(start);
  const repeats = v === 'repeat';
  const timed = tail.times !== null;
  const bounded =
    tail.untilRound !== null ||
    timed ||
    tail.untilStitches !== null ||
    tail.untilRounds !== null ||
    tail.open;
  if (which) {
    const verb = (v === 'knit' || v === 'purl') && !repeats ? { verb: v } : null;
    return { kind: 'repeat', which, repeats, ...verb, tail, ...at };
  }
  // "Repeat 2 rounds until 36 sts remain": the last ones
  if (repeats && rounds !== null && tail.untilStitches !== null && !shaping)
    return { kind: 'repeat', which: { kind: 'last', count: rounds }, repeats, tail, ...at };
  const plainVerb = v === 'knit' ? 'knit' : v === 'purl' ? 'purl' : 'work';
  const count = rounds ?? tail.forRounds ?? tail.untilRounds;
  const lengthMm = mm ?? tail.untilMm;
  if (shaping) {
    const spread = shaping.where === 'evenly' && count !== null && tail.every === null && !bounded;
    if (!spread) {
      if (shaping.count === null && shaping.where === null) {
        // "Decrease on the next round as before": once.
        const like = tail.likeRound !== null && tail.every === null;
        const once = ((v === 'shape' && tail.follows) || repeats) && (tail.atOnce || like);
        // "Work 6 more rounds, decreasing as before": that many of them
        if (!bounded && rounds !== null && rounds > 1)
          return { kind: 'shape', shaping: null, tail: { ...tail, untilRounds: rounds }, ...at };
        // "decrease in every round, in the same manner, for 4 rounds"
        if (!bounded && tail.forRounds !== null && tail.every !== null)
          return {
            kind: 'shape',
            shaping: null,
            tail: { ...tail, untilRounds: tail.forRounds },
            ...at,
          };
        // "decreasing as set" of rounds, or a go-on that nothing ends.
        if (!bounded && !once) return null;
        if (!bounded) return { kind: 'shape', shaping: null, tail: { ...tail, times: 1 }, ...at };
        return {
          kind: 'shape',
          shaping: null,
          tail: { ...tail, more: tail.more || !tail.total },
          ...at,
        };
      }
      const goesOn = v === 'go-on' && shaping.where === null;
      if (goesOn && !bounded) return null;
      // "Knit 20 rounds, decreasing 8 stitches on every 4th"
      if (rounds !== null && rounds > 1 && tail.every !== null && !bounded) {
        if (rounds % tail.every) return null;
        const times = rounds / tail.every;
        return { kind: 'shape', shaping, tail: { ...tail, times, total: true }, ...at };
      }
      if (rounds !== null && rounds > 1 && tail.atOnce) return null;
      return { kind: 'shape', shaping, tail, ...at };
    }
  }
  // "Knit 2 more decrease rounds", but "knit a plain round"
  if (name !== null && ((v !== 'knit' && v !== 'purl') || SHAPED_NAME.test(name)))
    return { kind: 'named', name, repeats, tail, ...at };
  if (
    count !== null ||
    lengthMm !== null ||
    (tail.untilRound !== null && (v === 'knit' || v === 'purl' || fabric))
  ) {
    // "…, and a purl round between, until 72 sts": two ends are none
    if (rounds !== null && tail.untilStitches !== null && tail.follows) return null;
    // "Proceed in this way for 12 rounds, in each odd one 1 st more before the increase"
    if (count !== null && tail.fewer !== null && fabric === null && v !== 'knit' && v !== 'purl')
      return { kind: 'shape', shaping: null, tail: { ...tail, untilRounds: count }, ...at };
    if (v === 'shape' || name !== null) return null;
    // "Work the 8 rounds 4 times in all"
    if (timed && rounds !== null && rounds > 1 && v === 'work' && !fabric && !slots.even)
      return { kind: 'repeat', which: { kind: 'last', count: rounds }, repeats, tail, ...at };
    if (repeats && fabric === null && !slots.even) return null;
    return {
      kind: 'plain',
      cycle: markedCycle(
        slots.twisted
          ? [stitchSteps(plainVerb === 'purl' ? 'ptbl' : 'ktbl', at)]
          : cycleOf(plainVerb, fabric, slots.even || tail.follows, at),
        slots.markers,
        at,
      ),
      rounds: count ?? (lengthMm === null ? 1 : null),
      lengthMm: count === null ? lengthMm : null,
      last: shaping,
      colour: slots.colour,
      tail,
      ...(slots.first ? { first: true } : {}),
      ...at,
    };
  }
  if (
    (v === 'go-on' || repeats || v === 'work') &&
    (tail.follows || v === 'go-on' || repeats) &&
    bounded &&
    !tail.open
  ) {
    return { kind: 'shape', shaping: null, tail, ...at };
  }
  return null;
}

/** "On the next round, and then on every 4th round 3 more times": four. */
function withNext(tail: Tail): Tail {
  const { nextToo, more, times } = tail;
  return nextToo && more && times !== null ? { ...tail, times: times + 1, more: false } : tail;
}

/** The first round of the cycle with markers hung in it. */
function markedCycle(cycle: Step[][], hung: MarkersHung | null, { from, to }: Place): Step[][] {
  if (!hung) return cycle;
  return [[...cycle[0], { kind: 'marker', ...hung, from, to }], ...cycle];
}
