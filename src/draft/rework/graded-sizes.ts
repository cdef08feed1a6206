/**
 * Several gradings of one plan in one text: `Sizes: 15 cm (20 cm, 25 cm)`.
 * In: each graded text with the size asked and the size it comes to, mm, and its stitch width, mm. Out: the text,
 * which reads back as each of them, and what the sizes are called in it.
 */
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { mergeSizes } from '../motif/merge-sizes.ts';

export interface GradedSize {
  readonly text: string;
  readonly askedMm: number;
  readonly sizeMm: number;
  readonly stitchMm: number;
}

export interface GradedSizes {
  readonly text: string;
  readonly names: readonly string[];
}

export function joinSizes(sizes: readonly GradedSize[], unit: LengthUnit): GradedSizes {
  const names = sizeNames(sizes, unit);
  const texts = sizes.map(({ text }) => text);
  return { text: mergeSizes(texts, names), names };
}

/** By what they come to; by what was asked where two come to the same. */
function sizeNames(sizes: readonly GradedSize[], unit: LengthUnit): string[] {
  const yarns = new Set(sizes.map(({ stitchMm }) => stitchMm)).size > 1;
  const named = (length: (size: GradedSize) => number) =>
    sizes.map((size) => {
      const words = lengthWords(length(size), unit);
      return yarns ? `${words} at ${Math.round(1000 / size.stitchMm) / 10} sts` : words;
    });
  const names = named(({ sizeMm }) => sizeMm);
  return new Set(names).size === names.length ? names : named(({ askedMm }) => askedMm);
}
