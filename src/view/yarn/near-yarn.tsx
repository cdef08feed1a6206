/**
 * The fabric's stitches as strands, near by: laid on the patches of the stitches in view, faded in over their baked
 * picture as stitches grow on the screen. Draws nothing from afar.
 */
import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { Mesh, PerspectiveCamera, ShaderMaterial } from 'three';
import { BufferGeometry, type Vector3 } from 'three';
import { PLAIN_SPIN, SPIN_VALUES, type Spin } from '../colour/yarn-spin.ts';
import type { FabricGeometry } from '../fabric/fabric-geometry.ts';
import { UNDER_ALL } from '../scene/under-all.ts';
import { LAY_DIAMETERS, PLIES } from './stitch-atlas.ts';
import {
  disposeTextures,
  dress,
  holdsView,
  type Laid,
  layInView,
  nearestPixels,
  type Part,
  viewOf,
  WHOLE,
} from './strands-in-view.ts';
import { HALO } from './tile-curves.ts';
import { createYarnMaterial } from './yarn-material.ts';

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
/** So much sooner the outline of the piece is that of its strands. Chosen. */
const FRINGE = 4;
/** Segments between two points of the yarn: more from so many pixels a stitch, and one more for so many further ones. */
const FINE_PIXELS = 50;
const FINER_PIXELS = 20;
const FINEST = 8;
const segmentsAt = (pixels: number): number =>
  pixels > FINE_PIXELS
    ? Math.min(FINEST, 3 + Math.floor((pixels - FINE_PIXELS) / FINER_PIXELS))
    : 2;
/** How far behind its place the baked picture stands under strands, yarn diameters: behind the backs of ridges. Chosen. */
const BACK = 4;
/**
 * Where cables cross, stitches lean so far that their baked picture is pressed thin: from so many pixels a stitch all of their
 * strands are drawn, and what is baked stands so far behind that their legs lie in front and
 * their feet within. By eye: strands of the leaning stitches alone leave a dark line where they end, in every cable.
 */
const CABLES_FROM_PIXELS = 7;
const CABLES_BACK = 1;
/** From so many with the ground between them: further away it would hang out under the baked edge of the piece. Chosen. */
const GROUND_FROM_PIXELS = 18;
/** Up to so many every other point of their yarn does: what that costs of the form of a loop is finer than a pixel. Chosen. */
const CABLES_SMOOTH_PIXELS = 10;

/** Strands of the loops in view, or of some of them: laid anew where there are none yet for what is seen. */
function useStrands(props: NearYarnProps) {
  const { fabric, placed, rgb, spun, relief, light, focus, focusColour, throughCourse } = props;
  const invalidate = useThree((state) => state.invalidate);
  const geometry = useMemo(() => new BufferGeometry(), []);
  const material = useMemo(createYarnMaterial, []);
  const drawn = useRef<Laid | null>(null);
  useEffect(
    () => () => {
      geometry.dispose();
      material.dispose();
      disposeTextures(material);
    },
    [geometry, material],
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
  const lay = (camera: PerspectiveCamera, finer: number, part: Part = WHOLE, stride = 1) => {
    const view = viewOf(camera);
    let laid = drawn.current;
    if (laid?.part !== part || !holdsView(fabric, view, laid, last)) {
      laid = layInView(fabric, view, last, part);
      drawn.current = laid;
      dress(material, laid.yarn, rgb, fabric, focus);
    }
    material.uniforms.finer.value = finer;
    material.uniforms.stride.value = stride;
    geometry.setDrawRange(0, 6 * Math.ceil(Math.max(0, laid.yarn.points - 1) / stride) * finer);
  };
  return { geometry, material, lay };
}

export function NearYarn(props: NearYarnProps) {
  const { fabric, fabricMaterial, strandsFrom = FROM_PIXELS } = props;
  const all = useStrands(props);
  const cables = useStrands(props);
  const crossed = useMemo(() => cablesOf(fabric), [fabric]);
  const cover = useMemo(() => coverOf(all.material), [all.material]);
  useEffect(() => () => cover.dispose(), [cover]);
  const covering = useRef<Mesh>(null);
  const strands = useRef<Mesh>(null);

  useFrame(({ camera, gl }) => {
    const eye = camera as PerspectiveCamera;
    const pixels = nearestPixels(fabric, eye, gl.domElement.height, gl.getPixelRatio());
    const shown = Math.max(0, Math.min(1, (pixels / strandsFrom - 1) / (FULL_SHARE - 1)));
    const crossings = crossed && pixels > CABLES_FROM_PIXELS && shown < 1;
    const back = shown > 0 ? BACK : crossings ? CABLES_BACK : 0;
    fabricMaterial.uniforms.backMm.value = back * fabric.yarnMm;
    all.material.uniforms.opacity.value = shown;
    // Wholly there they are drawn first: little of the fabric behind them is seen, and only that is drawn.
    all.material.transparent = shown < 1;
    if (strands.current) strands.current.renderOrder = shown < 1 ? 2 : -0.5;
    cover.uniforms.opacity.value = Math.min(1, FRINGE * shown);
    if (covering.current) covering.current.visible = shown > 0 && shown < 1;
    if (crossings) {
      const part = crossed[pixels > GROUND_FROM_PIXELS ? 'ground' : 'alone'];
      cables.lay(eye, 1, part, pixels > CABLES_SMOOTH_PIXELS ? 1 : 2);
    }
    if (!crossings) cables.geometry.setDrawRange(0, 0);
    if (shown > 0) all.lay(eye, segmentsAt(pixels));
    else all.geometry.setDrawRange(0, 0);
  });

  const never = { frustumCulled: false, raycast: missesAll };
  const { geometry, material } = all;
  return (
    <>
      <mesh {...never} geometry={cables.geometry} material={cables.material} renderOrder={-0.5} />
      <mesh ref={covering} {...never} geometry={geometry} material={cover} renderOrder={1} />
      <mesh ref={strands} {...never} geometry={geometry} material={material} renderOrder={2} />
    </>
  );
}

/** The stitches of cables, drawn as strands from afar already; null where there are none. */
function cablesOf({ patches, surface: { graph } }: FabricGeometry) {
  const { path } = patches.strands;
  if (path.length === 0) return null;
  const loops = new Uint8Array(graph.loops);
  // What comes out of the cast-on would come with a piece of its cord, thicker than the baked edge beside it.
  for (const loop of path) loops[loop] = graph.course[loop] > 1 ? 1 : 0;
  return { alone: { loops, ground: false }, ground: { loops, ground: true } };
}

/**
 * Writes how deep the strands lie, so that half seen they show their baked picture and not one another; and draws them where
 * they reach beyond that picture, at the outline of the piece, which would be glass.
 */
function coverOf(material: ShaderMaterial): ShaderMaterial {
  const cover = createYarnMaterial();
  cover.uniforms = { ...material.uniforms, opacity: { value: 0 }, under: { value: 1 } };
  cover.transparent = true;
  cover.setValues(UNDER_ALL);
  return cover;
}

/** Picking is the sheet's. */
function missesAll(): void {}
