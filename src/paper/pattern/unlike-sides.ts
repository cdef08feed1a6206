/**
 * Sides of a round that are shaped alike and are not as long: a border round an oblong, whose corners stand apart by
 * other numbers of stitches. In: a Plan worked in the round. Out: the stitches of every side in every round; null where
 * no three sides are shaped alike throughout, or a stitch lies across a corner.
 */
import type { Plan } from '../../plan/plan.ts';
import { smallestPeriod } from '../../plan/write/fold-stitches.ts';
import { consumes, makes, namesOf } from './marked-sides.ts';

/** A run of knit or purl from which on its length does not tell sides apart. Chosen. */
const LONG_RUN = 3;
const [LEAST_SIDES, MOST_SIDES] = [3, 12];

export function unlikeSides(plan: Plan): string[][][] | null {
  const all = plan.rounds.map((round) => namesOf(plan, round));
  const shaped = plan.rounds.map(({ before, after }) => before !== after);
  const outlines = all.map((names, i) => (shaped[i] ? outlineOf(names) : null));
  const sides = outlines.reduce((sum, one) => (one ? gcd(sum, repeatsOf(one)) : sum), 0);
  if (sides < LEAST_SIDES || sides > MOST_SIDES) return null;
  const first = outlines.findIndex((one) => one !== null);
  let corners: number[] | null = null;
  const rounds: string[][][] = [];
  for (const [i, names] of all.entries()) {
    const outline = outlines[i];
    const parts: string[][] | null = outline
      ? partsOf(names, outline, sides)
      : cutAt(
          names,
          corners ?? cornersOf(partsOf(all[first], outlines[first] as Outline, sides), consumes),
        );
    if (!parts || (outline && corners && !same(cornersOf(parts, consumes), corners))) return null;
    corners = cornersOf(parts, makes);
    rounds.push(parts);
  }
  return rounds;
}

interface Outline {
  readonly tokens: readonly string[];
  /** Where each begins among the stitches. */
  readonly starts: readonly number[];
}

/** Runs of a round, long ones without their length; two short ones that meet at a corner are parted as at its start. */
function outlineOf(names: readonly string[]): Outline {
  const runs: { from: number; length: number }[] = [];
  for (let i = 0; i < names.length; ) {
    let j = i + 1;
    while (j < names.length && names[j] === names[i]) j++;
    runs.push({ from: i, length: j - i });
    i = j;
  }
  const [first, last] = [runs[0].length, runs[runs.length - 1].length];
  const meet = names[0] === names[names.length - 1] && Math.max(first, last) < LONG_RUN;
  const parted = runs.flatMap((run) =>
    meet && names[run.from] === names[0] && run.length === first + last
      ? [
          { from: run.from, length: last },
          { from: run.from + last, length: first },
        ]
      : [run],
  );
  const token = ({ from, length }: (typeof runs)[number]) =>
    /^[kp]$/.test(names[from]) && length >= LONG_RUN ? names[from] : `${names[from]} ${length}`;
  return { tokens: parted.map(token), starts: parted.map(({ from }) => from) };
}

function repeatsOf({ tokens }: Outline): number {
  return tokens.length / smallestPeriod(tokens);
}

function partsOf(names: readonly string[], { tokens, starts }: Outline, sides: number): string[][] {
  const each = tokens.length / sides;
  return Array.from({ length: sides }, (_, side) =>
    names.slice(starts[side * each], starts[(side + 1) * each] ?? names.length),
  );
}

/** Stitches before each corner but the first: those that the round works, or those that it makes. */
function cornersOf(parts: readonly (readonly string[])[], of: (name: string) => number): number[] {
  let sum = 0;
  return parts.slice(0, -1).map((part) => {
    sum += part.reduce((total, name) => total + of(name), 0);
    return sum;
  });
}

/** A round that is not shaped, cut at its corners; null where a stitch lies across one. */
function cutAt(names: readonly string[], corners: readonly number[]): string[][] | null {
  const parts: string[][] = [[]];
  let worked = 0;
  for (const name of names) {
    if (worked === corners[parts.length - 1]) parts.push([]);
    worked += consumes(name);
    if (worked > (corners[parts.length - 1] ?? worked)) return null;
    parts[parts.length - 1].push(name);
  }
  return parts.length === corners.length + 1 ? parts : null;
}

function same(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((one, i) => one === b[i]);
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
