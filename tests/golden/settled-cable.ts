/**
 * One row of src/view/fabric/settled-cables.ts: how the strands of a cable travel and lie over one another at rest.
 * In: stitches in each strand. Out: by rounds from three below the crossing to three above, the share of the way across
 * that is done, and the height over where the columns lie half way between crossings, yarn diameters.
 */
import { HAND_LOOP } from '../../src/cell/fabric-ratios.ts';
import { relaxPanel } from '../../src/cell/relax-panel.ts';

/** Rounds on each side of a crossing, and from one to the next. */
const REACH = 3;
const EVERY = 8;
const SEGMENTS = 24;

export function settledCable(moved: number) {
  const row = [-1, ...new Array<1>(2 * moved).fill(1), -1] as (1 | -1)[];
  const crossed = EVERY / 2;
  const panel = relaxPanel({
    faces: Array.from({ length: EVERY }, () => row),
    crossings: [{ row: crossed, wale: 1, over: moved, under: moved, lean: 1 }],
    loopMm: HAND_LOOP,
    yarnMm: 1,
    segments: SEGMENTS,
  });
  const { points, pointsPerRow } = panel.shape;
  /** Middle of a loop: across, towards the eye. */
  const middle = (r: number, wale: number): [number, number] => {
    const sum: [number, number] = [0, 0];
    for (let k = 0; k < SEGMENTS; k++) {
      const at = 3 * (r * pointsPerRow + wale * SEGMENTS + k);
      sum[0] += points[at] / SEGMENTS;
      sum[1] += points[at + 2] / SEGMENTS;
    }
    return sum;
  };
  const home = (wale: number) =>
    [0, 1].map((c) => (middle(0, wale)[c] + middle(EVERY - 1, wale)[c]) / 2);
  const strand = (isOver: boolean) => {
    const travel: number[] = [];
    const height: number[] = [];
    for (let r = crossed - REACH; r < crossed + REACH; r++) {
      let way = 0;
      let up = 0;
      for (let k = 1; k <= moved; k++) {
        // Leaning left, what crosses over comes from the right: from the first columns to the last.
        const from = isOver ? k : moved + k;
        const to = isOver ? moved + k : k;
        const at = r < crossed ? from : to;
        const [x, z] = middle(r, at);
        way += (x - home(from)[0]) / (home(to)[0] - home(from)[0]) / moved;
        up += (z - home(at)[1]) / moved;
      }
      travel.push(way);
      height.push(up);
    }
    return { travel, height };
  };
  return {
    moved,
    over: strand(true),
    under: strand(false),
    converged: panel.relaxation.converged,
    reason: panel.relaxation.reason,
  };
}
