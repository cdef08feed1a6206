/**
 * Steps that are worked once for every side, needle or marked section of a round. Input: the bracket and
 * where its scope stops. Output: the steps worked over each share in turn; shares that are unequal or
 * don't come out are said.
 */
import { type Amount, type GroupStep, isTarget } from '../grammar/steps/steps.ts';
import { workAroundMarkers } from './around-markers.ts';
import type { RoundContext } from './round-context.ts';
import { stitches } from './round-problems.ts';

/** `Needle 1: … Needle 2: …`: equal shares up to `stop`, one after the other. */
export function workParts(groups: readonly GroupStep[], stop: number, round: RoundContext): void {
  const { tape, problems } = round;
  const room = Math.max(0, stop - tape.at);
  const start = tape.at;
  for (let i = 0; i < groups.length; i++) {
    const limit = start + Math.floor(((i + 1) * room) / groups.length);
    round.work(groups[i].steps, limit, 0);
  }
  if (room % groups.length) {
    problems.error(
      { from: groups[0].from, to: groups[groups.length - 1].to },
      'sides-unequal',
      `${stitches(room)} can't be shared equally by ${groups.length} needles`,
    );
  }
}

/**
 * A bracket with "to last 2 sts" in it: each time to the end of one side. `times`: how often, null
 * where the round tells.
 */
export function workSides(
  step: GroupStep,
  times: number | null,
  stop: number,
  round: RoundContext,
): void {
  const { tape, markers, problems, setting } = round;
  if (workAroundMarkers(step, times, stop, round)) return;
  const sections = markers.sectionEnds(stop);
  const slips = step.steps.some((s) => s.kind === 'marker' && s.action === 'slip');
  const byMarkers = sections.length > 1 && (times === null || sections.length === times || slips);
  const n =
    times ?? (byMarkers ? sections.length : (setting.sides ?? step.sides ?? markers.markedCount));
  if (n === null) {
    problems.error(
      step,
      'sides-unknown',
      'it is not said how many sides the round has',
      'Say it once: "Sides: 4", "Cast on 120 sts (30 sts each side)", or place a marker at every corner.',
    );
    round.work(step.steps, stop, 0);
    return;
  }
  if (byMarkers) {
    for (let i = 0; i < n && !tape.busy(); i++) {
      const end = markers.sectionEnds(stop)[0] ?? stop;
      round.work(step.steps, end, 0);
      comesOut(step, end, round);
    }
    return;
  }
  // "knit to 1 st before the marked stitch, s2kp, at each of them": from one of them to the next.
  const toMiddle = (a: Amount): boolean =>
    isTarget(a) &&
    (a.kind === 'centre' || (a.corner === true && markers.markedAhead(a.count) !== null));
  if (step.steps.some((s) => 'amount' in s && toMiddle(s.amount)) && !fillsSide(step)) {
    for (let i = 0; i < n && !tape.busy(); i++) round.work(step.steps, stop, 0);
    return;
  }
  const start = tape.at;
  const room = Math.max(0, stop - start);
  const share = Math.floor(room / n);
  if (room % n) {
    const over = room % n;
    problems.error(
      step,
      'sides-unequal',
      `${stitches(room)} can't be shared equally by ${n} sides: ${over} too many or ${n - over} too few`,
      `${n} sides of ${share} would be ${share * n}, of ${share + 1} would be ${(share + 1) * n}.`,
    );
  }
  for (let i = 0; i < n && !tape.busy(); i++) {
    if (tape.beyond) break;
    const end = start + (i + 1) * share;
    round.work(step.steps, end, 0);
    if (!comesOut(step, end, round)) break;
  }
}

/** The last of the steps goes to the end of the side. */
function fillsSide({ steps }: GroupStep): boolean {
  const last = steps.at(-1);
  return last !== undefined && 'amount' in last && isTarget(last.amount);
}

/** True where a side has been worked up to its `end` and no further; else the first such is said. */
function comesOut(step: GroupStep, end: number, round: RoundContext): boolean {
  const { tape, problems } = round;
  const d = tape.at - end;
  if (d === 0) return true;
  if (!tape.beyond && !problems.failed) {
    problems.error(
      step,
      'side-does-not-fit',
      d > 0
        ? `each side works ${stitches(d)} too many`
        : `each side leaves ${stitches(-d)} unworked`,
      'The number after "to last" must be the stitches that the steps behind it work.',
    );
  }
  return false;
}
