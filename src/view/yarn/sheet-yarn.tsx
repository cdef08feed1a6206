/** Yarn on the whole sheet: wears the sheet's colours, its mark, and is taken back with it. */
import { useMemo } from 'react';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import type { Spin } from '../colour/yarn-spin.ts';
import type { Surface } from '../fabric/surface.ts';
import { HALO } from './tile-curves.ts';
import type { YarnLines } from './yarn-lines.ts';
import { YarnMesh } from './yarn-mesh.tsx';

export interface FabricStrands {
  readonly curves: YarnCurves;
  readonly lines: YarnLines;
}

export interface SheetYarnProps {
  readonly strands: FabricStrands;
  readonly surface: Surface;
  /** [3·vertices] linear RGB. */
  readonly rgb: Float32Array;
  readonly spun: Spin | null;
  readonly throughCourse: number | null;
  readonly focus: { readonly from: number; readonly to: number } | null;
  readonly focusColour: string;
}

export function SheetYarn(props: SheetYarnProps) {
  const { strands, surface, rgb, spun, throughCourse, focus, focusColour } = props;
  const { curves, lines } = strands;
  const { graph, metric } = surface;

  // The same loops while their yarn moves.
  const { loop: loopOf } = curves;
  const pointRgb = useMemo(() => {
    const n = loopOf.length;
    const out = new Float32Array(3 * n);
    for (let i = 0; i < n; i++) {
      // Tails wear the colour of the last loop.
      const loop = loopOf[i] >= 0 ? loopOf[i] : graph.loops - 1;
      for (let c = 0; c < 3; c++) out[3 * i + c] = rgb[3 * loop + c];
    }
    return out;
  }, [loopOf, graph, rgb]);

  const pointOf = (course: number) => {
    const at = Math.max(0, Math.min(graph.courses, course));
    return curves.loopStart[graph.start[at]];
  };
  const first = focus && pointOf(focus.from);
  const end = focus && pointOf(focus.to + 1);
  const marked = useMemo(
    () => (first !== null && end !== null ? ([first, end] as const) : null),
    [first, end],
  );
  let width = 0;
  for (const mm of metric.stitchMm) width += mm;
  return (
    <YarnMesh
      lines={lines}
      halo={HALO}
      rgb={pointRgb}
      spun={spun}
      through={
        throughCourse === null || throughCourse >= graph.courses - 1
          ? null
          : pointOf(throughCourse + 1)
      }
      focus={marked}
      focusColour={focusColour}
      stitchMm={width / Math.max(1, metric.vertices)}
      pointsPerStitch={curves.segmentsPerStitch}
    />
  );
}
