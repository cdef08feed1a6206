/** A place at the level of yarn, with what was measured drawn on it. Draws only when something changed. */
import type { Ref } from 'react';
import { useMemo } from 'react';
import type { CameraHandle } from '../camera/camera-rig.tsx';
import { CameraRig } from '../camera/camera-rig.tsx';
import type { MeasureMark } from '../marks/measure-marks.tsx';
import { MeasureMarks } from '../marks/measure-marks.tsx';
import type { YarnStrands } from '../yarn/yarn-lines.ts';
import { lineUp } from '../yarn/yarn-lines.ts';
import { YarnMesh } from '../yarn/yarn-mesh.tsx';
import { SceneCanvas } from './scene-canvas.tsx';

export interface CloseUpViewProps {
  readonly ref?: Ref<CameraHandle>;
  readonly yarn: YarnStrands;
  /** [points] 1 where the yarn is the one that the place is about, 2 where it is marked less. */
  readonly told: Uint8Array;
  /** Linear RGB of the yarn, and of the told part. */
  readonly yarnRgb: readonly number[];
  readonly toldRgb: readonly number[];
  /** Half width and half height that are to be in view, mm. */
  readonly view: readonly [number, number];
  readonly stitchMm: number;
  readonly marks: readonly MeasureMark[];
  /** CSS colours of the plates under the words. */
  readonly plate: string;
  /** What a control takes of the upper right corner, px. */
  readonly cornerPx: number;
  readonly stillMotion: boolean;
  readonly pieceKey: string;
  /** Changes when the yarn has come to rest: then all of it is brought into view. */
  readonly restKey: string;
}

/** Nearly square on: openings look as wide as they are measured. */
const FIRST_LOOK = { polarRad: 0.1, aroundRad: 0 };

export function CloseUpView(props: CloseUpViewProps) {
  const { yarn, told, yarnRgb, toldRgb, view, marks } = props;
  const lines = useMemo(() => lineUp(yarn), [yarn]);
  const rgb = useMemo(() => {
    const out = new Float32Array(3 * told.length);
    const less = yarnRgb.map((v, c) => (v + toldRgb[c]) / 2);
    for (let i = 0; i < told.length; i++) out.set([yarnRgb, toldRgb, less][told[i]], 3 * i);
    return out;
  }, [told, yarnRgb, toldRgb]);
  const inView = useMemo(() => {
    const [x, y] = view;
    return [Float32Array.from([-x, -y, 0, x, -y, 0, x, y, 0, -x, y, 0])];
  }, [view]);
  return (
    <SceneCanvas>
      <CameraRig
        ref={props.ref}
        inView={inView}
        stillMotion={props.stillMotion}
        pieceKey={props.pieceKey}
        restKey={props.restKey}
        firstLook={FIRST_LOOK}
        fill={0.96}
      />
      <YarnMesh
        lines={lines}
        rgb={rgb}
        through={null}
        focus={null}
        focusColour="#000"
        stitchMm={props.stitchMm}
        pointsPerStitch={16}
      />
      <MeasureMarks marks={marks} view={view} plate={props.plate} cornerPx={props.cornerPx} />
    </SceneCanvas>
  );
}
