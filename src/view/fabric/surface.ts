/** What the view draws: the products of the flow that a picture needs. It never makes them itself. */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { Metric } from '../../gauge/metric.ts';

export interface Surface {
  readonly graph: StitchGraph;
  readonly cells: Cells;
  readonly metric: Metric;
}

/** Positions of a surface's vertices, [3·vertices] mm. A new array for every new state. */
export type Positions = Float64Array | Float32Array;

/** Colours of everything in the picture but the yarn; sRGB 0 … 1. */
export interface Surroundings {
  readonly shadow: readonly [number, number, number];
  readonly line: readonly [number, number, number];
  readonly lineStrength: number;
  readonly shadowStrength: number;
  /** CSS colours. */
  readonly focus: string;
  readonly section: string;
}

export const LIGHT_ROOM: Surroundings = {
  shadow: [0.2, 0.17, 0.13],
  line: [0.36, 0.33, 0.27],
  lineStrength: 0.16,
  shadowStrength: 0.5,
  focus: '#e0a21b',
  section: '#b3202c',
};

export const DARK_ROOM: Surroundings = {
  shadow: [0.02, 0.025, 0.03],
  line: [0.75, 0.78, 0.76],
  lineStrength: 0.12,
  shadowStrength: 0.75,
  focus: '#f2c14e',
  section: '#ff8a7a',
};

/** Direction, seen from the middle, in which the piece reaches furthest: a corner, if it has corners. */
export function furthestRad(positions: ArrayLike<number>): number {
  let furthest = 0;
  let direction = 0;
  for (let i = 0; i < positions.length; i += 3) {
    const reach = Math.hypot(positions[i], positions[i + 1]);
    if (reach > furthest) {
      furthest = reach;
      direction = Math.atan2(positions[i + 1], positions[i]);
    }
  }
  return direction;
}

/** Turn that lays the x axis along a side; 0 for pieces without corners. */
export function sideTurnRad(surface: Surface, positions: Positions): number {
  const { corners } = surface.metric.ring;
  return corners < 3 ? 0 : furthestRad(positions) + Math.PI / corners + Math.PI / 2;
}

/** Number of loops that the piece has when it is taken back to a course. */
export function loopEndOf(surface: Surface, throughCourse: number | null): number {
  const { graph } = surface;
  if (throughCourse === null || throughCourse >= graph.courses - 1) return surface.metric.vertices;
  return graph.start[throughCourse + 1];
}
