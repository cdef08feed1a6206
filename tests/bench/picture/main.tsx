/**
 * Frame times of the picture: 5,000 stitches as strands, the same baked, 100,000 baked, all in view and turning.
 * Every frame is waited for (a pixel is read back), so the figures are not held to the screen's rhythm.
 * Output: JSON on the page, in the console, and posted to /done where a server listens.
 */
import { Canvas, useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { createRoot } from 'react-dom/client';
import { prepare } from '../../../src/knit.ts';
import { parsePlan } from '../../../src/plan/parse.ts';
import { colourByYarn } from '../../../src/view/colour/colour-scale.ts';
import { FabricMesh } from '../../../src/view/fabric/fabric-mesh.tsx';
import { LIGHT_ROOM, type Surface } from '../../../src/view/fabric/surface.ts';
import { canvasQuality } from '../../../src/view/scene/graphics.ts';

/** No case goes on for longer. */
const MOST_MS = 12_000;

interface Figures {
  readonly name: string;
  readonly stitches: number;
  readonly firstMs: number;
  readonly medianMs: number;
  readonly slowMs: number;
}

const CASES = [
  { name: 'strands', wales: 71, rows: 70, strandsFrom: 0, frames: 120 },
  { name: 'baked', wales: 71, rows: 70, strandsFrom: 1e6, frames: 120 },
  { name: 'baked, many', wales: 318, rows: 316, strandsFrom: 1e6, frames: 60 },
] as const;

function flatPiece(wales: number, rows: number): { surface: Surface; positions: Float32Array } {
  const text = `Gauge: 22 sts and 30 rows = 10 cm
Worked: flat

Cast on ${wales} sts.
Row 1 (RS): knit.
Row 2: purl.
Row 3: *k3, p1; rep from * to last ${wales % 4} sts, knit to end.
Row 4: purl.
Repeat rows 1 to 4 ${Math.floor(rows / 4) - 1} more times.
Bind off all sts.
`;
  const { graph, cells, measured } = prepare(parsePlan(text));
  const { metric } = measured;
  const surface: Surface = { graph, cells, metric };
  const positions = new Float32Array(3 * metric.vertices);
  for (let loop = 0; loop < graph.loops; loop++) {
    const x = -metric.stitchMm[loop] * (graph.position[loop] - wales / 2);
    const y = metric.roundMm[loop] * (graph.course[loop] - rows / 2);
    positions.set([x, y, 3 * Math.sin(x / 30) * Math.cos(y / 40)], 3 * loop);
  }
  return { surface, positions };
}

function Turning(props: {
  readonly sizeMm: number;
  readonly frames: number;
  readonly onDone: (ms: number[]) => void;
}) {
  const { sizeMm, frames, onDone } = props;
  const { gl, camera, advance } = useThree();
  useEffect(() => {
    const context = gl.getContext();
    const pixel = new Uint8Array(4);
    const times: number[] = [];
    const began = performance.now();
    const frame = (k: number) => {
      const angle = 0.02 * k;
      camera.up.set(0, 0, 1);
      camera.position.set(
        1.3 * sizeMm * Math.sin(angle),
        -1.3 * sizeMm * Math.cos(angle),
        1.5 * sizeMm,
      );
      camera.lookAt(0, 0, 0);
      const from = performance.now();
      advance(from);
      context.readPixels(0, 0, 1, 1, context.RGBA, context.UNSIGNED_BYTE, pixel);
      times.push(performance.now() - from);
      if (k + 1 < frames && performance.now() - began < MOST_MS) setTimeout(() => frame(k + 1));
      else onDone(times);
    };
    frame(0);
  }, [gl, camera, advance, sizeMm, frames, onDone]);
  return null;
}

function Bench({
  at,
  onDone,
}: {
  readonly at: (typeof CASES)[number];
  readonly onDone: (figures: Figures) => void;
}) {
  const { surface, positions } = useMemo(() => flatPiece(at.wales, at.rows), [at]);
  const { graph, metric } = surface;
  const rgb = useMemo(
    () => colourByYarn(graph.course, metric.vertices, '#5787a3', '#e4dccb', 0).rgb,
    [graph, metric],
  );
  const sizeMm = at.wales * metric.stitchMm[0];
  return (
    <Canvas flat frameloop="never" camera={{ fov: 28, near: 1, far: 10_000 }} {...canvasQuality()}>
      <FabricMesh
        surface={surface}
        positions={positions}
        rgb={rgb}
        spun="tweed"
        relief={1}
        throughCourse={null}
        focus={null}
        room={LIGHT_ROOM}
        strandsFrom={at.strandsFrom}
      />
      <Turning
        sizeMm={sizeMm}
        frames={at.frames}
        onDone={(times) => {
          const later = times.slice(Math.min(3, times.length - 1)).sort((a, b) => a - b);
          onDone({
            name: at.name,
            stitches: graph.loops,
            firstMs: times[0],
            medianMs: later[Math.floor(later.length / 2)],
            slowMs: later[Math.floor(0.95 * later.length)],
          });
        }}
      />
    </Canvas>
  );
}

function renderer(): string {
  const gl = document.createElement('canvas').getContext('webgl2');
  const info = gl?.getExtension('WEBGL_debug_renderer_info');
  return String(gl?.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
}

const root = createRoot(document.getElementById('stage') as HTMLElement);
const figures: Figures[] = [];
function run(k: number): void {
  if (k < CASES.length) {
    root.render(
      <Bench
        key={k}
        at={CASES[k]}
        onDone={(found) => {
          figures.push(found);
          console.log(JSON.stringify(found));
          run(k + 1);
        }}
      />,
    );
    return;
  }
  const text = JSON.stringify({ renderer: renderer(), devicePixelRatio, figures }, null, 1);
  (document.getElementById('out') as HTMLElement).textContent = text;
  document.title = 'Picture bench: done';
  console.log(text);
  void fetch('/done', { method: 'POST', body: text }).catch(() => {});
}
run(0);
