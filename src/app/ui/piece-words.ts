/** The piece in words, for those who don't see the picture. */
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { lengthText, type Units } from '../state/units.ts';

export function describePiece(laid: LaidSheet, knitted: KnittedSheet | null, units: Units): string {
  const { plan } = laid;
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'rows' : 'rounds';
  const piece = `${plan.title || 'The piece'}: ${plan.castOn} stitches cast on, ${rounds} ${word}.`;
  if (!knitted || knitted.graph !== laid.graph) return `${piece} Still relaxing.`;
  const { verdict, riseMm } = knitted.report;
  const posture: Record<typeof verdict, string> = {
    flat: 'It lies flat on the table.',
    'flat after blocking': 'It lies almost flat.',
    cups: 'It stands up as a cup.',
    ruffles: 'Its rim waves up and down.',
  };
  return `${piece} ${posture[verdict]} It rises ${lengthText(riseMm, units)}.`;
}
