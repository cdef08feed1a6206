/** The fabric on its table in 3D. Draws only when something changed. */
import type { Ref } from 'react';
import { useMemo } from 'react';
import type { CameraHandle } from '../camera/camera-rig.tsx';
import { CameraRig } from '../camera/camera-rig.tsx';
import type { Spin } from '../colour/yarn-spin.ts';
import { FabricMesh } from '../fabric/fabric-mesh.tsx';
import type { Positions, Surface, Surroundings } from '../fabric/surface.ts';
import type { SectionCut } from '../marks/section-cut.ts';
import { SectionLine } from '../marks/section-line.tsx';
import { type FabricStrands, SheetYarn } from '../yarn/sheet-yarn.tsx';
import { SceneCanvas } from './scene-canvas.tsx';
import { Table } from './table.tsx';

export interface FabricViewProps {
  readonly ref?: Ref<CameraHandle>;
  readonly surface: Surface;
  readonly positions: Positions;
  readonly rgb: Float32Array;
  /** How the yarn is spun; null where colours carry numbers. */
  readonly spun: Spin | null;
  readonly relief: number;
  readonly throughCourse: number | null;
  /** Courses marked on the fabric, inclusive. */
  readonly focus: { readonly from: number; readonly to: number } | null;
  readonly cut: SectionCut | null;
  readonly gridMm: number;
  readonly room: Surroundings;
  /** Still relaxing. */
  readonly moving?: boolean;
  readonly stillMotion: boolean;
  readonly pieceKey: string;
  readonly restKey: string;
  /** Strands of yarn to draw in the place of the stitch pattern, if they belong to these positions. */
  readonly strands?: FabricStrands | null;
  readonly onPickCourse: (course: number) => void;
  readonly onPickLoop?: (loop: number) => void;
}

/** How near the eye comes, stitches: one is then a quarter as wide as the picture is high. Chosen. */
const NEAREST_STITCHES = 8;

export function FabricView(props: FabricViewProps) {
  const { surface, positions, throughCourse, room } = props;
  const inView = useMemo(() => [positions], [positions]);
  const leastMm = useMemo(() => {
    const { stitchMm } = surface.metric;
    return (
      (NEAREST_STITCHES * stitchMm.reduce((sum, mm) => sum + mm, 0)) / Math.max(1, stitchMm.length)
    );
  }, [surface]);
  return (
    <SceneCanvas>
      <CameraRig
        ref={props.ref}
        inView={inView}
        stillMotion={props.stillMotion}
        pieceKey={props.pieceKey}
        restKey={props.restKey}
        corners={surface.metric.ring.corners}
        leastMm={leastMm}
      />
      <Table
        surface={surface}
        positions={positions}
        rgb={props.rgb}
        throughCourse={throughCourse}
        gridMm={props.gridMm}
        room={room}
      />
      <FabricMesh
        surface={surface}
        positions={positions}
        rgb={props.rgb}
        spun={props.spun}
        relief={props.relief}
        throughCourse={throughCourse}
        focus={props.focus}
        room={room}
        moving={props.moving}
        hidden={Boolean(props.strands)}
        onPickCourse={props.onPickCourse}
        onPickLoop={props.onPickLoop}
      />
      {props.strands && (
        <SheetYarn
          strands={props.strands}
          surface={surface}
          rgb={props.rgb}
          spun={props.spun}
          throughCourse={throughCourse}
          focus={props.focus}
          focusColour={room.focus}
        />
      )}
      {props.cut && <SectionLine cut={props.cut} colour={room.section} />}
    </SceneCanvas>
  );
}
