/** Lines that run side by side at a constant distance are one corner: a strip between two decreases. */
import { type Rings, ringSize } from '../layout/rings.ts';

/** A line being followed from the widest course inwards. */
export interface Track {
  /** [courses] place, unwrapped along the walk. */
  place: Float64Array;
  loss: Float64Array;
  /** Half the strip that the line stands for, in stitches; 0 for a plain line. */
  halfWidth: number;
  born: number;
  events: number;
  /** Shaping rounds behind the first one on sides wide enough to tell, and those of them whose shaping stood elsewhere. */
  compared: number;
  wandered: number;
  /** Where it stood the last time: stitches on from where the wale had brought the line. */
  moved: number;
  last: number;
}

/** Lines this close whose distance stays constant form one corner (a corner strip). Chosen: about
 * the width over which loops lend each other yarn. */
const STRIP = 9;
/** Share of the rounds in which a strip may differ: the last ones before the centre. Chosen. */
const STRAYED = 0.2;

/** Joins lines whose distance stays the same while the piece around them shrinks or grows. */
export function mergeStrips(rings: Rings, tracks: Track[]): Track[] {
  if (tracks.length < 2) return tracks;
  const { courses, closed } = rings;
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  const wide = outsideIn
    ? Math.max(...tracks.map((t) => t.born))
    : Math.min(...tracks.map((t) => t.born));
  const size = ringSize(rings, wide);
  const wrap = (p: number): number => (closed ? p - Math.floor((p + 0.5) / size) * size : p);
  const order = tracks.slice().sort((a, b) => wrap(a.place[wide]) - wrap(b.place[wide]));
  const gapAt = (a: Track, b: Track, c: number): number => {
    const n = ringSize(rings, c);
    const d = b.place[c] - a.place[c];
    return closed ? d - Math.floor(d / n) * n : d;
  };
  const pairsCount = closed ? order.length : order.length - 1;
  const widestGap = Math.max(
    ...order.slice(0, pairsCount).map((t, i) => gapAt(t, order[(i + 1) % order.length], wide)),
  );
  const gaps = order.map((t, i) => gapAt(t, order[(i + 1) % order.length], wide));
  const may = gaps.map((gap, i) => i < pairsCount && gap <= STRIP && gap * 1.5 <= widestGap);
  const constant = order.map((t, i) => {
    const next = order[(i + 1) % order.length];
    const gap = gaps[i];
    if (!may[i]) return false;
    let compared = 0;
    let strayed = 0;
    for (let c = 0; c < courses; c++) {
      if (t.loss[c] === 0 || next.loss[c] === 0) continue;
      compared++;
      if (Math.abs(gapAt(t, next, c) - gap) > 1) strayed++;
    }
    return compared >= 2 && strayed <= STRAYED * compared;
  });
  // Near the centre chance decides where a stitch is counted: what most pairs as near are, all are.
  const glued = gaps.map((gap, i) => {
    if (!may[i]) return false;
    const alike = gaps.flatMap((other, k) => (may[k] && Math.abs(other - gap) <= 1 ? [k] : []));
    return 2 * alike.filter((k) => constant[k]).length > alike.length;
  });
  const breakAt = glued.indexOf(false);
  if (breakAt < 0) return tracks;
  const merged: Track[] = [];
  for (let k = 0; k < order.length; ) {
    const group = [order[(breakAt + 1 + k) % order.length]];
    while (
      group.length < order.length &&
      glued[(breakAt + 1 + k + group.length - 1) % order.length]
    ) {
      group.push(order[(breakAt + 1 + k + group.length) % order.length]);
    }
    merged.push(mergeGroup(group, gapAt, courses));
    k += group.length;
  }
  return merged;
}

function mergeGroup(
  group: Track[],
  gapAt: (a: Track, b: Track, c: number) => number,
  courses: number,
): Track {
  if (group.length === 1) return group[0];
  const place = new Float64Array(courses);
  const loss = new Float64Array(courses);
  const last = group[group.length - 1];
  for (let c = 0; c < courses; c++) {
    place[c] = group[0].place[c] + gapAt(group[0], last, c) / 2;
    for (const t of group) loss[c] += t.loss[c];
  }
  const { born, events, compared, wandered, moved, last: end } = group[0];
  return {
    place,
    loss,
    compared,
    wandered,
    moved,
    halfWidth: gapAt(group[0], last, born) / 2,
    born,
    events,
    last: end,
  };
}
