import type { BufferGeometry, Mesh } from 'three';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { describe, expect, it } from 'vitest';
import { writeGlb } from '../../src/paper/shape-files/glb.ts';
import { writeObj } from '../../src/paper/shape-files/obj.ts';
import type { ShapeMesh } from '../../src/paper/shape-files/shape-mesh.ts';

/** Two triangles, right side towards +z; vertex 1 is used by none, as a seam loop would be. */
const SHAPE: ShapeMesh = {
  title: 'Möbius\nnot a second line',
  positions: new Float64Array([0, 0, 0, Number.NaN, 0, 0, 200, 0, 0, 200, 100, 5, 0, 100, 0]),
  triangles: new Int32Array([0, 2, 3, 0, 3, 4]),
  colours: new Uint8Array([255, 0, 0, 9, 9, 9, 0, 255, 0, 0, 0, 255, 128, 128, 128]),
};

/** Read by an independent reader; three's loader is a general-purpose one. */
async function readGlb(bytes: Uint8Array) {
  const gltf = await new GLTFLoader().parseAsync(bytes.slice().buffer as ArrayBuffer, '');
  const mesh = gltf.scene.children[0] as Mesh;
  return { geometry: mesh.geometry as BufferGeometry };
}

describe('glTF', () => {
  it('is read back by another reader with the same shape in metres, y up', async () => {
    const { geometry } = await readGlb(writeGlb(SHAPE));
    const position = geometry.getAttribute('position');
    expect(position.count).toBe(4);
    const corner = [position.getX(2), position.getY(2), position.getZ(2)];
    expect(corner[0]).toBeCloseTo(0.2, 6);
    expect(corner[1]).toBeCloseTo(0.005, 6);
    expect(corner[2]).toBeCloseTo(-0.1, 6);
    expect([...(geometry.index?.array ?? [])]).toEqual([0, 1, 2, 0, 2, 3]);
  });

  it('has unit normals towards the right side and linear colours', async () => {
    const { geometry } = await readGlb(writeGlb(SHAPE));
    const normal = geometry.getAttribute('normal');
    for (let i = 0; i < 4; i++) {
      expect(Math.hypot(normal.getX(i), normal.getY(i), normal.getZ(i))).toBeCloseTo(1, 5);
      expect(normal.getY(i)).toBeGreaterThan(0.9);
    }
    const colour = geometry.getAttribute('color');
    expect([colour.getX(0), colour.getY(0), colour.getZ(0)]).toEqual([1, 0, 0]);
    // Middle grey: 128/255 on screen is 0.2159 linear (IEC 61966-2-1).
    expect(colour.getX(3)).toBeCloseTo(0.2159, 2);
  });

  it('keeps to the container: lengths, alignment and bounds', () => {
    const bytes = writeGlb(SHAPE);
    const view = new DataView(bytes.buffer);
    expect(String.fromCharCode(...bytes.subarray(0, 4))).toBe('glTF');
    expect(view.getUint32(8, true)).toBe(bytes.length);
    const jsonBytes = view.getUint32(12, true);
    expect(jsonBytes % 4).toBe(0);
    const binary = view.getUint32(20 + jsonBytes, true);
    expect(20 + jsonBytes + 8 + binary).toBe(bytes.length);
    const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + jsonBytes)));
    expect(json.scenes[0].name).toContain('Möbius');
    expect(json.buffers[0].byteLength).toBe(binary);
    for (const v of json.bufferViews) {
      expect(v.byteOffset % 4).toBe(0);
      expect(v.byteOffset + v.byteLength).toBeLessThanOrEqual(binary);
    }
    expect(json.accessors[0].max[0]).toBeCloseTo(0.2, 6);
    expect(json.accessors[0].min[2]).toBeCloseTo(-0.1, 6);
  });

  it('refuses a fabric without triangles and positions that are no numbers', () => {
    expect(() => writeGlb({ ...SHAPE, triangles: new Int32Array(0) })).toThrow(/without triangles/);
    expect(() => writeGlb({ ...SHAPE, triangles: new Int32Array([0, 1, 2]) })).toThrow(/NaN/);
    expect(() => writeObj({ ...SHAPE, triangles: new Int32Array([0, 2, 5]) })).toThrow(/corner 5/);
  });
});

describe('OBJ', () => {
  it('is read back by another reader with the same shape in mm', () => {
    const text = writeObj(SHAPE);
    expect(text.split('\n')[0]).toBe('# Möbius not a second line');
    const mesh = new OBJLoader().parse(text).children[0] as Mesh;
    const position = mesh.geometry.getAttribute('position');
    // The reader expands triangles: two of three corners.
    expect(position.count).toBe(6);
    expect([position.getX(2), position.getY(2), position.getZ(2)]).toEqual([200, 100, 5]);
    expect(mesh.geometry.getAttribute('normal').getZ(0)).toBeGreaterThan(0.9);
    expect(mesh.geometry.getAttribute('color').getX(0)).toBeGreaterThan(0.9);
  });
});
