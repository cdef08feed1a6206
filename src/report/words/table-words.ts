/** How the piece lies on the table and pinned out flat, in words. In: report, unit. Out: phrases. */
import type { Report } from '../report.ts';
import { type LengthUnit, lengthWords } from './length.ts';
import { liesFlat } from './verdict-words.ts';

/** What rises less lies on the table, settled or not, mm. */
const LYING_MM = 1;

/** What stands before `pinnedWords`: it does not say that the piece stays flat once the pins are out. */
export const PINNED_FLAT = 'Pinned flat, dried';

type Lies = Pick<Report, 'riseMm' | 'weightlessRiseMm' | 'lying' | 'blocked'>;

/** Rise as it lies: `1.5 cm`, `about 8 cm` where it had not quite settled. */
export function riseWords({ riseMm, lying }: Lies, unit: LengthUnit): string {
  const rise = lengthWords(riseMm, unit);
  return lying && !lying.converged && riseMm >= LYING_MM ? `about ${rise}` : rise;
}

/**
 * How it stands, beside its verdict: `rises 1.5 cm`. Of a piece that does not lie flat though its weight holds it down
 * `rises 0 mm on the table, 1.8 cm picked up`, as no cup rises by nothing.
 */
export function standWords(report: Lies & Pick<Report, 'verdict'>, unit: LengthUnit): string {
  const rise = `rises ${riseWords(report, unit)}`;
  const heldDown = report.lying !== null && report.riseMm < LYING_MM && !liesFlat(report.verdict);
  return heldDown
    ? `${rise} on the table, ${lengthWords(report.weightlessRiseMm, unit)} picked up`
    : rise;
}

/** Of a piece that does not stay flat; of one that does, its finished size is the size to block it to. */
export function pinnedWords(
  report: Lies & Pick<Report, 'verdict'>,
  unit: LengthUnit,
): string | null {
  return liesFlat(report.verdict) ? null : blockedWords(report, unit);
}

/** `20.5 cm, its rim stretched by 2 %`; null for pieces that are not pinned out. */
export function blockedWords({ blocked }: Lies, unit: LengthUnit): string | null {
  if (!blocked) return null;
  const side = lengthWords(blocked.sideMm, unit);
  const percent = Math.round(Math.abs(blocked.rimStretchPercent));
  if (percent === 0) return side;
  return `${side}, its rim ${blocked.rimStretchPercent > 0 ? 'stretched' : 'gathered'} by ${percent} %`;
}
