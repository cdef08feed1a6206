/** Where the words of a measure stand in the first look at it: within the picture, and not under a control in its corner. */

export interface WordsRoom {
  /** Half of what is in view, mm. */
  readonly halfWidth: number;
  readonly halfHeight: number;
  /** Side of the square in the upper right corner that is taken, mm. */
  readonly cornerMm: number;
}

/** Middle of the words, mm from the middle of the picture. In: where they would stand best, and their width and height, mm. */
export function placeWords(
  [x, y]: readonly [number, number],
  [wide, high]: readonly [number, number],
  { halfWidth, halfHeight, cornerMm }: WordsRoom,
): [number, number] {
  const most = Math.max(0, halfWidth - wide / 2);
  const within = Math.max(-most, Math.min(most, x));
  const isUnder = within + wide / 2 > halfWidth - cornerMm;
  return [within, isUnder ? Math.min(y, halfHeight - cornerMm - high / 2) : y];
}
