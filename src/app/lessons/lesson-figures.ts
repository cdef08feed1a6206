/** What was found for a picture of a lesson, in words: under it, beside its neighbour, and for those who hear it. */
import { lengthWords } from '../../report/words/length.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { CLOSED_MM } from '../close-up/measure-words.ts';
import { fineLengthText, fineLengthTold, fixed, type Units, unitOf } from '../state/units.ts';
import type { Band, Found } from './lesson.ts';

/** Short figures for under the picture. */
export function figures(found: Found, units: Units): string {
  if (found.kind === 'fabric') return fabricFigures(found.knitted, units);
  const { opening, ordinary, width } = found.closeUp;
  const mm = (value: number) => fineLengthText(value, units);
  if (width) {
    return `${mm(width.crossedMm)} wide; uncrossed ${mm(width.uncrossedMm)}: pulled in by ${fixed(width.percent, 0)} %`;
  }
  if (!opening || !ordinary) return '';
  return opening.diameterMm < CLOSED_MM
    ? `No opening; ordinary gap ${mm(ordinary.diameterMm)}`
    : `Opening ${mm(opening.diameterMm)}; ordinary gap ${mm(ordinary.diameterMm)}`;
}

function fabricFigures({ report, linked, graph, cells }: Band, units: Units): string {
  if (graph.join.halfTurns !== 0 || linked !== null) {
    const edges = cells.boundaries === 1 ? 'One edge' : `${cells.boundaries} edges`;
    if (linked === null) return edges;
    const times = Math.abs(Math.round(linked));
    const words =
      times === 0 ? 'not linked' : times === 1 ? 'linked once' : `linked ${times} times`;
    return `${edges}, ${words}`;
  }
  if (!report) return '';
  const rest = report.relaxation.converged ? '' : ' (did not come to rest)';
  return `${VERDICT_HEADLINES[report.verdict]}${rest}; rises ${lengthWords(report.riseMm, unitOf(units))}`;
}

/** How the opening of the second picture stands to that of the first; empty where there is none to compare. */
export function compared(first: Found | null, second: Found | null, units: Units): string {
  if (first?.kind !== 'yarn' || second?.kind !== 'yarn') return '';
  const a = first.closeUp.opening?.diameterMm;
  const b = second.closeUp.opening?.diameterMm;
  if (a === undefined || b === undefined || !(a >= CLOSED_MM)) return '';
  if (b < CLOSED_MM) return 'In the second picture no opening is left.';
  const percent = Math.round(100 * (1 - fineLengthTold(b, units) / fineLengthTold(a, units)));
  if (percent === 0) return 'Both pictures have the same opening.';
  return percent > 0
    ? `The opening of the second picture is ${percent} % narrower than that of the first.`
    : `The opening of the second picture is ${-percent} % wider than that of the first.`;
}
