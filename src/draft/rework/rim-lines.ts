/**
 * How the panels stand in the plain rounds nearest to the rim: what a grading must keep, however it read them.
 *
 * In: rounds as the right side shows them, and each one's ground. Out: whether two pieces show the same panels there, as
 * wide, with what lies between the edges of a rope, and on as many sides alike.
 */
import { smallestPeriod } from '../../plan/write/fold-stitches.ts';
import { SINGLE } from '../motif/seam-rows.ts';
import { MAX_CABLE } from '../spec/panel-words.ts';

/** A round near the rim, right-side names without the seam's, and its ground at two neighbouring places. */
export interface RimLine {
  readonly names: readonly string[];
  readonly ground: readonly [string, string];
}

/** Plain rounds of a plan that are looked at, and of its grading. Chosen: more than a repeat, and two of garter's. */
const PLAN_LINES = 6;
const GRADED_LINES = 2;
/** Widest edge of a rope. As in `panel-columns.ts`. */
const WIDEST_EDGE = 2;

interface Run {
  readonly width: number;
  readonly gap: number;
  /** Twisted stitches are a line of their own, no edge of a rope (common practice). */
  readonly twisted: boolean;
}

/** What is not ground in a plain round, in order, each with the ground behind it up to the next. */
interface Shown {
  readonly runs: readonly Run[];
}

/** Most parts of a disc that are alike and not a small repeat of its ground. Chosen. */
const MOST_PARTS = 12;

/**
 * Whether the rim of a grading shows the panels of the plan; true where neither shows any. `sides`: of the piece; 1 where
 * it has no corners: then its parts that are alike.
 */
export function keepsPanels(
  plan: readonly RimLine[],
  graded: readonly RimLine[],
  sides: number,
): boolean {
  const own = repeatsAtRim(plan);
  const parts = sides > 1 ? sides : own <= MOST_PARTS ? own : 1;
  const alike = own > 0 && own % parts === 0;
  if (alike && repeatsAtRim(graded) % parts !== 0) return false;
  const known = shownIn(plan).slice(0, PLAN_LINES);
  const now = shownIn(graded).slice(0, GRADED_LINES);
  return (
    known.length === 0 ||
    now.length === 0 ||
    now.some((line) => known.some((own) => isLike(own, line)))
  );
}

/**
 * Whether shaped columns stand between edges of what may be a rope, with as narrow ground on both hands: any of the gaps in
 * `p1 k4 p1 k2 p1 k4 p1` may be the rope, and which one was meant decides which may grow. Even spacing is of lines, not ropes.
 * `columns`: of the rim, right to left, without the seam's; `cabled`: those of panels that cross.
 */
export function shapesRope(
  lines: readonly RimLine[],
  columns: readonly number[],
  shaped: ReadonlySet<number>,
  cabled: ReadonlySet<number>,
): boolean {
  const line = lines.find(
    (one) => shown(one) !== null && one.names.flatMap(uncrossed).length === columns.length,
  );
  if (!line) return false;
  const runs = shown(line)?.runs ?? [];
  const n = runs.length;
  const mayBe = ropesOf(runs);
  const column = (place: number) => columns[place % columns.length];
  let at = firstRun(line.names.flatMap(uncrossed), line.ground[0]);
  return runs.some(({ width, gap }, i) => {
    const end = at + width;
    at = end + gap;
    const [before, behind] = [(i + n - 1) % n, (i + 1) % n];
    const open = mayBe[before] && mayBe[i] && mayBe[behind];
    const even = gap === runs[before].gap && gap === runs[behind].gap;
    if (!open || even || cabled.has(column(end - 1)) || cabled.has(column(at))) return false;
    return Array.from({ length: gap }, (_, k) => column(end + k)).some((one) => shaped.has(one));
  });
}

/** Place of the first stitch that is not ground behind one that is. */
function firstRun(names: readonly string[], ground: string): number {
  const from = names.indexOf(ground);
  return (
    from + [...names.slice(from), ...names.slice(0, from)].findIndex((name) => name !== ground)
  );
}

/** For each run, whether it and the next may be the edges of a rope: equal, narrow, no farther apart than a cable is wide. */
function ropesOf(runs: Shown['runs']): boolean[] {
  return runs.map(({ width, gap, twisted }, i) => {
    const next = runs[(i + 1) % runs.length];
    const edges = !twisted && !next.twisted && width === next.width && width <= WIDEST_EDGE;
    return runs.length > 1 && edges && gap <= MAX_CABLE;
  });
}

const shownIn = (lines: readonly RimLine[]) => lines.map(shown).filter((line) => line !== null);

function isLike(own: Shown, line: Shown): boolean {
  const widths = ({ runs }: Shown) =>
    runs
      .map(({ width }) => width)
      .sort((a, b) => a - b)
      .join();
  return widths(own) === widths(line) && keepsRopes(own.runs, line.runs);
}

/** How often the same stitches make the plain round nearest to the rim; 0, which any number divides, for one all alike. */
function repeatsAtRim(lines: readonly RimLine[]): number {
  const plain = lines.map(({ names }) => names.flatMap(uncrossed)).find(isPlain);
  const period = plain ? smallestPeriod(plain) : 1;
  return plain && period > 1 ? plain.length / period : 0;
}

const isPlain = (names: readonly string[]) => names.every((name) => SINGLE.has(name));

/**
 * Two equal edges no farther apart than a cable is wide may be a rope that is not crossed in this round: each of them keeps
 * what lies on one hand of it as it was.
 */
function keepsRopes(own: Shown['runs'], now: Shown['runs']): boolean {
  const n = own.length;
  const mayBe = ropesOf(own);
  const kept = own.map(({ gap }, i) => gap === now[i].gap);
  return own.every((_, i) => {
    const before = (i + n - 1) % n;
    if (!mayBe[i] && !mayBe[before]) return true;
    return (mayBe[i] && kept[i]) || (mayBe[before] && kept[before]);
  });
}

/** Null where the round is shaped, shows no panel, or has a ground that alternates. */
function shown({ names, ground: [ground, next] }: RimLine): Shown | null {
  if (ground !== next) return null;
  const stitches = names.flatMap(uncrossed);
  if (!isPlain(stitches)) return null;
  const from = stitches.indexOf(ground);
  if (from < 0) return null;
  const line = [...stitches.slice(from), ...stitches.slice(0, from)];
  const runs: Run[] = [];
  for (let i = 0; i < line.length; ) {
    if (line[i] === ground) {
      i++;
      continue;
    }
    let end = i;
    while (end < line.length && line[end] !== ground) end++;
    let next = end;
    while (next < line.length && line[next] === ground) next++;
    // The round closes: behind its end lies the ground that it begins with.
    const gap = next - end + (next === line.length ? line.findIndex((name) => name !== ground) : 0);
    runs.push({ width: end - i, gap, twisted: /tbl$/.test(line[i]) });
    i = next;
  }
  return runs.length > 0 ? { runs } : null;
}

/** The stitches of a cable as they are worked in the rounds between. */
function uncrossed(name: string): string[] {
  const cable = /^(\d+)\/(\d+) [LR]C$/.exec(name);
  return cable ? Array.from({ length: Number(cable[1]) + Number(cable[2]) }, () => 'k') : [name];
}
