/** Why the verdict is what it is, in a sentence or two; lengths are left to the figures beside them. */

import { closingReason } from './closing.ts';
import type { Posture } from './posture.ts';
import type { PlanReport, RoundReport } from './report.ts';
import type { RimAngle } from './rim-angle.ts';
import { isLevel, type Judgement } from './verdict.ts';
import { courseWords } from './words/course-words.ts';
import { liesFlat } from './words/verdict-words.ts';

/** A rise of at most this share of the side is a little one. Chosen: 2 cm in 20. */
const LITTLE = 0.1;
/** Of what is pressed flat, the share below which rounds that turn too fast or too slowly do not account for it. Chosen. */
const ACCOUNTED = 0.5;
/** Girths that differ by less are as good as equal, share. Chosen: as much as blocking evens out. */
const UNEVEN = 0.03;

export function explain(
  judged: Judgement,
  angle: RimAngle,
  posture: Posture,
  laid: Posture | null,
  plan: PlanReport,
): string[] {
  const closing = angle.round && liesFlat(judged.verdict) ? closingReason(plan.closing) : null;
  const reasons = [...why(judged, angle, posture, plan), ...(closing ? [closing] : [])];
  const held = laid !== null && isLevel(laid) && !isLevel(posture);
  if (!held) return reasons;
  return [
    ...reasons,
    liesFlat(judged.verdict)
      ? `Picked up it stands up${posture.riseMm <= LITTLE * posture.sideMm ? ' a little' : ''}; on the table its own weight lays it flat.`
      : 'On the table its own weight holds it down; picked up, it stands up again.',
  ];
}

function why(
  { verdict, misfit }: Judgement,
  angle: RimAngle,
  posture: Posture,
  plan: PlanReport,
): string[] {
  const { one, many, Many, change, changed } = courseWords(plan);
  if (verdict === 'tube')
    return angle.girthSpread > UNEVEN
      ? [
          `This is a tube and does not close; its longest ${many} are ${(100 * angle.girthSpread).toFixed(0)} % longer than its shortest.`,
        ]
      : [`The ${many} hardly change in length: this is a tube and does not close.`];
  if (verdict === 'twisted band')
    return [
      'The cast-on is twisted: this cannot be undone except by ripping back to the cast-on.',
      'The shape as drawn does not feel itself: the band may pass through itself where fabric could not.',
    ];
  if (!angle.round) return explainOpen(verdict);
  const turn = `The ${many} make ${((180 * angle.coneAngleRad) / Math.PI).toFixed(0)}° round the centre; flat is 360°.`;
  const percent = Math.abs(angle.surplus * 100).toFixed(1);
  const sign = angle.surplus < 0 ? 'short' : 'long';
  switch (verdict) {
    case 'flat':
      return [turn];
    case 'flat after blocking':
      if (isLevel(posture))
        return [
          turn,
          `The rim is ${percent} % too ${sign}: the fabric is stiff enough to take that up.`,
        ];
      if (Math.max(angle.slow, angle.fast) < ACCOUNTED * misfit)
        return [
          turn,
          `Along a ${one} some parts are too long for others, as much as a rim ${(100 * misfit).toFixed(1)} % off: blocking evens that out.`,
        ];
      if (misfit > Math.abs(angle.surplus) + 1e-12)
        return [
          turn,
          `Some ${many} ${change} a little too fast and others too slowly, as much as a rim ${(100 * misfit).toFixed(1)} % off: blocking evens that out.`,
        ];
      return [turn, `The rim is ${percent} % ${sign}: blocking evens that out.`];
    case 'cups':
      return [
        turn,
        `The rim is ${percent} % too short: too few stitches are ${changed} for its depth, so the middle stands up.`,
      ];
    case 'ruffles':
      return [
        turn,
        `The rim is ${percent} % too long: too many stitches are ${changed} for its depth, so the rim has to wave${wavesWords(posture)}.`,
      ];
    case 'buckles':
      return [
        turn,
        `${Many.slice(0, -1)} for ${one} that is about flat, but along a ${one} some parts are too long for others: it buckles there.`,
      ];
    default:
      return [turn, mixed(verdict, plan), 'The two do not make up for each other.'];
  }
}

function explainOpen(verdict: Judgement['verdict']): string[] {
  if (verdict === 'buckles')
    return [
      'Worked flat and left open; some rows are too long or too short for those beside them, so it cannot lie flat.',
    ];
  if (verdict === 'flat after blocking')
    return ['Worked flat and left open; some rows are a little off: blocking evens that out.'];
  return ['Worked flat and left open: nothing forces it to cup or ruffle.'];
}

function wavesWords({ hills }: Posture): string {
  if (hills < 2) return '';
  return hills === 2 ? ': two hills and two valleys, like a saddle' : `, in ${hills} hills`;
}

/** Which rounds are to blame for what, where some are too fast and others too slow. */
function mixed(verdict: Judgement['verdict'], plan: PlanReport): string {
  const { rounds } = plan;
  const { many, Many } = courseWords(plan);
  const slow = spanOf(rounds, 'slow');
  const fast = spanOf(rounds, 'fast');
  const effect =
    verdict === 'cup inside, ruffled rim'
      ? 'the middle stands up and the rim waves'
      : verdict === 'saddle'
        ? 'the middle has too much, and the whole piece bends like a saddle'
        : 'the middle waves and the rim draws in';
  return `${Many} ${fast} change too fast and ${many} ${slow} too slowly: ${effect}.`;
}

function spanOf(rounds: readonly RoundReport[], pace: RoundReport['pace']): string {
  const runs: [number, number][] = [];
  for (const { n, pace: own } of rounds) {
    if (own !== pace) continue;
    const last = runs[runs.length - 1];
    if (last && last[1] === n - 1) last[1] = n;
    else runs.push([n, n]);
  }
  // The longest say it best.
  const most = runs.toSorted((a, b) => b[1] - b[0] - (a[1] - a[0])).slice(0, 2);
  most.sort((a, b) => a[0] - b[0]);
  return most.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(' and ');
}
