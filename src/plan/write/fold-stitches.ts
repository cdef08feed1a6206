/**
 * Stitches of one round, one by one → the line a knitter reads: `*ssk, k26, k2tog; rep from * 3
 * times more`.
 *
 * Input: canonical stitch names in working order. Output: text in the plan language without the
 * final stop, which reads back into exactly these stitches.
 */

/** Names that take a number behind them (`k5`); others are repeated in brackets. */
const COUNTED = new Set(['k', 'p']);

interface Run {
  readonly name: string;
  readonly times: number;
}

/** One round as text. Empty input gives an empty string. */
export function foldRound(names: readonly string[]): string {
  if (names.length === 0) return '';
  const first = names[0];
  if (names.every((name) => name === first)) {
    if (first === 'k') return 'knit';
    if (first === 'p') return 'purl';
  }
  const period = smallestPeriod(names);
  const times = names.length / period;
  const block = foldSequence(names.slice(0, period));
  if (times === 1) return block;
  if (times > 6) return `*${block}; rep from * to end`;
  return `*${block}; rep from * ${times === 2 ? 'once' : `${times - 1} times`} more`;
}

/** A stretch of a round: runs counted, short repeats put in brackets. `words`: of a run of one stitch. */
export function foldSequence(
  names: readonly string[],
  words: (name: string, times: number) => string = runText,
): string {
  const runs = runsOf(names);
  const parts: string[] = [];
  let i = 0;
  while (i < runs.length) {
    const repeat = bestRepeat(runs, i);
    if (repeat) {
      const inner = runs.slice(i, i + repeat.period).map((run) => words(run.name, run.times));
      parts.push(`[${inner.join(', ')}] ${repeat.times} times`);
      i += repeat.period * repeat.times;
    } else {
      parts.push(words(runs[i].name, runs[i].times));
      i++;
    }
  }
  return parts.join(', ');
}

function runText(name: string, times: number): string {
  if (COUNTED.has(name)) return `${name}${times}`;
  return times === 1 ? name : `[${name}] ${times} times`;
}

function runsOf(names: readonly string[]): Run[] {
  const runs: Run[] = [];
  for (let i = 0; i < names.length; ) {
    let j = i + 1;
    while (j < names.length && names[j] === names[i]) j++;
    runs.push({ name: names[i], times: j - i });
    i = j;
  }
  return runs;
}

/** The repeat from run `at` that shortens the line most; none where it saves fewer than three parts. */
function bestRepeat(runs: readonly Run[], at: number): { period: number; times: number } | null {
  let best: { period: number; times: number } | null = null;
  let saved = 2;
  const longest = Math.min(12, Math.floor((runs.length - at) / 2));
  for (let period = 2; period <= longest; period++) {
    // A bracket inside a bracket would read badly: leave runs that need one out.
    if (runs.slice(at, at + period).some((run) => run.times > 1 && !COUNTED.has(run.name))) break;
    let times = 1;
    while (matches(runs, at, at + period * times, period)) times++;
    if (times >= 2 && (times - 1) * period > saved) {
      saved = (times - 1) * period;
      best = { period, times };
    }
  }
  return best;
}

function matches(runs: readonly Run[], a: number, b: number, length: number): boolean {
  if (b + length > runs.length) return false;
  for (let i = 0; i < length; i++)
    if (runs[a + i].name !== runs[b + i].name || runs[a + i].times !== runs[b + i].times)
      return false;
  return true;
}

/** Length of the shortest block whose repetition gives the whole list. */
export function smallestPeriod(names: readonly string[]): number {
  const n = names.length;
  // Failure function of Knuth, Morris and Pratt: n − fail[n] is the period if it divides n.
  const fail = new Int32Array(n + 1);
  fail[0] = -1;
  for (let i = 0, k = -1; i < n; ) {
    while (k >= 0 && names[i] !== names[k]) k = fail[k];
    fail[++i] = ++k;
  }
  const period = n - fail[n];
  return n % period === 0 ? period : n;
}
