/**
 * What the edges of a piece do when nothing holds them down, in words. In: mean of knit over purl on the rims along
 * the rows (ends) and up the sides, −1 … 1, null where there is none. Directions: gauge/curl.ts and its sources.
 */

/** A rim with less plain fabric than this share hardly curls. Chosen. */
const CURLS = 0.4;

export function curlWords({ ends, sides }: { ends: number | null; sides: number | null }): string {
  const parts: string[] = [];
  // Seen from the right side a knit face rolls its ends to the knit side; a purl face is its mirror image.
  if (ends !== null && Math.abs(ends) > CURLS) {
    const edges = sides === null ? 'the edge rolls' : 'the bottom and top edges roll';
    parts.push(`${edges} to the ${ends > 0 ? 'right' : 'wrong'} side`);
  }
  if (sides !== null && Math.abs(sides) > CURLS) {
    parts.push(`the sides roll to the ${sides > 0 ? 'wrong' : 'right'} side`);
  }
  if (parts.length === 0) {
    return ends === null && sides === null
      ? 'Unpinned nothing curls: the piece has no free edge.'
      : 'Unpinned its edges do not curl: the fabric there is balanced.';
  }
  return `Unpinned ${parts.join(' and ')}, as stockinette does; pinning out, a border in garter or seed stitch, or a seam holds them. The verdict is that of the piece pinned out.`;
}
