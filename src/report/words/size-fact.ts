/**
 * The size of a piece as one fact: what is measured, and how much. In: report and unit. Out: words for every surface,
 * and the one length that a knitter measures on the piece, mm.
 */
import type { Report, TubeSize } from '../report.ts';
import { type LengthUnit, lengthWords } from './length.ts';
import { liesFlat } from './verdict-words.ts';

export interface SizeFact {
  /** `side`, `diameter`, `width × length`, `round × height`. */
  readonly name: string;
  readonly words: string;
}

type Sized = Pick<
  Report,
  'extents' | 'tube' | 'shape' | 'corners' | 'sideMm' | 'acrossMm' | 'verdict'
>;

export function sizeFact(report: Sized, unit: LengthUnit): SizeFact {
  const { extents, tube } = report;
  const long = (mm: number) => lengthWords(mm, unit);
  if (extents)
    return {
      name: 'width × length',
      words: `${long(extents.widthMm)} × ${long(extents.lengthMm)}`,
    };
  if (tube)
    return { name: 'round × height', words: `${roundWords(tube, long)} × ${long(tube.heightMm)}` };
  const { name, mm } = tapeMeasure(report);
  const across = name === 'side' ? acrossWords(report, long) : null;
  return { name, words: across ? `${long(mm)}, ${across}` : long(mm) };
}

/** `15.8 cm between opposite sides` of a piece whose width is not its side; null of squares, of all without sides, and where it stands up. */
export function acrossWords(
  { acrossMm, corners, verdict }: Pick<Report, 'acrossMm' | 'corners' | 'verdict'>,
  long: (mm: number) => string,
): string | null {
  if (acrossMm === null || corners === 4 || !liesFlat(verdict)) return null;
  return `${long(acrossMm)} ${corners % 2 === 0 ? 'between opposite sides' : 'from a side to the corner opposite'}`;
}

/** `66.7 cm`, or `55.3 to 66.9 cm` of a tube that is not as wide all along. */
function roundWords({ leastMm, mostMm }: TubeSize, long: (mm: number) => string): string {
  const [least, most] = [long(leastMm), long(mostMm)];
  return least === most ? most : `${least} to ${most}`;
}

/** `66.7 cm round, 17.5 cm high`. */
export function tubeWords(tube: TubeSize, long: (mm: number) => string): string {
  return `${roundWords(tube, long)} round, ${long(tube.heightMm)} high`;
}

/** What a knitter measures on the piece to see whether it came out as it was foretold. */
export function tapeMeasure({ extents, tube, shape, corners, sideMm }: Sized): {
  readonly name: 'side' | 'diameter' | 'width' | 'longest round';
  readonly mm: number;
} {
  if (extents) return { name: 'width', mm: extents.widthMm };
  if (tube) return { name: 'longest round', mm: tube.mostMm };
  // The rim of a band that is twisted, laid round.
  return { name: corners < 3 || shape === 'disc' ? 'diameter' : 'side', mm: sideMm };
}
