/**
 * How wide the panels stand in the plain rounds nearest to the rim: what a grading must keep, however it read them.
 *
 * In: rounds as the right side shows them, and each one's ground. Out: a word for the widths of a round, which two
 * rounds have in common where the same panels stand in them.
 */
import { SINGLE } from '../motif/seam-rows.ts';

/** A round near the rim, right-side names, and its ground at two neighbouring places. */
export interface RimLine {
  readonly names: readonly string[];
  readonly ground: readonly [string, string];
}

/** Plain rounds of a plan that are looked at, and of its grading. Chosen: more than a repeat, and two of garter's. */
const PLAN_LINES = 6;
const GRADED_LINES = 2;

/** Whether the panels of a grading stand as wide as they do in the plan; true where neither shows any. */
export function keepsWidths(plan: readonly RimLine[], graded: readonly RimLine[]): boolean {
  const known = widthsOf(plan).slice(0, PLAN_LINES);
  const now = widthsOf(graded).slice(0, GRADED_LINES);
  return known.length === 0 || now.length === 0 || now.some((widths) => known.includes(widths));
}

const widthsOf = (lines: readonly RimLine[]) =>
  lines.map(panelWidths).filter((widths) => widths !== null);

/** Widths of all that is not ground, sorted; null where the round is shaped or shows no panel. */
function panelWidths({ names, ground: [ground, next] }: RimLine): string | null {
  if (ground !== next) return null;
  const stitches = names.flatMap(uncrossed);
  if (!stitches.every((name) => SINGLE.has(name))) return null;
  const from = stitches.indexOf(ground);
  if (from < 0) return null;
  const widths: number[] = [];
  let run = 0;
  for (let i = 1; i <= stitches.length; i++) {
    if (stitches[(from + i) % stitches.length] !== ground) run++;
    else {
      if (run > 0) widths.push(run);
      run = 0;
    }
  }
  return widths.length > 0 ? widths.sort((a, b) => a - b).join() : null;
}

/** The stitches of a cable as they are worked in the rounds between. */
function uncrossed(name: string): string[] {
  const cable = /^(\d+)\/(\d+) [LR]C$/.exec(name);
  return cable ? Array.from({ length: Number(cable[1]) + Number(cable[2]) }, () => 'k') : [name];
}
