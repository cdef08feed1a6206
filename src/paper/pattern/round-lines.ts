/**
 * Rounds as a knitter reads them: relative wording (`k to last 3 sts of the side`, `k to marker`),
 * equal rounds in ranges, returning rounds as `Repeat rounds 2-7 three times more`.
 *
 * Input: a Plan. Output: lines from the first round to the last, in the plan language, which read back
 * into the same stitches. Wording depends on the stitches alone, not on how the plan was written.
 */

import type { Plan } from '../../plan/plan.ts';
import { colourLabel } from '../../plan/write/colours.ts';
import { roundLine, roundsLabel } from '../../plan/write/sentences.ts';
import { numberWord, times } from '../../report/words/counts.ts';
import { type Worded, wordRounds } from './round-words.ts';

export interface RoundLine {
  /** `Round 3`, `Rows 4-6`, `Round 7, CC`. */
  readonly label: string;
  readonly text: string;
  /** Stitches afterwards. */
  readonly after: number;
  /** First and last round of the plan that the line stands for. */
  readonly first: number;
  readonly last: number;
}

/** Rounds looked at for a repeat. Chosen: two wide cable intervals. */
const LONGEST_CYCLE = 24;

/** `everyRound`: each round in a line of its own, so that the lines of several sizes stand beside each other. */
export function roundLines(plan: Plan, everyRound = false): RoundLine[] {
  const worded = wordRounds(plan);
  const flat = plan.worked === 'flat';
  const word = flat ? 'Row' : 'Round';
  if (everyRound) return worded.map((_, i) => single(worded, i, word, flat));
  const lines: RoundLine[] = [];
  for (let i = 0; i < worded.length; ) {
    const cycle = bestCycle(worded, i, flat);
    if (cycle && cycle.period === 1 && worded[i].before === worded[i].after) {
      const last = i + cycle.times;
      const label = roundsLabel(word, i + 1, last) + colourLabel(worded[i].colour);
      lines.push({ label, text: worded[i].text, after: worded[i].after, first: i + 1, last });
      i = last;
      continue;
    }
    if (!cycle) {
      lines.push(single(worded, i, word, flat));
      i++;
      continue;
    }
    const end = i + cycle.period;
    for (let j = i; j < end; ) {
      // Within the cycle equal neighbours still make ranges.
      let k = j + 1;
      while (k < end && same(worded[j], worded[k]) && isPlain(worded[k]) === isPlain(worded[j]))
        k++;
      if (k - j > 1 && isPlain(worded[j])) {
        const { text, after, colour } = worded[j];
        const label = roundsLabel(word, j + 1, k) + colourLabel(colour);
        lines.push({ label, text, after, first: j + 1, last: k });
        j = k;
      } else {
        lines.push(single(worded, j, word, flat));
        // A shaped round that comes again at once.
        if (k - j > 1 && !flat) lines.push(againLine(worded, j, k, word));
        j = flat ? j + 1 : k;
      }
    }
    const last = i + cycle.period * cycle.times;
    const more = cycle.times - 1;
    const range = roundsLabel(word, end + 1, last);
    const which = roundsLabel(word, i + 1, end).toLowerCase();
    lines.push({
      label: range,
      text: cycle.period === 1 ? `as ${which}` : `repeat ${which} ${oftenMore(more)}`,
      after: worded[last - 1].after,
      first: end + 1,
      last,
    });
    i = last;
  }
  return lines;
}

/** A line as printed: `Round 3: …. (112 sts)`. */
export function lineText(line: RoundLine): string {
  return withTwice(roundLine(line.label, line.text, line.after));
}

/** `[k2tog] twice`, as the trade writes what stands in brackets. */
export function withTwice(line: string): string {
  return line.replace(/\] 2 times\b/g, '] twice');
}

function single(worded: readonly Worded[], i: number, word: string, flat: boolean): RoundLine {
  const { text, after, wrongSide, colour } = worded[i];
  const side = flat || wrongSide ? ` (${wrongSide ? 'WS' : 'RS'})` : '';
  return {
    label: `${word} ${i + 1}${side}${colourLabel(colour)}`,
    text,
    after,
    first: i + 1,
    last: i + 1,
  };
}

/** `Rounds 4 and 5: as round 3`: rounds j + 2 to k (1-based) like the one before them. */
function againLine(
  worded: readonly Worded[],
  j: number,
  k: number,
  word: 'Round' | 'Row',
): RoundLine {
  const label = roundsLabel(word, j + 2, k);
  return { label, text: `as round ${j + 1}`, after: worded[k - 1].after, first: j + 2, last: k };
}

function isPlain({ before, after }: Worded): boolean {
  return before === after;
}

function same(a: Worded, b: Worded): boolean {
  return a.text === b.text && a.colour === b.colour;
}

/** The repeat from round `at` that saves most lines; null where none saves two. */
function bestCycle(
  worded: readonly Worded[],
  at: number,
  flat: boolean,
): { period: number; times: number } | null {
  let best: { period: number; times: number } | null = null;
  let saved = 0;
  for (let period = 1; period <= LONGEST_CYCLE && at + 2 * period <= worded.length; period++) {
    let times = 1;
    while (repeats(worded, at, period, times)) times++;
    if (times < 2) continue;
    // A row may come again as a right-side and as a wrong-side row only in a range of equal rows.
    if (flat && period % 2 === 1 && period > 1) continue;
    if (flat && period === 1 && worded[at].before !== worded[at].after) continue;
    const saving = (times - 1) * period - (period === 1 ? 0 : 1);
    // A longer cycle must save more than the repeats of a shorter one.
    if (saving > saved) {
      saved = saving;
      best = { period, times };
    }
  }
  return saved >= 1 ? best : null;
}

function repeats(worded: readonly Worded[], at: number, period: number, times: number): boolean {
  const from = at + period * times;
  if (from + period > worded.length) return false;
  for (let k = 0; k < period; k++) if (!same(worded[at + k], worded[from + k])) return false;
  return true;
}

/** The same beside the number of a round, in words. */
function oftenMore(n: number): string {
  return n <= 2
    ? `${times(n)} more`
    : `${n > 20 ? 'another ' : ''}${numberWord(n)} times${n > 20 ? '' : ' more'}`;
}
