/**
 * The fabric, or its yarn, as binary glTF 2.0: one mesh with positions, normals, vertex colours and indices.
 * Lengths in metres, +y up (so the fabric lies on the ground, right side up).
 * Source: Khronos Group, glTF 2.0 Specification (ISO/IEC 12113:2022), sections 3.6 (accessors,
 * alignment), 3.7.2 (meshes) and 4.4 (GLB file format).
 */
import { packMesh, type ShapeMesh } from './shape-mesh.ts';

const MAGIC = 0x46546c67;
const CHUNK_JSON = 0x4e4f534a;
const CHUNK_BIN = 0x004e4942;
const FLOAT = 5126;
const UNSIGNED_INT = 5125;
const UNSIGNED_BYTE = 5121;
const ARRAY_BUFFER = 34962;
const ELEMENT_ARRAY_BUFFER = 34963;
const METRES_PER_MM = 0.001;
const OPAQUE = 255;

export function writeGlb(shape: ShapeMesh): Uint8Array {
  const { title, part, positions, normals, triangles, colours } = packMesh(shape);
  const vertices = positions.length / 3;
  const vectorBytes = 12 * vertices;
  const colourBytes = colours ? 4 * vertices : 0;
  const indexBytes = 4 * triangles.length;
  const binaryBytes = 2 * vectorBytes + colourBytes + indexBytes;

  // Turn z up into y up: (x, y, z) → (x, z, −y). Float32 first, so that min and max are exact.
  const place = new Float32Array(3 * vertices);
  const normal = new Float32Array(3 * vertices);
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < place.length; i += 3) {
    place[i] = positions[i] * METRES_PER_MM;
    place[i + 1] = positions[i + 2] * METRES_PER_MM;
    place[i + 2] = -positions[i + 1] * METRES_PER_MM;
    normal[i] = normals[i];
    normal[i + 1] = normals[i + 2];
    normal[i + 2] = -normals[i + 1];
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], place[i + k]);
      max[k] = Math.max(max[k], place[i + k]);
    }
  }
  if (vertices === 0) throw new RangeError(`a ${part} without triangles cannot be written as glTF`);

  const views: object[] = [
    { buffer: 0, byteOffset: 0, byteLength: vectorBytes, target: ARRAY_BUFFER },
    { buffer: 0, byteOffset: vectorBytes, byteLength: vectorBytes, target: ARRAY_BUFFER },
  ];
  const accessors: object[] = [
    { bufferView: 0, componentType: FLOAT, count: vertices, type: 'VEC3', min, max },
    { bufferView: 1, componentType: FLOAT, count: vertices, type: 'VEC3' },
  ];
  const attributes: Record<string, number> = { POSITION: 0, NORMAL: 1 };
  if (colours) {
    // Four bytes a colour, as every vertex must begin on a multiple of four bytes.
    attributes.COLOR_0 = accessors.length;
    accessors.push({
      bufferView: views.length,
      componentType: UNSIGNED_BYTE,
      normalized: true,
      count: vertices,
      type: 'VEC4',
    });
    views.push({
      buffer: 0,
      byteOffset: 2 * vectorBytes,
      byteLength: colourBytes,
      target: ARRAY_BUFFER,
    });
  }
  const indices = accessors.length;
  accessors.push({
    bufferView: views.length,
    componentType: UNSIGNED_INT,
    count: triangles.length,
    type: 'SCALAR',
  });
  views.push({
    buffer: 0,
    byteOffset: 2 * vectorBytes + colourBytes,
    byteLength: indexBytes,
    target: ELEMENT_ARRAY_BUFFER,
  });
  const name = title || (part === 'yarn' ? 'Yarn' : 'Fabric');
  const document = {
    asset: { version: '2.0', generator: 'Lieflat' },
    scene: 0,
    scenes: [{ name, nodes: [0] }],
    nodes: [{ name, mesh: 0 }],
    meshes: [{ name, primitives: [{ attributes, indices, material: 0 }] }],
    materials: [
      {
        name: 'Yarn',
        doubleSided: true,
        pbrMetallicRoughness: { metallicFactor: 0, roughnessFactor: 1 },
      },
    ],
    accessors,
    bufferViews: views,
    buffers: [{ byteLength: binaryBytes }],
  };
  const json = asciiJson(document);
  const jsonBytes = Math.ceil(json.length / 4) * 4;
  // The binary chunk is a multiple of four already: every part is.
  const bytes = new Uint8Array(12 + 8 + jsonBytes + 8 + binaryBytes);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, MAGIC, true);
  view.setUint32(4, 2, true);
  view.setUint32(8, bytes.length, true);
  view.setUint32(12, jsonBytes, true);
  view.setUint32(16, CHUNK_JSON, true);
  bytes.fill(0x20, 20, 20 + jsonBytes);
  for (let i = 0; i < json.length; i++) bytes[20 + i] = json.charCodeAt(i);
  let at = 20 + jsonBytes;
  view.setUint32(at, binaryBytes, true);
  view.setUint32(at + 4, CHUNK_BIN, true);
  at += 8;
  for (const vectors of [place, normal]) {
    for (const x of vectors) {
      view.setFloat32(at, x, true);
      at += 4;
    }
  }
  if (colours) {
    for (let i = 0; i < colours.length; i += 3) {
      for (let k = 0; k < 3; k++) bytes[at++] = linear(colours[i + k]);
      bytes[at++] = OPAQUE;
    }
  }
  for (const v of triangles) {
    view.setUint32(at, v, true);
    at += 4;
  }
  return bytes;
}

/** glTF vertex colours are linear. Source: IEC 61966-2-1 (sRGB) transfer function. */
function linear(level: number): number {
  const c = level / 255;
  return Math.round(255 * (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
}

/** JSON in ASCII alone, so that characters are bytes. */
function asciiJson(value: unknown): string {
  return JSON.stringify(value).replace(
    /[\u007f-\uffff]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
