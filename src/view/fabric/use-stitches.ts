/**
 * The stitches of a piece as they are drawn: made at once where it lies still, in idle moments while it relaxes.
 * In: a surface, whether it moves. Out: its buffers; while they are not there those of the piece before, or null.
 */
import { useEffect, useMemo, useRef, useState } from 'react';
import { bakeTiles } from '../yarn/stitch-atlas.ts';
import { createFabricGeometry, type FabricGeometry } from './fabric-geometry.ts';
import { idleSteps } from './idle-steps.ts';
import type { Surface } from './surface.ts';

export function useStitches(surface: Surface, moving: boolean): FabricGeometry | null {
  const { metric } = surface;
  const begun = useRef<FabricGeometry | null>(null);
  const [ahead, setAhead] = useState<FabricGeometry | null>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the metric is another for every other surface
  useEffect(() => {
    if (!moving || begun.current?.surface.metric === metric) return;
    return idleSteps(makeAhead());

    function* makeAhead() {
      const made = createFabricGeometry(surface);
      begun.current = made;
      yield;
      for (const tile of made.tiles[0]) if (bakeTiles([tile]).changed) yield;
      setAhead(made);
    }
  }, [metric, moving]);

  const last = useRef<FabricGeometry | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: as above
  return useMemo(() => {
    if (ahead?.surface.metric === metric) last.current = ahead;
    else if (!moving && last.current?.surface.metric !== metric) {
      const own = begun.current?.surface.metric === metric ? begun.current : null;
      last.current = own ?? createFabricGeometry(surface);
    }
    return last.current;
  }, [metric, moving, ahead]);
}
