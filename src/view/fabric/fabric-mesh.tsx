/**
 * The knitted fabric as one mesh. Follows new positions, colours and the course it is taken back to. While it relaxes and
 * its stitches are not made yet, or cost too much to draw, the bare sheet is seen.
 */
import type { ThreeEvent } from '@react-three/fiber';
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import { Color, DoubleSide, ShaderMaterial, Vector2, Vector3 } from 'three';
import fragmentShader from '../../../shaders/fabric.frag.glsl?raw';
import vertexShader from '../../../shaders/fabric.vert.glsl?raw';
import woolShader from '../../../shaders/wool.glsl?raw';
import { PLAIN_SPIN, SPIN_VALUES, type Spin } from '../colour/yarn-spin.ts';
import { drawsInSoftware } from '../scene/graphics.ts';
import { createAtlasTextures, refreshAtlas } from '../yarn/atlas-textures.ts';
import { NearYarn } from '../yarn/near-yarn.tsx';
import { SHELTERING } from '../yarn/yarn-material.ts';
import { CoarseFabric } from './coarse-fabric.tsx';
import { colourFabric, type FabricGeometry, placeFabric, takeBack } from './fabric-geometry.ts';
import { KEY_LIGHT } from './light.ts';
import type { Positions, Surface, Surroundings } from './surface.ts';
import { useStitches } from './use-stitches.ts';

export interface FabricMeshProps {
  readonly surface: Surface;
  readonly positions: Positions;
  /** [3·vertices] linear RGB. */
  readonly rgb: Float32Array;
  /** How the yarn is spun; null where colours carry numbers. */
  readonly spun?: Spin | null;
  /** Lower where colours carry numbers. */
  readonly relief: number;
  readonly throughCourse: number | null;
  /** Courses marked on the fabric, inclusive. */
  readonly focus: { readonly from: number; readonly to: number } | null;
  readonly room: Surroundings;
  /** Still relaxing: the next state follows at once. */
  readonly moving?: boolean;
  /** Not drawn, but still there to be picked: the yarn is drawn in its place. */
  readonly hidden?: boolean;
  /** From how many pixels a stitch is drawn as strands (near-yarn.tsx). */
  readonly strandsFrom?: number;
  readonly onPickCourse?: (course: number) => void;
  readonly onPickLoop?: (loop: number) => void;
}

/** When the wrong side's tiles are baked: after the first picture. Chosen. */
const BACK_AFTER_MS = 400;
/** A press that travels further than this is a turn of the piece, not a pick; pixels. */
const PICK_TRAVEL = 4;

export function FabricMesh(props: FabricMeshProps) {
  const { surface, positions, rgb, relief, throughCourse, moving = false, hidden = false } = props;
  /** Once there were stitches, the bare sheet would be a step back where a card draws them. */
  const stitched = useRef(false);
  const waits = moving && (drawsInSoftware() || !stitched.current);
  const fabric = useStitches(surface, waits);
  const coarse = waits && (drawsInSoftware() || fabric?.surface.metric !== surface.metric);
  useEffect(() => {
    if (!coarse) stitched.current = true;
  }, [coarse]);
  return (
    <>
      {coarse && !hidden && (
        <CoarseFabric {...{ surface, positions, rgb, relief, throughCourse }} />
      )}
      {fabric && <StitchedFabric {...props} fabric={fabric} shown={!coarse} />}
    </>
  );
}

function StitchedFabric(
  props: FabricMeshProps & {
    readonly fabric: FabricGeometry;
    /** Where it is not it is got ready, or kept for the next rest; it may be that of another surface. */
    readonly shown: boolean;
  },
) {
  const { surface, positions, rgb, relief, throughCourse, focus, room, onPickCourse } = props;
  const { hidden = false, onPickLoop, spun = null, fabric, shown } = props;
  const invalidate = useThree((state) => state.invalidate);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        vertexShader,
        fragmentShader: woolShader + fragmentShader,
        side: DoubleSide,
        uniforms: {
          lightTowards: { value: KEY_LIGHT },
          relief: { value: 1 },
          focusCourses: { value: new Vector2(-1, -1) },
          focusColour: { value: new Color() },
          yarnMm: { value: 1 },
          backMm: { value: 0 },
          tileRelief: { value: null },
          tileYarn: { value: null },
          tileShelter: { value: null },
          sheltering: { value: SHELTERING },
          tileTops: { value: [] as readonly number[] },
          spin: { value: new Vector3() },
        },
      }),
    [],
  );
  useEffect(() => () => fabric.geometry.dispose(), [fabric]);
  const tiles = useMemo(() => createAtlasTextures(fabric.tiles[0]), [fabric]);
  useLayoutEffect(() => {
    material.uniforms.tileTops.value = fabric.tops;
    material.uniforms.tileRelief.value = tiles.relief;
    material.uniforms.tileYarn.value = tiles.yarn;
    material.uniforms.tileShelter.value = tiles.shelter;
    return () => {
      tiles.relief.dispose();
      tiles.yarn.dispose();
      tiles.shelter.dispose();
    };
  }, [tiles, fabric, material]);
  useEffect(() => {
    if (!shown) return;
    // The wrong side is seldom what is seen first.
    const later = setTimeout(() => {
      if (refreshAtlas(tiles, fabric.tiles[1])) invalidate();
    }, BACK_AFTER_MS);
    return () => clearTimeout(later);
  }, [tiles, fabric, shown, invalidate]);
  useLayoutEffect(() => {
    material.uniforms.spin.value.fromArray(spun ? SPIN_VALUES[spun] : PLAIN_SPIN);
    invalidate();
  }, [material, spun, invalidate]);
  useEffect(() => () => material.dispose(), [material]);

  useLayoutEffect(() => {
    if (!shown) return;
    if (positions.length === 3 * surface.metric.vertices) placeFabric(fabric, positions);
    invalidate();
  }, [fabric, positions, surface, shown, invalidate]);

  useLayoutEffect(() => {
    if (!shown) return;
    if (rgb.length === 3 * surface.metric.vertices) colourFabric(fabric, rgb);
    invalidate();
  }, [fabric, rgb, surface, shown, invalidate]);

  useLayoutEffect(() => {
    if (!shown) return;
    takeBack(fabric, throughCourse);
    invalidate();
  }, [fabric, throughCourse, shown, invalidate]);

  useLayoutEffect(() => {
    material.uniforms.relief.value = relief;
    material.uniforms.focusCourses.value.set(focus?.from ?? -1, focus?.to ?? -1);
    material.uniforms.focusColour.value.set(room.focus);
    material.uniforms.yarnMm.value = fabric.yarnMm;
    invalidate();
  }, [material, fabric, relief, focus, room, invalidate]);

  useLayoutEffect(() => {
    material.visible = !hidden;
    invalidate();
  }, [material, hidden, invalidate]);

  const pick = (event: ThreeEvent<MouseEvent>) => {
    if (!shown || !onPickCourse || event.delta > PICK_TRAVEL || !event.face) return;
    event.stopPropagation();
    onPickCourse(fabric.patches.course[event.face.a]);
  };

  const pickLoop = (event: ThreeEvent<MouseEvent>) => {
    if (!shown || !onPickLoop || !event.face) return;
    event.stopPropagation();
    onPickLoop(fabric.patches.owner[event.face.a]);
  };

  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: an object of the scene, not of the page */}
      <mesh
        geometry={fabric.geometry}
        material={material}
        visible={shown}
        onClick={pick}
        onDoubleClick={pickLoop}
      />
      {!hidden && shown && (
        <NearYarn
          fabric={fabric}
          placed={positions}
          rgb={rgb}
          spun={spun}
          relief={relief}
          light={KEY_LIGHT}
          throughCourse={throughCourse}
          focus={focus}
          focusColour={room.focus}
          strandsFrom={props.strandsFrom}
          fabricMaterial={material}
        />
      )}
    </>
  );
}
