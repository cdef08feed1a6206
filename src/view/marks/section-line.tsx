/** The section drawn on the fabric, a little in front of it so that stitches don't swallow it. */
import { useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo } from 'react';
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js';
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js';
import type { SectionCut } from './section-cut.ts';

export function SectionLine({
  cut,
  colour,
}: {
  readonly cut: SectionCut;
  readonly colour: string;
}) {
  const invalidate = useThree((state) => state.invalidate);
  const size = useThree((state) => state.size);
  const line = useMemo(() => {
    const material = new LineMaterial({ linewidth: 3, depthTest: true });
    material.polygonOffset = true;
    material.polygonOffsetFactor = -4;
    const made = new LineSegments2(new LineSegmentsGeometry(), material);
    made.frustumCulled = false;
    return made;
  }, []);
  useEffect(
    () => () => {
      line.geometry.dispose();
      line.material.dispose();
    },
    [line],
  );
  useLayoutEffect(() => {
    const raised = Float32Array.from(cut.points);
    for (let k = 2; k < raised.length; k += 3) raised[k] += 1.6;
    line.geometry.dispose();
    line.geometry = new LineSegmentsGeometry();
    if (raised.length) line.geometry.setPositions(raised);
    line.visible = raised.length > 0;
    invalidate();
  }, [line, cut, invalidate]);
  useLayoutEffect(() => {
    line.material.color.set(colour);
    line.material.resolution.set(size.width, size.height);
    invalidate();
  }, [line, colour, size, invalidate]);
  return <primitive object={line} />;
}
