/**
 * Stitches told for both sides of every marker: "knit to 3 sts before the marker, k2tog, k1, slip it, k1, ssk, at each of
 * them". In: the bracket, where its scope stops. Out: the round worked so; where it begins at a marker itself, what is told
 * behind the marker begins it, and what is told before one ends it.
 */
import { type GroupStep, isTarget, type Step } from '../grammar/steps/steps.ts';
import { stitchKind } from '../stitches/table.ts';
import type { RoundContext } from './round-context.ts';

interface AroundMarker {
  /** The run up to the marker, and the stitches just before it. */
  readonly before: readonly Step[];
  readonly behind: readonly Step[];
}

/** The steps parted at the marker; null where none are worked behind it. */
function partedAtMarker(steps: readonly Step[]): AroundMarker | null {
  const at = steps.findIndex(
    (s) => 'amount' in s && isTarget(s.amount) && s.amount.kind === 'marker',
  );
  const run = steps[at];
  if (at !== 0 || !('amount' in run) || !isTarget(run.amount)) return null;
  let left = run.amount.count;
  const before: Step[] = [run];
  const behind: Step[] = [];
  // Yarn overs and the like just before it take no stitch.
  const slip = steps.findIndex((s) => s.kind === 'marker');
  if (left === 0 && slip > 1) before.push(...steps.slice(1, slip));
  for (const s of steps.slice(left === 0 ? Math.max(1, slip) : 1)) {
    if (s.kind === 'marker') {
      // It has to be the one that the run goes up to.
      if (s.action !== 'slip' || left > 0) return null;
      continue;
    }
    const kind = s.kind === 'stitch' ? stitchKind(s.name) : null;
    if (s.kind !== 'stitch' || !kind || !('times' in s.amount)) return null;
    const { times } = s.amount;
    const room = kind.consumes === 0 ? times : Math.floor(left / kind.consumes);
    const first = Math.min(times, left > 0 ? room : 0);
    if (first < times && left > first * kind.consumes) return null;
    left -= first * kind.consumes;
    if (first > 0) before.push({ ...s, amount: { times: first } });
    if (first < times) behind.push({ ...s, amount: { times: times - first } });
  }
  return left === 0 && behind.length > 0 ? { before, behind } : null;
}

/** "ssk, work to the last 2, k2tog" of each side, as it lies about a marker: the run up to it, k2tog, and ssk behind it. */
function turnedToMarker({ steps }: GroupStep): readonly Step[] | null {
  const at = steps.findIndex((s) => 'amount' in s && isTarget(s.amount));
  const run = steps[at];
  if (at < 1 || !run || !('amount' in run) || !isTarget(run.amount)) return null;
  if (!/^(?:end|rest)$/.test(run.amount.kind)) return null;
  const [first, last] = [steps.slice(0, at), steps.slice(at + 1)];
  let count = 0;
  for (const s of [...first, ...last]) {
    if (s.kind !== 'stitch' || !('times' in s.amount)) return null;
    const kind = stitchKind(s.name);
    if (!kind) return null;
    if (last.includes(s)) count += kind.consumes * s.amount.times;
  }
  if (last.length === 0 || count === 0) return null;
  return [{ ...run, amount: { kind: 'marker', count } }, ...last, ...first];
}

/** "… Repeat at all 4 markers", no repeat that stitches to the end follow. */
const told = (step: GroupStep): boolean => step.eachSide || !('times' in step.amount);

/** Works the bracket at every marker up to `stop`; false where it is told otherwise. */
export function workAroundMarkers(
  step: GroupStep,
  times: number | null,
  stop: number,
  round: RoundContext,
): boolean {
  const { tape, markers } = round;
  if (tape.at !== 0) return false;
  const ends = markers.sectionEnds(stop);
  if (ends.length < 2) return false;
  const lengths = ends.map((end, i) => end - (ends[i - 1] ?? 0));
  const atMarker = lengths.every((n) => n === lengths[0]);
  // The round begins within a side, whose parts are as long as the others.
  const within = !atMarker && lengths[0] + lengths[ends.length - 1] === lengths[1];
  const turned = within && step.eachSide ? turnedToMarker(step) : null;
  const steps = turned ?? step.steps;
  const parted = partedAtMarker(steps);
  if (!parted) return false;
  const { before, behind } = parted;
  if (times !== null && (times !== ends.length - Number(!atMarker) || !told(step))) return false;
  if (atMarker) {
    for (const end of ends) {
      if (tape.busy()) break;
      round.work([...behind, ...before], end, 0);
    }
    return true;
  }
  for (let i = 1; i < ends.length && !tape.busy(); i++) round.work(steps, stop, 0);
  const [run] = before;
  if (tape.at < stop && 'amount' in run)
    round.work([{ ...run, amount: { kind: 'rest', count: 0 } }], stop, 0);
  return true;
}
