/** The innermost rounds of a garter square that ends in eight stitches, from a cast-on that 8 divides. */
export function coaster(castOn: number): string {
  const rounds: string[] = [];
  for (let n = castOn - 8; n >= 8; n -= 8) {
    const between = n / 4 - 2;
    const middle = between > 0 ? `k${between}, ` : '';
    rounds.push('purl.', `*ssk, ${middle}k2tog; rep from * to end. (${n} sts)`);
  }
  return `Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round

Cast on ${castOn} sts. Join in the round.
${rounds.map((round, i) => `Round ${i + 1}: ${round}`).join('\n')}
Draw the yarn through the remaining sts.
`;
}

/** Its yarn comes to rest in some seconds. */
export const COASTER = coaster(48);
/** 88 stitches, where any yarn will do. */
export const TINY_COASTER = coaster(24);
/** 152 stitches, for what would take long with more. */
export const SMALL_COASTER = coaster(32);
