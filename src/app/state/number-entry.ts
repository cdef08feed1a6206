/** Numbers as people type them: with a point or a comma, perhaps with spaces around. */

/** Null where the text is no number above zero. */
export function positiveNumber(text: string): number | null {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(value) && value > 0 ? value : null;
}

/** Null where the text is no whole number from `least` on. */
export function wholeNumber(text: string, least = 0): number | null {
  const value = Number(text.trim());
  return text.trim() !== '' && Number.isInteger(value) && value >= least ? value : null;
}

/** At most so many decimals, none that say nothing. */
export function plainNumber(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}

/** Stitches or rounds of a gauge as every dialog has them, `mm` each, over a span of so many mm. */
export function gaugeEntry(mm: number, spanMm: number): string {
  return plainNumber(spanMm / mm, 2);
}
