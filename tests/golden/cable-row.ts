/**
 * One row of src/cell/cable-table.ts: a cable in a ground of two stitches to each side, relaxed from two starts.
 * In: stitches in each strand, rounds between, ground, yarn of a stitch in diameters. Out: the row. Fails where neither rests.
 */
import type { CableGround, CableRow } from '../../src/cell/cable-pull-in.ts';
import { HAND_LOOP } from '../../src/cell/fabric-ratios.ts';
import { relaxGround, relaxPanel } from '../../src/cell/relax-panel.ts';

/**
 * Stitches in a strand, rounds between, yarn of a stitch in diameters. Single stitches crossed every other round are
 * left out: repeats of two, four and six rounds rest at −2, −7 and +1 % in stockinette, at −18, −17 and −10 % in purl,
 * the longer the lower in energy, so no repeat tells what a piece would do. The others keep within 1.2 points.
 */
export const CABLE_CASES: readonly (readonly [number, number, number])[] = [
  [1, 3, HAND_LOOP],
  [1, 4, HAND_LOOP],
  [2, 3, HAND_LOOP],
  [2, 4, HAND_LOOP],
  [2, 6, HAND_LOOP],
  [2, 8, HAND_LOOP],
  [3, 4, HAND_LOOP],
  [3, 6, HAND_LOOP],
  [3, 8, HAND_LOOP],
];

/** Most steps; those that rest take 300 to 1,900. */
const MOST_STEPS = 2000;
/** Percentage points within which two rests are one. */
const SAME = 0.5;

export function cableRow(moved: number, every: number, ground: CableGround, loop: number): CableRow {
  const wales = 2 * moved + 4;
  const beside = ground === 'purl' ? -1 : 1;
  const row = Array.from({ length: wales }, (_, w): 1 | -1 =>
    w >= 2 && w < wales - 2 ? 1 : beside,
  );
  const request = (at: number) => ({
    faces: Array.from({ length: every }, () => row),
    crossings: [{ row: at, wale: 2, over: moved, under: moved, lean: 1 as const }],
    loopMm: loop,
    yarnMm: 1,
    maxIterations: MOST_STEPS,
  });
  const plain = relaxGround(request(1));
  // The crossing in the middle of the laid repeat or near its edge: it is laid, and comes to rest, in another way.
  const starts = [1, Math.max(2, every >> 1)].map((at) => relaxPanel(request(at), plain));
  const rests = starts
    .filter(({ relaxation }) => relaxation.converged)
    .sort((a, b) => a.energy - b.energy);
  if (rests.length === 0) {
    throw new Error(`${moved} over ${moved} every ${every}: ${starts[0].relaxation.reason}`);
  }
  const [first, second] = rests;
  const rounded = (value: number) => Number(value.toFixed(1));
  const differ =
    second && Math.abs(second.cablePullInPercent - first.cablePullInPercent) > SAME;
  return {
    moved,
    every,
    ground,
    loop,
    percent: rounded(first.cablePullInPercent),
    other: differ
      ? {
          percent: rounded(second.cablePullInPercent),
          energyPercent: rounded(100 * (second.energy / first.energy - 1)),
        }
      : null,
  };
}
