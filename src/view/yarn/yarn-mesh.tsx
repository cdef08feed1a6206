/**
 * Strands of yarn as one draw call: the centre lines lie in textures, the vertices are pulled from them.
 *
 * Works without a graphics card: no instancing, and fewer points the smaller a stitch is on the screen.
 */
import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import type { PerspectiveCamera, Vector3 } from 'three';
import { BufferGeometry } from 'three';
import { PLAIN_SPIN, SPIN_VALUES, type Spin } from '../colour/yarn-spin.ts';
import { PLIES } from './stitch-atlas.ts';
import { cutOf, type YarnLines } from './yarn-lines.ts';
import { createYarnMaterial, dyeTexture, floatTexture } from './yarn-material.ts';

export interface YarnMeshProps {
  readonly lines: YarnLines;
  /** [3·points] linear RGB of the yarn. */
  readonly rgb: Float32Array;
  /** Radius of the yarn as it is seen over that of the pressed yarn; 1 where openings are looked at. */
  readonly halo?: number;
  /** How the yarn is spun; null where colours carry numbers. */
  readonly spun?: Spin | null;
  /** Points drawn, from the first; null draws all. */
  readonly through: number | null;
  /** First point marked and the one after the last, or null. */
  readonly focus: readonly [number, number] | null;
  readonly focusColour: string;
  /** Width of a stitch, mm: how much detail can be seen depends on its size on the screen. */
  readonly stitchMm: number;
  /** Points of the yarn in one stitch. */
  readonly pointsPerStitch: number;
}

/** Length in which a ply goes once round, radii: some 35° to the yarn, as soft knitting yarn looks. By eye. */
const LAY_RADII = 9;
/**
 * Pixels of a stitch over which curves are drawn finer than their points, and below which every second,
 * then every fourth point is left out. Chosen by eye.
 */
const NEAR_PIXELS = 70;
const FINE_PIXELS = 13;
const COARSE_PIXELS = 6;

export function YarnMesh(props: YarnMeshProps) {
  const { lines, rgb, through, focus, focusColour, stitchMm, pointsPerStitch, spun } = props;
  const { halo = 1 } = props;
  const invalidate = useThree((state) => state.invalidate);
  const geometry = useMemo(() => new BufferGeometry(), []);
  const material = useMemo(createYarnMaterial, []);
  useEffect(
    () => () => {
      geometry.dispose();
      material.dispose();
    },
    [geometry, material],
  );

  useLayoutEffect(() => {
    material.uniforms.spin.value.fromArray(spun ? SPIN_VALUES[spun] : PLAIN_SPIN);
    invalidate();
  }, [material, spun, invalidate]);

  const { points, strand, whole } = lines;
  useLayoutEffect(() => {
    const shelter = floatTexture(lines.shelter, points);
    material.uniforms.shelter.value = shelter;
    invalidate();
    return () => shelter.dispose();
  }, [lines.shelter, points, material, invalidate]);

  useLayoutEffect(() => {
    const centre = floatTexture(lines.centre, lines.points);
    const { uniforms } = material;
    uniforms.centre.value = centre;
    uniforms.points.value = lines.points;
    uniforms.radiusMm.value = halo * lines.radiusMm;
    uniforms.yarnMm.value = 2 * lines.radiusMm;
    uniforms.plies.value = PLIES;
    uniforms.layMm.value = LAY_RADII * halo * lines.radiusMm;
    invalidate();
    return () => centre.dispose();
  }, [lines, halo, material, invalidate]);

  useLayoutEffect(() => {
    const dye = dyeTexture(points, strand, rgb, whole);
    material.uniforms.dye.value = dye;
    invalidate();
    return () => dye.dispose();
  }, [points, strand, whole, rgb, material, invalidate]);

  useLayoutEffect(() => {
    material.uniforms.focusPoints.value.set(focus?.[0] ?? -1, focus?.[1] ?? -1);
    material.uniforms.focusColour.value.set(focusColour);
    invalidate();
  }, [focus, focusColour, material, invalidate]);

  useLayoutEffect(() => {
    const cut = through === null ? null : cutOf(lines, through);
    material.uniforms.cut.value.set(cut?.first ?? lines.points, cut?.atMm ?? 0, cut?.overMm ?? 1);
    invalidate();
  }, [through, lines, material, invalidate]);

  useFrame(({ camera, size }) => {
    const { fov } = camera as PerspectiveCamera;
    // The nearest yarn decides; it is not far from where the camera looks.
    const away = distanceTo(lines, camera.position);
    const pixels = (stitchMm * size.height) / (2 * Math.tan((fov * Math.PI) / 360) * away);
    const most = pixels > FINE_PIXELS ? 1 : pixels > COARSE_PIXELS ? 2 : 4;
    const stride = Math.max(1, Math.min(most, Math.floor(pointsPerStitch / 4)));
    const finer = pixels > NEAR_PIXELS ? 3 : 1;
    const count = Math.max(0, Math.min(through ?? lines.points, lines.points) - 1);
    material.uniforms.stride.value = stride;
    material.uniforms.finer.value = finer;
    geometry.setDrawRange(0, 6 * Math.ceil(count / stride) * finer);
  });

  return <mesh geometry={geometry} material={material} frustumCulled={false} raycast={missesAll} />;
}

/** Picking is the sheet's. */
function missesAll(): void {}

/** Distance to the nearest of some points spread over the yarn, mm. */
function distanceTo({ centre, points }: YarnLines, from: Vector3): number {
  const step = Math.max(1, Math.floor(points / 400));
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points; i += step) {
    const dx = centre[4 * i] - from.x;
    const dy = centre[4 * i + 1] - from.y;
    const dz = centre[4 * i + 2] - from.z;
    best = Math.min(best, dx * dx + dy * dy + dz * dz);
  }
  return Math.max(1, Math.sqrt(best));
}
