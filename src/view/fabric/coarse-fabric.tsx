/**
 * The sheet without its stitches, one vertex a loop: what is seen while it relaxes, until there are stitches to draw.
 * Costs a few milliseconds a state, where stitches without a graphics card cost hundreds.
 */
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, DoubleSide, ShaderMaterial, Sphere } from 'three';
import fragmentShader from '../../../shaders/coarse.frag.glsl?raw';
import vertexShader from '../../../shaders/coarse.vert.glsl?raw';
import { KEY_LIGHT } from './light.ts';
import { loopEndOf, type Positions, type Surface } from './surface.ts';
import { computeNormals } from './surface-measures.ts';

export interface CoarseFabricProps {
  readonly surface: Surface;
  readonly positions: Positions;
  /** [3·vertices] linear RGB. */
  readonly rgb: Float32Array;
  readonly relief: number;
  readonly throughCourse: number | null;
}

export function CoarseFabric({
  surface,
  positions,
  rgb,
  relief,
  throughCourse,
}: CoarseFabricProps) {
  const invalidate = useThree((state) => state.invalidate);
  const { metric } = surface;
  const geometry = useMemo(() => createGeometry(metric.vertices), [metric]);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        vertexShader,
        fragmentShader,
        side: DoubleSide,
        uniforms: { lightTowards: { value: KEY_LIGHT }, relief: { value: 1 } },
      }),
    [],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);

  useLayoutEffect(() => {
    geometry.setIndex(
      new BufferAttribute(trianglesUpTo(metric.triangles, loopEndOf(surface, throughCourse)), 1),
    );
    invalidate();
  }, [geometry, metric, surface, throughCourse, invalidate]);

  useLayoutEffect(() => {
    if (positions.length === 3 * metric.vertices) {
      fill(geometry, 'position', positions);
      fill(geometry, 'normal', computeNormals(metric, positions));
    }
    invalidate();
  }, [geometry, metric, positions, invalidate]);

  useLayoutEffect(() => {
    if (rgb.length === 3 * metric.vertices) fill(geometry, 'yarn', rgb);
    invalidate();
  }, [geometry, metric, rgb, invalidate]);

  useLayoutEffect(() => {
    material.uniforms.relief.value = relief;
    invalidate();
  }, [material, relief, invalidate]);

  return <mesh geometry={geometry} material={material} frustumCulled={false} />;
}

function createGeometry(vertices: number): BufferGeometry {
  const geometry = new BufferGeometry();
  for (const name of ['position', 'normal', 'yarn']) {
    geometry.setAttribute(name, new BufferAttribute(new Float32Array(3 * vertices), 3));
  }
  // Nothing asks how far it reaches.
  geometry.boundingSphere = new Sphere();
  return geometry;
}

function fill(geometry: BufferGeometry, name: string, values: ArrayLike<number>): void {
  const attribute = geometry.getAttribute(name) as BufferAttribute;
  (attribute.array as Float32Array).set(values);
  attribute.needsUpdate = true;
}

/** Triangles between the first so many loops. */
function trianglesUpTo(triangles: Int32Array, end: number): Uint32Array {
  return Uint32Array.from(
    triangles.filter((_, k) => {
      const from = k - (k % 3);
      return triangles[from] < end && triangles[from + 1] < end && triangles[from + 2] < end;
    }),
  );
}
