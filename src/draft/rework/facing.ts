/**
 * The same stitch told from the other side: right-side name ↔ wrong-side name.
 *
 * A row read from the other side runs the other way round, knit shows as purl and what lay in front
 * lies behind. So k2tog (leans right) is p2tog when worked from the wrong side, and ssk is ssp.
 * Names as in `plan/stitches/table.ts`; the pairs follow from the loops there and are tested on them.
 */

const PAIRS: readonly (readonly [string, string])[] = [
  ['k', 'p'],
  ['ktbl', 'ptbl'],
  ['k2tog', 'p2tog'],
  ['ssk', 'ssp'],
  ['k2tog tbl', 'p2tog tbl'],
  ['k3tog', 'p3tog'],
  ['sssk', 'sssp'],
  ['k3tog tbl', 'p3tog tbl'],
  ['s2kp', 's2pp'],
  ['kfb', '(p1 tbl, p1) in 1 st'],
  ['pfb', '(k1 tbl, k1) in 1 st'],
  ['m1', 'm1p'],
  // Which way a lifted bar is twisted looks alike from both sides, as it does in ktbl and ptbl (common practice).
  ['m1l', 'm1lp'],
  ['m1r', 'm1rp'],
  ['sl1 wyib', 'sl1 wyif'],
  ['sl1k wyib', 'sl1k wyif'],
];

/** Stitches that look alike from both sides, and one-way renames where the trade has one name. */
const ONE_WAY: readonly (readonly [string, string])[] = [
  ['yo', 'yo'],
  ['skp', 'ssp'],
];

const OTHER = new Map<string, string>(ONE_WAY);
for (const [a, b] of PAIRS) {
  OTHER.set(a, b);
  OTHER.set(b, a);
}

/** Marks a stitch that is told from the wrong side because no right-side name exists. */
const UNTURNED = '~';

/** The stitch that looks alike from the other side; null where the trade has no name for it. */
export function otherSideName(name: string): string | null {
  if (name.startsWith(UNTURNED)) return name.slice(UNTURNED.length);
  const together = /^([kp])(\d+)tog$/.exec(name);
  if (together) return `${together[1] === 'k' ? 'p' : 'k'}${together[2]}tog`;
  return OTHER.get(name) ?? null;
}

/** A row told from the other side: order reversed, each stitch renamed; turning twice is identity. */
export function turnNames(names: readonly string[]): string[] {
  return names.map((name) => otherSideName(name) ?? UNTURNED + name).reverse();
}

/** Whether a turned row holds stitches that have no name on this side. */
export function unturned(names: readonly string[]): string[] {
  return names.filter((name) => name.startsWith(UNTURNED)).map((name) => name.slice(1));
}

/** Decreases that lean alike on the same face: a designer keeps to one of them. */
const ALIKE: readonly (readonly string[])[] = [
  ['ssk', 'skp', 'k2tog tbl'],
  ['ssp', 'p2tog tbl'],
  ['sssk', 'k3tog tbl'],
  ['sssp', 'p3tog tbl'],
];

/**
 * Knit form and purl form of the same decrease or bar increase, for fabrics whose rounds alternate. `own`: stitches of
 * the plan, one of which is taken where it leans alike.
 */
export function asFace(
  name: string,
  face: 'k' | 'p',
  own: ReadonlySet<string> = new Set(),
): string {
  const turned = turnedTo(name, face);
  if (turned === name || own.has(turned)) return turned;
  const alike = ALIKE.find((names) => names.includes(turned)) ?? [];
  return alike.find((other) => own.has(other)) ?? turned;
}

function turnedTo(name: string, face: 'k' | 'p'): string {
  const knit = /^k|^ss+k$|^s2kp$|^skp$|^m1[lr]?$/.test(name);
  const purl = /^p|^ss+p$|^s2pp$|^m1[lr]?p$/.test(name);
  if (!knit && !purl) return name;
  if (knit === (face === 'k')) return name;
  return otherSideName(name) ?? name;
}
