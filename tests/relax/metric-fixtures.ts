/**
 * Metrics made straight from geometry, for tests and benches of the relaxation: discs of rings with a
 * chosen cone angle, polygons with corners, swatches and tubes. All are smooth; none is knitted.
 */

import {
  type Metric,
  SPRING_COURSE,
  SPRING_DIAGONAL,
  SPRING_WALE,
} from '../../src/gauge/metric.ts';
import { buildHinges } from '../../src/math/hinges.ts';

/** DESIGN section 5: diagonals carry this share of K. */
const SHEAR = 0.3;

export interface Lattice {
  /** Rings (or rows) from the cast-on inwards, and vertices on each. */
  rings: number;
  around: number;
  closed: boolean;
  /** True when the last ring is a single apex. */
  apex: boolean;
}

/** Rest lengths between lattice points; `i` is the place on the ring (0 … around), `j` the ring. */
export interface LatticeLengths {
  course: (i: number, j: number) => number;
  wale: (i: number, j: number) => number;
  /** Diagonal from (i, j) to (i + 1, j + 1). */
  rising: (i: number, j: number) => number;
  /** Diagonal from (i + 1, j) to (i, j + 1). */
  falling: (i: number, j: number) => number;
}

export interface LatticeRing {
  turn: (i: number, j: number) => number;
  depthMm: (i: number, j: number) => number;
  sampleDepthMm: number[];
  samplePerimeterMm: number[];
  corners: number;
  coneAngleRad: number;
  halfTurns?: number;
}

/** A metric on a lattice of rings; cells are seen counter-clockwise with rings running clockwise. */
export function latticeMetric(
  lattice: Lattice,
  lengths: LatticeLengths,
  ring: LatticeRing,
  bendingMm: number,
): Metric {
  const { rings, around, closed, apex } = lattice;
  const full = apex ? rings - 1 : rings;
  const vertices = full * around + (apex ? 1 : 0);
  const halfTurns = ring.halfTurns ?? 0;
  const id = (i: number, j: number): number => {
    if (apex && j === rings - 1) return full * around;
    // An odd number of half turns joins the ring upside down.
    if (closed && i >= around) {
      return halfTurns % 2 === 0 ? j * around + i - around : (full - 1 - j) * around + i - around;
    }
    return j * around + i;
  };
  const length = new Map<number, number>();
  const springs: number[] = [];
  const rest: number[] = [];
  const stiffness: number[] = [];
  const kind: number[] = [];
  const key = (a: number, b: number) => Math.min(a, b) * vertices + Math.max(a, b);
  const addSpring = (a: number, b: number, restMm: number, k: number, kindOf: number) => {
    if (a === b || length.has(key(a, b))) return;
    length.set(key(a, b), restMm);
    springs.push(a, b);
    rest.push(restMm);
    stiffness.push(k);
    kind.push(kindOf);
  };
  const cellsAround = closed ? around : around - 1;
  const triangles: number[] = [];
  const rising: number[] = [];
  const falling: number[] = [];
  const polygon: number[] = [];
  const caps: number[] = [];
  const area = new Float64Array(vertices);
  const width = new Float64Array(vertices);
  const height = new Float64Array(vertices);
  for (let j = 0; j < rings; j++) {
    for (let i = 0; i < around; i++) {
      const inner = Math.min(j, rings - 2);
      const h = lengths.wale(i, inner);
      const w = lengths.course(Math.min(i, cellsAround - 1), Math.min(j, full - 1));
      width[id(i, j)] = w;
      height[id(i, j)] = h;
      // Rim courses carry half a cell.
      const rimCourse = j === 0 || j === rings - 1 ? 0.5 : 1;
      if (i < cellsAround && j < full) {
        addSpring(id(i, j), id(i + 1, j), w, (rimCourse * h) / w, SPRING_COURSE);
      }
      if (j === rings - 1) continue;
      const rimWale = !closed && (i === 0 || i === around - 1) ? 0.5 : 1;
      addSpring(id(i, j), id(i, j + 1), h, (rimWale * w) / h, SPRING_WALE);
      if (i >= cellsAround) continue;
      const corners = [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
      if (corners[2] === corners[3]) {
        const [p, q, r] = corners;
        triangles.push(p, r, q);
        caps.push(p, r, q);
        for (const v of [p, q, r]) area[v] += (w * h) / 6;
        continue;
      }
      const [p, q, r, s] = corners;
      const kd = (SHEAR * (w * w + h * h)) / (2 * w * h);
      addSpring(p, r, lengths.rising(i, j), kd, SPRING_DIAGONAL);
      addSpring(q, s, lengths.falling(i, j), kd, SPRING_DIAGONAL);
      // Rounds run clockwise seen from the RS, so (i, i + 1, then inwards) is clockwise: reverse it.
      triangles.push(p, s, r, p, r, q);
      rising.push(p, s, r, p, r, q);
      falling.push(p, s, q, q, s, r);
      polygon.push(j * around + i, j * around + i);
      const mean = (lengths.course(i, j) + lengths.course(i, Math.min(j + 1, full - 1))) / 2;
      for (const v of corners) area[v] += (mean * h) / 4;
    }
  }
  const cap = (list: number[]) => Int32Array.from([...list, ...caps]);
  const cells = Int32Array.from([
    ...polygon,
    ...caps.map((_, k) => -1 - k).slice(0, caps.length / 3),
  ]);
  const bend = buildHinges(
    [
      { triangles: cap(rising), polygon: cells, weight: 0.5 },
      { triangles: cap(falling), polygon: cells, weight: 0.5 },
    ],
    vertices,
    (a, b) => length.get(key(a, b)) ?? Number.NaN,
  );
  const turn = new Float64Array(vertices);
  const depthMm = new Float64Array(vertices);
  for (let j = rings - 1; j >= 0; j--) {
    for (let i = 0; i < around; i++) {
      turn[id(i, j)] = ring.turn(i, j);
      depthMm[id(i, j)] = ring.depthMm(i, j);
    }
  }
  return {
    version: 1,
    vertices,
    springs: Int32Array.from(springs),
    restMm: Float64Array.from(rest),
    stiffness: Float64Array.from(stiffness),
    springKind: Uint8Array.from(kind),
    ...bend,
    bendingMm,
    triangles: Int32Array.from(triangles),
    areaMm2: area,
    stitchMm: width,
    roundMm: height,
    ring: {
      closed,
      halfTurns,
      turn,
      depthMm,
      sampleDepthMm: Float64Array.from(ring.sampleDepthMm),
      samplePerimeterMm: Float64Array.from(ring.samplePerimeterMm),
      corners: ring.corners,
      cornerTurn: Float64Array.from({ length: ring.corners }, (_, c) => c / ring.corners),
      coneAngleRad: ring.coneAngleRad,
      clockwise: 1,
    },
  };
}

/**
 * A disc of concentric rings whose apex has cone angle 2π − deficit, with a hole or an apex in the
 * middle. Each ring has as many stitches as fit, as in knitting; neighbouring rings are zipped up
 * with triangles.
 */
export function coneMetric(options: {
  radiusMm: number;
  stitchMm: number;
  roundMm: number;
  deficitRad: number;
  holeMm?: number;
  bendingMm?: number;
}): Metric {
  const { radiusMm, stitchMm, deficitRad } = options;
  const holeMm = options.holeMm ?? 0;
  const coneAngle = 2 * Math.PI - deficitRad;
  const rings = Math.round((radiusMm - holeMm) / options.roundMm) + 1;
  const step = (radiusMm - holeMm) / (rings - 1);
  const radius = (j: number) => radiusMm - j * step;
  const count = Array.from({ length: rings }, (_, j) =>
    radius(j) < step / 2 ? 1 : Math.max(4, Math.round((coneAngle * radius(j)) / stitchMm)),
  );
  const first = [0];
  for (const n of count) first.push(first[first.length - 1] + n);
  const vertices = first[rings];
  const depthMm = new Float64Array(vertices);
  const turn = new Float64Array(vertices);
  for (let j = 0; j < rings; j++) {
    for (let i = 0; i < count[j]; i++) {
      depthMm[first[j] + i] = j * step;
      turn[first[j] + i] = count[j] === 1 ? 0 : i / count[j];
    }
  }
  const mesh = new TriangleMetric(vertices, (a, b) => {
    let between = Math.abs(turn[a] - turn[b]);
    if (between > 0.5) between = 1 - between;
    const [p, q] = [radiusMm - depthMm[a], radiusMm - depthMm[b]];
    return Math.sqrt(Math.max(0, p * p + q * q - 2 * p * q * Math.cos(between * coneAngle)));
  });
  for (let j = 0; j < rings; j++) {
    const n = count[j];
    const rim = j === 0 || (j === rings - 1 && n > 1) ? 0.5 : 1;
    const at = (i: number) => first[j] + (i % n);
    if (n > 1) for (let i = 0; i < n; i++) mesh.spring(at(i), at(i + 1), rim, SPRING_COURSE);
    if (j === rings - 1) break;
    const m = count[j + 1];
    const inner = (i: number) => first[j + 1] + (i % m);
    // Zip: always advance on the ring whose next stitch comes first.
    for (let p = 0, q = 0; p < n || (q < m && m > 1); ) {
      mesh.spring(at(p), inner(q), 0.6, SPRING_WALE);
      const outerNext = p < n && (q >= m || m === 1 || (p + 1) / n <= (q + 1) / m);
      if (outerNext) mesh.triangle(at(p), inner(q), at(++p));
      else mesh.triangle(at(p), inner(q), inner(++q));
    }
  }
  return mesh.finish(
    stitchMm,
    step,
    {
      closed: true,
      halfTurns: 0,
      turn,
      depthMm,
      sampleDepthMm: Float64Array.from({ length: rings }, (_, j) => j * step),
      samplePerimeterMm: Float64Array.from({ length: rings }, (_, j) => coneAngle * radius(j)),
      corners: 0,
      cornerTurn: new Float64Array(0),
      coneAngleRad: coneAngle,
      clockwise: 1,
    },
    options.bendingMm ?? 1,
  );
}

/** Collects triangles and springs whose rest lengths follow from where their ends lie. */
class TriangleMetric {
  private readonly vertices: number;
  private readonly length: (a: number, b: number) => number;
  private readonly springs: number[] = [];
  private readonly rest: number[] = [];
  private readonly stiffness: number[] = [];
  private readonly kind: number[] = [];
  private readonly triangles: number[] = [];
  private readonly known = new Set<number>();

  constructor(vertices: number, length: (a: number, b: number) => number) {
    this.vertices = vertices;
    this.length = length;
  }

  spring(a: number, b: number, k: number, kind: number): void {
    const key = Math.min(a, b) * this.vertices + Math.max(a, b);
    if (a === b || this.known.has(key)) return;
    this.known.add(key);
    this.springs.push(a, b);
    this.rest.push(this.length(a, b));
    this.stiffness.push(k);
    this.kind.push(kind);
  }

  triangle(a: number, b: number, c: number): void {
    if (a !== b && b !== c && a !== c) this.triangles.push(a, b, c);
  }

  finish(stitchMm: number, roundMm: number, ring: Metric['ring'], bendingMm: number): Metric {
    const triangles = Int32Array.from(this.triangles);
    const areaMm2 = new Float64Array(this.vertices);
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
      const [u, v, w] = [this.length(a, b), this.length(b, c), this.length(c, a)];
      const s = (u + v + w) / 2;
      const area = Math.sqrt(Math.max(0, s * (s - u) * (s - v) * (s - w)));
      for (const i of [a, b, c]) areaMm2[i] += area / 3;
    }
    return {
      version: 1,
      vertices: this.vertices,
      springs: Int32Array.from(this.springs),
      restMm: Float64Array.from(this.rest),
      stiffness: Float64Array.from(this.stiffness),
      springKind: Uint8Array.from(this.kind),
      ...buildHinges([{ triangles, polygon: null, weight: 1 }], this.vertices, this.length),
      bendingMm,
      triangles,
      areaMm2,
      stitchMm: new Float64Array(this.vertices).fill(stitchMm),
      roundMm: new Float64Array(this.vertices).fill(roundMm),
      ring,
    };
  }
}

/**
 * A motif of `sides` flat triangular sectors with a hole in the middle: square pyramid for a deficit,
 * ruffled square for a surplus. `around` must divide by `sides`; corners lie at turn c / sides.
 */
export function polygonMetric(options: {
  apothemMm: number;
  rings: number;
  around: number;
  sides: number;
  coneAngleRad: number;
  holeMm?: number;
  bendingMm?: number;
}): Metric {
  const { apothemMm, rings, around, sides, coneAngleRad } = options;
  const holeMm = options.holeMm ?? apothemMm / 20;
  const step = (apothemMm - holeMm) / (rings - 1);
  const perSide = around / sides;
  const half = Math.tan(coneAngleRad / (2 * sides));
  const apothem = (j: number) => apothemMm - j * step;
  /** Along the side from its middle, within the sector's own plane. */
  const along = (i: number, j: number) => (2 * ((i % perSide) / perSide) - 1) * half * apothem(j);
  const next = (i: number, j: number) =>
    (((i % perSide) + 1) / perSide) * 2 * half * apothem(j) - half * apothem(j);
  const samples = Array.from({ length: rings }, (_, j) => j);
  return latticeMetric(
    { rings, around, closed: true, apex: false },
    {
      course: (i, j) => next(i, j) - along(i, j),
      wale: (i, j) => Math.hypot(step, along(i, j) - along(i, j + 1)),
      rising: (i, j) => Math.hypot(step, along(i, j) - next(i, j + 1)),
      falling: (i, j) => Math.hypot(step, next(i, j) - along(i, j + 1)),
    },
    {
      turn: (i) => i / around,
      depthMm: (_, j) => j * step,
      sampleDepthMm: samples.map((j) => j * step),
      samplePerimeterMm: samples.map((j) => 2 * sides * half * apothem(j)),
      corners: sides,
      coneAngleRad,
    },
    options.bendingMm ?? 1,
  );
}

/**
 * Rings of any perimeters at equal steps, closed, without corners: cups, ruffles and mixtures.
 * `perimeterMm[0]` is the cast-on. Cells are symmetric trapezia.
 */
export function profileMetric(options: {
  perimeterMm: readonly number[];
  around: number;
  roundMm: number;
  bendingMm?: number;
}): Metric {
  const { perimeterMm, around, roundMm } = options;
  const width = (j: number) => perimeterMm[j] / around;
  const diagonal = (_: number, j: number) => {
    const lean = (width(j) - width(j + 1)) / 2;
    const high = Math.sqrt(Math.max(0, roundMm * roundMm - lean * lean));
    return Math.hypot(high, (width(j) + width(j + 1)) / 2);
  };
  const depth = perimeterMm.map((_, j) => j * roundMm);
  return latticeMetric(
    { rings: perimeterMm.length, around, closed: true, apex: false },
    { course: (_, j) => width(j), wale: () => roundMm, rising: diagonal, falling: diagonal },
    {
      turn: (i) => i / around,
      depthMm: (_, j) => depth[j],
      sampleDepthMm: depth,
      samplePerimeterMm: [...perimeterMm],
      corners: 0,
      coneAngleRad: (perimeterMm[0] - perimeterMm[1]) / roundMm,
    },
    options.bendingMm ?? 1,
  );
}

/** A flat rectangle of rows, open at the sides. */
export function swatchMetric(options: {
  stitches: number;
  rows: number;
  stitchMm: number;
  roundMm: number;
  bendingMm?: number;
}): Metric {
  return stripMetric({ ...options, closed: false, halfTurns: 0 });
}

/** A tube (no half turn) or a twisted band. */
export function tubeMetric(options: {
  stitches: number;
  rows: number;
  stitchMm: number;
  roundMm: number;
  bendingMm?: number;
  halfTurns?: number;
}): Metric {
  return stripMetric({ ...options, closed: true, halfTurns: options.halfTurns ?? 0 });
}

function stripMetric(options: {
  stitches: number;
  rows: number;
  stitchMm: number;
  roundMm: number;
  bendingMm?: number;
  closed: boolean;
  halfTurns: number;
}): Metric {
  const { stitches, rows, stitchMm, roundMm, closed } = options;
  const diagonal = Math.hypot(stitchMm, roundMm);
  const perimeter = (closed ? stitches : stitches - 1) * stitchMm;
  return latticeMetric(
    { rings: rows, around: stitches, closed, apex: false },
    {
      course: () => stitchMm,
      wale: () => roundMm,
      rising: () => diagonal,
      falling: () => diagonal,
    },
    {
      turn: (i) => i / (closed ? stitches : stitches - 1),
      depthMm: (_, j) => j * roundMm,
      sampleDepthMm: Array.from({ length: rows }, (_, j) => j * roundMm),
      samplePerimeterMm: Array.from({ length: rows }, () => perimeter),
      corners: 0,
      coneAngleRad: Number.NaN,
      halfTurns: options.halfTurns,
    },
    options.bendingMm ?? 1,
  );
}

/** Moves the metric into another length unit: every length times `factor`. */
export function inUnits(metric: Metric, factor: number): Metric {
  const times = (a: Float64Array) => a.map((x) => x * factor);
  return {
    ...metric,
    restMm: times(metric.restMm),
    hingeWeights: metric.hingeWeights.map((q) => q / factor),
    bendingMm: metric.bendingMm * factor,
    areaMm2: metric.areaMm2.map((a) => a * factor * factor),
    stitchMm: times(metric.stitchMm),
    roundMm: times(metric.roundMm),
    ring: {
      ...metric.ring,
      depthMm: times(metric.ring.depthMm),
      sampleDepthMm: times(metric.ring.sampleDepthMm),
      samplePerimeterMm: times(metric.ring.samplePerimeterMm),
    },
  };
}
