/** Round ends for axes and legends. In: a value above 0. Out: the next round number. */

/** 1, 2 or 5 times a power of ten, not below the value. */
export function niceCeiling(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  for (const step of [1, 2, 5, 10]) if (step * power >= value * 0.9999) return step * power;
  return 10 * power;
}
