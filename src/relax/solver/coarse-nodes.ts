/**
 * Nodes spread evenly over a net of points and the weights with which the points follow them. In: the
 * points, the lengths between neighbours, how far apart nodes shall be.
 * Out: for each vertex a few nodes whose weights sum to 1 and, as nearly as the nodes allow,
 * reproduce linear fields: Σ w_k X_k = x_v.
 */

/** Keeps the fit solvable where a vertex's nodes lie in a plane or a line. Chosen. */
const RIDGE = 1e-3;

export interface NodeWeights {
  readonly nodes: number;
  /** [nodes] vertex that each node sits on. */
  readonly nodeVertex: Int32Array;
  /** [vertices + 1] offsets into `node` and `weight`. */
  readonly start: Int32Array;
  readonly node: Int32Array;
  readonly weight: Float64Array;
}

/** Points joined by edges with lengths. */
export interface Net {
  readonly vertices: number;
  /** [2·edges] the two ends of each edge. */
  readonly ends: Int32Array;
  /** [edges] mm. */
  readonly lengthMm: Float64Array;
}

/** `x` is [3·vertices], mm; `spacing` mm; nodes are felt within `reachSpacings` of it. */
export function spreadNodes(
  net: Net,
  x: Float64Array,
  spacing: number,
  reachSpacings: number,
): NodeWeights {
  const { vertices, ends: springs, lengthMm: restMm } = net;
  const reach = reachSpacings * spacing;

  const start = new Int32Array(vertices + 1);
  for (let e = 0; e < springs.length; e++) start[springs[e] + 1]++;
  for (let v = 0; v < vertices; v++) start[v + 1] += start[v];
  const fill = start.slice(0, vertices);
  const neighbour = new Int32Array(springs.length);
  const length = new Float64Array(springs.length);
  for (let s = 0; s < restMm.length; s++) {
    const i = springs[2 * s];
    const j = springs[2 * s + 1];
    neighbour[fill[i]] = j;
    length[fill[i]++] = restMm[s];
    neighbour[fill[j]] = i;
    length[fill[j]++] = restMm[s];
  }

  const nearest = new Float64Array(vertices).fill(Number.POSITIVE_INFINITY);
  const distance = new Float64Array(vertices).fill(Number.POSITIVE_INFINITY);
  const queued = new Uint8Array(vertices);
  const touched = new Int32Array(vertices);
  // A vertex waits at most once: a ring of one place more than there are vertices.
  const queue = new Int32Array(vertices + 1);
  const nodeVertex: number[] = [];
  const pairs = new Pairs(8 * vertices);
  for (const seed of breadthFirst(vertices, start, neighbour)) {
    if (nearest[seed] < spacing) continue;
    const node = nodeVertex.length;
    nodeVertex.push(seed);
    // Shortest paths within reach; labels are corrected as they come, the patch is small.
    let reached = 0;
    let head = 0;
    let tail = 0;
    distance[seed] = 0;
    touched[reached++] = seed;
    queue[tail++] = seed;
    while (head !== tail) {
      const v = queue[head];
      head = head === vertices ? 0 : head + 1;
      queued[v] = 0;
      for (let e = start[v]; e < start[v + 1]; e++) {
        const u = neighbour[e];
        const d = distance[v] + length[e];
        if (d >= reach || d >= distance[u]) continue;
        if (distance[u] === Number.POSITIVE_INFINITY) touched[reached++] = u;
        distance[u] = d;
        if (queued[u] === 0) {
          queued[u] = 1;
          queue[tail] = u;
          tail = tail === vertices ? 0 : tail + 1;
        }
      }
    }
    for (let t = 0; t < reached; t++) {
      const v = touched[t];
      const d = distance[v];
      distance[v] = Number.POSITIVE_INFINITY;
      nearest[v] = Math.min(nearest[v], d);
      const w = kernel(d / reach);
      if (w >= 1e-4) pairs.add(v, node, w);
    }
  }
  const weights = byVertex(vertices, pairs);
  const result = { nodes: nodeVertex.length, nodeVertex: Int32Array.from(nodeVertex), ...weights };
  for (let v = 0; v < vertices; v++) fitLinear(result, x, v, spacing);
  return result;
}

/** Wendland's C² kernel. */
function kernel(t: number): number {
  const s = Math.max(0, 1 - t);
  return s * s * s * s * (4 * t + 1);
}

/** Every vertex once, part by part, spreading out from the lowest. */
function breadthFirst(vertices: number, start: Int32Array, neighbour: Int32Array): Int32Array {
  const order = new Int32Array(vertices);
  const seen = new Uint8Array(vertices);
  let head = 0;
  let tail = 0;
  for (let root = 0; root < vertices; root++) {
    if (seen[root] === 1) continue;
    seen[root] = 1;
    order[tail++] = root;
    while (head < tail) {
      const v = order[head++];
      for (let e = start[v]; e < start[v + 1]; e++) {
        const u = neighbour[e];
        if (seen[u] === 1) continue;
        seen[u] = 1;
        order[tail++] = u;
      }
    }
  }
  return order;
}

/** Vertices with their nodes and weights, as they come. */
class Pairs {
  size = 0;
  vertex: Int32Array;
  node: Int32Array;
  weight: Float64Array;

  constructor(room: number) {
    this.vertex = new Int32Array(room);
    this.node = new Int32Array(room);
    this.weight = new Float64Array(room);
  }

  add(vertex: number, node: number, weight: number): void {
    if (this.size === this.vertex.length) this.widen();
    this.vertex[this.size] = vertex;
    this.node[this.size] = node;
    this.weight[this.size++] = weight;
  }

  private widen(): void {
    const { vertex, node, weight } = this;
    this.vertex = new Int32Array(2 * vertex.length);
    this.node = new Int32Array(2 * vertex.length);
    this.weight = new Float64Array(2 * vertex.length);
    this.vertex.set(vertex);
    this.node.set(node);
    this.weight.set(weight);
  }
}

/** Of each vertex its nodes upwards, as they were spread one after another. */
function byVertex(vertices: number, pairs: Pairs) {
  const { size } = pairs;
  const start = new Int32Array(vertices + 1);
  for (let k = 0; k < size; k++) start[pairs.vertex[k] + 1]++;
  for (let v = 0; v < vertices; v++) start[v + 1] += start[v];
  const fill = start.slice(0, vertices);
  const node = new Int32Array(size);
  const weight = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    const at = fill[pairs.vertex[k]]++;
    node[at] = pairs.node[k];
    weight[at] = pairs.weight[k];
  }
  return { start, node, weight };
}

/** Rescales the weights of vertex v by a linear function so that they reproduce its position. */
function fitLinear(weights: NodeWeights, x: Float64Array, v: number, spacing: number): void {
  const { start, node, weight, nodeVertex } = weights;
  let sum = 0;
  let bx = 0;
  let by = 0;
  let bz = 0;
  let xx = 0;
  let xy = 0;
  let xz = 0;
  let yy = 0;
  let yz = 0;
  let zz = 0;
  const unit = 1 / spacing;
  for (let k = start[v]; k < start[v + 1]; k++) {
    const c = 3 * nodeVertex[node[k]];
    const w = weight[k];
    const rx = (x[c] - x[3 * v]) * unit;
    const ry = (x[c + 1] - x[3 * v + 1]) * unit;
    const rz = (x[c + 2] - x[3 * v + 2]) * unit;
    sum += w;
    bx += w * rx;
    by += w * ry;
    bz += w * rz;
    xx += w * rx * rx;
    xy += w * rx * ry;
    xz += w * rx * rz;
    yy += w * ry * ry;
    yz += w * ry * rz;
    zz += w * rz * rz;
  }
  const ridge = RIDGE * sum;
  xx += ridge;
  yy += ridge;
  zz += ridge;
  // Symmetric 3 × 3 solve for the slope a: M a = −b.
  const cxx = yy * zz - yz * yz;
  const cxy = xz * yz - xy * zz;
  const cxz = xy * yz - xz * yy;
  const det = xx * cxx + xy * cxy + xz * cxz;
  if (!(det > 0)) return;
  const ax = -(cxx * bx + cxy * by + cxz * bz) / det;
  const ay = -(cxy * bx + (xx * zz - xz * xz) * by + (xy * xz - xx * yz) * bz) / det;
  const az = -(cxz * bx + (xy * xz - xx * yz) * by + (xx * yy - xy * xy) * bz) / det;
  let total = 0;
  for (let k = start[v]; k < start[v + 1]; k++) {
    const c = 3 * nodeVertex[node[k]];
    const rx = (x[c] - x[3 * v]) * unit;
    const ry = (x[c + 1] - x[3 * v + 1]) * unit;
    const rz = (x[c + 2] - x[3 * v + 2]) * unit;
    // Far outside its nodes a vertex would get wild weights of both signs.
    weight[k] *= Math.max(-0.5, 1 + ax * rx + ay * ry + az * rz);
    total += weight[k];
  }
  if (!(total > 0)) return;
  for (let k = start[v]; k < start[v + 1]; k++) weight[k] /= total;
}
