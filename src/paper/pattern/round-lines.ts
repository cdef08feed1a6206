/**
 * Rounds as a knitter reads them: relative wording (`k to last 3 sts of the side`, `k to marker`),
 * equal rounds in ranges, returning rounds as `Repeat rounds 2-7 three times more`.
 *
 * Input: a Plan. Output: lines from the first round to the last, in the plan language, which read back
 * into the same stitches. Wording depends on the stitches alone, not on how the plan was written.
 */
import { foldRound, foldSequence, smallestPeriod } from '../../draft/motif/fold-stitches.ts';
import type { Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { panelBounds } from './panel-bounds.ts';

export interface RoundLine {
  /** `Round 3`, `Rows 4-6`, or empty for a repeat. */
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
}

export function roundLines(plan: Plan): RoundLine[] {
  const worded = wordRounds(plan);
  const flat = plan.worked === 'flat';
  const word = flat ? 'Row' : 'Round';
  const lines: RoundLine[] = [];
  for (let i = 0; i < worded.length; ) {
    const cycle = bestCycle(worded, i, flat);
    if (cycle && cycle.period === 1 && worded[i].before === worded[i].after) {
      const last = i + cycle.times;
      const label = `${word}s ${i + 1}${cycle.times === 2 ? ' and ' : '-'}${last}`;
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
      while (k < end && same(worded[j], worded[k]) && worded[k].before === worded[k].after) k++;
      if (k - j > 1 && worded[j].before === worded[j].after) {
        const label = `${word}s ${j + 1}${k - j === 2 ? ' and ' : '-'}${k}`;
        const { text, after } = worded[j];
        lines.push({ label, text, after, first: j + 1, last: k });
        j = k;
      } else lines.push(single(worded, j++, word, flat));
    }
    const last = i + cycle.period * cycle.times;
    const more = cycle.times - 1;
    const which =
      cycle.period === 1
        ? `${word.toLowerCase()} ${i + 1}`
        : `${word.toLowerCase()}s ${i + 1}${cycle.period === 2 ? ' and ' : '-'}${end}`;
    lines.push({
      label: '',
      text: `Repeat ${which} ${timesMore(more)}`,
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
  const lead = line.label === '' ? '' : `${line.label}: `;
  return `${lead}${line.text}. (${line.after} ${line.after === 1 ? 'st' : 'sts'})`;
}

function single(worded: readonly Worded[], i: number, word: string, flat: boolean): RoundLine {
  const { text, after, wrongSide } = worded[i];
  const side = flat ? ` (${wrongSide ? 'WS' : 'RS'})` : '';
  return { label: `${word} ${i + 1}${side}`, text, after, first: i + 1, last: i + 1 };
}

function same(a: Worded, b: Worded): boolean {
  return a.text === b.text;
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
  const all = plan.rounds.map((round) => Array.from(round.works, (id) => plan.kinds[id].name));
  const sides = plan.worked === 'round' ? sidesOf(all) : 1;
  const bounds = sides > 1 ? panelBounds(plan, sides) : null;
  return plan.rounds.map((round, i) => {
    const names = all[i];
    const text =
      plan.worked === 'flat'
        ? foldRound(names)
        : sides === 1
          ? (wholeRound(names) ?? relative(names, 'end'))
          : ((i > 0 && bounds?.[i]?.markers !== 'remove' ? wholeRound(names) : null) ??
            wrap(
              wordSide(names.slice(0, names.length / sides), bounds?.[i] ?? null, i === 0),
              sides,
            ));
    const { after, before, wrongSide } = round;
    return { text, after, before, wrongSide };
  });
}

/** Longest repeat that is told as running right round the piece, across its sides. Chosen. */
const SMALL_REPEAT = 4;

function wholeRound(names: readonly string[]): string | null {
  if (names.every((name) => name === 'k')) return 'knit';
  if (names.every((name) => name === 'p')) return 'purl';
  const period = smallestPeriod(names);
  if (period > SMALL_REPEAT || names.length / period < 7) return null;
  // A stitch made between two others must say on which side of the marker it is made.
  if (names.slice(0, period).some((name) => consumes(name) === 0)) return null;
  return `*${foldSequence(names.slice(0, period))}; rep from * to end`;
}

function wrap(block: string, sides: number): string {
  return `*${block}; rep from * ${timesMore(sides - 1)}`;
}

/** `once more`, `twice more`, `3 times more`. */
function timesMore(times: number): string {
  return `${times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`} more`;
}

/** Where a panel stands in a block: stitches consumed before it and behind its end. */
export interface PanelPlace {
  readonly before: number;
  readonly end: number;
  /** Markers at both edges of the panel are there after this round. */
  readonly markers: 'place' | 'slip' | 'remove';
}

/** One side, with a marker at its end and, while the panel is whole, at both edges of the panel. */
function wordSide(block: readonly string[], panel: PanelPlace | null, placing: boolean): string {
  const told = (names: readonly string[]) =>
    placing ? foldSequence(names) : relative(names, 'marker');
  const sideMark = placing ? 'pm' : 'sm';
  const cut = panel && splitAt(block, panel.before, panel.end);
  if (!panel || !cut) return join([told(block), sideMark]);
  const [first, middle, last] = cut;
  const mark = { place: 'pm', slip: 'sm', remove: 'remove marker' }[panel.markers];
  return join([told(first), mark, foldSequence(middle), mark, told(last), sideMark]);
}

function join(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(', ');
}

function splitAt(block: readonly string[], from: number, to: number): string[][] | null {
  const parts: string[][] = [[], [], []];
  let worked = 0;
  for (const name of block) {
    const end = worked + consumes(name);
    const part = worked < from ? 0 : worked < to ? 1 : 2;
    if ((part === 0 && end > from) || (part === 1 && end > to)) return null;
    parts[part].push(name);
    worked = end;
  }
  return parts;
}

/** Shortest run that is worth wording as `k to last 3 sts`. Chosen. */
const SHORTEST_RUN = 2;

/** The longest run of knit or purl told by where it ends. */
function relative(names: readonly string[], to: 'end' | 'marker'): string {
  let from = -1;
  let length = SHORTEST_RUN - 1;
  let tie = false;
  for (let i = 0; i < names.length; ) {
    let j = i + 1;
    while (j < names.length && names[j] === names[i]) j++;
    if (names[i] === 'k' || names[i] === 'p') {
      if (j - i > length) {
        from = i;
        length = j - i;
        tie = false;
      } else if (j - i === length) tie = true;
    }
    i = j;
  }
  // Two equal runs: neither can be told from the other by "to", so the numbers stay.
  if (from < 0 || tie) return foldSequence(names);
  const behind = names.slice(from + length);
  const rest = behind.reduce((sum, name) => sum + consumes(name), 0);
  const target =
    to === 'marker'
      ? rest === 0
        ? 'to marker'
        : `to ${rest} ${rest === 1 ? 'st' : 'sts'} before marker`
      : rest === 0
        ? 'to end'
        : `to last ${rest} ${rest === 1 ? 'st' : 'sts'}`;
  const parts = [foldSequence(names.slice(0, from)), `${names[from]} ${target}`];
  return join([...parts, foldSequence(behind)]);
}

function consumes(name: string): number {
  return stitchKind(name)?.consumes ?? 1;
}

/** Equal parts that every round is made of; 1 where there are none, or too many to be sides. */
export function sidesOf(rounds: readonly (readonly string[])[]): number {
  let sides = 0;
  for (const names of rounds) {
    if (names.length === 0) continue;
    sides = gcd(sides, names.length / smallestPeriod(names));
  }
  return sides >= 2 && sides <= MOST_SIDES ? sides : 1;
}

/** More equal parts than this are a small repeat rather than sides. Chosen. */
export const MOST_SIDES = 12;

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
