/** The table under the fabric: soft shadow and a measuring grid in the user's units. */
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import {
  Color,
  DataTexture,
  LinearFilter,
  PlaneGeometry,
  RedFormat,
  ShaderMaterial,
  Vector2,
  Vector3,
} from 'three';
import fragmentShader from '../../../shaders/table.frag.glsl?raw';
import vertexShader from '../../../shaders/table.vert.glsl?raw';
import type { Positions, Surface, Surroundings } from '../fabric/surface.ts';
import { loopEndOf, sideTurnRad } from '../fabric/surface.ts';
import { castShadow } from './contact-shadow.ts';
import { UNDER_ALL } from './under-all.ts';

export interface TableProps {
  readonly surface: Surface;
  readonly positions: Positions;
  /** [3·vertices] linear RGB of the yarn. */
  readonly rgb: Float32Array;
  readonly throughCourse: number | null;
  /** Distance of the fine lines: 10 mm or 25.4 mm. */
  readonly gridMm: number;
  readonly room: Surroundings;
}

export function Table({ surface, positions, rgb, throughCourse, gridMm, room }: TableProps) {
  const invalidate = useThree((state) => state.invalidate);
  const shadow = useMemo(() => {
    const texture = new DataTexture(new Uint8Array(128 * 128), 128, 128, RedFormat);
    texture.magFilter = LinearFilter;
    texture.minFilter = LinearFilter;
    texture.unpackAlignment = 1;
    return texture;
  }, []);
  const geometry = useMemo(() => new PlaneGeometry(2, 2), []);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        vertexShader,
        fragmentShader,
        // Drawn last, under whatever is there: until then only what lies on it has been drawn. From below it is not seen.
        transparent: true,
        depthTest: false,
        depthWrite: false,
        ...UNDER_ALL,
        uniforms: {
          shadow: { value: shadow },
          shadowSpanMm: { value: 1 },
          shadowStrength: { value: 0.5 },
          gridMm: { value: 10 },
          gridTurn: { value: new Vector2(1, 0) },
          reachMm: { value: 100 },
          shadowColour: { value: new Vector3() },
          underColour: { value: new Vector3() },
          lineColour: { value: new Vector3() },
          lineStrength: { value: 0.3 },
        },
      }),
    [shadow],
  );
  useEffect(
    () => () => {
      shadow.dispose();
      geometry.dispose();
      material.dispose();
    },
    [shadow, geometry, material],
  );

  const height = useMemo(() => lowestOf(positions), [positions]);
  const turnRad = useMemo(() => sideTurnRad(surface, positions), [surface, positions]);
  const reachMm = useMemo(() => reachOf(positions) * 1.9, [positions]);

  useLayoutEffect(() => {
    const cast = castShadow(
      positions,
      surface.metric.triangles,
      height,
      loopEndOf(surface, throughCourse),
    );
    shadow.image = { data: cast.darkness, width: cast.size, height: cast.size };
    shadow.needsUpdate = true;
    material.uniforms.shadowSpanMm.value = cast.spanMm;
    invalidate();
  }, [surface, positions, height, throughCourse, shadow, material, invalidate]);

  useLayoutEffect(() => {
    const { uniforms } = material;
    uniforms.gridMm.value = gridMm;
    uniforms.reachMm.value = reachMm;
    uniforms.gridTurn.value.set(Math.cos(turnRad), Math.sin(turnRad));
    uniforms.shadowColour.value.fromArray(room.shadow);
    uniforms.shadowStrength.value = room.shadowStrength;
    uniforms.lineColour.value.fromArray(room.line);
    uniforms.lineStrength.value = room.lineStrength;
    invalidate();
  }, [material, gridMm, reachMm, turnRad, room, invalidate]);

  useLayoutEffect(() => {
    material.uniforms.underColour.value.copy(underColourOf(rgb));
    invalidate();
  }, [material, rgb, invalidate]);

  return (
    <mesh
      geometry={geometry}
      material={material}
      position={[0, 0, height - 1.2]}
      scale={[reachMm, reachMm, 1]}
      renderOrder={10}
    />
  );
}

/** Light that comes in under the fabric, of what its yarn throws back. Chosen by eye: gaps read as depth. */
const UNDER_LIGHT = 0.15;

/** sRGB of the table right under yarn of these colours. */
function underColourOf(rgb: Float32Array): Vector3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < rgb.length; i++) sum[i % 3] += rgb[i];
  const share = (3 * UNDER_LIGHT) / Math.max(3, rgb.length);
  const under = new Color(sum[0] * share, sum[1] * share, sum[2] * share).convertLinearToSRGB();
  return new Vector3(under.r, under.g, under.b);
}

function lowestOf(positions: Positions): number {
  let lowest = 0;
  for (let i = 2; i < positions.length; i += 3) lowest = Math.min(lowest, positions[i]);
  return lowest;
}

function reachOf(positions: Positions): number {
  let reach = 10;
  for (let i = 0; i < positions.length; i += 3) {
    reach = Math.max(reach, Math.hypot(positions[i], positions[i + 1]));
  }
  return reach;
}
