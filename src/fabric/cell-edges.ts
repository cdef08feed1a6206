/**
 * Edges of a polygon surface and what follows from them: which cells meet where, the Euler
 * characteristic, the boundary loops, and whether the surface has two sides.
 *
 * Input: corner lists (CSR) over `vertices` vertices. Source: any text on surface topology, e.g.
 * Edelsbrunner & Harer, Computational Topology, 2010, ch. II (from memory).
 */

export interface CellEdges {
  /** Number of edges (unordered vertex pairs that occur as a side of a cell). */
  readonly edges: number;
  /** [2·edges] end vertices, the lower index first. */
  readonly ends: Int32Array;
  /** [2·edges] the cells on either side; −1 where there is none. */
  readonly sides: Int32Array;
  /** [edges] 1 where both cells run through the edge the same way: their orientations disagree. */
  readonly flipped: Uint8Array;
  /** Edges with more than two cells: 0 on a surface. */
  readonly crowded: number;
}

export interface SurfaceInvariants {
  readonly euler: number;
  readonly boundaries: number;
  readonly orientable: boolean;
  /** Number of connected pieces. */
  readonly pieces: number;
}

interface Polygons {
  readonly vertices: number;
  readonly cellStart: Int32Array;
  readonly corners: Int32Array;
}

export function cellEdges({ vertices, cellStart, corners }: Polygons): CellEdges {
  const cells = cellStart.length - 1;
  // Sides sorted into buckets by their lower end: each bucket holds a handful.
  const bucket = new Int32Array(vertices + 1);
  for (let c = 0; c < cells; c++) {
    for (let i = cellStart[c], end = cellStart[c + 1]; i < end; i++) {
      const a = corners[i];
      const b = corners[i + 1 < end ? i + 1 : cellStart[c]];
      bucket[Math.min(a, b) + 1]++;
    }
  }
  for (let v = 0; v < vertices; v++) bucket[v + 1] += bucket[v];
  const at = bucket.slice(0, vertices);
  const far = new Int32Array(corners.length);
  const cellOf = new Int32Array(corners.length);
  const upward = new Uint8Array(corners.length);
  for (let c = 0; c < cells; c++) {
    for (let i = cellStart[c], end = cellStart[c + 1]; i < end; i++) {
      const a = corners[i];
      const b = corners[i + 1 < end ? i + 1 : cellStart[c]];
      const slot = at[Math.min(a, b)]++;
      far[slot] = Math.max(a, b);
      cellOf[slot] = c;
      upward[slot] = a < b ? 1 : 0;
    }
  }

  const ends = new Int32Array(2 * corners.length);
  const sides = new Int32Array(2 * corners.length).fill(-1);
  const flipped = new Uint8Array(corners.length);
  let edges = 0;
  let crowded = 0;
  for (let v = 0; v < vertices; v++) {
    for (let i = bucket[v]; i < bucket[v + 1]; i++) {
      if (far[i] < 0) continue;
      ends[2 * edges] = v;
      ends[2 * edges + 1] = far[i];
      sides[2 * edges] = cellOf[i];
      let met = 1;
      for (let j = i + 1; j < bucket[v + 1]; j++) {
        if (far[j] !== far[i]) continue;
        if (met === 1) {
          sides[2 * edges + 1] = cellOf[j];
          flipped[edges] = upward[i] === upward[j] ? 1 : 0;
        }
        met++;
        far[j] = -1;
      }
      if (met > 2) crowded++;
      edges++;
    }
  }
  return {
    edges,
    ends: ends.slice(0, 2 * edges),
    sides: sides.slice(0, 2 * edges),
    flipped: flipped.slice(0, edges),
    crowded,
  };
}

export function surfaceInvariants(polygons: Polygons, edges: CellEdges): SurfaceInvariants {
  const { vertices, cellStart, corners } = polygons;
  const cells = cellStart.length - 1;
  const used = new Uint8Array(vertices);
  for (let i = 0; i < corners.length; i++) used[corners[i]] = 1;
  let present = 0;
  for (let v = 0; v < vertices; v++) present += used[v];

  // Cells joined over edges, with the parity of the turns needed to make neighbours agree.
  const parent = new Int32Array(cells);
  const parity = new Uint8Array(cells);
  for (let c = 0; c < cells; c++) parent[c] = c;
  let pieces = cells;
  let orientable = true;
  const rimParent = new Int32Array(vertices);
  for (let v = 0; v < vertices; v++) rimParent[v] = v;
  let rimEdges = 0;
  let rimJoins = 0;
  const onRim = new Uint8Array(vertices);
  let rimVertices = 0;
  for (let e = 0; e < edges.edges; e++) {
    const right = edges.sides[2 * e + 1];
    if (right < 0) {
      const a = edges.ends[2 * e];
      const b = edges.ends[2 * e + 1];
      for (const v of [a, b]) {
        rimVertices += onRim[v] ? 0 : 1;
        onRim[v] = 1;
      }
      rimEdges++;
      if (joinSets(rimParent, a, b)) rimJoins++;
      continue;
    }
    const a = rootWithParity(parent, parity, edges.sides[2 * e]);
    const b = rootWithParity(parent, parity, right);
    const turn = edges.flipped[e] ^ parity[edges.sides[2 * e]] ^ parity[right];
    if (a === b) {
      if (turn) orientable = false;
    } else {
      parent[a] = b;
      parity[a] = turn;
      pieces--;
    }
  }
  return {
    euler: present - edges.edges + cells,
    boundaries: rimEdges > 0 ? rimVertices - rimJoins : 0,
    orientable,
    pieces,
  };
}

/** Root of a cell's set; afterwards `parity[cell]` is relative to that root (0 for the root). */
function rootWithParity(parent: Int32Array, parity: Uint8Array, cell: number): number {
  let root = cell;
  let sum = 0;
  while (parent[root] !== root) {
    sum ^= parity[root];
    root = parent[root];
  }
  while (parent[cell] !== root && parent[cell] !== cell) {
    const next = parent[cell];
    const own = parity[cell];
    parent[cell] = root;
    parity[cell] = sum;
    sum ^= own;
    cell = next;
  }
  return root;
}

function joinSets(parent: Int32Array, a: number, b: number): boolean {
  const ra = rootOf(parent, a);
  const rb = rootOf(parent, b);
  if (ra === rb) return false;
  parent[ra] = rb;
  return true;
}

function rootOf(parent: Int32Array, v: number): number {
  while (parent[v] !== v) {
    parent[v] = parent[parent[v]];
    v = parent[v];
  }
  return v;
}
