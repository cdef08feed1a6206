/**
 * Shaping told in prose: `Dec 1 st at each end of next and every foll alt row until 20 sts rem`,
 * `Bind off 3 sts at beg of next 2 rows`, `Continue decreasing 8 sts every other round until 8 sts
 * remain`. The stitches are not named there; ssk and k2tog (kfb for increases) are common practice.
 */

import type { StatedCount } from './grammar/steps/stated-counts.ts';
import type { Step } from './grammar/steps/steps.ts';
import { UNIT } from './labels.ts';
import { NUM, ORDINAL, toNumber, toOrdinal } from './lex/numbers.ts';
import { readTail } from './repeat-lines.ts';

export interface ShapeLine {
  /** Steps of each shaping row in turn; null where the shaping so far goes on. */
  readonly rows: readonly (readonly Step[])[] | null;
  /** Rounds from one shaping round to the next; null where not said. */
  readonly every: number | null;
  /** The very next round is shaped. */
  readonly atOnce: boolean;
  readonly times: number | null;
  readonly untilStitches: number | null;
  /** The number is that of one side or section. */
  readonly perSide: boolean;
  /** "1 stitch fewer between decreases": what each plain run loses from one shaping round to the next. */
  readonly fewer: number | null;
  readonly stated: StatedCount | null;
}

const FEWER = new RegExp(
  `(${NUM})\\s+(?:(?:fewer|less|more)\\s+)?(?:plain\\s+|knit\\s+)?(?:sts?|stitch(?:es)?)(?![a-z])(?:\\s+(?:fewer|less|more))?`,
  'g',
);

/**
 * How many stitches fewer ("one less stitch between decs") a sentence asks for, negative for more; null
 * if it doesn't.
 */
export function readFewer(text: string): number | null {
  const sign = (words: string): number => (/more/.test(words) ? -1 : 1);
  for (const m of text.matchAll(FEWER)) {
    if (/fewer|less|more/.test(m[0])) return sign(m[0]) * toNumber(m[1]);
  }
  const short = new RegExp(`(${NUM})\\s+(?:fewer|less)(?![a-z])`).exec(text);
  return short ? toNumber(short[1]) : null;
}

const DEC = '(dec(?:r?ease|rs?|\\.)?|inc(?:r?ease|\\.)?)';
const EACH_END = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}${DEC}\\s+(?:(?:1|one)\\s+(?:sts?|stitch)\\s+)?(?:at\\s+|on\\s+)?(?:each|both|either)\\s+(?:ends?|sides?)(?![a-z])`,
);
const AT_BEGINNING = new RegExp(
  `^\\s*(?:bind[\\s-]*off|cast[\\s-]*off|bo)\\s+(${NUM})\\s*(?:sts?|stitch(?:es)?)?\\s+at\\s+(?:the\\s+)?(?:beg(?:inning)?\\.?|start)\\s+of\\s+(?:the\\s+)?(?:next|following|foll\\.?|every|each)\\s*(?:(${NUM})\\s+)?(?:${UNIT})`,
);
const GO_ON =
  /^\s*(?:(?:and|then|now)\s+){0,3}(?:cont(?:inue)?\.?|keep|proceed|carry|go|work(?=\s+(?:on\s+)?(?:in\s+(?:this|the\s+same)\s+(?:way|manner)|like\s+this))|rep(?:eat)?\.?(?=\s+in\s+(?:this|the\s+same)))\s+(?:on\s+)?(?:(?:to\s+)?(?:work(?:ing)?|knit(?:ting)?)?\s*)?(?:(?:in\s+(?:this|the\s+same)\s+(?:way|manner|fashion)|like\s+this|as\s+(?:set|est(?:ablished)?\.?|before)|thus),?\s*)?(?:(?:and\s+)?(?:to\s+)?(dec|inc)[a-z.]*)?/;
const EVERY = new RegExp(
  `(?:every|each)\\s+(?:following\\s+|foll\\.?\\s+)?(?:(${ORDINAL})\\s+|(${NUM})\\s+)?(?:foll\\.?\\s+|following\\s+)?(?:${UNIT})`,
);

/** "each side of every marker": both ends of each section. */
const BESIDE =
  /^\s*of\s+(?:each|every|all|the|both)?\s*(?:of\s+the\s+)?(?:\w+\s+)?(?:markers?|corners?|m\b|sides?|needles?|sections?)(?![a-z])/;
const OF_ROW =
  /^\s*of\s+(?:the\s+|this\s+|next\s+|every\s+|each\s+|foll[a-z.]*\s+|following\s+)*(?:next|every|foll|rows?|rounds?|rnds?|work|piece|needle|\d)/;

/** One round that loses or gains a stitch at both ends, or at both ends of each side. */
function eachEnd(decrease: boolean, from: number, to: number, everySide: boolean): Step[] {
  const span = { from, to };
  const once = { times: 1 };
  const steps: Step[] = decrease
    ? [
        { kind: 'stitch', name: 'ssk', amount: once, ...span },
        { kind: 'pattern', rule: 'set', amount: { kind: 'end', count: 2 }, ...span },
        { kind: 'stitch', name: 'k2tog', amount: once, ...span },
      ]
    : [
        { kind: 'stitch', name: 'kfb', amount: once, ...span },
        { kind: 'pattern', rule: 'set', amount: { kind: 'end', count: 1 }, ...span },
        { kind: 'stitch', name: 'kfb', amount: once, ...span },
      ];
  if (!everySide) return steps;
  return [{ kind: 'group', steps, amount: once, otherTimes: null, eachSide: true, ...span }];
}

const EVENLY = new RegExp(
  `^\\s*(?:(?:and|then|now)\\s+){0,3}${DEC}\\s+(?:by\\s+)?(${NUM})\\s*(?:sts?|stitch(?:es)?)?\\s*even(?:ly)?(?:\\s+(?:spaced|distributed))?(?:\\s+(?:across|around|over))?`,
);

/** "Dec 8 sts evenly on next and every foll 3rd round until 48 sts remain"; null if it is one round only. */
function spreadLine(text: string, m: RegExpExecArray, base: number, to: number): ShapeLine | null {
  const rest = text.slice(m[0].length, m[0].length + 400);
  const every = EVERY.exec(rest);
  const tail = readTail(every ? rest.replace(every[0], ' '.repeat(every[0].length)) : rest);
  if (!every || (tail.untilStitches === null && tail.times === null)) return null;
  const name = m[1].startsWith('d') ? 'k2tog' : 'm1';
  const span = every[1] ? toOrdinal(every[1]) : every[2] ? toNumber(every[2]) : 1;
  return {
    rows: [[{ kind: 'spread', name, times: toNumber(m[2]), from: base, to }]],
    every: Number.isFinite(span) && span > 0 ? span : null,
    atOnce: /\bnext\b|\bthis\b/.test(rest),
    times: tail.times,
    untilStitches: tail.untilStitches,
    perSide: tail.perSide,
    fewer: null,
    stated: tail.stated,
  };
}

/** Reads such a sentence, which stands at `base` of the source; null where it is none. */
export function readShape(text: string, base: number): ShapeLine | null {
  const to = base + text.trimEnd().length;
  const off = AT_BEGINNING.exec(text);
  if (off) {
    const n = toNumber(off[1]);
    const rows = off[2] ? toNumber(off[2]) : 1;
    const steps: Step[] = [
      { kind: 'stitch', name: 'bo1', amount: { times: n }, from: base, to },
      { kind: 'pattern', rule: 'set', amount: { kind: 'rest', count: 0 }, from: base, to },
    ];
    const tail = readTail(text.slice(off[0].length, off[0].length + 300));
    return {
      rows: [steps],
      every: 1,
      atOnce: true,
      times: rows,
      untilStitches: null,
      perSide: false,
      fewer: null,
      stated: tail.stated,
    };
  }
  const spread = EVENLY.exec(text);
  if (spread) return spreadLine(text, spread, base, to);
  const end = EACH_END.exec(text);
  const on = end ? null : GO_ON.exec(text);
  if (!end && !on) return null;
  const beside = end ? BESIDE.exec(text.slice(end[0].length)) : null;
  if (
    end &&
    !beside &&
    /^\s*of\s/.test(text.slice(end[0].length)) &&
    !OF_ROW.test(text.slice(end[0].length))
  )
    return null;
  const rest = text.slice((end ?? on)?.[0].length, ((end ?? on)?.[0].length ?? 0) + 400);
  const every = EVERY.exec(rest);
  const tail = readTail(every ? rest.replace(every[0], ' '.repeat(every[0].length)) : rest);
  if (on && !on[1] && tail.untilStitches === null) return null;
  if (on && tail.untilStitches === null && tail.times === null) return null;
  if (tail.untilStitches === null && tail.times === null && /\b(?:until|till)\b/.test(rest))
    return null;
  const span = every ? (every[1] ? toOrdinal(every[1]) : every[2] ? toNumber(every[2]) : 1) : null;
  const atOnce = /\bnext\b|\bthis\b|\bfollowing\s+(?:row|round|rnd)\s+and\b/.test(rest);
  return {
    rows: end ? [eachEnd(end[1].startsWith('d'), base, to, beside !== null)] : null,
    every: span !== null && Number.isFinite(span) && span > 0 ? span : null,
    atOnce,
    times: tail.times ?? (tail.untilStitches === null ? 1 : null),
    untilStitches: tail.untilStitches,
    perSide: tail.perSide,
    fewer: readFewer(rest),
    stated: tail.stated,
  };
}
