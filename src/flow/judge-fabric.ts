/**
 * The verdict alone, for what hands a plan over without showing its fabric: relaxed no further than that takes.
 * In: Prepared. Out: the word that `relax` gives, and whether it is that of a fabric at rest.
 */
import { measureRimAngle } from '../report/rim-angle.ts';
import { type Verdict, wordOfRounds } from '../report/verdict.ts';
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import type { Prepared } from './prepare.ts';
import { type KnitOptions, relax } from './relax-prepared.ts';

export interface VerdictAlone {
  readonly verdict: Verdict;
  readonly relaxation: { readonly converged: boolean };
}

export function judgeFabric(prepared: Prepared, options: KnitOptions = {}): VerdictAlone {
  const { graph, measured } = prepared;
  const told = wordOfRounds(measureRimAngle(measured), graph.loops, DEFAULT_BANDS);
  if (told) return { verdict: told, relaxation: { converged: true } };
  const { verdict, relaxation } = relax(prepared, {
    ...options,
    advise: false,
    unlaid: true,
  }).report;
  return { verdict, relaxation };
}
