/** The piece in words, for those who don't see the picture. */
import type { Plan } from '../../plan/plan.ts';
import { riseWords } from '../../report/words/table-words.ts';
import { POSTURE_WORDS } from '../../report/words/verdict-words.ts';
import type { KnittedSheet, LaidSheet } from '../../worker/messages.ts';
import { type Units, unitOf } from '../state/units.ts';

export function planSummary(plan: Plan): string {
  if (plan.castOn === 0) return '';
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'row' : 'round';
  return `${plan.castOn} sts cast on · ${rounds} ${rounds === 1 ? word : `${word}s`}`;
}

export function describePiece(laid: LaidSheet, knitted: KnittedSheet | null, units: Units): string {
  const { plan } = laid;
  const rounds = plan.rounds.length;
  const word = plan.worked === 'flat' ? 'rows' : 'rounds';
  const piece = `${plan.title || 'The piece'}: ${plan.castOn} stitches cast on, ${rounds} ${word}.`;
  if (!knitted || knitted.graph !== laid.graph) return `${piece} Still relaxing.`;
  const { verdict } = knitted.report;
  return `${piece} ${POSTURE_WORDS[verdict]} It rises ${riseWords(knitted.report, unitOf(units))}.`;
}

/** “today at 14:05” or “on 3 March at 14:05”. */
export function whenWords(at: number): string {
  const then = new Date(at);
  const time = then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const day = then.toLocaleDateString('en-GB', { day: 'numeric', month: 'long' });
  const today = then.toDateString() === new Date().toDateString();
  return `${today ? 'today' : `on ${day}`} at ${time}`;
}
