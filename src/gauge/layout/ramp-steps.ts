/**
 * Draws the steps that short rows make along a course as ramps: from the middle of one tread to the middle of the
 * next, so that even steps come out straight. A step by itself spreads as far as loops lend each other yarn.
 *
 * In: a whole number a column; whether the course closes on itself. Out: a value a column.
 */

/** Stitches to either side that a single step spreads over. Chosen: as round heights are shared (`local-size.ts`). */
const LENDING = 4;

interface Step {
  readonly at: number;
  readonly by: number;
}

export function rampSteps(values: ArrayLike<number>, closed: boolean): Float64Array {
  const n = values.length;
  const laps = closed ? [-1, 0, 1] : [0];
  const steps: Step[] = [];
  for (const lap of laps) {
    for (let j = lap === laps[0] ? 1 : 0; j < n; j++) {
      const by = values[j] - values[(j + n - 1) % n];
      if (by !== 0) steps.push({ at: lap * n + j - 0.5, by });
    }
  }
  const out = new Float64Array(n).fill(values[0] ?? 0);
  const edges = closed ? [-Infinity, Infinity] : [-0.5, n - 0.5];
  steps.forEach((step, i) => {
    const before = steps[i - 1];
    const after = steps[i + 1];
    const left = reach(step, before, after, step.at - edges[0]);
    const right = reach(step, after, before, edges[1] - step.at);
    const slope = step.by / (left + right);
    const runsOn = {
      left: isCut(steps, i, -1, step.at - edges[0]),
      right: isCut(steps, i, 1, edges[1] - step.at),
    };
    for (let j = 0; j < n; j++) {
      const along = j - (step.at - left);
      const low = runsOn.left ? along : Math.max(along, 0);
      out[j] += slope * (runsOn.right ? low : Math.min(low, left + right));
    }
  });
  return out;
}

/** A last tread that is no wider than the others is cut short by the edge: the slope runs on through it. */
function isCut(steps: readonly Step[], i: number, way: 1 | -1, edge: number): boolean {
  const behind = steps[i - way];
  if (steps[i + way] || !behind || Math.sign(behind.by) !== Math.sign(steps[i].by)) return false;
  return edge <= Math.abs(behind.at - steps[i].at) + 0.5;
}

/** How far a step's ramp goes towards the step `next` (or the edge, so far away); `behind` is on its other side. */
function reach(step: Step, next: Step | undefined, behind: Step | undefined, edge: number): number {
  const apart = (other: Step): number => Math.abs(other.at - step.at);
  if (next && Math.sign(next.by) === Math.sign(step.by)) return apart(next) / 2;
  const like = behind && Math.sign(behind.by) === Math.sign(step.by) ? apart(behind) / 2 : LENDING;
  if (next) return Math.min(like, apart(next) / 2);
  return Math.min(like, Math.max(edge, like / 2));
}
