/**
 * Yarn on the sheet for the page: asks the yarn worker when strands are wanted and the fabric is at
 * rest, keeps what came back as long as it belongs to the fabric on the table. See `yarn-rest.ts` for how
 * it is brought to rest.
 */
import { useEffect, useMemo } from 'react';
import { create } from 'zustand';
import type { RestRecord } from '../../paper/pattern/yarn-rest-words.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { FabricStrands } from '../../view/yarn/sheet-yarn.tsx';
import { lineUp } from '../../view/yarn/yarn-lines.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import { YarnClient } from '../../worker/yarn-client.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';

/** How the fabric is drawn: its stitches as a pattern on the sheet, or every strand of yarn. */
export type DrawnAs = 'stitches' | 'strands';

/** How the yarn stands between where it was laid and rest. */
export type Rest =
  | { readonly state: 'laid' }
  | {
      readonly state: 'coming';
      readonly step: number;
      readonly residual: number;
      /** Of the way from the first force to rest, 0 … 1, counted in powers of ten. */
      readonly share: number;
    }
  /** Stopped; what is there is being measured. */
  | { readonly state: 'looking' }
  | { readonly state: 'done'; readonly record: RestRecord }
  | { readonly state: 'trouble'; readonly message: string };

export interface SheetStrands {
  readonly curves: YarnCurves;
  /** As they were laid; the same until the yarn is brought to rest. */
  readonly laid: YarnCurves;
  readonly lines: FabricStrands['lines'];
  /** The positions that it lies on. */
  readonly on: Positions;
}

interface StrandState {
  readonly drawnAs: DrawnAs;
  readonly laying: boolean;
  /** Why there are no strands, for the user. */
  readonly trouble: string | null;
  readonly yarn: SheetStrands | null;
  readonly rest: Rest;
}

export const useStrands = create<StrandState>(() => ({
  drawnAs: 'stitches',
  laying: false,
  trouble: null,
  yarn: null,
  rest: { state: 'laid' },
}));

export const drawAs = (drawnAs: DrawnAs) => useStrands.setState({ drawnAs });

/** Up to so many loops every stitch has 16 segments, then 8; beyond, no strands. Chosen for memory. */
const FINE_LOOPS = 12_000;
const MOST_LOOPS = 60_000;

const client = new YarnClient();

/** The strands to draw now; null while there are none. */
export function useFabricStrands(
  laid: LaidSheet | null,
  positions: Positions | null,
  atRest: boolean,
): FabricStrands | null {
  const wanted = useStrands((state) => state.drawnAs === 'strands');
  const yarn = useStrands((state) => state.yarn);
  const there = yarn !== null && yarn.on === positions;

  useEffect(() => {
    if (!wanted || !atRest || !laid || !positions || there) return;
    const { graph, cells } = laid;
    if (graph.loops > MOST_LOOPS) {
      const trouble = `Strands are drawn up to ${MOST_LOOPS.toLocaleString('en')} stitches; this piece has ${graph.loops.toLocaleString('en')}.`;
      useStrands.setState({ trouble, laying: false });
      return;
    }
    useStrands.setState({ laying: true, trouble: null });
    client.lay({ graph, cells, positions }, graph.loops > FINE_LOOPS ? 8 : 16, {
      onDone: (curves) =>
        useStrands.setState({
          laying: false,
          yarn: { curves, laid: curves, lines: lineUp(curves), on: positions },
          rest: { state: 'laid' },
        }),
      onFailed: (message) => useStrands.setState({ laying: false, trouble: message }),
    });
    return () => {
      client.stop();
      useStrands.setState({ laying: false });
    };
  }, [wanted, atRest, laid, positions, there]);

  const drawn = wanted && there ? yarn : null;
  return useMemo(() => drawn && { curves: drawn.curves, lines: drawn.lines }, [drawn]);
}
