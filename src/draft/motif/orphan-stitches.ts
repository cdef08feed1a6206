/**
 * Stitches of a panel that have nothing left to belong to, once decreases have eaten into it: an edge whose
 * cable is gone, the last of a rib. They are worked as the ground, so that no stray purl is left.
 *
 * In: the parts of a panel (an edge, a cable, an edge), each its columns, and which columns are live. Out: the
 * columns that are orphans.
 */
export function orphansOf(
  parts: readonly (readonly number[])[],
  isLive: (column: number) => boolean,
): number[] {
  const left = parts.map((part) => part.filter(isLive));
  const live = left.flat();
  if (live.length === parts.reduce((sum, part) => sum + part.length, 0)) return [];
  if (parts.length === 1) return live.length < 2 && parts[0].length > 1 ? live : [];
  // A cable of one stitch is none: its edge stands alone.
  const isWhole = (i: number) =>
    left[i].length > 0 && left[i].length >= Math.min(2, parts[i].length);
  return bodyOf(parts).some(isWhole) ? [] : live;
}

/** The parts that edges belong to: those between the first and the last, or the wider of two. */
function bodyOf(parts: readonly (readonly number[])[]): number[] {
  if (parts.length > 2) return parts.slice(1, -1).map((_, i) => i + 1);
  const [first, second] = parts;
  return first.length === second.length ? [0, 1] : [first.length > second.length ? 0 : 1];
}
