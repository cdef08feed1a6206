/**
 * The strands of the stitches in view: laid where there are none yet for what is seen, and dressed in the fabric's colours.
 * In: the fabric's buffers, the camera, which loops are wanted. Out: textures of a yarn material.
 */
import type { PerspectiveCamera, ShaderMaterial } from 'three';
import { Frustum, Matrix4, Sphere, Vector3 } from 'three';
import type { FabricGeometry } from '../fabric/fabric-geometry.ts';
import { drawYarn } from './drawn-yarn.ts';
import { dyeTexture, floatTexture } from './yarn-material.ts';
import type { DrawnYarn } from './yarn-pen.ts';

/** Room around what is in view, stitch widths, so that small turns need no new yarn. Chosen. */
const ROOM = 6;

export function viewOf(camera: PerspectiveCamera): Frustum {
  camera.updateMatrixWorld();
  return new Frustum().setFromProjectionMatrix(
    new Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse),
  );
}

/** What of the piece is drawn as strands. */
export interface Part {
  /** [loops] 1 where they are; null for all of them. */
  readonly loops: Uint8Array | null;
  /** Also what lies behind cables. */
  readonly ground: boolean;
}

export const WHOLE: Part = { loops: null, ground: true };

/** The strands of a part of the piece, around what was in view. */
export interface Laid {
  readonly part: Part;
  readonly yarn: DrawnYarn;
  /** [loops] 1 where they are drawn. */
  readonly wanted: Uint8Array;
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

const isIn = ({ loops }: Part, loop: number) => !loops || loops[loop] === 1;

/** Whether all of it that may be seen is laid. */
export function holdsView(
  fabric: FabricGeometry,
  view: Frustum,
  { part, wanted }: Laid,
  last: number,
): boolean {
  const { graph } = fabric.surface;
  const end = graph.start[Math.min(graph.courses, last + 1)];
  for (let loop = 0; loop < end; loop++) {
    if (wanted[loop] || !isIn(part, loop)) continue;
    if (isSeen(fabric, view, loop, 2 * fabric.stitchMm)) return false;
  }
  return true;
}

export function layInView(fabric: FabricGeometry, view: Frustum, last: number, part: Part): Laid {
  const { graph } = fabric.surface;
  const wanted = new Uint8Array(graph.loops);
  const end = graph.start[Math.min(graph.courses, last + 1)];
  for (let loop = 0; loop < end; loop++) {
    const asked = isIn(part, loop);
    wanted[loop] = asked && isSeen(fabric, view, loop, ROOM * fabric.stitchMm) ? 1 : 0;
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
    part.ground,
    (loop) => {
      const first = graph.childStart[loop];
      if (first === graph.childStart[loop + 1]) return false;
      // Above the course that the piece is taken back to there is nothing.
      const above = graph.children[first];
      return above < end && !isIn(part, above);
    },
  );
  return { part, yarn, wanted };
}

export function dress(
  material: ShaderMaterial,
  yarn: DrawnYarn,
  rgb: Float32Array,
  fabric: FabricGeometry,
  focus: { readonly from: number; readonly to: number } | null,
): void {
  const { graph } = fabric.surface;
  const colours = new Float32Array(3 * yarn.points);
  for (let i = 0; i < yarn.points; i++) {
    const loop = yarn.loop[i];
    for (let c = 0; c < 3; c++) colours[3 * i + c] = rgb[3 * loop + c];
  }
  disposeTextures(material);
  const { uniforms } = material;
  uniforms.centre.value = floatTexture(yarn.centre, yarn.points);
  uniforms.shelter.value = floatTexture(yarn.shelter, yarn.points);
  uniforms.dye.value = dyeTexture(yarn.points, yarn.strand, colours);
  uniforms.points.value = yarn.points;
  uniforms.focusPoints.value.set(...markedPoints(yarn, graph.course, focus));
}

/**
 * First point of the marked rounds and the one after their last; −1 for none. What lies behind cables and seams comes after
 * all rounds and is not marked, or everything up to there would be.
 */
export function markedPoints(
  { points, loop }: Pick<DrawnYarn, 'points' | 'loop'>,
  course: ArrayLike<number>,
  focus: { readonly from: number; readonly to: number } | null,
): [first: number, end: number] {
  const isMarked = (i: number) =>
    focus !== null && course[loop[i]] >= focus.from && course[loop[i]] <= focus.to;
  let first = 0;
  while (first < points && !isMarked(first)) first++;
  if (first === points) return [-1, -1];
  let end = first;
  while (end < points && isMarked(end)) end++;
  return [first, end];
}

export function disposeTextures({ uniforms }: ShaderMaterial): void {
  for (const name of ['centre', 'shelter', 'dye']) uniforms[name].value?.dispose();
}

const away = new Vector3();

/** Width on the screen of the nearest stitch, pixels. In: height of the canvas, and pixels of its to one of the page. */
export function nearestPixels(
  fabric: FabricGeometry,
  camera: PerspectiveCamera,
  canvasHeight: number,
  ratio: number,
): number {
  // Of several pieces that share a canvas each fills a part of it.
  const height = camera.view?.enabled ? camera.view.fullHeight * ratio : canvasHeight;
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
