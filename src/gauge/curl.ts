/**
 * Rest curvature of free stockinette: a Metric whose hinges want to fold near its free rims.
 *
 * Input: the Metric, the faces of its loops, curvatures of stockinette along course and wale, over the stitch
 * width. Output: the Metric with `curl`. Stockinette curls where nothing holds it down: across a rim the
 * curvature fades in over the last stitches, with the share of knit over purl around. Along a rim it has none:
 * what has rolled one way is stiff the other way.
 */
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { FabricReading } from './build-metric.ts';
import { type Metric, SPRING_COURSE, SPRING_WALE } from './metric.ts';

/** Stitch widths from the rim over which the curvature falls to 1/e. Chosen: half a turn of the tightest roll. */
const FADE = 3;
/** Rounds of averaging faces with the neighbours', so that a purl in knit ground does not curl alone. Chosen. */
const BLURS = 4;

/** Curvature over the stitch width; κ > 0 lifts the rim towards the right side. */
export interface RestCurl {
  readonly course: number;
  readonly wale: number;
}

export function withCurl(
  metric: Metric,
  graph: StitchGraph,
  reading: Pick<FabricReading, 'rings' | 'texture'>,
  rest: RestCurl,
): Metric {
  const edges = new EdgeBook(metric);
  const faces = plainFaces(metric, graph, reading);
  // Rims along courses are rolled along the wale, rims along wales along the course.
  const weightOf = (kind: number) => {
    const near = nearness(metric, rimOf(kind, graph, edges));
    return faces.map((v, i) => v * near[i]);
  };
  const byWale = weightOf(SPRING_COURSE);
  const byCourse = weightOf(SPRING_WALE);
  const { hinges, hingeWeights: q, bendingMm } = metric;
  const moments = new Float64Array(hinges.length / 4);
  let energy = 0;
  for (let h = 0; h < moments.length; h++) {
    const [a, b, c, d] = hinges.subarray(4 * h, 4 * h + 4);
    const edge = edges.find(a, b);
    const side = edges.sideOf(a, b, c, d);
    if (edge < 0 || side === 0) continue;
    const e = metric.restMm[edge];
    const ac = edges.lengthOf(a, c) ?? 0;
    const bc = edges.lengthOf(b, c) ?? 0;
    const ad = edges.lengthOf(a, d) ?? 0;
    const bd = edges.lengthOf(b, d) ?? 0;
    const above = altitude(e, ac, bc);
    const below = altitude(e, ad, bd);
    if (!(above > 0 && below > 0)) continue;
    // Across a course edge the fabric bends along the wale, across a slanting one half along either.
    const kind = metric.springKind[edge];
    const wale = (rest.wale * (byWale[a] + byWale[b])) / 2;
    const course = (rest.course * (byCourse[a] + byCourse[b])) / 2;
    const along =
      kind === SPRING_COURSE ? wale : kind === SPRING_WALE ? course : (wale + course) / 2;
    const stitch = (metric.stitchMm[a] + metric.stitchMm[b]) / 2;
    const fold = ((along / stitch) * (above + below)) / 2;
    // |Σ q x| is f·e·θ for a fold θ, with f·e = −q_c·altitude.
    const perFold = q[4 * h + 2] * above;
    const stiffness = bendingMm * bendingMm * perFold * perFold;
    moments[h] = (side * stiffness * fold) / (e * above * below);
    energy += 0.5 * stiffness * fold * fold;
  }
  return { ...metric, curl: { moments, energy } };
}

/** Mean of knit over purl, −1 … 1, on the rims that courses and that wales end in; null where there is none. */
export function rimFaces(
  metric: Metric,
  graph: StitchGraph,
  reading: Pick<FabricReading, 'rings' | 'texture'>,
): { readonly ends: number | null; readonly sides: number | null } {
  const edges = new EdgeBook(metric);
  const faces = plainFaces(metric, graph, reading);
  const mean = (kind: number) => {
    const rim = [...rimOf(kind, graph, edges)];
    return rim.length > 0 ? rim.reduce((sum, v) => sum + faces[v], 0) / rim.length : null;
  };
  return { ends: mean(SPRING_COURSE), sides: mean(SPRING_WALE) };
}

/** Work in the round has no sides: where its rounds begin they only stand a step apart. */
function rimOf(kind: number, graph: StitchGraph, edges: EdgeBook): ReadonlySet<number> {
  return kind === SPRING_WALE && graph.closure !== 'open' ? new Set() : edges.rim(kind);
}

/** [vertices] knit over purl around, 0 in garter, rib and seed: what changes face along or up is balanced. */
function plainFaces(
  metric: Metric,
  graph: StitchGraph,
  { rings, texture }: Pick<FabricReading, 'rings' | 'texture'>,
): Float64Array {
  const plain = new Float64Array(metric.vertices);
  rings.ids.forEach((id, flat) => {
    if (id < plain.length) plain[id] = (1 - texture.along[flat]) * (1 - texture.up[flat]);
  });
  return blurredFaces(metric, graph).map((v, i) => v * plain[i]);
}

function altitude(base: number, a: number, b: number): number {
  const s = (base + a + b) / 2;
  const square = s * (s - base) * (s - a) * (s - b);
  return square > 0 ? (2 * Math.sqrt(square)) / base : 0;
}

/** [vertices] knit over purl around, −1 … 1. */
function blurredFaces(metric: Metric, graph: StitchGraph): Float64Array {
  const { vertices, springs, springKind } = metric;
  let face = new Float64Array(vertices);
  for (let i = 0; i < Math.min(vertices, graph.loops); i++) face[i] = graph.face[i];
  for (let round = 0; round < BLURS; round++) {
    const sum = new Float64Array(vertices);
    const count = new Float64Array(vertices);
    for (let s = 0; s < springKind.length; s++) {
      if (springKind[s] !== SPRING_COURSE && springKind[s] !== SPRING_WALE) continue;
      const i = springs[2 * s];
      const j = springs[2 * s + 1];
      sum[i] += face[j];
      sum[j] += face[i];
      count[i]++;
      count[j]++;
    }
    face = face.map((v, i) => (count[i] > 0 ? (v + sum[i] / count[i]) / 2 : v));
  }
  return face;
}

/** [vertices] 1 on the rim, falling to 0 inside; 0 everywhere without a rim. */
function nearness(metric: Metric, rim: ReadonlySet<number>): Float64Array {
  const { vertices, springs, restMm, stitchMm } = metric;
  const distance = new Float64Array(vertices).fill(Infinity);
  for (const v of rim) distance[v] = 0;
  // To and fro until nothing changes: few sweeps, as springs are stored row by row.
  for (let changed = rim.size > 0; changed; ) {
    changed = false;
    for (let k = 0; k < 2 * restMm.length; k++) {
      const s = k < restMm.length ? k : 2 * restMm.length - 1 - k;
      const i = springs[2 * s];
      const j = springs[2 * s + 1];
      const through = Math.min(distance[i], distance[j]) + restMm[s];
      for (const v of [i, j]) {
        if (through < distance[v] - 1e-9) {
          distance[v] = through;
          changed = true;
        }
      }
    }
  }
  return distance.map((mm, i) => {
    const far = mm / (FADE * stitchMm[i]);
    return far < FADE ? Math.exp(-far * far) : 0;
  });
}

/** Springs and drawn triangles by the pair of their vertices. */
class EdgeBook {
  private readonly metric: Metric;
  private readonly spring = new Map<number, number>();
  /** Directed side of a drawn triangle → its third corner; to its left, seen from the right side. */
  private readonly left = new Map<number, number>();

  constructor(metric: Metric) {
    this.metric = metric;
    const { springs, triangles, vertices } = metric;
    for (let s = 0; s < springs.length; s += 2) {
      const [i, j] = [springs[s], springs[s + 1]];
      this.spring.set(Math.min(i, j) * vertices + Math.max(i, j), s / 2);
    }
    for (let t = 0; t < triangles.length; t += 3) {
      for (let c = 0; c < 3; c++) {
        const from = triangles[t + c];
        const to = triangles[t + ((c + 1) % 3)];
        this.left.set(from * vertices + to, triangles[t + ((c + 2) % 3)]);
      }
    }
  }

  find(i: number, j: number): number {
    return this.spring.get(Math.min(i, j) * this.metric.vertices + Math.max(i, j)) ?? -1;
  }

  lengthOf(i: number, j: number): number | undefined {
    return this.metric.restMm[this.find(i, j)];
  }

  /** +1 where c lies left of a → b seen from the right side, −1 where d does, 0 where it cannot be told. */
  sideOf(a: number, b: number, c: number, d: number): -1 | 0 | 1 {
    const { vertices } = this.metric;
    const left = this.left.get(a * vertices + b);
    const right = this.left.get(b * vertices + a);
    if (left === c || right === d) return 1;
    if (left === d || right === c) return -1;
    // The hinge of the other way of cutting quadrilaterals: its corner is the fourth of the same one.
    if (left !== undefined) {
      const near = (v: number) => this.find(left, v) >= 0;
      if (near(c) !== near(d)) return near(c) ? 1 : -1;
    }
    return 0;
  }

  /** Vertices on sides of a kind that only one triangle has. */
  rim(kind: number): Set<number> {
    const { vertices } = this.metric;
    const rim = new Set<number>();
    for (const key of this.left.keys()) {
      const from = Math.floor(key / vertices);
      const to = key % vertices;
      if (this.left.has(to * vertices + from)) continue;
      if (this.metric.springKind[this.find(from, to)] !== kind) continue;
      rim.add(from);
      rim.add(to);
    }
    return rim;
  }
}
