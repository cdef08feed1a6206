/** Lengths told in a plan, as rounds at its gauge. In: mm, the place of the words. Out: a number of rounds, and what is said of it. */
import { type Place, trimmed } from '../lex/source.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';

/** Rounds that are `mm` high, or null (and said so) without a gauge. */
export function roundsFor(mm: number, at: Place, { roundMm, found }: WorkedPiece): number | null {
  if (roundMm === null) {
    found.error(
      'length-without-gauge',
      at,
      'a length is given, but no gauge says how many rounds that is',
      'Add a line such as: Gauge: 22 sts and 30 rounds = 10 cm.',
    );
    return null;
  }
  return Math.max(1, Math.round(mm / roundMm));
}

/** Says how many rounds a length was taken for. */
export function noteLength(
  rounds: number,
  at: Place,
  { inRound, found, source }: WorkedPiece,
): void {
  const what = inRound ? 'round' : 'row';
  const message = `at the stated gauge this is ${rounds} ${what}${rounds === 1 ? '' : 's'}`;
  found.note('length-in-rounds', trimmed(source, at), message);
}
