/**
 * Cables crossed on some rounds alone: "on rounds 6 and 12 work C6F over the 6 knit sts of each panel instead of k6", "with
 * the next cable crossing on round 13". In: a cursor at the words, phrases in any order. Out: what is crossed on which
 * rounds, the cursor behind it; null otherwise.
 */
import { stitchKind } from '../stitches/table.ts';
import type { Crossing } from './ast.ts';
import { numberList, ordinalList } from './number-lists.ts';
import { eatStitch, unit } from './phrases.ts';
import { says, saysAny } from './rules.ts';
import type { OpenTail } from './tail/open-tail.ts';
import type { TokenCursor } from './token-cursor.ts';

type Open = { -readonly [K in keyof Crossing]: Crossing[K] } & { crosses: boolean };
const AFTER = 'after|thereafter|following|that|it|from|then|there|on*';
type Phrase = (c: TokenCursor, s: Open) => boolean;

const LEAD = ',|;|:|(|)|and|but|while|at|the|same|time|also|then|always|again|by|you|we|will|now*';
const CABLES = 'cable|cables|rope|ropes|crossing|crossings|cable-crossing|twist|twists';
const CROSSED =
  'cross|crosses|crossed|crossing|turn|turned|turning|twist|twisted|twisting|fall|falls|falling|work|worked|working|come|comes|coming|make|making';
const PLACES =
  'panel|panels|side|sides|needle|needles|section|sections|quarter|quarters|cable|cables|rope|ropes';
const OF = `of|in|on|at|for|along|the|each|every|all|both|your|these|those|its|middle|centre|center* #? ${PLACES}`;
const WORK =
  'work|working|worked|works|make|making|knit|knitting|do|doing|use|using|with|put|putting|is|are|being|cross|crossing|crosses|as|the|a|one|next|your|have|having';

/** "on rounds 6, 12 and 18", "on the 6th and 12th rounds", "every 6th round (rounds 6, 12, 18)" */
const rounds: Phrase = (c, s) =>
  c.takes(() => {
    if (s.rounds !== null || s.every !== null) return null;
    says(c, '(|, and?');
    says(c, 'on|in|at|of|with|during|for');
    const each = everyNth(c);
    const listed = c.attempt(() => {
      const open = c.eatMark('([:');
      says(c, 'ie|that|is|on|the*');
      const list = c.attempt(() => (unit(c) ? numberList(c) : null)) ?? nths(c);
      if (list && open) c.eatMark(')]');
      return list;
    });
    // "in round 7 and every following 6th round"
    const more = listed && c.attempt(() => (says(c, ',|then|and* on|in?') ? everyNth(c) : null));
    s.rounds = listed;
    s.every = listed && each ? null : (each ?? more);
    return (listed ?? each) !== null;
  });

/** "every 6th round", "each following 6 rounds" */
function everyNth(c: TokenCursor): number | null {
  const n =
    says(c, `the? every|each following|foll|subsequent? %every @unit ${AFTER}`) ??
    says(c, `every|each following|foll|subsequent? #every @unit ${AFTER}`);
  return n?.[0] ?? null;
}

function nths(c: TokenCursor): readonly number[] | null {
  return c.attempt(() => {
    says(c, 'the');
    const list = ordinalList(c);
    return list && unit(c) ? list : null;
  });
}

/** "instead of k6", "in place of the 6 knit sts of each panel" */
const instead: Phrase = (c, s) =>
  c.takes(() => {
    const led = saysAny(c, ['instead of the?', 'in place of the?', 'rather than the?', 'for the?']);
    const run = led && knitRun(c);
    if (!run) return null;
    s.over = run;
    says(c, OF);
    return true;
  });

/** "k6", "6 knit sts", "knit 6" */
function knitRun(c: TokenCursor): number | null {
  return c.attempt(() => {
    const n = says(c, '# knit|k|central|centre|center|middle|cable* @sts|ones?')?.[0];
    if (n != null) return n;
    const stitch = eatStitch(c);
    const { name, amount } = stitch ?? {};
    return name === 'k' && amount && 'times' in amount ? amount.times : null;
  });
}

/** "over the 6 knit sts of each panel", "in every panel" */
const where: Phrase = (c, s) =>
  c.takes(() => {
    const over = says(
      c,
      'over|across|on|with|in|of|to the|these|those|your* # knit|central|centre|center|middle|cable* @sts|ones',
    );
    if (over?.[0] != null) s.over ??= over[0];
    const place = says(c, OF);
    return over !== null || place !== null || null;
  });

/** "work C6F", "with C6F", "replacing k6 by C6F", "cross the ropes", "the next cable crossing" */
const what: Phrase = (c, s) =>
  c.takes(() => {
    const start = c.i;
    const replaced = c.attempt(() => {
      if (
        !says(c, 'replace|replacing|swap|swapping|change|changing|substitute the|each|every|all*')
      )
        return null;
      const run = knitRun(c);
      if (run === null) return null;
      says(c, OF);
      s.over = run;
      return says(c, 'with|by|for|to|into the|a|one*');
    });
    if (!replaced) says(c, `${WORK}*`);
    const name = c.attempt(() => {
      const stitch = eatStitch(c);
      return stitch && stitchKind(stitch.name)?.crossing ? stitch.name : null;
    });
    if (name) {
      s.stitch ??= name;
      return true;
    }
    if (replaced) return null;
    says(c, CROSSED);
    // "cross the 4 knit sts of each panel (C4F)"
    const run = says(
      c,
      'the|these|those|all* # knit|k|central|centre|center|middle|cable* @sts',
    )?.[0];
    if (run != null) {
      s.over = run;
      s.crosses ||= /\bcross/.test(c.slice(start, c.i));
      return s.crosses || null;
    }
    if (!says(c, `the|your|all|each|every|next|first|following|these|#* ${CABLES}`)) return null;
    says(c, `to|is|are|being|will|be|should* ${CROSSED}`);
    s.crosses ||= /\b(?:cross|turn|twist)/.test(c.slice(start, c.i));
    return s.crosses || null;
  });

const PHRASES: readonly Phrase[] = [rounds, instead, what, where];

/** Words that may begin it; looked at first, for speed. */
const BEGINS =
  /^(?:,|;|\(|and|but|while|at|on|in|with|work|working|cross|crossing|make|making|replace|replacing|use|using|by|every|each|the|put|also|knit)$/;

export function readCrossing(c: TokenCursor): Crossing | null {
  if (!BEGINS.test(c.here())) return null;
  return c.attempt(() => {
    const s: Open = { stitch: null, over: null, rounds: null, every: null, crosses: false };
    says(c, LEAD);
    for (let n = 0; n < 8; n++) {
      if (!PHRASES.some((read) => read(c, s))) {
        // "…, and work C6F instead", "on rounds 6 and 12, work …"
        if (n === 0 || !c.takes(() => says(c, LEAD) !== null && PHRASES.some((read) => read(c, s))))
          break;
      }
    }
    says(c, 'instead|throughout|)*');
    const { stitch, over, rounds, every, crosses } = s;
    if ((rounds ?? every) === null || (stitch === null && !crosses)) return null;
    return { stitch, over, rounds, every };
  });
}

/** As a part of what is said of going on. */
export function readCrossingPart(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.crosses !== null) return false;
  tail.crosses = readCrossing(c);
  return tail.crosses !== null;
}
