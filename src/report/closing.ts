/**
 * A centre drawn up by the yarn's end: how much edge the thread gathers, and whether it lies flat.
 * In: Plan and stitch width, mm. Out: lengths round the centre, mm, and words for every surface.
 * Geometry: n stitches of width w lie n·w round; on the thread each loop's two legs lie side by side, so that n loops
 * close to n·2d (yarn of diameter d, as knitted by hand). It lies flat where no loop has farther to the middle than its
 * own yarn reaches (`gauge/layout/drawn-centre.ts`).
 */
import { HAND_LOOP } from '../cell/fabric-ratios.ts';
import { LOOP_REACH } from '../gauge/layout/drawn-centre.ts';
import { type Plan, stitchesAtEnd } from '../plan/plan.ts';
import type { Report } from './report.ts';
import { stitchCount } from './words/counts.ts';
import { bothUnits, type LengthUnit } from './words/length.ts';
import { turnsRound } from './words/verdict-words.ts';
import { MUNDEN_KW } from './yarn-estimate.ts';

export interface Closing {
  readonly stitches: number;
  /** Round the centre with the stitches side by side, and with the thread drawn tight. */
  readonly besideMm: number;
  readonly closedMm: number;
  readonly puckers: boolean;
}

/** Yarn diameter over stitch width: a loop of `HAND_LOOP` diameters is `MUNDEN_KW` widths long. */
const DIAMETER_WIDTHS = MUNDEN_KW / HAND_LOOP;

/** Most stitches that lie flat when drawn up. */
export const FLAT_CLOSING = Math.floor(2 * Math.PI * LOOP_REACH);

/** Null where nothing is drawn up, or a single stitch fastened off. */
export function closingOf(
  { ending, castOn, rounds, seam }: Pick<Plan, 'ending' | 'castOn' | 'rounds' | 'seam'>,
  stitchMm: number,
): Closing | null {
  const stitches = stitchesAtEnd({ castOn, rounds }) - (seam ? seam.begin + seam.end : 0);
  if (ending !== 'drawn-up' || stitches < 2) return null;
  return {
    stitches,
    besideMm: stitches * stitchMm,
    closedMm: 2 * stitches * DIAMETER_WIDTHS * stitchMm,
    puckers: stitches > FLAT_CLOSING,
  };
}

/** What is said of a closing that puckers; null of one that lies flat. */
export function closingReason(closing: Closing | null): string | null {
  if (!closing?.puckers) return null;
  return `The closing puckers: ${stitchCount(closing.stitches)} are drawn up, and up to ${FLAT_CLOSING} lie flat.`;
}

/** What is drawn up, before `closingLengths`. */
export function closingName(report: Pick<Report, 'shape'>): string {
  return turnsRound(report) ? 'Drawn up at the centre' : 'Drawn up at the end';
}

/** The same with its lengths, for the pattern and beside other figures. */
export function closingLengths({ besideMm, closedMm }: Closing, unit: LengthUnit): string {
  return `${bothUnits(besideMm, unit)} round, drawn up to about ${bothUnits(closedMm, unit)}`;
}
