/**
 * The fabric's stitches as strands, near by: laid on the patches of the stitches in view, faded in over their baked
 * picture as stitches grow on the screen. Draws nothing from afar.
 */
import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { Mesh, PerspectiveCamera, ShaderMaterial } from 'three';
import { BufferGeometry, Frustum, Matrix4, Sphere, Vector3 } from 'three';
import { PLAIN_SPIN, SPIN_VALUES, type Spin } from '../colour/yarn-spin.ts';
import type { FabricGeometry } from '../fabric/fabric-geometry.ts';
import { type DrawnYarn, drawYarn } from './drawn-yarn.ts';
import { LAY_DIAMETERS, PLIES } from './stitch-atlas.ts';
import { HALO } from './tile-curves.ts';
import { createYarnMaterial, dyeTexture, floatTexture } from './yarn-material.ts';

export interface NearYarnProps {
  readonly fabric: FabricGeometry;
  /** Changes when the fabric's vertices have been placed anew. */
  readonly placed: unknown;
  /** [3·vertices] linear RGB. */
  readonly rgb: Float32Array;
  readonly spun: Spin | null;
  readonly relief: number;
  readonly light: Vector3;
  readonly throughCourse: number | null;
  readonly focus: { readonly from: number; readonly to: number } | null;
  readonly focusColour: string;
  /** Width of a stitch on the screen, device pixels, from which strands come in; by default as chosen below. */
  readonly strandsFrom?: number;
  /** The fabric's own material, which stands back while strands are drawn over it. */
  readonly fabricMaterial: ShaderMaterial;
}

/** Width of a stitch on the screen, device pixels, from which strands come in and at which they are all there:
 * below, a baked tile has more texels than that (stitch-atlas.ts). By eye. */
const FROM_PIXELS = 26;
const FULL_SHARE = 1.35;
/** Segments between two points of the yarn, near by. */
const FINE_PIXELS = 50;
/** How far behind its place the baked picture stands under strands, yarn diameters: behind the backs of ridges. Chosen. */
const BACK = 4;
/** Room around what is in view, stitch widths, so that small turns need no new yarn. Chosen. */
const ROOM = 6;

export function NearYarn(props: NearYarnProps) {
  const { fabric, placed, rgb, spun, relief, light, focus, focusColour, throughCourse } = props;
  const { fabricMaterial, strandsFrom = FROM_PIXELS } = props;
  const invalidate = useThree((state) => state.invalidate);
  const geometry = useMemo(() => new BufferGeometry(), []);
  const material = useMemo(createYarnMaterial, []);
  const cover = useMemo(() => coverOf(material), [material]);
  const covering = useRef<Mesh>(null);
  const strands = useRef<Mesh>(null);
  const drawn = useRef<{ yarn: DrawnYarn; wanted: Uint8Array } | null>(null);
  useEffect(
    () => () => {
      geometry.dispose();
      material.dispose();
      cover.dispose();
      disposeTextures(material);
    },
    [geometry, material, cover],
  );

  // biome-ignore lint/correctness/useExhaustiveDependencies: whatever they are, the yarn is laid anew
  useLayoutEffect(() => {
    drawn.current = null;
    invalidate();
  }, [fabric, placed, rgb, throughCourse, focus, invalidate]);

  useLayoutEffect(() => {
    const { uniforms } = material;
    uniforms.spin.value.fromArray(spun ? SPIN_VALUES[spun] : PLAIN_SPIN);
    uniforms.relief.value = relief;
    uniforms.lightTowards.value = light;
    uniforms.lightInEye.value = 0;
    uniforms.plies.value = PLIES;
    uniforms.yarnMm.value = fabric.yarnMm;
    uniforms.radiusMm.value = 0.5 * HALO * fabric.yarnMm;
    uniforms.layMm.value = LAY_DIAMETERS * fabric.yarnMm;
    uniforms.focusColour.value.set(focusColour);
    invalidate();
  }, [material, spun, relief, light, focusColour, fabric, invalidate]);

  const last = throughCourse ?? fabric.surface.graph.courses - 1;
  useFrame(({ camera, gl }) => {
    const pixels = nearestPixels(fabric, camera as PerspectiveCamera, gl.domElement.height);
    const shown = Math.max(0, Math.min(1, (pixels / strandsFrom - 1) / (FULL_SHARE - 1)));
    fabricMaterial.uniforms.backMm.value = shown > 0 ? BACK * fabric.yarnMm : 0;
    material.uniforms.opacity.value = shown;
    // Wholly there they are drawn first: little of the fabric behind them is seen, and only that is drawn.
    material.transparent = shown < 1;
    if (strands.current) strands.current.renderOrder = shown < 1 ? 2 : -0.5;
    if (covering.current) covering.current.visible = shown > 0 && shown < 1;
    if (shown === 0) {
      geometry.setDrawRange(0, 0);
      return;
    }
    const view = viewOf(camera as PerspectiveCamera);
    if (!drawn.current || !holdsView(fabric, view, drawn.current.wanted, last)) {
      drawn.current = layInView(fabric, view, last);
      dress(material, drawn.current.yarn, rgb, fabric, focus);
    }
    const finer = pixels > FINE_PIXELS ? 3 : 2;
    material.uniforms.finer.value = finer;
    geometry.setDrawRange(0, 6 * Math.max(0, drawn.current.yarn.points - 1) * finer);
  });

  const mesh = { geometry, frustumCulled: false, raycast: missesAll };
  return (
    <>
      <mesh ref={covering} {...mesh} material={cover} renderOrder={1} />
      <mesh ref={strands} {...mesh} material={material} renderOrder={2} />
    </>
  );
}

/** Writes only how deep the strands lie, so that half seen they show their baked picture and not one another. */
function coverOf(material: ShaderMaterial): ShaderMaterial {
  const cover = createYarnMaterial();
  cover.uniforms = material.uniforms;
  cover.colorWrite = false;
  cover.transparent = false;
  return cover;
}

/** Picking is the sheet's. */
function missesAll(): void {}

function viewOf(camera: PerspectiveCamera): Frustum {
  camera.updateMatrixWorld();
  return new Frustum().setFromProjectionMatrix(
    new Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse),
  );
}

const ball = new Sphere();

/** Whether a loop of the piece as it is drawn may be seen; `roomMm` beyond the picture's edge. */
function isSeen(fabric: FabricGeometry, view: Frustum, loop: number, roomMm: number): boolean {
  const { lower, upper, band } = fabric.patches;
  const vertex =
    lower[loop] >= 0 ? lower[loop] : upper[2 * loop] >= 0 ? upper[2 * loop] : band[loop];
  if (vertex < 0) return false;
  const places = fabric.geometry.getAttribute('position').array;
  ball.center.set(places[3 * vertex], places[3 * vertex + 1], places[3 * vertex + 2]);
  ball.radius = roomMm;
  return view.intersectsSphere(ball);
}

function holdsView(
  fabric: FabricGeometry,
  view: Frustum,
  wanted: Uint8Array,
  last: number,
): boolean {
  const { graph } = fabric.surface;
  const end = graph.start[Math.min(graph.courses, last + 1)];
  for (let loop = 0; loop < end; loop++) {
    if (!wanted[loop] && isSeen(fabric, view, loop, 2 * fabric.stitchMm)) return false;
  }
  return true;
}

function layInView(fabric: FabricGeometry, view: Frustum, last: number) {
  const { graph } = fabric.surface;
  const wanted = new Uint8Array(graph.loops);
  const end = graph.start[Math.min(graph.courses, last + 1)];
  for (let loop = 0; loop < end; loop++) {
    wanted[loop] = isSeen(fabric, view, loop, ROOM * fabric.stitchMm) ? 1 : 0;
  }
  const yarn = drawYarn(
    {
      graph,
      patches: fabric.patches,
      positions: fabric.geometry.getAttribute('position').array,
      normals: fabric.geometry.getAttribute('normal').array,
      stitch: fabric.geometry.getAttribute('stitch').array,
      yarnMm: fabric.yarnMm,
    },
    (loop) => wanted[loop] === 1,
  );
  return { yarn, wanted };
}

function dress(
  material: ShaderMaterial,
  yarn: DrawnYarn,
  rgb: Float32Array,
  fabric: FabricGeometry,
  focus: NearYarnProps['focus'],
): void {
  const { graph } = fabric.surface;
  const colours = new Float32Array(3 * yarn.points);
  let first = -1;
  let end = -1;
  for (let i = 0; i < yarn.points; i++) {
    const loop = yarn.loop[i];
    for (let c = 0; c < 3; c++) colours[3 * i + c] = rgb[3 * loop + c];
    const course = graph.course[loop];
    if (!focus || course < focus.from || course > focus.to) continue;
    if (first < 0) first = i;
    end = i + 1;
  }
  disposeTextures(material);
  const { uniforms } = material;
  uniforms.centre.value = floatTexture(yarn.centre, yarn.points);
  uniforms.shelter.value = floatTexture(yarn.shelter, yarn.points);
  uniforms.dye.value = dyeTexture(yarn.points, yarn.strand, colours);
  uniforms.points.value = yarn.points;
  uniforms.focusPoints.value.set(first, end);
}

function disposeTextures({ uniforms }: ShaderMaterial): void {
  for (const name of ['centre', 'shelter', 'dye']) uniforms[name].value?.dispose();
}

const away = new Vector3();

/** Width on the screen of the nearest stitch, pixels. */
function nearestPixels(fabric: FabricGeometry, camera: PerspectiveCamera, height: number): number {
  const places = fabric.geometry.getAttribute('position').array;
  const step = 3 * Math.max(1, Math.floor(places.length / 3 / 400));
  const forward = camera.getWorldDirection(new Vector3());
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < places.length; i += step) {
    away.set(places[i], places[i + 1], places[i + 2]).sub(camera.position);
    const depth = away.dot(forward);
    if (depth > camera.near) nearest = Math.min(nearest, depth);
  }
  const halfHigh = Math.tan((camera.fov * Math.PI) / 360);
  return (fabric.stitchMm * height) / (2 * halfHigh * Math.max(camera.near, nearest));
}
