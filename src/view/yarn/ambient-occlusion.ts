/**
 * How neighbouring yarn shelters each point of a yarn from light: the ground of its ambient shade.
 *
 * Input: centre lines and radius. Output: [4·points] for every point the weighted sum of unit vectors
 * towards other yarn nearby (xyz) and the sum of the weights (w), free of the density of points. It
 * holds for both faces of the fabric; shaders/yarn.frag.glsl turns it into shade for a normal.
 */

/** How far shelter reaches, in radii: to the courses above and below. Chosen by eye. */
const REACH_RADII = 4.5;
/** Yarn nearer than this along its own length does not shelter itself, radii. */
const OWN_RADII = 5;

export function computeShelter(
  points: ArrayLike<number>,
  strandStart: ArrayLike<number>,
  radiusMm: number,
): Float32Array {
  const n = points.length / 3;
  const shelter = new Float32Array(4 * n);
  if (n === 0) return shelter;
  const reach = REACH_RADII * radiusMm;
  // Length of yarn that each point stands for, length up to it, and its strand.
  const share = new Float64Array(n);
  const arc = new Float64Array(n);
  const strand = new Int32Array(n);
  for (let s = 0; s + 1 < strandStart.length; s++) {
    let along = 0;
    for (let i = strandStart[s]; i < strandStart[s + 1]; i++) {
      strand[i] = s;
      if (i > strandStart[s]) {
        const step = Math.hypot(
          points[3 * i] - points[3 * i - 3],
          points[3 * i + 1] - points[3 * i - 2],
          points[3 * i + 2] - points[3 * i - 1],
        );
        along += step;
        share[i] += step / 2;
        share[i - 1] += step / 2;
      }
      arc[i] = along;
    }
  }
  const grid = new PointGrid(points, n, reach);
  for (let i = 0; i < n; i++) {
    const x = points[3 * i];
    const y = points[3 * i + 1];
    const z = points[3 * i + 2];
    const a = 4 * i;
    grid.eachNear(x, y, z, (j) => {
      if (strand[j] === strand[i] && Math.abs(arc[j] - arc[i]) < OWN_RADII * radiusMm) return;
      const dx = points[3 * j] - x;
      const dy = points[3 * j + 1] - y;
      const dz = points[3 * j + 2] - z;
      const d2 = dx * dx + dy * dy + dz * dz;
      if (d2 >= reach * reach || d2 === 0) return;
      const d = Math.sqrt(d2);
      const near = 1 - d2 / (reach * reach);
      const weight = (near * near * share[j]) / radiusMm;
      shelter[a] += (weight * dx) / d;
      shelter[a + 1] += (weight * dy) / d;
      shelter[a + 2] += (weight * dz) / d;
      shelter[a + 3] += weight;
    });
  }
  return shelter;
}

/** Points sorted into cubes of a given size, found by a hash of the cube. */
class PointGrid {
  private readonly start: Int32Array;
  private readonly order: Int32Array;
  private readonly mask: number;

  constructor(
    points: ArrayLike<number>,
    n: number,
    private readonly sizeMm: number,
  ) {
    let buckets = 1;
    while (buckets < 2 * n) buckets *= 2;
    this.mask = buckets - 1;
    this.start = new Int32Array(buckets + 1);
    this.order = new Int32Array(n);
    const bucket = new Int32Array(n);
    for (let i = 0; i < n; i++) {
      bucket[i] = this.bucketOf(
        Math.floor(points[3 * i] / sizeMm),
        Math.floor(points[3 * i + 1] / sizeMm),
        Math.floor(points[3 * i + 2] / sizeMm),
      );
      this.start[bucket[i] + 1]++;
    }
    for (let b = 0; b < buckets; b++) this.start[b + 1] += this.start[b];
    const fill = this.start.slice(0, buckets);
    for (let i = 0; i < n; i++) this.order[fill[bucket[i]]++] = i;
  }

  /** Every point of the 27 cubes around; two cubes that share a bucket are visited once. */
  eachNear(x: number, y: number, z: number, found: (index: number) => void): void {
    const cx = Math.floor(x / this.sizeMm);
    const cy = Math.floor(y / this.sizeMm);
    const cz = Math.floor(z / this.sizeMm);
    const seen: number[] = [];
    for (let dz = -1; dz <= 1; dz++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const bucket = this.bucketOf(cx + dx, cy + dy, cz + dz);
          if (this.start[bucket] === this.start[bucket + 1] || seen.includes(bucket)) continue;
          seen.push(bucket);
          for (let k = this.start[bucket]; k < this.start[bucket + 1]; k++) found(this.order[k]);
        }
      }
    }
  }

  private bucketOf(cx: number, cy: number, cz: number): number {
    return (
      (Math.imul(cx, 73856093) ^ Math.imul(cy, 19349663) ^ Math.imul(cz, 83492791)) & this.mask
    );
  }
}
