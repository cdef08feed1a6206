/**
 * The finished size in words: blocked where the piece lies flat, and how it stands where it does not.
 * In: the measured side, mm, shape and verdict. Out: lines of the pattern, and the size to block to.
 */
import type { Extents, Report, TubeSize } from '../../report/report.ts';
import type { Verdict } from '../../report/verdict.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';
import { acrossWords, tubeWords } from '../../report/words/size-fact.ts';
import { liesFlat, POSTURE_WORDS } from '../../report/words/verdict-words.ts';

export interface FinishedSize {
  /** Side (disc: diameter), mm; null where it is not known. */
  readonly sizeMm: number | null;
  readonly shape: string;
  /** Of an open piece. */
  readonly extents?: Extents | null;
  readonly tube?: TubeSize | null;
  /** Null where nothing is known of how it stands. */
  readonly verdict: Verdict | null;
  /** All round its rim, mm, of a piece with sides. */
  readonly rimMm?: number | null;
  /** Whether panels along its corners cut them off. */
  readonly cut?: boolean;
  /** Its width, where that is not its side. */
  readonly across?: Pick<Report, 'acrossMm' | 'corners' | 'verdict'>;
}

/** What a pattern says of the size and stand of a piece: nothing of one that did not come to rest. */
export function finishedSize(report: Report): FinishedSize {
  const { shape, corners, sideMm, extents, tube, verdict, relaxation, cutStitches } = report;
  if (!relaxation.converged) return { sizeMm: null, shape, verdict: null };
  const sized = corners >= 3 || shape === 'disc';
  const cut = cutStitches > 0;
  const rimMm = corners >= 3 ? corners * sideMm : null;
  const across = { acrossMm: report.acrossMm, corners, verdict };
  return { sizeMm: sized ? sideMm : null, shape, extents, tube, verdict, rimMm, cut, across };
}

export function sizeLines(size: FinishedSize, units: LengthUnit): string[] {
  const { verdict } = size;
  const words = sizeWords(size, units);
  if (words === null) return [];
  if (verdict === null || verdict === 'tube') return [words];
  if (liesFlat(verdict)) return [`${words}, blocked`];
  return [`${words}, as knitted. ${POSTURE_WORDS[verdict]} Blocking does not make it flat.`];
}

/** What to ease the piece to; null where it does not lie flat. */
export function blockTo(size: FinishedSize, units: LengthUnit): string | null {
  if (size.verdict === null || !liesFlat(size.verdict)) return null;
  return sizeWords(size, units);
}

function sizeWords(
  { sizeMm, shape, verdict, extents, tube, rimMm, cut, across }: FinishedSize,
  units: LengthUnit,
): string | null {
  if (extents)
    return `${bothUnits(extents.widthMm, units)} wide, ${bothUnits(extents.lengthMm, units)} long`;
  if (tube) return tubeWords(tube, (mm) => bothUnits(mm, units));
  if (!sizeMm) return null;
  const long = bothUnits(sizeMm, units);
  if (shape === 'disc') return `${long} across`;
  // A piece that does not lie flat is no square.
  const flat = verdict === null || liesFlat(verdict);
  const width = across ? acrossWords(across, (mm) => bothUnits(mm, units)) : null;
  const wide = width ? `, ${width}` : '';
  if (cut) return `${long} along each side and the panel at its corner${wide}`;
  if (shape === 'square' && flat) return `${long} square`;
  // What holds an egg or a head is told by its edge.
  const edge = verdict === 'cups' && rimMm ? `, ${bothUnits(rimMm, units)} round its edge` : '';
  return `${long} along each side${edge}${wide}`;
}

/** `Square`, `Hexagon`: a heading for a piece that has no name. */
export function shapeName(shape: string, sides: number): string {
  const known =
    shape ||
    ['', '', '', 'triangle', 'square', 'pentagon', 'hexagon', '', 'octagon'][sides] ||
    'piece';
  const name = known === 'flat piece' ? 'piece' : known;
  return name[0].toUpperCase() + name.slice(1);
}
