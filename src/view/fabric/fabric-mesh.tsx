/** The knitted fabric as one mesh. Follows new positions, colours and the course it is taken back to. */
import type { ThreeEvent } from '@react-three/fiber';
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { Color, DoubleSide, ShaderMaterial, Vector2, Vector3 } from 'three';
import fragmentShader from '../../../shaders/fabric.frag.glsl?raw';
import vertexShader from '../../../shaders/fabric.vert.glsl?raw';
import { colourFabric, createFabricGeometry, placeFabric, takeBack } from './fabric-geometry.ts';
import type { Positions, Surface, Surroundings } from './surface.ts';

export interface FabricMeshProps {
  readonly surface: Surface;
  readonly positions: Positions;
  /** [3·vertices] linear RGB. */
  readonly rgb: Float32Array;
  /** Lower where colours carry numbers. */
  readonly relief: number;
  readonly throughCourse: number | null;
  /** Courses marked on the fabric, inclusive. */
  readonly focus: { readonly from: number; readonly to: number } | null;
  readonly room: Surroundings;
  /** Not drawn, but still there to be picked: the yarn is drawn in its place. */
  readonly hidden?: boolean;
  readonly onPickCourse?: (course: number) => void;
  readonly onPickLoop?: (loop: number) => void;
}

/** Key light from the upper left behind the viewer's shoulder: chosen. */
const LIGHT = new Vector3(-0.52, -0.38, 0.78).normalize();
/** A press that travels further than this is a turn of the piece, not a pick; pixels. */
const PICK_TRAVEL = 4;

export function FabricMesh(props: FabricMeshProps) {
  const { surface, positions, rgb, relief, throughCourse, focus, room, onPickCourse } = props;
  const { hidden = false, onPickLoop } = props;
  const invalidate = useThree((state) => state.invalidate);
  const fabric = useMemo(() => createFabricGeometry(surface), [surface]);
  const material = useMemo(
    () =>
      new ShaderMaterial({
        vertexShader,
        fragmentShader,
        side: DoubleSide,
        uniforms: {
          lightTowards: { value: LIGHT },
          relief: { value: 1 },
          focusCourses: { value: new Vector2(-1, -1) },
          focusColour: { value: new Color() },
          stitchMm: { value: 4 },
        },
      }),
    [],
  );
  useEffect(() => () => fabric.geometry.dispose(), [fabric]);
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
    material.uniforms.stitchMm.value = fabric.stitchMm;
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
    // biome-ignore lint/a11y/noStaticElementInteractions: an object of the scene, not of the page
    <mesh geometry={fabric.geometry} material={material} onClick={pick} onDoubleClick={pickLoop} />
  );
}
