/** Plan texts of plain motifs for the tests: n equal sides, shaped every few rounds at the corners. */

export type Corner = 'paired' | 'corner stitch' | 'centred' | 'offset 1' | 'offset 2' | 'offset 3';

export interface Motif {
  readonly sides: number;
  /** Stitches a side at the cast-on. */
  readonly side: number;
  /** Rounds from one shaping round to the next, in turn. */
  readonly every: readonly number[];
  readonly corner: Corner;
  readonly garter: boolean;
  readonly stitchMm: number;
  readonly roundMm: number;
}

const SHAPING: Readonly<Record<Corner, { words: string; least: number }>> = {
  paired: { words: 'ssk, k to last 2 sts, k2tog', least: 5 },
  'corner stitch': { words: 'k1, ssk, k to last 2 sts, k2tog', least: 6 },
  centred: { words: 's2kp, k to end', least: 5 },
  'offset 1': { words: 'k1, ssk, k to last 3 sts, k2tog, k1', least: 8 },
  'offset 2': { words: 'k2, ssk, k to last 4 sts, k2tog, k2', least: 10 },
  'offset 3': { words: 'k3, ssk, k to last 5 sts, k2tog, k3', least: 12 },
};

export function motifText(motif: Motif): string {
  const { sides, corner } = motif;
  const per10 = (mm: number): string => (100 / mm).toFixed(6);
  const lines = [
    `Title: test motif`,
    `Gauge: ${per10(motif.stitchMm)} sts x ${per10(motif.roundMm)} rounds to 10 cm`,
    `Cast on ${sides * motif.side} sts and join in the round.`,
  ];
  let n = motif.side;
  let round = 0;
  let last = '';
  const plain = (): string => {
    round++;
    last = motif.garter && round % 2 === 0 ? 'purl' : 'knit';
    return `Round ${round}: ${last}.`;
  };
  for (let i = 0; n >= SHAPING[corner].least; i++) {
    const gap = motif.every[i % motif.every.length];
    for (let g = 1; g < gap; g++) lines.push(plain());
    round++;
    lines.push(
      `Round ${round}: (${SHAPING[corner].words}) ${sides} times. (${sides * (n - 2)} sts)`,
    );
    n -= 2;
  }
  lines.push('Break yarn, draw through remaining sts.');
  return lines.join('\n');
}

/** A disc whose decreases are staggered: `each` a shaping round, half a section apart. */
export function discText(each: number, every: number, stitchMm: number, roundMm: number): string {
  const lines = [
    `Gauge: ${(100 / stitchMm).toFixed(6)} sts x ${(100 / roundMm).toFixed(6)} rounds to 10 cm`,
    `Cast on ${each * 20} sts and join in the round.`,
  ];
  let round = 0;
  for (let section = 20, t = 0; section > 2; section--, t++) {
    for (let g = 1; g < every; g++) lines.push(`Round ${++round}: knit.`);
    const before = t % 2 ? Math.floor((section - 2) / 2) : 0;
    const after = section - 2 - before;
    const words = [before > 0 ? `k${before}` : '', 'k2tog', after > 0 ? `k${after}` : '']
      .filter(Boolean)
      .join(', ');
    lines.push(`Round ${++round}: (${words}) ${each} times.`);
  }
  lines.push('Draw yarn through remaining sts.');
  return lines.join('\n');
}

/**
 * A hemisphere from its rim: each round has the whole number of stitches nearest to 2πR cos(depth/R), its decreases
 * spread evenly and shifted from round to round; drawn up at `drawnAt` stitches or fewer. R = 2·rounds·roundMm/π.
 */
export function hemisphereText(
  rounds: number,
  stitchMm: number,
  roundMm: number,
  drawnAt = 9,
): string {
  const radiusMm = (2 * rounds * roundMm) / Math.PI;
  const countAt = (round: number) =>
    Math.round(((2 * Math.PI * radiusMm) / stitchMm) * Math.cos((round * roundMm) / radiusMm));
  const lines = [
    `Gauge: ${(100 / stitchMm).toFixed(6)} sts x ${(100 / roundMm).toFixed(6)} rounds to 10 cm`,
    `Cast on ${countAt(0)} sts and join in the round.`,
  ];
  let n = countAt(0);
  for (let round = 1; n > drawnAt && round < rounds; round++) {
    const lost = n - countAt(round);
    const words: string[] = [];
    let at = 0;
    for (let i = 0; i < lost; i++) {
      // The golden section keeps decreases of successive rounds from standing over one another.
      const place = Math.floor(((i + ((round * 0.618034) % 1)) * n) / lost);
      const from = Math.max(at, Math.min(place, n - 2 * (lost - i)));
      if (from > at) words.push(`k${from - at}`);
      words.push('k2tog');
      at = from + 2;
    }
    if (at < n) words.push(`k${n - at}`);
    n -= lost;
    lines.push(`Round ${round}: ${lost > 0 ? words.join(', ') : 'knit'}. (${n} sts)`);
  }
  lines.push('Draw yarn through remaining sts.');
  return lines.join('\n');
}
