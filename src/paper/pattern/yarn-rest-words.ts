/**
 * How yarn lies, in words: as laid, at rest, stopped on its way or not at rest and why; how near yarn comes to
 * yarn, and whether every loop passes through its stitches. For the page, its paper and the command line.
 */

import type { YarnRelaxation } from '../../rod/yarn-material.ts';
import { REST_FORCE } from '../../yarn/rest/relax-yarn.ts';
import type { YarnCurves } from '../../yarn/yarn-curves.ts';

/** What is known of a run: all of it, or where it was stopped. */
export type RestRecord = Pick<YarnRelaxation, 'converged' | 'reason' | 'residual' | 'iterations'>;

const REASONS: Readonly<Record<string, string>> = {
  'iteration-limit': 'the limit of steps was reached',
  stalled: 'some of it is caught and moves no further',
  'not-a-number': 'the numbers ran away',
};

export function restWords(record: RestRecord, curves: YarnCurves): string {
  return `${outcomeWords(record)} ${checkWords(curves)}`;
}

/** The same for who only looks at it: what came of it, and what is not to be trusted. */
export function restInShort(record: RestRecord, { check, radiusMm }: YarnCurves): string {
  const words = [`${outcome(record)}.`];
  if (check.minCentreDistanceMm / (2 * radiusMm) < CLEARLY_OVERLAPPING) words.push(`${OVERLAPS}.`);
  if (check.linksWrong > 0) words.push(linkWords(check));
  return words.join(' ');
}

function outcome({ converged, reason }: RestRecord): string {
  if (converged) return 'The yarn is at rest';
  if (reason === 'cancelled') return 'Stopped before the yarn came to rest';
  return `The yarn did not come to rest: ${REASONS[reason] ?? 'yarn would have passed through yarn'}`;
}

function outcomeWords(record: RestRecord): string {
  const { converged, reason, residual, iterations } = record;
  const left = `force left ${forceText(residual)}, at rest ${forceText(REST_FORCE)} or less`;
  const figures = converged ? `${iterations} steps, ${left}` : left;
  return `${outcome(record)}${converged || reason === 'cancelled' ? ':' : ';'} ${figures}.`;
}

const OVERLAPS = 'Somewhere yarn still lies in yarn';

/** How near the centre lines come, and the links. */
export function checkWords({ check, radiusMm }: YarnCurves): string {
  const apart = check.minCentreDistanceMm / (2 * radiusMm);
  const near = apart < CLEARLY_OVERLAPPING ? OVERLAPS : 'Yarn nowhere lies deep in yarn';
  return `${near}: the closest middles are ${apart.toFixed(2)} of its thickness apart. ${linkWords(check)}`;
}

function linkWords({ linksChecked, linksWrong }: YarnCurves['check']): string {
  return linksWrong === 0
    ? `All ${count(linksChecked)} links between stitches are as in the plan.`
    : `${count(linksWrong)} of ${count(linksChecked)} links between stitches are not as in the plan: do not trust the picture there.`;
}

/** Soft yarn is pressed where it crosses: squares at rest come to 0.9 of a thickness. Chosen with room. */
const CLEARLY_OVERLAPPING = 0.75;

/** Two figures, without an exponent. */
export function forceText(force: number): string {
  if (!Number.isFinite(force)) return '–';
  return Number(force.toPrecision(2)).toLocaleString('en', { maximumSignificantDigits: 2 });
}

/**
 * About how long it takes, from the timings in DEVELOPERS.md: 0.4 s at 144 stitches, 10 s at 4,548 on one core
 * of a shared machine; computers differ.
 */
export function restTimeWords(stitches: number): string {
  const seconds = 10 * (stitches / 4548) ** 0.8;
  if (seconds < 6) return 'a few seconds';
  if (seconds < 14) return 'about ten seconds';
  if (seconds < 45) return 'about half a minute';
  if (seconds < 90) return 'about a minute';
  return 'some minutes';
}

function count(n: number): string {
  return n.toLocaleString('en');
}
