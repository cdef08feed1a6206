/**
 * A mitred border picked up round a blanket, as a plan that can be relaxed: garter, a stitch at each corner with
 * an increase on both sides of it. In: stitches along the four edges, the stitch width and depth, mm. Out: plan text.
 * Flat where each corner gains 2 h/w stitches a round: sides grow by a round's height h at either end (geometry);
 * garter h/w = 1/2 (published, see `gauge/gauge/gauge.ts`).
 */

import { gaugeStatement } from '../../plan/write/header.ts';
import {
  endSentences,
  pickUpSentence,
  roundLine,
  roundsLabel,
} from '../../plan/write/sentences.ts';
import type { BorderCounts } from '../../report/border.ts';

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

/** A border of a blanket, or words for why there is none. */
export type BlanketBorder =
  | { readonly plan: BorderPlan; readonly trouble: null }
  | { readonly plan: null; readonly trouble: string };

const GARTER_ASPECT = 0.5;
/** Deeper borders are refused. Chosen: 40 cm in the finest sock yarn, a metre in a medium one. */
const MOST_ROUNDS = 400;
/** Longer ones too. Chosen: twice round ten metres by ten in a fine yarn. */
const MOST_STITCHES = 40_000;

/** The border that the counts of a blanket ask for. */
export function blanketBorder(
  counts: BorderCounts,
  spec: { readonly title: string; readonly depthMm: number },
): BlanketBorder {
  const { top, right, bottom, left, stitchMm } = counts;
  const whole: BorderSpec = { ...spec, yarn: '', edges: [top, left, bottom, right], stitchMm };
  const trouble = counts.trouble ?? borderTrouble(whole);
  return trouble === null ? { plan: borderPlan(whole), trouble } : { plan: null, trouble };
}

/** Why no border can be worked over these edges to this depth; null where one can. */
export function borderTrouble({ edges, stitchMm, depthMm }: BorderSpec): string | null {
  if (!edges.every((edge) => edge >= 1) || !(stitchMm > 0))
    return 'There is no border: there are no stitches to pick it up from.';
  const rounds = roundsOf(depthMm, stitchMm);
  if (!(rounds <= MOST_ROUNDS))
    return `So deep a border takes more than ${MOST_ROUNDS} rounds: make it shallower, or see that the squares have the size they should.`;
  if (!(castOnOf(edges) <= MOST_STITCHES))
    return `So long a border takes more than ${MOST_STITCHES} stitches: see that the squares have the size they should.`;
  return null;
}

/** Throws a RangeError with the words of `borderTrouble` where there is no such border. */
export function borderPlan(spec: BorderSpec): BorderPlan {
  const trouble = borderTrouble(spec);
  if (trouble !== null) throw new RangeError(trouble);
  const { title, yarn, edges, stitchMm, depthMm } = spec;
  const roundMm = GARTER_ASPECT * stitchMm;
  const rounds = roundsOf(depthMm, stitchMm);
  const castOn = castOnOf(edges);
  const lines: string[] = [
    ...(title ? [`Title: ${title}`] : []),
    ...(yarn ? [`Yarn: ${yarn}`] : []),
    `Gauge: ${gaugeStatement(tenths(stitchMm), 'round')}`,
    'Worked: in the round',
    '',
    pickUpSentence(castOn),
  ];
  let count = castOn;
  const sides = [...edges];
  for (let n = 1; n <= rounds; n++) {
    if (n % 2 === 1) {
      lines.push(roundLine(roundsLabel('Round', n), 'purl', count));
      continue;
    }
    const round = sides.map((side) => `k1, m1l, k${side}, m1r`).join(', ');
    count += 8;
    sides.forEach((_, i) => {
      sides[i] += 2;
    });
    lines.push(roundLine(roundsLabel('Round', n), round, count));
  }
  lines.push(...endSentences('bound-off', 'loosely'), '');
  return { text: lines.join('\n'), castOn, boundOff: count, rounds, depthMm: rounds * roundMm };
}

/** A gauge that can be counted: stitches to the tenth in 10 cm, twice as many rounds. */
function tenths(stitchMm: number) {
  const even = 1000 / Math.max(1, Math.round(1000 / stitchMm));
  return { fabric: 'garter', stitchMm: even, roundMm: GARTER_ASPECT * even } as const;
}

/** Whole ridges: it ends with a purl round before the knit bind-off. */
function roundsOf(depthMm: number, stitchMm: number): number {
  return Math.max(2, 2 * Math.round(depthMm / (GARTER_ASPECT * stitchMm) / 2));
}

function castOnOf(edges: BorderSpec['edges']): number {
  return edges.reduce((sum, edge) => sum + edge, 4);
}
