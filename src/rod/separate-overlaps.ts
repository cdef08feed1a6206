/**
 * Parts laid yarn where it runs through yarn: a few steps of soft contact at those places only.
 *
 * Input: laid points and the yarn's diameter. Output: the points, changed in place near overlaps; strands
 * keep their ends and their lengths. Each step moves touching yarns by less than their distance along its
 * normal, so what is drawn through what stays as laid. This is no relaxation: `relaxYarn` is.
 */
import { shortestWay } from './contact.ts';
import { ARC_EXCLUSION } from './contact-pairs.ts';
import { emptyPairList, findPairs, refreshPairs } from './pair-list.ts';
import { type ExtraEnergy, relaxRods } from './relax-rods.ts';
import { buildRodSystem, type RodSystem } from './rod-system.ts';
import { partOf } from './subsystem.ts';

/** Distance of centre lines, in diameters, below which yarn is parted, and that it is parted to. Chosen:
 * fabric as dense as usual has no room for a whole diameter before its loops find their shape. */
const TOO_NEAR = 0.4;
const APART = 0.6;
/** Nodes along the yarn that move with one too near: a quarter of a stitch of 16 segments. Chosen. */
const BESIDE = 4;
/** Yarn this near to what moves takes part, and the most that anything may move, diameters. */
const REACH = 3;
/** Yarn nearer than this is moved to this distance at once, diameters. Chosen: too little to meet a third. */
const TOUCHING = 0.1;
/** Nearer than this, in diameters, yarn crosses yarn: the direction from one to the other is only rounding. */
const CROSSING = 1e-4;
/** Times that places still too near are looked for. Chosen: a few crowded ones need the third. */
const ROUNDS = 3;
const ROOM = 2.4;
/** Segments longer than this stay, diameters; usual ones have 1.2. Chosen. */
const LONG = 3;
/** Steps, largest change of a coordinate in one. Chosen: most places are free after ten. */
const STEPS = 20;
const MAX_MOVE = 0.1;
/** Stiffness of the springs to the laid place, B/d⁴ per length: what need not move stays. Chosen. */
const HOLD = 1;
const CONTACT = 10;
const STRETCH = 400;

/** `strandStart`: first point of each strand, and the end. `wanted`: only overlaps with such points are parted. */
export function separateOverlaps(
  points: Float32Array,
  strandStart: ArrayLike<number>,
  diameter: number,
  wanted?: (point: number) => boolean,
): void {
  const strands = [];
  const offset: number[] = [];
  for (let s = 0; s + 1 < strandStart.length; s++) {
    const from = 3 * strandStart[s];
    const to = 3 * strandStart[s + 1];
    if (to - from < 6) continue;
    strands.push({
      points: Float64Array.from(points.subarray(from, to), (v) => v / diameter),
      closed: false,
    });
    for (let i = from; i < to; i += 3) offset.push(i);
  }
  if (strands.length === 0) return;
  const { system, positions } = buildRodSystem(strands);
  // The search for pairs leaves out those that are held.
  const left = wanted ? Uint8Array.from(offset, (at) => (wanted(at / 3) ? 0 : 7)) : null;
  let moves: Uint8Array | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    moves = tooNear(system, positions, left, moves);
    if (!moves) break;
    // Where that fails, touching yarn has at least been nudged apart.
    const parted = partOnce(system, positions, moves);
    for (let i = 0; i < system.nodes; i++) {
      if (!moves[i]) continue;
      for (let c = 0; c < 3; c++) points[offset[i] + c] = positions[3 * i + c] * diameter;
    }
    if (!parted) break;
  }
}

/** False where it cannot be done without yarn passing through yarn. */
function partOnce(system: RodSystem, positions: Float64Array, moves: Uint8Array): boolean {
  const part = partOf(system, positions, moves, REACH);
  const laid = part.positions.slice();
  const springs = part.system.share.map((share) => HOLD * share);
  const hold: ExtraEnergy = (x, _period, gradient) => {
    let energy = 0;
    for (let i = 0; i < x.length; i++) {
      const k = springs[Math.floor(i / 3)];
      const d = x[i] - laid[i];
      energy += 0.5 * k * d * d;
      gradient[i] += k * d;
    }
    return energy;
  };
  const run = relaxRods(
    {
      system: part.system,
      positions: part.positions,
      period: new Float64Array(2),
      freePeriod: [false, false],
      held: Uint8Array.from(part.node, (i) => (moves[i] ? 0 : 7)),
      load: null,
      extra: hold,
    },
    {
      material: { stretch: STRETCH, bending: 1, contact: CONTACT, diameter: APART, plane: 0 },
      tolerance: 0.3,
      maxIterations: STEPS,
      maxMove: MAX_MOVE,
      skin: 0.5,
      soft: true,
      memory: 5,
      bandEvery: STEPS,
      springs,
      onIteration: (_k, _residual, _energy, now) =>
        now.some((v, i) => !(Math.abs(v - laid[i]) < ROOM / Math.sqrt(3))),
    },
  );
  if (!run.tunnelFree || run.reason === 'not-a-number') return false;
  part.node.forEach((i, k) => {
    if (!moves[i]) return;
    for (let c = 0; c < 3; c++) positions[3 * i + c] = part.positions[3 * k + c];
  });
  return true;
}

/**
 * [nodes] 1 around places where centre lines come too near; null where none do. Those that all but touch
 * are first moved apart by hand: no step may be longer than the least distance, so they would hold up all. `moved`: the nodes
 * that have moved since the last look, if there was one; nothing else can have come nearer.
 */
function tooNear(
  system: RodSystem,
  positions: Float64Array,
  left: Uint8Array | null,
  moved: Uint8Array | null,
): Uint8Array | null {
  const pairs = emptyPairList();
  const { tail, head } = system;
  const reach = { reach: TOO_NEAR, exclusion: ARC_EXCLUSION, held: left };
  if (moved) {
    const fresh = Uint8Array.from(tail, (node, s) => moved[node] | moved[head[s]]);
    refreshPairs(system, positions, reach, pairs, fresh);
  } else {
    findPairs(system, positions, new Float64Array(2), reach, pairs);
  }
  const way = new Float64Array(3);
  const hot: number[] = [];
  for (let k = 0; k < pairs.count; k++) {
    const i = pairs.first[k];
    const j = pairs.second[k];
    const [a, b, c, d] = [tail[i], head[i], tail[j], head[j]].map((n) => 3 * n);
    shortestWay(system, positions, i, j, way);
    let [x, y, z] = way;
    let distance = Math.hypot(x, y, z);
    if (distance < TOO_NEAR) hot.push(i, j);
    if (distance < CROSSING) {
      // Centre lines that cross: which lies above would hang on rounding, so it is settled here.
      [x, y, z] = crossProduct(positions, a, b, c, d);
      const across = Math.hypot(x, y, z);
      const scale = across > 0 ? CROSSING / across : 0;
      [x, y, z] = [scale * x, scale * y, scale * z];
      distance = across > 0 ? CROSSING : 0;
    }
    if (distance < TOUCHING && distance > 0) {
      const push = (0.5 * (TOUCHING - distance)) / distance;
      for (const [node, sign] of [
        [a, -1],
        [b, -1],
        [c, 1],
        [d, 1],
      ]) {
        if (isEnd(system, node / 3)) continue;
        positions[node] += sign * push * x;
        positions[node + 1] += sign * push * y;
        positions[node + 2] += sign * push * z;
      }
    }
  }
  if (hot.length === 0) return null;
  const moves = new Uint8Array(system.nodes);
  for (const segment of hot) {
    const strand = system.strandOf[segment];
    // The ends of a strand stay.
    const from = Math.max(system.nodeStart[strand] + 1, tail[segment] - BESIDE);
    const to = Math.min(system.nodeStart[strand + 1] - 1, head[segment] + BESIDE + 1);
    if (from < to) moves.fill(1, from, to);
  }
  // Contact weighs by length: the long way to an edge would push everything else aside.
  for (let s = 0; s < system.segments; s++) {
    if (system.rest[s] > LONG) moves[tail[s]] = moves[head[s]] = 0;
  }
  return moves;
}

/** (b − a) × (d − c), of points at these places in `positions`. */
function crossProduct(
  positions: Float64Array,
  a: number,
  b: number,
  c: number,
  d: number,
): [number, number, number] {
  const [ux, uy, uz] = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
  const [vx, vy, vz] = [0, 1, 2].map((k) => positions[d + k] - positions[c + k]);
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

function isEnd(system: RodSystem, node: number): boolean {
  for (let s = 0; s < system.strands; s++) {
    if (node === system.nodeStart[s] || node === system.nodeStart[s + 1] - 1) return true;
  }
  return false;
}
