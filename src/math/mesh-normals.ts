/** Unit normals of a triangle mesh at its vertices, weighted by the areas of the triangles around. */

/** [3·vertices]; a vertex whose triangles cancel or have no area gets +z. */
export function vertexNormals(x: ArrayLike<number>, triangles: Int32Array): Float64Array {
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
