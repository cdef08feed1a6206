/**
 * A mitred border picked up round a blanket, as a plan that can be relaxed: garter, a stitch at each corner with
 * an increase on both sides of it. In: stitches along the four edges, the stitch width and depth, mm. Out: plan text.
 * Flat where each corner gains 2 h/w stitches a round: sides grow by a round's height h at either end (geometry);
 * garter h/w = 1/2 (published, see `gauge/gauge/gauge.ts`).
 */
import { gaugeStatement } from './plan-header.ts';

export interface BorderSpec {
  readonly title: string;
  readonly yarn: string;
  /** Stitches picked up along the four edges, without the one at each corner. */
  readonly edges: readonly [number, number, number, number];
  readonly stitchMm: number;
  readonly depthMm: number;
}

export interface BorderPlan {
  readonly text: string;
  readonly castOn: number;
  readonly boundOff: number;
  readonly rounds: number;
  readonly depthMm: number;
}

const GARTER_ASPECT = 0.5;

export function borderPlan({ title, yarn, edges, stitchMm, depthMm }: BorderSpec): BorderPlan {
  const roundMm = GARTER_ASPECT * stitchMm;
  // Whole ridges: it ends with a purl round before the knit bind-off.
  const rounds = Math.max(2, 2 * Math.round(depthMm / roundMm / 2));
  const castOn = edges.reduce((sum, edge) => sum + edge, 4);
  const lines: string[] = [
    ...(title ? [`Title: ${title}`] : []),
    ...(yarn ? [`Yarn: ${yarn}`] : []),
    `Gauge: ${gaugeStatement({ fabric: 'garter', stitchMm, roundMm }, 'round')}`,
    'Worked: in the round',
    '',
    `Cast on ${castOn} sts. Join in the round.`,
  ];
  let count = castOn;
  const sides = [...edges];
  for (let n = 1; n <= rounds; n++) {
    if (n % 2 === 1) {
      lines.push(`Round ${n}: purl. (${count} sts)`);
      continue;
    }
    const round = sides.map((side) => `k1, m1l, k${side}, m1r`).join(', ');
    count += 8;
    sides.forEach((_, i) => {
      sides[i] += 2;
    });
    lines.push(`Round ${n}: ${round}. (${count} sts)`);
  }
  lines.push('Bind off all sts loosely.', '');
  return { text: lines.join('\n'), castOn, boundOff: count, rounds, depthMm: rounds * roundMm };
}
