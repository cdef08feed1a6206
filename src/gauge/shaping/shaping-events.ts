/**
 * Shaping stitches of one course: decreases and increases with their places, lace cancelled, and
 * grouped into corners. Places are slots, real numbers allowed; closed courses wrap round.
 */
import { type Rings, ringSize } from '../layout/rings.ts';

/** An increase and a decrease this close in one round are lace or texture: they cancel. */
const LACE = 4;

export interface ShapingEvent {
  place: number;
  loss: number;
  /** The single shaping stitches that this event stands for, if it is a group. */
  parts?: readonly ShapingEvent[];
}

/** Shaping stitches of a course, with neighbouring increases and decreases cancelled. */
export function shapingOf(rings: Rings, course: number): ShapingEvent[] {
  const events: ShapingEvent[] = [];
  if (course === 0) return events;
  const first = rings.start[course];
  for (let j = 0; j < ringSize(rings, course); j++) {
    const loss = rings.loss[first + j];
    if (loss !== 0) events.push({ place: rings.lossPlace[first + j], loss });
  }
  for (let i = 0; i + 1 < events.length; ) {
    const a = events[i];
    const b = events[i + 1];
    if (a.loss * b.loss < 0 && b.place - a.place <= LACE) {
      const cancelled = Math.min(Math.abs(a.loss), Math.abs(b.loss));
      a.loss -= Math.sign(a.loss) * cancelled;
      b.loss -= Math.sign(b.loss) * cancelled;
      if (b.loss === 0) events.splice(i + 1, 1);
      if (a.loss === 0) events.splice(i, 1);
      i = Math.max(0, i - 1);
    } else i++;
  }
  return events;
}

/** Shaping stitches this close stand at one corner: a pair beside a corner stitch, two pairs in a row
 * of single stitches. Chosen. */
const CORNER = 3;

/** Joins neighbouring shaping stitches where the gaps between the groups are clearly wider. */
export function cornersOf(
  events: readonly ShapingEvent[],
  size: number,
  closed: boolean,
): ShapingEvent[] {
  const n = events.length;
  if (n < 2) return [...events];
  const gapAfter = (i: number): number =>
    i + 1 < n
      ? events[i + 1].place - events[i].place
      : closed
        ? events[0].place + size - events[i].place
        : size;
  let widest = 0;
  for (let i = 0; i < n; i++) if (gapAfter(i) > gapAfter(widest)) widest = i;
  const corners: ShapingEvent[] = [];
  let group: ShapingEvent[] = [];
  for (let k = 1; k <= n; k++) {
    const i = (widest + k) % n;
    group.push(events[i]);
    if (gapAfter(i) <= CORNER + 1e-9 && 2 * gapAfter(i) < gapAfter(widest)) continue;
    corners.push({ ...together(group, group[0].place, size, closed), parts: group });
    group = [];
  }
  return corners;
}

/** One event for several: their losses summed at their mean place, near `near`. */
export function together(
  events: readonly ShapingEvent[],
  near: number,
  size: number,
  closed: boolean,
): ShapingEvent {
  let place = 0;
  let loss = 0;
  for (const e of events) {
    place += e.loss * unwrapNear(e.place, near, size, closed);
    loss += e.loss;
  }
  return { place: place / loss, loss };
}

export function distance(a: number, b: number, size: number, closed: boolean): number {
  return Math.abs(shift(a, b, size, closed));
}

/** From `a` to `b`, the shorter way round. */
export function shift(a: number, b: number, size: number, closed: boolean): number {
  const d = b - a;
  return closed ? d - Math.round(d / size) * size : d;
}

function unwrapNear(place: number, near: number, size: number, closed: boolean): number {
  return closed ? place + Math.round((near - place) / size) * size : place;
}
