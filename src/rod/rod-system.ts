/**
 * A RodSystem: pieces of yarn as polylines with rest lengths, for one relaxation.
 *
 * A strand is open, a ring, or periodic: its last node is followed by its first one, moved by a whole
 * number of periods. Lengths are in any one unit (the cells use the yarn's diameter); indices are
 * 0-based. Positions live outside, in one Float64Array of [3·nodes] (x, y, z).
 */

export interface Strand {
  /** [3·n] start positions. */
  readonly points: ArrayLike<number>;
  /** Ring or periodic: the last node is joined to the first. */
  readonly closed: boolean;
  /** Periods in x and y from the last node to the first again; [0, 0] for a true ring. */
  readonly image?: readonly [number, number];
  /** Rest length of each segment; by default the start length. */
  readonly rest?: ArrayLike<number>;
}

export interface RodSystem {
  readonly nodes: number;
  readonly segments: number;
  readonly strands: number;
  /** [strands + 1] first node of each strand. */
  readonly nodeStart: Int32Array;
  /** [strands + 1] first segment of each strand. */
  readonly segmentStart: Int32Array;
  readonly closed: Uint8Array;
  /** [strands] periods advanced by one turn of a closed strand. */
  readonly turnX: Int8Array;
  readonly turnY: Int8Array;
  /** [segments] end nodes; the second lies (imageX, imageY) periods away. */
  readonly tail: Int32Array;
  readonly head: Int32Array;
  readonly imageX: Int8Array;
  readonly imageY: Int8Array;
  /** [segments] rest length, and arc length of the tail from the strand's beginning. */
  readonly rest: Float64Array;
  readonly arc: Float64Array;
  readonly strandOf: Int32Array;
  /** [strands] rest length of the strand (of one turn if closed). */
  readonly length: Float64Array;
  /** [2·joints] consecutive segments. */
  readonly joints: Int32Array;
  /** [nodes] half the rest length of the segments that meet at the node. */
  readonly share: Float64Array;
}

/** Joins strands to one system and their points to one position array. */
export function buildRodSystem(strands: readonly Strand[]): {
  system: RodSystem;
  positions: Float64Array;
} {
  let nodes = 0;
  let segments = 0;
  for (const strand of strands) {
    const n = strand.points.length / 3;
    if (!Number.isInteger(n) || n < 2) {
      throw new RangeError(
        `strand needs 3 numbers for each of 2 or more points, got ${strand.points.length}`,
      );
    }
    nodes += n;
    segments += strand.closed ? n : n - 1;
  }
  const positions = new Float64Array(3 * nodes);
  const system = {
    nodes,
    segments,
    strands: strands.length,
    nodeStart: new Int32Array(strands.length + 1),
    segmentStart: new Int32Array(strands.length + 1),
    closed: new Uint8Array(strands.length),
    turnX: new Int8Array(strands.length),
    turnY: new Int8Array(strands.length),
    tail: new Int32Array(segments),
    head: new Int32Array(segments),
    imageX: new Int8Array(segments),
    imageY: new Int8Array(segments),
    rest: new Float64Array(segments),
    arc: new Float64Array(segments),
    strandOf: new Int32Array(segments),
    length: new Float64Array(strands.length),
    share: new Float64Array(nodes),
  };
  const joints: number[] = [];
  let node = 0;
  let segment = 0;
  strands.forEach((strand, s) => {
    const n = strand.points.length / 3;
    const count = strand.closed ? n : n - 1;
    positions.set(strand.points, 3 * node);
    system.closed[s] = strand.closed ? 1 : 0;
    system.turnX[s] = strand.image?.[0] ?? 0;
    system.turnY[s] = strand.image?.[1] ?? 0;
    for (let k = 0; k < count; k++) {
      const i = segment + k;
      const wraps = k === n - 1;
      system.tail[i] = node + k;
      system.head[i] = wraps ? node : node + k + 1;
      system.imageX[i] = wraps ? system.turnX[s] : 0;
      system.imageY[i] = wraps ? system.turnY[s] : 0;
      system.strandOf[i] = s;
      if (k > 0) joints.push(i - 1, i);
    }
    if (strand.closed) joints.push(segment + count - 1, segment);
    node += n;
    segment += count;
    system.nodeStart[s + 1] = node;
    system.segmentStart[s + 1] = segment;
    if (strand.rest) {
      if (strand.rest.length !== count) {
        throw new RangeError(`strand has ${count} segments but ${strand.rest.length} rest lengths`);
      }
      system.rest.set(strand.rest, segment - count);
    } else if (strand.closed && (system.turnX[s] || system.turnY[s])) {
      throw new RangeError('a periodic strand needs its rest lengths');
    } else {
      for (let i = segment - count; i < segment; i++) {
        const a = 3 * system.tail[i];
        const b = 3 * system.head[i];
        system.rest[i] = Math.hypot(
          positions[b] - positions[a],
          positions[b + 1] - positions[a + 1],
          positions[b + 2] - positions[a + 2],
        );
      }
    }
    let arc = 0;
    for (let i = segment - count; i < segment; i++) {
      system.arc[i] = arc;
      arc += system.rest[i];
      system.share[system.tail[i]] += system.rest[i] / 2;
      system.share[system.head[i]] += system.rest[i] / 2;
    }
    system.length[s] = arc;
  });
  return { system: { ...system, joints: Int32Array.from(joints) }, positions };
}
