/**
 * The size of a piece as one fact: what is measured, and how much. In: report and unit. Out: words for every surface.
 */
import type { Report } from '../report.ts';
import { type LengthUnit, lengthWords } from './length.ts';

export interface SizeFact {
  /** `side`, `diameter`, `width × length`. */
  readonly name: string;
  readonly words: string;
}

export function sizeFact(
  { extents, shape, corners, sideMm }: Pick<Report, 'extents' | 'shape' | 'corners' | 'sideMm'>,
  unit: LengthUnit,
): SizeFact {
  if (extents) {
    const { widthMm, lengthMm } = extents;
    return {
      name: 'width × length',
      words: `${lengthWords(widthMm, unit)} × ${lengthWords(lengthMm, unit)}`,
    };
  }
  const words = lengthWords(sideMm, unit);
  // The rim of a band that is twisted, laid round.
  if (corners < 3 || shape === 'disc' || shape === 'tube') return { name: 'diameter', words };
  return { name: 'side', words };
}
