/**
 * What is told beside the verb of a clause: rounds like others, changes of each pass, rounds in all,
 * markers placed. In: a cursor at the words, the slots of the clause. Out: true where they stand here, kept in the slots.
 */
import { markersHung } from '../../markers-hung.ts';
import { nthsAlone } from '../../number-lists.ts';
import { isUnit } from '../../phrases.ts';
import { namesRoundNext } from '../../round-names.ts';
import { roundsRef } from '../../round-refs.ts';
import { says } from '../../rules.ts';
import { readEachTime } from '../../tail/each-time.ts';
import type { OpenTail } from '../../tail/open-tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Slots } from './slots.ts';

/** "work rounds 5-14 the same as rounds 3 and 4", "the next 3 rounds are worked like the first" */
export function alike(c: TokenCursor, slots: Slots): boolean {
  const rounds =
    slots.rounds ?? (slots.which?.kind === 'numbers' ? slots.which.numbers.length : null);
  if (rounds === null || slots.verb === 'knit' || slots.verb === 'purl' || slots.fabric)
    return false;
  return c.takes(() => {
    if (!says(c, ',|in|exactly|just* the? same? way|manner? as|like')) return null;
    const which = roundsRef(c) ?? nthsAlone(c);
    if (!which) return null;
    slots.which = which;
    slots.rounds = null;
    slots.tail.forRounds = rounds;
    return true;
  });
}

/** "(8 sts dec'd each time)", ", 8 sts fewer every time" */
export function eachPass(c: TokenCursor, { tail }: Slots): boolean {
  return c.takes(() => {
    if (namesRoundNext(c)) return null;
    if (readEachTime(c, tail)) return true;
    c.eatMark('(,-');
    const change = (words: string): number | null =>
      says(
        c,
        `# @sts? are|being|is? ${words} each|every|per|in|on|by* time|round|rnd|repeat|pass|repetition )?`,
      )?.[0] ?? null;
    const told = eachTime(c);
    if (told !== null) {
      tail.eachPass = told;
      return true;
    }
    const less = change("dec'd|decd|decreased|fewer|less|lost|gone|dec");
    const more = less === null ? change("inc'd|incd|increased|more|gained|inc") : null;
    if (less === null && more === null) return null;
    tail.eachPass = less === null ? more : -less;
    return true;
  });
}

const EACH_TIME =
  'a|an|# new|more|extra|fewer|less|further* @sts? more|extra|fewer|less? with|in|on|by|at? each|every|per time|round|rnd|row|repeat|pass|repetition )?';
const WHAT_IT_DOES = ',|and|so|thus|which|that|this|it|you|we|will|always*';
const ADDS =
  'add|adds|adding|make|makes|making|gain|gains|gaining|give|gives|giving|increase|increases|increasing you?';
const TAKES = 'lose|loses|losing|take|takes|taking|decrease|decreases|decreasing';

/** "which makes 1 stitch each time", "so losing a stitch every row" */
function eachTime(c: TokenCursor): number | null {
  const more = says(c, `${WHAT_IT_DOES} ${ADDS} ${EACH_TIME}`);
  if (more) return more[0] ?? 1;
  const less = says(c, `${WHAT_IT_DOES} ${TAKES} ${EACH_TIME}`);
  return less && -(less[0] ?? 1);
}

/** "(40 rows)", "- 46 rows in all" */
export function roundsTold(c: TokenCursor, { verb, which, tail }: Slots): boolean {
  return c.takes(() => {
    const start = c.i;
    const inside = verb !== 'repeat' && !which && tail.times === null && tail.untilRounds === null;
    if (inside && !c.mark('([')) return null;
    const n = says(
      c,
      '(|-|=|,|;|:|and|then|that|which|this|it|so|ie|you|we|there|will|should|now|have|is|are|makes|make|making|gives|give|giving|comes|to|come|for|a|total|of* # garter|purl? @unit|ridge|ridges in|all|total|altogether|worked|done|completed|are|so|far|from|the|cast|on|edge|beginning|start* .? )|]?',
    );
    if (n?.[0] == null || tail.roundsTold !== null || (inside && c.here(-1) !== ')')) return null;
    // The full stop of "(16 rows.)" alone is theirs.
    if (c.here(-1) === '.') c.i--;
    tail.roundsTold = n[0] * (/\bridges?\b/.test(c.slice(start, c.i)) ? 2 : 1);
    return true;
  });
}

/** "placing a marker after every 3rd st" */
export function placing(c: TokenCursor, slots: Slots): boolean {
  return c.takes(() => {
    c.eatMark(',');
    c.phrase('and');
    const hung = markersHung(c);
    if (!hung) return null;
    slots.markers = hung;
    return true;
  });
}

/** "over the 88 sts", "on all these stitches", "with the 88 sts now on the needles": all that are there. */
export function overStitches(c: TokenCursor, { tail }: Pick<Slots, 'tail'>): boolean {
  return c.takes(() => {
    says(c, 'always');
    const n =
      says(c, 'on|over|across|along|with|to all|of|the|these|those|your|same* # @sts') ??
      says(c, 'on|over|across all|of|the|these|those|your|same* @sts|them');
    if (!n || (n[0] != null && tail.over !== null)) return null;
    tail.over ??= n[0] ?? null;
    says(
      c,
      'that|which|you|now|are|have|there|is|still|left|remaining|remain|altogether|in|all|on|the|your|needles|needle*',
    );
    return true;
  });
}

const MORE_SETS = '# more|further|additional|other|such @set';

/** "5 more stripes": what has been told to be one, so often. */
export function moreSets(
  c: TokenCursor,
  said: { which: Slots['which']; readonly tail: OpenTail },
): boolean {
  return c.takes(() => {
    const { tail } = said;
    const n = says(c, MORE_SETS)?.[0];
    if (n == null || said.which !== null || tail.times !== null) return null;
    if (/^(?:decreas|increas|shap|pat)/.test(c.word(-1)) || isUnit(c)) return null;
    said.which = { kind: 'set' };
    Object.assign(tail, { times: n, more: true });
    return true;
  });
}
