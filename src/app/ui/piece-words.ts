/** The piece in words, for those who don't see the picture. */
import { POSTURE_WORDS } from '../../report/words/verdict-words.ts';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { lengthText, type Units } from '../state/units.ts';

export function describePiece(laid: LaidSheet, knitted: KnittedSheet | null, units: Units): string {
  const { plan } = laid;
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'rows' : 'rounds';
  const piece = `${plan.title || 'The piece'}: ${plan.castOn} stitches cast on, ${rounds} ${word}.`;
  if (!knitted || knitted.graph !== laid.graph) return `${piece} Still relaxing.`;
  const { verdict, riseMm } = knitted.report;
  return `${piece} ${POSTURE_WORDS[verdict]} It rises ${lengthText(riseMm, units)}.`;
}
