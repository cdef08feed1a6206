/** The knitted fabric as one mesh. Follows new positions, colours and the course it is taken back to. */
import type { ThreeEvent } from '@react-three/fiber';
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { Color, DoubleSide, ShaderMaterial, Vector2, Vector3 } from 'three';
import fragmentShader from '../../../shaders/fabric.frag.glsl?raw';
import vertexShader from '../../../shaders/fabric.vert.glsl?raw';
import woolShader from '../../../shaders/wool.glsl?raw';
import { PLAIN_SPIN, SPIN_VALUES, type Spin } from '../colour/yarn-spin.ts';
import { createAtlasTextures, refreshAtlas } from '../yarn/atlas-textures.ts';
import { NearYarn } from '../yarn/near-yarn.tsx';
import { SHELTERING } from '../yarn/yarn-material.ts';
import { colourFabric, createFabricGeometry, placeFabric, takeBack } from './fabric-geometry.ts';
import type { Positions, Surface, Surroundings } from './surface.ts';

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
  /** Not drawn, but still there to be picked: the yarn is drawn in its place. */
  readonly hidden?: boolean;
  /** From how many pixels a stitch is drawn as strands (near-yarn.tsx). */
  readonly strandsFrom?: number;
  readonly onPickCourse?: (course: number) => void;
  readonly onPickLoop?: (loop: number) => void;
}

/** Key light from the far left, low enough that stitches stand out: chosen. */
const LIGHT = new Vector3(-0.58, 0.3, 0.66).normalize();
/** When the wrong side's tiles are baked: after the first picture. Chosen. */
const BACK_AFTER_MS = 400;
/** A press that travels further than this is a turn of the piece, not a pick; pixels. */
const PICK_TRAVEL = 4;

export function FabricMesh(props: FabricMeshProps) {
  const { surface, positions, rgb, relief, throughCourse, focus, room, onPickCourse } = props;
  const { hidden = false, onPickLoop, spun = null } = props;
  const invalidate = useThree((state) => state.invalidate);
  const fabric = useMemo(() => createFabricGeometry(surface), [surface]);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        vertexShader,
        fragmentShader: woolShader + fragmentShader,
        side: DoubleSide,
        uniforms: {
          lightTowards: { value: LIGHT },
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
    // The wrong side is seldom what is seen first.
    const later = setTimeout(() => {
      if (refreshAtlas(tiles, fabric.tiles[1])) invalidate();
    }, BACK_AFTER_MS);
    return () => {
      clearTimeout(later);
      tiles.relief.dispose();
      tiles.yarn.dispose();
      tiles.shelter.dispose();
    };
  }, [tiles, fabric, material, invalidate]);
  useLayoutEffect(() => {
    material.uniforms.spin.value.fromArray(spun ? SPIN_VALUES[spun] : PLAIN_SPIN);
    invalidate();
  }, [material, spun, invalidate]);
  useEffect(() => () => material.dispose(), [material]);

  useLayoutEffect(() => {
    if (positions.length === 3 * surface.metric.vertices) placeFabric(fabric, positions);
    invalidate();
  }, [fabric, positions, surface, invalidate]);

  useLayoutEffect(() => {
    if (rgb.length === 3 * surface.metric.vertices) colourFabric(fabric, rgb);
    invalidate();
  }, [fabric, rgb, surface, invalidate]);

  useLayoutEffect(() => {
    takeBack(fabric, throughCourse);
    invalidate();
  }, [fabric, throughCourse, invalidate]);

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
    if (!onPickCourse || event.delta > PICK_TRAVEL || !event.face) return;
    event.stopPropagation();
    onPickCourse(fabric.patches.course[event.face.a]);
  };

  const pickLoop = (event: ThreeEvent<MouseEvent>) => {
    if (!onPickLoop || !event.face) return;
    event.stopPropagation();
    onPickLoop(fabric.patches.owner[event.face.a]);
  };

  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: an object of the scene, not of the page */}
      <mesh
        geometry={fabric.geometry}
        material={material}
        onClick={pick}
        onDoubleClick={pickLoop}
      />
      {!hidden && (
        <NearYarn
          fabric={fabric}
          placed={positions}
          rgb={rgb}
          spun={spun}
          relief={relief}
          light={LIGHT}
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
