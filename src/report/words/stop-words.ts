/** Why a fabric did not come to rest, in words. In: the solver's reason. Out: the words for it. */
import type { StopReason } from '../../relax/relaxed-sheet.ts';

export const STOP_WORDS: Readonly<Record<StopReason, string>> = {
  converged: 'at rest',
  'iteration-limit': 'the limit of steps was reached',
  cancelled: 'stopped by you',
  stalled: 'no further progress was made',
  'not-a-number': 'the numbers ran away',
};
