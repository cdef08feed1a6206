/** Lengths, weights and counts as a pattern prints them. */

export type LengthUnit = 'cm' | 'inch';

/** `20 cm` or `8 in` (quarters). */
export function lengthWords(lengthMm: number, unit: LengthUnit): string {
  return unit === 'cm' ? `${trim(lengthMm / 10, 1)} cm` : `${quarters(lengthMm / 25.4)} in`;
}

/** Both units, the wished one first: `20 cm (8 in)`. */
export function bothUnits(lengthMm: number, unit: LengthUnit): string {
  const other = unit === 'cm' ? 'inch' : 'cm';
  return `${lengthWords(lengthMm, unit)} (${lengthWords(lengthMm, other)})`;
}

/** Metres or yards, rounded up. 1 yd = 0.9144 m (exact by definition). */
export function yarnLengthWords(lengthM: number, unit: LengthUnit): string {
  return unit === 'cm' ? `${Math.ceil(lengthM)} m` : `${Math.ceil(lengthM / 0.9144)} yd`;
}

/** Grams or ounces. 1 oz = 28.349523 g (exact by definition, rounded). */
export function massWords(massG: number, unit: LengthUnit): string {
  return unit === 'cm' ? `${Math.ceil(massG)} g` : `${trim(massG / 28.349523, 1)} oz`;
}

export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

const QUARTERS = ['', '¼', '½', '¾'];

function quarters(inches: number): string {
  const parts = Math.round(inches * 4);
  const whole = Math.floor(parts / 4);
  const rest = QUARTERS[parts % 4];
  return whole === 0 && rest !== '' ? rest : `${whole}${rest}`;
}

function trim(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
