/**
 * Where a sheet starts that is like one at rest: in the air, and on the table.
 * In: Metric, the rest before, [3·vertices] mm. Out: positions to go on from, or null where the rest before tells nothing.
 */
import type { Metric } from '../../gauge/metric.ts';
import type { LikeSheet } from '../relaxed-sheet.ts';
import { evaluate } from '../solver/sheet-solver.ts';
import { riseAlong, UP } from './alignment.ts';
import { startShapes } from './starts.ts';

/** Energy of a rescaled start must fall to this share for the rescaling to be taken. Chosen. */
const CLEARLY = 0.95;
/** Root mean square of the way between two sheets over that of their heights, up to which they hang alike. Chosen. */
const HANGS_ALIKE = 0.5;
/** What lay lower than this had been laid flat by its weight, mm: no start for what hangs otherwise, since it would stay flat. */
const LAY_FLAT_MM = 0.2;
/** Energy of a shape from the rings over that of a given one, below which it is the better start. Chosen: cups of other gauges
 * stay above a quarter, pieces that were flat and are none, or the other way round, below a tenth. */
const LOWER_START = 0.2;
/** Sheets whose heights differ by less, root mean square in mm, hang alike however flat they are. Chosen: half of what lies flat. */
const AS_FLAT_MM = 0.1;

/**
 * A given shape blown up or shrunk to the size that the springs want, if that is clearly better: a
 * change of gauge is mostly a change of size.
 */
export function fitScale(metric: Metric, from: Float64Array): Float64Array {
  const { springs, restMm, stiffness } = metric;
  let wanted = 0;
  let squared = 0;
  for (let s = 0; s < restMm.length; s++) {
    const i = 3 * springs[2 * s];
    const j = 3 * springs[2 * s + 1];
    const x = from[i] - from[j];
    const y = from[i + 1] - from[j + 1];
    const z = from[i + 2] - from[j + 2];
    const length = Math.sqrt(x * x + y * y + z * z);
    wanted += stiffness[s] * restMm[s] * length;
    squared += stiffness[s] * length * length;
  }
  const scale = wanted / squared;
  if (!(scale > 0 && Number.isFinite(scale))) return from;
  const scaled = from.map((p) => scale * p);
  const scratch = new Float64Array(from.length);
  const better = evaluate(metric, scaled, scratch) < CLEARLY * evaluate(metric, from, scratch);
  return better ? scaled : from;
}

/** Whether a shape from the rings is clearly lower than a given one: a cup before is no start for a flat piece. */
export function ringsAreLower(metric: Metric, from: Float64Array): boolean {
  const scratch = new Float64Array(from.length);
  const least = LOWER_START * evaluate(metric, fitScale(metric, from), scratch);
  return startShapes(metric).some(({ positions }) => evaluate(metric, positions, scratch) < least);
}

/**
 * How the sheet lay before, where it still hangs as it hung then: what lies patted flat stays flat, and a cup that came of
 * an edit of a flat piece must be let down from the air. `hung`: that shape before, scaled to its springs.
 */
export function laidBefore(
  metric: Metric,
  positions: Float64Array,
  hung: Float64Array,
  lyingFrom: Float64Array,
): Float64Array | null {
  if (lyingFrom.length !== positions.length) return null;
  let apart = 0;
  let size = 0;
  for (let k = 2; k < positions.length; k += 3) {
    apart += (positions[k] - hung[k]) ** 2;
    size += positions[k] ** 2;
  }
  const flat = (AS_FLAT_MM ** 2 * positions.length) / 3;
  if (size > flat && riseAlong(lyingFrom, UP) < LAY_FLAT_MM) return null;
  return apart <= Math.max(HANGS_ALIKE ** 2 * size, flat) ? fitScale(metric, lyingFrom) : null;
}

/** Where a sheet lies that hangs as a like one did: as much lower as that one. Null where it hangs otherwise. */
export function laidAlike(positions: Float64Array, like: LikeSheet): Float64Array | null {
  if (like.positions.length !== positions.length || like.lying.length !== positions.length)
    return null;
  let apart = 0;
  let size = 0;
  let lowest = Number.POSITIVE_INFINITY;
  const laid = new Float64Array(positions.length);
  for (let k = 0; k < positions.length; k++) {
    apart += (positions[k] - like.positions[k]) ** 2;
    // What lies nearly flat in its plane must still hang to the same side of it.
    size += k % 3 === 2 ? positions[k] ** 2 : 0;
    laid[k] = positions[k] + like.lying[k] - like.positions[k];
    if (k % 3 === 2) lowest = Math.min(lowest, laid[k]);
  }
  if (!(apart <= HANGS_ALIKE ** 2 * size) || riseAlong(like.lying, UP) < LAY_FLAT_MM) return null;
  for (let k = 2; k < laid.length; k += 3) laid[k] -= lowest;
  return laid;
}
