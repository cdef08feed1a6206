/**
 * Rounds worked again and again: so many times, or until so many stitches remain; the round a repeat has to
 * end with. In: definitions, the piece. Out: rounds worked, and a diagnostic where the count is never met.
 */
import type { EndRound, RoundsRef, Tail } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import { stitches } from '../work/round-problems.ts';
import { MOST_ROUNDS, type WorkedPiece } from '../work/worked-piece.ts';
import type { RoundDef } from './round-defs.ts';

/** The rounds of so many repeats, as far as a piece can hold them. */
export function repeated(defs: readonly RoundDef[], times: number): RoundDef[] {
  const out: RoundDef[] = [];
  for (let i = 0; i < Math.min(times, MOST_ROUNDS) && out.length < MOST_ROUNDS; i++)
    out.push(...defs);
  return out;
}

/** Index of the round that a repeat has to end with; −1 where it may end with any. */
export function endIndex(
  end: EndRound | null,
  which: RoundsRef,
  defs: readonly RoundDef[],
): number {
  if (!end) return -1;
  if ('letter' in end) return which.kind === 'letters' ? which.names.indexOf(end.letter) : -1;
  if ('nth' in end) return end.nth <= defs.length ? end.nth - 1 : -1;
  if ('item' in end) return -1;
  if ('without' in end) {
    const at = end.without ? endIndex(end.without, which, defs) : defs.length - 1;
    return at > 0 && at === defs.length - 1 ? at - 1 : -1;
  }
  if ('number' in end) {
    if (which.kind === 'numbers') return which.numbers.indexOf(end.number);
    return defs.findLastIndex((d) => d.label.replace(/ \(.*$/, '').endsWith(` ${end.number}`));
  }
  const whole = (steps: readonly Step[], name: string): boolean =>
    steps.length === 1 &&
    (steps[0].kind === 'stitch'
      ? steps[0].name === name
      : steps[0].kind === 'pattern' && steps[0].rule.startsWith(`${name},`));
  return defs.findLastIndex((d) => {
    if (end.like === 'knit') return whole(d.steps, 'k');
    if (end.like === 'purl') return whole(d.steps, 'p');
    if (end.like === 'RS' || end.like === 'WS') return d.side === end.like;
    if (end.like === 'even' || end.like === 'odd')
      return Number(/\d+/.exec(d.label)?.[0]) % 2 === (end.like === 'even' ? 0 : 1);
    return isPlain(d.steps) === (end.like === 'plain');
  });
}

/**
 * "Then round 3 once more, without round 4": what is left out is none of these, or no pass that there is goes without it
 * ("the 5th time" of four). In: how often they are worked, those worked before among them; null where a count decides.
 */
export function leavesOut(
  end: EndRound | null,
  which: RoundsRef,
  times: number | null,
  defs: readonly RoundDef[],
): 'nothing' | 'last' | 'none-such' {
  if (!end || !('without' in end)) return 'nothing';
  const { without, time, always } = end;
  // "Do step 3 once more, without the knit round" that step 4 is
  if (defs.length === 1 && without && endIndex(without, which, defs) < 0) return 'nothing';
  if (which.kind === 'numbers' && without && 'number' in without)
    if (!which.numbers.includes(without.number)) return 'nothing';
  if (time !== null && time !== times) return 'none-such';
  return always && times !== null && times > 1 ? 'none-such' : 'last';
}

/** Nothing but stitches worked as they come, in however many parts. */
function isPlain(steps: readonly Step[]): boolean {
  return steps.every((s) => {
    if (s.kind === 'group') return isPlain(s.steps);
    if (s.kind === 'stitch') return s.name === 'k' || s.name === 'p';
    return s.kind === 'pattern' || s.kind === 'marker';
  });
}

/** So many rounds, the definitions in turn. */
export function repeatRounds(piece: WorkedPiece, defs: readonly RoundDef[], rounds: number): void {
  for (let i = 0; i < rounds && piece.goesOn; i++) piece.work(defs[i % defs.length]);
}

export function repeatTimes(piece: WorkedPiece, defs: readonly RoundDef[], times: number): void {
  for (let i = 0; i < times && piece.goesOn; i++) piece.workAll(defs);
}

/**
 * Works the rounds in turn until `target` stitches remain and gives the place in their cycle of the last one worked;
 * where `lastOne` is no less than 0, only behind that one of them.
 */
export function repeatUntil(
  piece: WorkedPiece,
  defs: readonly RoundDef[],
  target: number,
  lastOne: number,
  at: Place,
): number {
  const start = piece.count;
  const up = target > start;
  const reached = (): boolean => (up ? piece.count >= target : piece.count <= target);
  let last = defs.length - 1;
  if (start === target) {
    sayReached(target, at, piece);
    return last;
  }
  for (;;) {
    const before = piece.count;
    for (let i = 0; i < defs.length; i++) {
      if (piece.stopped) return last;
      piece.work(defs[i]);
      last = i;
      if (reached() && (lastOne < 0 || lastOne === i)) break;
    }
    // "…, ending with row 1", where row 2 has come to the count
    if (reached() && last > lastOne && lastOne >= 0) piece.workAll(defs.slice(0, lastOne + 1));
    if (reached()) break;
    if (!comesNearer(before, piece.count, up)) {
      piece.sayMissed(
        target,
        at,
        'repeat-never-ends',
        `these rounds take the count from ${before} to ${piece.count}: ${target} would never be reached`,
        'Check that the repeated rounds decrease (or increase) as meant.',
      );
      return last;
    }
  }
  if (piece.count !== target) {
    piece.sayMissed(
      target,
      at,
      'repeat-misses-count',
      `repeating these rounds never leaves ${stitches(target)}: the count goes past it to ${piece.count}`,
      'Check the count before the repeat, or the number that should remain.',
    );
  }
  return last;
}

/** Nothing is left to be worked: what is asked for would be lost. */
export function sayReached(target: number, at: Place, piece: WorkedPiece): void {
  piece.sayMissed(
    target,
    at,
    'repeat-reached',
    `this is to go on until there are ${stitches(target)}, but so many are there already: nothing of it is worked`,
    'Check the number that should remain.',
  );
}

/** The count has changed, and in the direction that is wanted. */
export function comesNearer(before: number, after: number, up: boolean): boolean {
  return up ? after > before : after < before;
}

/** "6 times, for 12 rounds", "6 times more, for 14 rounds in all": these are told, or those worked before with them; else false, and said. */
export function roundsAddUp(
  { times: told, more, forRounds }: Tail,
  rounds: number,
  worked: number,
  clause: Place,
  piece: WorkedPiece,
): boolean {
  const times = told ?? 1;
  const all = times * rounds;
  if (forRounds === null || forRounds === all || (more && forRounds === all + worked * rounds))
    return true;
  const message = `${times} times ${rounds} ${rounds === 1 ? 'round' : 'rounds'} are ${all}, not ${forRounds} rounds`;
  piece.sayLost('rounds-disagree', clause, message);
  return false;
}
