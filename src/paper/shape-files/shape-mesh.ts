/**
 * The shape that leaves the tool as a file: a triangle mesh without the vertices that no triangle
 * uses (loops lost in a seam), with area-weighted normals.
 */
import { vertexNormals } from '../../math/mesh-normals.ts';

export interface ShapeMesh {
  readonly title: string;
  /** What the object is in the file, `fabric` unless given. */
  readonly part?: string;
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
    part: mesh.part ?? 'fabric',
    positions,
    triangles,
    colours,
    normals: vertexNormals(positions, triangles),
  };
}
