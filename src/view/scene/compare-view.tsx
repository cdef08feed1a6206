/**
 * Several pieces side by side under one camera: turning one turns all.
 *
 * One canvas is split into as many parts as there are pieces; each part shows its own piece.
 */
import { useFrame, useThree } from '@react-three/fiber';
import type { Ref } from 'react';
import { useMemo, useRef } from 'react';
import type { Group, PerspectiveCamera } from 'three';
import type { CameraHandle } from '../camera/camera-rig.tsx';
import { CameraRig } from '../camera/camera-rig.tsx';
import type { Spin } from '../colour/yarn-spin.ts';
import { FabricMesh } from '../fabric/fabric-mesh.tsx';
import type { Positions, Surface, Surroundings } from '../fabric/surface.ts';
import { SceneCanvas } from './scene-canvas.tsx';
import { Table } from './table.tsx';

export interface ComparePiece {
  readonly key: string;
  readonly surface: Surface;
  readonly positions: Positions;
  readonly rgb: Float32Array;
}

/** Edges of a piece's place that it keeps clear of, px. */
export interface Margins {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

export interface CompareViewProps {
  readonly ref?: Ref<CameraHandle>;
  /** One place each; null while its piece is not there yet. */
  readonly pieces: readonly (ComparePiece | null)[];
  /** Pieces beside each other, or above each other on a narrow screen. */
  readonly stacked: boolean;
  /** Of each place. */
  readonly margins: Margins;
  readonly gridMm: number;
  /** How the yarn is spun; null where colours carry numbers. */
  readonly spun: Spin | null;
  readonly relief: number;
  readonly room: Surroundings;
  readonly stillMotion: boolean;
}

export function CompareView(props: CompareViewProps) {
  return (
    <SceneCanvas>
      <Parts {...props} />
    </SceneCanvas>
  );
}

/** Least side of what is left for a piece, px. Chosen. */
const LEAST_PX = 40;

function Parts(props: CompareViewProps) {
  const { ref, pieces, stacked, margins, gridMm, spun, relief, room, stillMotion } = props;
  const size = useThree((state) => state.size);
  const groups = useRef<(Group | null)[]>([]);
  const count = Math.max(1, pieces.length);
  const wide = stacked ? size.width : size.width / count;
  const high = stacked ? size.height / count : size.height;
  // The piece lies between the margins; its table goes on under them.
  const clearWide = Math.max(LEAST_PX, wide - margins.left - margins.right);
  const clearHigh = Math.max(LEAST_PX, high - margins.top - margins.bottom);
  const inView = useMemo(
    () => pieces.flatMap((piece) => (piece ? [piece.positions] : [])),
    [pieces],
  );

  // Before whatever looks how large stitches are in a part, and which of them are in view.
  useFrame(({ camera }) => {
    const eye = camera as PerspectiveCamera;
    eye.setViewOffset(clearWide, clearHigh, -margins.left, -margins.top, wide, high);
  }, -2);

  useFrame(({ gl, scene, camera }) => {
    gl.setScissorTest(true);
    gl.autoClear = true;
    for (let k = 0; k < count; k++) {
      for (let g = 0; g < count; g++) {
        const group = groups.current[g];
        if (group) group.visible = g === k;
      }
      const x = stacked ? 0 : k * wide;
      const y = stacked ? size.height - (k + 1) * high : 0;
      gl.setViewport(x, y, wide, high);
      gl.setScissor(x, y, wide, high);
      gl.render(scene, camera);
    }
    gl.setScissorTest(false);
  }, 1);

  return (
    <>
      <CameraRig
        ref={ref}
        inView={inView}
        stillMotion={stillMotion}
        pieceKey={pieces.map((piece) => (piece ? 'x' : 'o'))[0]}
        restKey={pieces.map((piece) => piece?.key ?? '').join('|')}
        aspect={clearWide / clearHigh}
        fill={0.95}
        corners={pieces.find((piece) => piece !== null)?.surface.metric.ring.corners}
      />
      {pieces.map(
        (piece, k) =>
          piece && (
            <group
              key={piece.key}
              ref={(group) => {
                groups.current[k] = group;
              }}
            >
              <Table
                surface={piece.surface}
                positions={piece.positions}
                rgb={piece.rgb}
                throughCourse={null}
                gridMm={gridMm}
                room={room}
              />
              <FabricMesh
                surface={piece.surface}
                positions={piece.positions}
                rgb={piece.rgb}
                spun={spun}
                relief={relief}
                throughCourse={null}
                focus={null}
                room={room}
              />
            </group>
          ),
      )}
    </>
  );
}
