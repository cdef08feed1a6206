import { BufferAttribute, BufferGeometry, PerspectiveCamera } from 'three';
import { expect, it } from 'vitest';
import type { FabricGeometry } from '../../src/view/fabric/fabric-geometry.ts';
import { nearestPixels } from '../../src/view/yarn/strands-in-view.ts';

it('takes a stitch for as large as it is in its part, where pieces share the canvas', () => {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(new Float32Array([0, 0, 0]), 3));
  const fabric = { geometry, stitchMm: 5 } as unknown as FabricGeometry;
  const camera = new PerspectiveCamera(90, 1, 1, 1000);
  camera.position.set(0, 0, 100);
  camera.updateMatrixWorld();
  // 200 mm are in view from top to bottom.
  expect(nearestPixels(fabric, camera, 800, 2)).toBeCloseTo(20, 9);
  camera.setViewOffset(300, 100, -10, -20, 320, 133);
  expect(nearestPixels(fabric, camera, 800, 2)).toBeCloseTo(5, 9);
});
