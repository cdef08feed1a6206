import type { Mesh } from 'three';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { describe, expect, it } from 'vitest';
import { knit } from '../../src/knit.ts';
import { writeGlb } from '../../src/paper/shape-files/glb.ts';
import { writeObj } from '../../src/paper/shape-files/obj.ts';
import type { ShapeMesh } from '../../src/paper/shape-files/shape-mesh.ts';
import { yarnTube } from '../../src/paper/shape-files/yarn-tube.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import type { YarnCurves } from '../../src/yarn/yarn-curves.ts';

function strand(points: readonly (readonly number[])[], radiusMm: number): YarnCurves {
  return {
    version: 1,
    points: Float32Array.from(points.flat()),
    strandStart: Int32Array.from([0, points.length]),
    loop: new Int32Array(points.length),
    loopStart: Int32Array.from([0, points.length]),
    radiusMm,
    segmentsPerStitch: 16,
    lengthMm: 0,
    check: { minCentreDistanceMm: 0, linksChecked: 0, linksWrong: 0 },
  };
}

/** Six times the volume inside, positive where triangles face outwards (divergence theorem). */
function volume({ positions: p, triangles: t }: ShapeMesh): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    sum +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}

/** Edges that are not passed once in each direction. */
function openEdges({ triangles: t }: ShapeMesh): number {
  const seen = new Map<string, number>();
  for (let i = 0; i < t.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [t[i + k], t[i + ((k + 1) % 3)]];
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      seen.set(key, (seen.get(key) ?? 0) + (a < b ? 1 : -1));
    }
  return [...seen.values()].filter((n) => n !== 0).length;
}

/** Area of a regular octagon over the square of its circumradius. */
const OCTAGON = 2 * Math.SQRT2;

describe('a tube of yarn', () => {
  it('is a closed octagonal prism round a straight strand, facing outwards', () => {
    const tube = yarnTube(
      strand(
        [0, 1, 2, 3, 4].map((z) => [0, 0, z]),
        0.5,
      ),
      { title: '', loopColours: null },
    );
    expect(openEdges(tube)).toBe(0);
    expect(volume(tube)).toBeCloseTo(OCTAGON * 0.25 * 4, 6);
  });

  it('keeps its thickness through a helix, without twist where it ends', () => {
    const turns = Array.from({ length: 400 }, (_, i) => {
      const a = (i / 399) * 6 * Math.PI;
      return [5 * Math.cos(a), 5 * Math.sin(a), a];
    });
    const tube = yarnTube(strand(turns, 0.4), { title: '', loopColours: null });
    expect(openEdges(tube)).toBe(0);
    const length = 6 * Math.PI * Math.hypot(5, 1);
    const ideal = OCTAGON * 0.16 * length;
    expect(Math.abs(volume(tube) / ideal - 1)).toBeLessThan(0.005);
    // Neighbouring rings stand over one another: the sides run along the yarn.
    let widest = 0;
    for (let v = 0; v < 8 * 399; v++) {
      let gap = 0;
      for (let k = 0; k < 3; k++)
        gap += (tube.positions[3 * (v + 8) + k] - tube.positions[3 * v + k]) ** 2;
      widest = Math.max(widest, Math.sqrt(gap));
    }
    expect(widest).toBeLessThan((length / 399) * 1.1);
  });

  it('leaves out points that coincide, and strands of a single point', () => {
    const tube = yarnTube(
      strand(
        [
          [0, 0, 0],
          [0, 0, 0],
          [0, 0, 1],
          [0, 0, 1],
        ],
        0.5,
      ),
      { title: '', loopColours: null },
    );
    expect(tube.positions.length).toBe(3 * (2 * 8 + 2));
    expect(tube.positions.every(Number.isFinite)).toBe(true);
    expect(
      yarnTube(strand([[1, 2, 3]], 0.5), { title: '', loopColours: null }).triangles,
    ).toHaveLength(0);
  });
});

describe('the yarn of a knitted piece', () => {
  const { knitted } = knit(
    'Title: Bit\nGauge: 20 sts and 28 rounds to 10 cm in stockinette\nCast on 16 sts. Join.\nRound 1: knit.\nRound 2: *k2tog, k2; rep from * to end. (12 sts)\nBreak yarn and draw through remaining sts.\n',
  );
  if (!knitted) throw new Error('the plan has errors');
  const curves = layYarn(knitted.graph, knitted.cells, knitted.sheet.positions);
  const loopColours = Uint8Array.from({ length: 3 * knitted.graph.loops }, (_, i) => i % 250);
  const tube = yarnTube(curves, { title: 'Bit', loopColours });

  it('is as long as its centre line and closed', () => {
    expect(openEdges(tube)).toBe(0);
    const ideal = OCTAGON * curves.radiusMm ** 2 * curves.lengthMm;
    // Rings halve the angle at each point: sixteen points a stitch cut its tight turns by some 6 %.
    expect(Math.abs(volume(tube) / ideal - 1)).toBeLessThan(0.1);
  });

  it('is read back by other readers as an object called yarn, each loop in its colour', async () => {
    const obj = new OBJLoader().parse(writeObj(tube)).children[0] as Mesh;
    expect(obj.name).toBe('yarn');
    expect(obj.geometry.getAttribute('position').count).toBe(tube.triangles.length);
    const glb = writeGlb(tube);
    const gltf = await new GLTFLoader().parseAsync(glb.slice().buffer as ArrayBuffer, '');
    const mesh = gltf.scene.children[0] as Mesh;
    expect(mesh.geometry.getAttribute('position').count).toBe(tube.positions.length / 3);
    expect(tube.colours?.subarray(0, 3)).toEqual(loopColours.subarray(0, 3));
    const tail = tube.positions.length - 3;
    expect(tube.colours?.subarray(tail)).toEqual(loopColours.subarray(-3));
  });

  it('gets coarser the more yarn there is, within what programs open', () => {
    const many = 300_000;
    const long = strand(
      Array.from({ length: many }, (_, i) => [i * 0.1, Math.sin(i * 0.05), 0]),
      0.3,
    );
    const coarse = yarnTube(long, { title: '', loopColours: null });
    expect(coarse.positions.length / 3).toBeLessThanOrEqual(1_000_100);
    expect(volume(coarse)).toBeGreaterThan(0);
  });
});
