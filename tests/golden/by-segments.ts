/**
 * How far the segments that yarn is cut into matter for the sizes of cells: tests/golden/yarn-by-segments.md.
 * In: a fabric, yarn of a stitch in diameters. Out: width and height with 24, 48 and 96 segments a stitch, and where they tend to.
 */
import type { RatioFabric } from '../../src/cell/fabric-ratios.ts';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { CONTACT_SAMPLES } from '../../src/rod/yarn-material.ts';

export const LOOPS = [17, 21, 24] as const;
/** Ribs rest in several states, and which one start leads to hangs on the segments. */
export const FABRICS = ['stockinette', 'garter', 'seed'] as const satisfies RatioFabric[];
export const SEGMENTS = [24, 48, 96] as const;

export interface BySegments {
  readonly fabric: RatioFabric;
  readonly loop: number;
  /** Width and height, yarn diameters. */
  readonly sizes: readonly (readonly [number, number])[];
  /** Where 48 and 96 segments with summed contact lead, by the square of a segment (Richardson). */
  readonly limit: readonly [number, number];
}

export function bySegments(fabric: RatioFabric, loop: number): BySegments {
  const sizeOf = (segments: number, samples = 0): readonly [number, number] => {
    const request = { stitch: fabric, loopMm: loop, yarnMm: 1, segments, samples };
    const cell = relaxCell(request);
    if (!cell.relaxation.converged) throw new Error(`${fabric}, ${loop}: ${cell.relaxation.reason}`);
    return [cell.stitchMm, cell.roundMm];
  };
  const coarse = sizeOf(48, CONTACT_SAMPLES);
  const fine = sizeOf(96, CONTACT_SAMPLES);
  const limit = ([0, 1] as const).map((k) => fine[k] + (fine[k] - coarse[k]) / 3);
  return {
    fabric,
    loop,
    sizes: SEGMENTS.map((segments) => sizeOf(segments)),
    limit: [limit[0], limit[1]],
  };
}

export function rowText({ fabric, loop, sizes, limit }: BySegments): string {
  const two = ([width, height]: readonly [number, number]) =>
    `${width.toFixed(2)} × ${height.toFixed(2)}`;
  const off = ([0, 1] as const)
    .map((k) => {
      const percent = 100 * (sizes[1][k] / limit[k] - 1);
      return `${percent < 0 ? '−' : '+'}${Math.abs(percent).toFixed(1)}`;
    })
    .join(', ');
  return `| ${fabric} | ${loop} | ${sizes.map(two).join(' | ')} | ${two(limit)} | ${off} |`;
}

export function segmentsReport(rows: readonly BySegments[]): string {
  return `# Cells of yarn by the segments that it is cut into

Written by \`npx tsx tests/golden/regenerate-by-segments.ts\`; tests/cell/by-segments.test.ts recomputes rows. Width × height of a stitch, yarn
diameters. With 24, 48 and 96 segments a stitch contact is that between closest points, which presses the harder the longer a segment is and settles
in proportion to it; the tables have 48. The limit is where 48 and 96 segments lead whose contact is summed over points (\`src/rod/summed-contact.ts\`):
that settles with the square of a segment. There fibres have 0.06 B/d⁴, for the 0.04 of closest points with 48 segments: one fabric, the calibrated one.
Last: what 48 segments are off that limit in width and height, %.

| fabric | l/d | ${SEGMENTS.join(' | ')} | limit | 48 off, % |
|---|---|---|---|---|---|---|
${rows.map(rowText).join('\n')}
`;
}
