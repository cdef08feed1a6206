/**
 * How the piece begins and ends: cast-on, join, the hole of a centre, bind-off; what suits this plan.
 * In: a Plan. Out: the sentence of the pattern (read back by the plan reader) and how it is done.
 * Common practice throughout: long-tail cast-on for edges, a ring for centres, an elastic bind-off for rims.
 */
import type { Plan } from '../../plan/plan.ts';
import { stitchCount } from '../../report/words/counts.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';

/** A piece that begins with so few stitches and grows begins at a centre. Chosen: more leave a hole by design. */
const MOST_IN_A_CENTRE = 16;

export function growsFromCentre(plan: Plan): boolean {
  return plan.worked === 'round' && beginsSmall(plan);
}

/** Flat work from the centre: its first edge is drawn together when it is sewn up. */
export function opensAtCentre(plan: Plan): boolean {
  return plan.worked === 'flat' && plan.seam !== null && beginsSmall(plan);
}

function beginsSmall(plan: Plan): boolean {
  const widest = Math.max(plan.castOn, ...plan.rounds.map((round) => round.after));
  return plan.castOn <= MOST_IN_A_CENTRE && widest >= 2 * plan.castOn;
}

/** The cast-on as the pattern says it. */
export function castOnLines(plan: Plan): string[] {
  const sts = stitchCount(plan.castOn);
  if (plan.worked === 'flat')
    return [
      `Cast on ${sts} with a long-tail cast-on, not tightly${opensAtCentre(plan) ? ', leaving a long end for the centre' : ''}.`,
    ];
  if (growsFromCentre(plan))
    return [
      `Cast on ${sts} with a closed-centre cast-on. Join in the round and place a marker of another colour for the start of the round.`,
    ];
  return [
    `Cast on ${sts} with a long-tail cast-on, not tightly. Join in the round and place a marker of another colour for the start of the round.`,
  ];
}

/** How a closed centre is begun, and what it saves. `stitchMm` null where it is not known. */
export function castOnNotes(plan: Plan, stitchMm: number | null, unit: LengthUnit): string[] {
  if (!growsFromCentre(plan)) return [];
  const lines = [
    'Closed-centre cast-on: lay the yarn in a ring with its end hanging down. With the needle or a crochet hook draw a loop up through the ring, then a loop through that one, which makes a stitch; go on until all are made. Work two or three rounds, then pull the end: the ring closes. Fasten the end well, or the centre opens again.',
  ];
  if (stitchMm !== null) {
    const holeMm = (plan.castOn * stitchMm) / Math.PI;
    lines.push(
      `An ordinary edge of ${stitchCount(plan.castOn)} would leave a hole of about ${bothUnits(holeMm, unit)}.`,
    );
  }
  return lines;
}

/** The end as the pattern says it; American words. */
export function endingLines(plan: Plan, marked: boolean): string[] {
  const markers = marked ? ', removing the markers' : '';
  if (plan.ending === 'drawn-up')
    return [`Cut the yarn, leaving a long end, and draw it through the remaining sts${markers}.`];
  if (plan.ending === 'bound-off') return [`Bind off all sts loosely${markers}.`];
  return [];
}

export function endingNotes(plan: Plan): string[] {
  if (plan.ending !== 'bound-off') return [];
  return [
    'A tight edge would draw the rim in: bind off with a needle one or two sizes larger, or with an elastic method, such as knitting two together through the back loops and putting the stitch back on the left needle each time.',
  ];
}
