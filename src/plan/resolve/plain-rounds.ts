/**
 * Plain rounds told in prose: "Knit 5 rounds", "work in rib for 3 cm". In: the clause, the piece. Out: rounds worked.
 */
import type { Tail, WorkClause } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import { sayRounds } from './clause-checks.ts';
import { noteLength, roundsFor } from './lengths.ts';
import { type RoundDef, unnumberedDef } from './round-defs.ts';
import type { Section } from './round-scope.ts';
import { groundSteps, spreadSteps } from './shaping-steps.ts';

type Plain = Extract<WorkClause, { kind: 'plain' }>;

/** The rounds of the clause; null where a length or count decides how many. */
export function plainDefs(clause: Plain, piece: WorkedPiece): RoundDef[] | null {
  if (clause.rounds === null) return null;
  const count = Math.min(clause.rounds * (clause.tail.times ?? 1), MOST_ROUNDS);
  return Array.from({ length: count }, (_, i) => plainDef(clause, i, i + 1 === count, piece));
}

export function plainDef(clause: Plain, i: number, last: boolean, piece: WorkedPiece): RoundDef {
  const { cycle } = clause;
  const steps =
    last && clause.last && clause.last.count !== null
      ? spreadSteps(clause.last, clause, cycle[Math.min(i, cycle.length - 1)][0])
      : inGround(cycle[Math.min(i, cycle.length - 1)], clause, piece);
  const def = unnumberedDef(
    clause,
    piece.inRound,
    i === 0 ? firstSteps(clause, steps, piece) : steps,
  );
  return clause.colour ? { ...def, colour: clause.colour } : def;
}

/** "Work 6 rounds" behind "work in garter stitch": in that fabric. Another that is named takes its place. */
function inGround(steps: readonly Step[], at: Plain, piece: WorkedPiece): readonly Step[] {
  const [step] = steps;
  if (steps.length !== 1 || step.kind !== 'pattern') return steps;
  if (step.rule !== 'set') piece.ground = null;
  return piece.ground && step.rule === 'set' ? groundSteps(piece.ground, at) : steps;
}

/** "Garter st, beginning with a purl round": the first is told, the others go on from it. */
function firstSteps({ tail }: Plain, steps: readonly Step[], piece: WorkedPiece): readonly Step[] {
  const [step] = steps;
  const [said] = tail.startWith.filter((w) => w === 'knit' || w === 'purl');
  if (!said || !piece.inRound || steps.length !== 1 || step.kind !== 'pattern') return steps;
  if (step.rule !== 'garter') return steps;
  const { amount, from, to } = step;
  return [{ kind: 'stitch', name: said === 'knit' ? 'k' : 'p', amount, from, to }];
}

export function workPlain(clause: Plain, piece: WorkedPiece, section: Section): void {
  const { tail } = clause;
  if (tail.open && clause.rounds === null && clause.lengthMm === null) {
    piece.sayNoEnd(clause);
    return;
  }
  // "Purl a round after every 5 rounds"
  if (tail.every !== null && tail.every > 1) {
    piece.sayNotFollowed(clause);
    return;
  }
  let { rounds } = clause;
  if (rounds === null) {
    const n = roundsFor(clause.lengthMm ?? 0, clause, piece);
    if (n === null) return;
    rounds = tail.fromStart ? Math.max(0, n - piece.rounds.length) : n;
  } else if (tail.untilMm !== null) {
    // "19 more rounds, or until the piece measures 5 cm": both have to come to the same.
    const n = roundsFor(tail.untilMm, clause, piece);
    if (n === null) return;
    const asked = tail.fromStart ? n - piece.rounds.length : n;
    if (Math.abs(asked - rounds) > 1) {
      piece.sayLost(
        'rounds-disagree',
        clause,
        `${rounds} rounds are told, but by the gauge that length takes ${asked}`,
        'Tell the rounds or the length.',
      );
      return;
    }
  } else if (tail.fromStart) {
    rounds = Math.max(0, rounds - piece.rounds.length);
  } else if (tail.total && section.next > 1) {
    // "Rows 1-2: … Moss stitch for 38 rows in all"
    rounds = Math.max(0, rounds - section.worked);
  } else if (tail.times !== null) rounds *= tail.times;
  const start = piece.rounds.length;
  let i = 0;
  for (; i < rounds && piece.goesOn; i++) piece.work(plainDef(clause, i, i + 1 === rounds, piece));
  // "ending with a purl round"
  for (
    let more = 0;
    more < 4 && tail.endWith && piece.goesOn && !piece.endsWith(tail.endWith);
    more++
  ) {
    piece.work(plainDef(clause, i++, false, piece));
  }
  if (tail.endWith && !('number' in tail.endWith) && piece.goesOn && !piece.endsWith(tail.endWith))
    piece.sayNotFollowed(clause);
  if (clause.rounds === null) noteLength(piece.rounds.length - start, clause, piece);
  const told = clause.rounds === null || clause.lengthMm !== null ? null : numberTold(tail);
  if (told !== null && ![rounds, piece.rounds.length, section.worked + rounds].includes(told))
    sayRounds(told, `this makes ${rounds}, ${piece.rounds.length} in all so far`, clause, piece);
  const target = piece.targetOf(tail);
  if (target !== null && target !== piece.count) {
    piece.sayMissed(
      target,
      clause,
      'repeat-never-ends',
      `plain rounds never leave ${stitches(target)}`,
    );
  }
}

/** "Knit 10 rounds. After the 5th round, …": behind which round of them it is. */
function numberTold({ untilRounds, endWith }: Tail): number | null {
  return untilRounds ?? (endWith && 'number' in endWith ? endWith.number : null);
}
