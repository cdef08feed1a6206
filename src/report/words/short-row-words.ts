/** What short rows do to the piece, in a sentence; lengths are left to the figures beside it. */
import type { ShortRowShape } from '../short-row-shape.ts';

/** Bends smaller than this are not worth telling, degrees. Chosen. */
const NOTABLE = 1;

export function shortRowWords(shape: ShortRowShape | null): string[] {
  if (!shape) return [];
  const { bendDeg } = shape;
  if (bendDeg === null)
    return [
      'The short rows add depth where they are worked and nothing to the length of the rounds: on average that cups the piece, and it stands unevenly.',
    ];
  if (bendDeg < NOTABLE)
    return [
      'The short rows make some places deeper than others; the last row still runs level with the cast-on.',
    ];
  if (bendDeg > 360)
    return [
      `The short rows bend it by ${bendDeg.toFixed(0)}°, more than a full turn: it lies over itself or winds up like a stair.`,
    ];
  return [
    `The short rows bend it by ${bendDeg.toFixed(0)}°, as a slice of a ring: so far the last row is turned from the cast-on.`,
  ];
}
