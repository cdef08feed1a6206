/**
 * How two edges are sewn whose stitches differ in number: eased in by the stitch where few are over, sewn by
 * length in a small ratio where many are. In: stitches along each edge and the squares' names. Out: words.
 * Edges are pinned at their ends, middle and quarters first (common practice); nothing is decreased.
 */
import { counted, times } from './words/counts.ts';

/** Up to one stitch in so many is eased in singly. Chosen: more would show as gathers. */
const EASED_ONE_IN = 8;
/** Largest figure of a ratio that a knitter keeps in her head. Chosen. */
const MOST_OF_A_RATIO = 8;

export function seamRecipe(
  a: { readonly name: string; readonly stitches: number },
  b: { readonly name: string; readonly stitches: number },
): string {
  if (a.stitches === b.stitches) return `stitch to stitch (${a.stitches})`;
  const [more, fewer] = a.stitches > b.stitches ? [a, b] : [b, a];
  const spare = more.stitches - fewer.stitches;
  const both = `${a.stitches} to ${b.stitches} stitches: pin ends, middle and quarters`;
  if (spare * EASED_ONE_IN <= fewer.stitches) {
    const every = Math.floor(fewer.stitches / spare);
    const where =
      spare === 1 ? 'in the middle' : `after about every ${counted(every, 'stitch', 'stitches')}`;
    return `${both}, then take up two stitches of ${more.name} with one of ${fewer.name} ${times(spare)}, ${where}`;
  }
  const [over, under] = smallRatio(more.stitches / fewer.stitches);
  return `${both}, then sew by length, about ${over} stitches of ${more.name} to ${under} of ${fewer.name}`;
}

/** The nearest ratio of small figures. */
function smallRatio(value: number): [number, number] {
  let best: [number, number] = [1, 1];
  let least = Infinity;
  for (let under = 1; under <= MOST_OF_A_RATIO; under++) {
    const over = Math.max(1, Math.round(value * under));
    const off = Math.abs(over / under / value - 1);
    if (over <= 2 * MOST_OF_A_RATIO && off < least - 0.01) {
      best = [over, under];
      least = off;
    }
  }
  return best;
}
