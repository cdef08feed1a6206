/**
 * The shape that leaves the tool as a file: a triangle mesh without the vertices that no triangle
 * uses (loops lost in a seam), with area-weighted normals.
 */

export interface ShapeMesh {
  readonly title: string;
  /** [3·vertices] mm, right side towards +z. */
  readonly positions: Float64Array;
  /** [3·triangles] vertex indices, 0-based, counter-clockwise from the right side. */
  readonly triangles: Int32Array;
  /** [3·vertices] red, green, blue, 0 … 255 as on screen (sRGB); null for none. */
  readonly colours: Uint8Array | null;
}

export interface PackedMesh extends ShapeMesh {
  /** [3·vertices] unit normals. */
  readonly normals: Float64Array;
}

/** Throws RangeError where a triangle names a vertex that isn't there or a position is no number. */
export function packMesh(mesh: ShapeMesh): PackedMesh {
  const vertices = mesh.positions.length / 3;
  const place = new Int32Array(vertices).fill(-1);
  const triangles = new Int32Array(mesh.triangles.length);
  let used = 0;
  for (let i = 0; i < triangles.length; i++) {
    const v = mesh.triangles[i];
    if (!(v >= 0 && v < vertices)) {
      throw new RangeError(`triangle corner ${v} of ${vertices} vertices`);
    }
    if (place[v] < 0) place[v] = used++;
    triangles[i] = place[v];
  }
  const positions = new Float64Array(3 * used);
  const colours = mesh.colours && new Uint8Array(3 * used);
  for (let v = 0; v < vertices; v++) {
    if (place[v] < 0) continue;
    for (let k = 0; k < 3; k++) {
      const x = mesh.positions[3 * v + k];
      if (!Number.isFinite(x)) throw new RangeError(`position of vertex ${v} is ${x}`);
      positions[3 * place[v] + k] = x;
      if (colours && mesh.colours) colours[3 * place[v] + k] = mesh.colours[3 * v + k];
    }
  }
  return {
    title: mesh.title,
    positions,
    triangles,
    colours,
    normals: normalsOf(positions, triangles),
  };
}

function normalsOf(x: Float64Array, triangles: Int32Array): Float64Array {
  const normals = new Float64Array(x.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const ux = x[b] - x[a];
    const uy = x[b + 1] - x[a + 1];
    const uz = x[b + 2] - x[a + 2];
    const vx = x[c] - x[a];
    const vy = x[c + 1] - x[a + 1];
    const vz = x[c + 2] - x[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (const at of [a, b, c]) {
      normals[at] += nx;
      normals[at + 1] += ny;
      normals[at + 2] += nz;
    }
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i], normals[i + 1], normals[i + 2]);
    // A vertex whose triangles cancel (or have no area) faces up: file readers expect unit length.
    if (length > 0) {
      normals[i] /= length;
      normals[i + 1] /= length;
      normals[i + 2] /= length;
    } else {
      normals[i + 2] = 1;
    }
  }
  return normals;
}
