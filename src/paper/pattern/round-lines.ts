/**
 * Rounds as a knitter reads them: relative wording (`k to last 3 sts of the side`, `k to marker`),
 * equal rounds in ranges, returning rounds as `Repeat rounds 2-7 three times more`.
 *
 * Input: a Plan. Output: lines from the first round to the last, in the plan language, which read back
 * into the same stitches. Wording depends on the stitches alone, not on how the plan was written.
 */

import type { Plan } from '../../plan/plan.ts';
import { colourLabel } from '../../plan/write/colours.ts';
import { foldRound, foldSequence, smallestPeriod } from '../../plan/write/fold-stitches.ts';
import { roundLine, roundsLabel } from '../../plan/write/sentences.ts';
import { shortRowWords } from '../../plan/write/stitches.ts';
import { numberWord, times } from '../../report/words/counts.ts';
import { middleStitches } from './marked-middle.ts';
import { consumes, namesOf, seamStitches, smallRepeat } from './marked-sides.ts';
import { type PanelPlace, panelBounds, splitAtPanel } from './panel-bounds.ts';
import { sidesToMark } from './sides-to-mark.ts';

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

interface Worded {
  readonly text: string;
  readonly after: number;
  readonly before: number;
  readonly wrongSide: boolean;
  readonly colour: string | undefined;
}

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
  return roundLine(line.label, line.text, line.after);
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

function wordRounds(plan: Plan): Worded[] {
  const marked = sidesToMark(plan);
  const { sides } = marked;
  const flat = plan.worked === 'flat';
  const bounds = sides > 1 && !flat && !marked.unlike ? panelBounds(plan, sides) : null;
  const middles = middleStitches(plan);
  return plan.rounds.map((round, i) => {
    const { after, before, wrongSide, colour } = round;
    const told = { after, before, wrongSide, colour };
    if (round.shortRow) return { text: shortRowWords(round, plan), ...told };
    const names = namesOf(plan, round);
    const seam = seamStitches(plan, wrongSide);
    if (sides === 1 || i >= marked.rounds) {
      const gathered = sides > 1 ? 2 : undefined;
      const text =
        wholeRound(names, gathered) ??
        (gathered && flat ? smallRow(names, seam, gathered) : null) ??
        (middles ? aboutMiddle(names, middles[i]) : repeatedRow(names, flat)) ??
        relative(names, 'end');
      return { text, ...told };
    }
    const markers =
      i === 0
        ? 'pm'
        : i + 1 === marked.rounds && i + 1 < plan.rounds.length
          ? 'remove marker'
          : 'sm';
    const place = bounds?.[i] ?? null;
    if (markers === 'sm' && place?.markers !== 'remove') {
      const whole = wholeRound(names) ?? (flat ? smallRow(names, seam) : null);
      if (whole) return { text: `${whole}, slipping the markers`, ...told };
    }
    const text = flat
      ? wordRow(names, seam, sides, markers)
      : wordMarkedRound(
          marked.unlike?.[i] ?? partsOf(names, sides),
          [place, bounds?.[i + 1] ?? null],
          markers,
        );
    return { text, ...told };
  });
}

type MarkerWord = 'pm' | 'sm' | 'remove marker';

/** Where the panel stands in this round and in the next. */
type PanelNow = readonly [PanelPlace | null, PanelPlace | null];

/** Equal parts of a round; of one that runs on over their borders they differ. */
function partsOf(names: readonly string[], sides: number): string[][] {
  const each = names.length / sides;
  return Array.from({ length: sides }, (_, i) => names.slice(i * each, (i + 1) * each));
}

/**
 * The start of the round has its marker from the join; the first round places those of the other sides, and the last
 * that has them leaves that one alone.
 */
function wordMarkedRound(
  told: readonly (readonly string[])[],
  panel: PanelNow,
  markers: MarkerWord,
): string {
  const sides = told.length;
  const parts = told.map((part) => wordSide(part, panel, markers === 'pm'));
  const last = markers === 'remove marker' ? ', sm' : '';
  if (parts.some((part) => part !== parts[0]))
    return parts.join(`, ${markers}, `) + (markers === 'pm' ? '' : ', sm');
  const [side] = parts;
  if (markers === 'sm') return wrap(`${side}, sm`, sides);
  return sides === 2
    ? `${side}, ${markers}, ${side}${last}`
    : `*${side}, ${markers}; rep from * ${timesMore(sides - 2)}, ${side}${last}`;
}

/** A row of flat work: markers between the sides, none at the edges, which are seen. */
function wordRow(
  names: readonly string[],
  { first, last }: { first: number; last: number },
  sides: number,
  mark: MarkerWord,
): string {
  const parts = partsOf(names.slice(first, names.length - last), sides);
  const told = (part: readonly string[], to: 'end' | 'marker') =>
    mark === 'pm' ? foldSequence(part) : relative(part, to);
  const edges = [names.slice(0, first), names.slice(names.length - last)];
  const begin = `${told([...edges[0], ...parts[0]], 'marker')}, ${mark}`;
  const end = told([...parts[sides - 1], ...edges[1]], 'end');
  const inner = parts.slice(0, -1).map((part) => `${told(part, 'marker')}, ${mark}`);
  if (inner.some((part) => part !== inner[0])) return [begin, ...inner.slice(1), end].join(', ');
  // Where it goes to so many stitches before the marker, the seam stitch may make no difference.
  const apart = first > 0 && begin !== inner[0];
  const repeated = sides - (apart ? 2 : 1);
  const middle =
    repeated === 0
      ? []
      : [repeated === 1 ? inner[0] : `*${inner[0]}; rep from * ${timesMore(repeated - 1)}`];
  return [...(apart ? [begin] : []), ...middle, end].join(', ');
}

/** `p1, k to last st, p1` and `k1, *p1, k1; rep from * to last st, k1`: a row that is all alike but for its edges. */
function smallRow(
  names: readonly string[],
  { first, last }: { first: number; last: number },
  least?: number,
): string | null {
  const inside = names.slice(first, names.length - last);
  const plain = /^[kp]$/.test(inside[0] ?? '') && inside.every((name) => name === inside[0]);
  const period = plain ? 1 : smallRepeat(inside, least);
  if (period === 0) return null;
  const edges = [names.slice(0, first), names.slice(names.length - last)].map((part) =>
    foldSequence(part),
  );
  const target = last === 0 ? 'to end' : toLast(last);
  const block = inside.slice(0, period);
  const run = plain ? `${block[0]} ${target}` : `*${foldSequence(block)}; rep from * ${target}`;
  return join([edges[0], run, edges[1]]);
}

function toLast(sts: number): string {
  return sts === 1 ? 'to last st' : `to last ${sts} sts`;
}

function wholeRound(names: readonly string[], least?: number): string | null {
  if (names.every((name) => name === 'k')) return 'knit';
  if (names.every((name) => name === 'p')) return 'purl';
  const period = smallRepeat(names, least);
  return period === 0 ? null : `*${foldSequence(names.slice(0, period))}; rep from * to end`;
}

/** Rows of an open piece that are a repeat: as the rounds of a plan are told. */
function repeatedRow(names: readonly string[], flat: boolean): string | null {
  return flat && smallestPeriod(names) < names.length ? foldRound(names) : null;
}

/** `k to 1 st before marked st, s2kp, k to end`; null where no run is parted by the middle stitch, at an index. */
function aboutMiddle(names: readonly string[], middle: number): string | null {
  const [before, behind] = [names.slice(0, middle), names.slice(middle + 1)];
  const name = names[middle];
  const isPlain = name === 'k' || name === 'p';
  if (isPlain && before.at(-1) === name && behind[0] === name) return null;
  const reach = (consumes(name) - 1) / 2;
  const [to, on] = [relative(before, { sts: reach }), relative(behind, 'end')];
  return join([to, foldSequence([name]), on]);
}

function wrap(block: string, sides: number): string {
  return `*${block}; rep from * ${timesMore(sides - 1)}`;
}

/** `once more`, `twice more`, `3 times more`. */
function timesMore(n: number): string {
  return `${times(n)} more`;
}

/** The same beside the number of a round, in words. */
function oftenMore(n: number): string {
  return n <= 2
    ? timesMore(n)
    : `${n > 20 ? 'another ' : ''}${numberWord(n)} times${n > 20 ? '' : ' more'}`;
}

/** One side, with markers at both edges of the panel while that is whole; the one at its end is not told. */
function wordSide(block: readonly string[], [panel, after]: PanelNow, placing: boolean): string {
  const told = (names: readonly string[]) =>
    placing ? foldSequence(names) : relative(names, 'marker');
  const cut = panel && splitAtPanel(block, panel, after);
  if (!panel || !cut) return told(block);
  const [first, middle, last] = cut;
  const mark = { place: 'pm', slip: 'sm', remove: 'remove marker' }[panel.markers];
  return join([told(first), mark, foldSequence(middle), mark, told(last)]);
}

function join(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(', ');
}

/** Shortest run that is worth wording as `k to last 3 sts`. Chosen. */
const SHORTEST_RUN = 3;

/** Where a stretch of stitches ends: at the edge, a marker, or so many stitches before the marked one. */
type StretchEnd = 'end' | 'marker' | { readonly sts: number };

/** The longest run of knit or purl told by where it ends. */
function relative(names: readonly string[], to: StretchEnd): string {
  let from = -1;
  let length = 0;
  let second = 0;
  for (let i = 0; i < names.length; ) {
    let j = i + 1;
    while (j < names.length && names[j] === names[i]) j++;
    const run = names[i] === 'k' || names[i] === 'p' ? j - i : 0;
    if (run > length) {
      second = length;
      from = i;
      length = run;
    } else second = Math.max(second, run);
    i = j;
  }
  // Of two runs that are about equal neither is told from the other by "to": the numbers stay.
  if (length < SHORTEST_RUN || second >= length - 1) return foldSequence(names);
  const behind = names.slice(from + length);
  const rest = behind.reduce((sum, name) => sum + consumes(name), 0);
  const target = to === 'end' ? (rest === 0 ? 'to end' : toLast(rest)) : toBefore(to, rest);
  const parts = [foldSequence(names.slice(0, from)), `${names[from]} ${target}`];
  return join([...parts, foldSequence(behind)]);
}

function toBefore(to: Exclude<StretchEnd, 'end'>, rest: number): string {
  const [sts, what] = to === 'marker' ? [rest, 'marker'] : [rest + to.sts, 'marked st'];
  return sts === 0 ? `to ${what}` : `to ${sts} ${sts === 1 ? 'st' : 'sts'} before ${what}`;
}
