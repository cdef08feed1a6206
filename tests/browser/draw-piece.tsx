/**
 * One piece laid flat, or stood up as a cup, under a camera that stands still, drawn baked, as strands, or as it is at that distance.
 *
 * In: `window.drawPiece(request)`. Out: the picture's pixels, [4·width·height] from its lower left corner.
 */
import { Canvas, useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { createRoot } from 'react-dom/client';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { colourByYarn } from '../../src/view/colour/colour-scale.ts';
import { FabricMesh } from '../../src/view/fabric/fabric-mesh.tsx';
import { LIGHT_ROOM, type Surface } from '../../src/view/fabric/surface.ts';

export interface PieceRequest {
  readonly plan: string;
  /** Width of a stitch in the middle of the picture, pixels. */
  readonly stitchPixels: number;
  /** From how many pixels a stitch is drawn as strands; left out as in the page. */
  readonly strandsFrom?: number;
  /** A piece in the round as a cup, its centre drawn up on top; left out it lies flat. */
  readonly cup?: boolean;
  /** While it relaxes. */
  readonly moving?: boolean;
  /** Sides of the picture, pixels. */
  readonly width: number;
  readonly height: number;
  /** Angle of the line of sight from straight above, and round the piece, rad. */
  readonly polarRad?: number;
  readonly aroundRad?: number;
  /** What is looked at, shares of the piece from its middle. */
  readonly across?: number;
  readonly up?: number;
}

declare global {
  interface Window {
    drawPiece(request: PieceRequest): Promise<Uint8Array>;
  }
}

const FOV = 28;

function laidPiece(plan: string, cup: boolean): { surface: Surface; positions: Float32Array } {
  const { graph, cells, measured } = prepare(parsePlan(plan));
  const { metric } = measured;
  const surface = { graph, cells, metric };
  return { surface, positions: cup ? onCone(surface) : flat(surface) };
}

function flat({ graph, metric }: Surface): Float32Array {
  const positions = new Float32Array(3 * metric.vertices);
  const rise = new Float64Array(graph.courses);
  for (let c = 1; c < graph.courses; c++) rise[c] = rise[c - 1] + metric.roundMm[graph.start[c]];
  for (let c = 0; c < graph.courses; c++) {
    const row = [...new Array(graph.start[c + 1] - graph.start[c]).keys()]
      .map((k) => graph.start[c] + k)
      .sort((a, b) => graph.position[a] - graph.position[b]);
    let x = row.reduce((sum, loop) => sum + metric.stitchMm[loop], 0) / 2;
    for (const loop of row) {
      x -= metric.stitchMm[loop];
      positions.set(
        [x + metric.stitchMm[loop] / 2, rise[c] - rise[graph.courses - 1] / 2, 0],
        3 * loop,
      );
    }
  }
  return positions;
}

/** Half the angle at the tip of a cup, rad. */
const TIP = 0.75;

function onCone({ graph, cells, metric }: Surface): Float32Array {
  const positions = new Float32Array(3 * metric.vertices);
  const last = graph.start[graph.courses - 1];
  // Down from the tip to where the last round is as wide as its stitches, and on by the height of each round.
  let down = ((graph.loops - last) * metric.stitchMm[last]) / (2 * Math.PI * Math.sin(TIP));
  for (let c = graph.courses - 1; c >= 0; c--) {
    const [from, to] = [graph.start[c], graph.start[c + 1]];
    const radius = down * Math.sin(TIP);
    for (let loop = from; loop < to; loop++) {
      const angle = (-2 * Math.PI * graph.position[loop]) / (to - from);
      const place = [radius * Math.cos(angle), radius * Math.sin(angle), -down * Math.cos(TIP)];
      positions.set(place, 3 * loop);
    }
    down += metric.roundMm[from];
  }
  // The tip of the cup is that of the cone.
  if (cells.apex >= 0) positions.fill(0, 3 * cells.apex, 3 * cells.apex + 3);
  return positions;
}

function Shot({
  request,
  surface,
  positions,
  onDone,
}: {
  readonly request: PieceRequest;
  readonly surface: Surface;
  readonly positions: Float32Array;
  readonly onDone: (pixels: Uint8Array) => void;
}) {
  const { gl, camera, advance } = useThree();
  useEffect(() => {
    const {
      width,
      height,
      stitchPixels,
      polarRad = 0,
      aroundRad = 0,
      across = 0,
      up = 0,
    } = request;
    const { metric } = surface;
    let mm = 0;
    for (const stitch of metric.stitchMm) mm += stitch;
    const away =
      ((mm / metric.vertices) * height) / (2 * Math.tan((FOV * Math.PI) / 360) * stitchPixels);
    const reach = [0, 1].map((c) => {
      let most = 0;
      for (let i = c; i < positions.length; i += 3) most = Math.max(most, positions[i]);
      return most;
    });
    const at = [2 * across * reach[0], 2 * up * reach[1]];
    camera.up.set(-Math.sin(aroundRad), Math.cos(aroundRad), 0);
    camera.position.set(
      at[0] + away * Math.sin(polarRad) * Math.sin(aroundRad),
      at[1] - away * Math.sin(polarRad) * Math.cos(aroundRad),
      away * Math.cos(polarRad),
    );
    camera.lookAt(at[0], at[1], 0);
    advance(performance.now());
    const pixels = new Uint8Array(4 * width * height);
    const context = gl.getContext();
    context.readPixels(0, 0, width, height, context.RGBA, context.UNSIGNED_BYTE, pixels);
    onDone(pixels);
  }, [gl, camera, advance, request, surface, positions, onDone]);
  return null;
}

function Picture({
  request,
  onDone,
}: {
  readonly request: PieceRequest;
  readonly onDone: (pixels: Uint8Array) => void;
}) {
  const { surface, positions } = useMemo(
    () => laidPiece(request.plan, request.cup ?? false),
    [request.plan, request.cup],
  );
  const { graph, metric } = surface;
  const rgb = useMemo(
    () => colourByYarn(graph.course, metric.vertices, '#5787a3', '#5787a3', 0).rgb,
    [graph, metric],
  );
  return (
    <Canvas
      flat
      frameloop="never"
      dpr={1}
      gl={{ antialias: false, alpha: true, preserveDrawingBuffer: true }}
      camera={{ fov: FOV, near: 1, far: 10_000 }}
      style={{ width: request.width, height: request.height }}
    >
      <FabricMesh
        surface={surface}
        positions={positions}
        rgb={rgb}
        spun="smooth"
        relief={1}
        throughCourse={null}
        focus={null}
        room={LIGHT_ROOM}
        moving={request.moving}
        strandsFrom={request.strandsFrom}
      />
      <Shot request={request} surface={surface} positions={positions} onDone={onDone} />
    </Canvas>
  );
}

const root = createRoot(document.body);

window.drawPiece = (request) =>
  new Promise((resolve) => {
    root.render(<Picture request={request} onDone={resolve} />);
  });
