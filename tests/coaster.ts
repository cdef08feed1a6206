/** A small garter square that ends in eight stitches; its yarn comes to rest in some seconds. */
export const COASTER = `Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round

Cast on 48 sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k8, k2tog; rep from * to end. (40 sts)
Round 3: purl.
Round 4: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 5: purl.
Round 6: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 7: purl.
Round 8: *ssk, k2, k2tog; rep from * to end. (16 sts)
Round 9: purl.
Round 10: *ssk, k2tog; rep from * to end. (8 sts)
Draw the yarn through the remaining sts.
`;

/** Its innermost rounds, 88 stitches, where any yarn will do. */
export const TINY_COASTER = `Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round

Cast on 24 sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k2, k2tog; rep from * to end. (16 sts)
Round 3: purl.
Round 4: *ssk, k2tog; rep from * to end. (8 sts)
Draw the yarn through the remaining sts.
`;

/** The middle of it, 152 stitches, for what would take long with more. */
export const SMALL_COASTER = `Gauge: 20 sts and 40 rounds = 10 cm
Worked: in the round

Cast on 32 sts. Join in the round.
Round 1: purl.
Round 2: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 3: purl.
Round 4: *ssk, k2, k2tog; rep from * to end. (16 sts)
Round 5: purl.
Round 6: *ssk, k2tog; rep from * to end. (8 sts)
Draw the yarn through the remaining sts.
`;
