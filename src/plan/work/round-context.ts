/**
 * One round in the making: what is known when it begins, what its steps have come to so far, and where
 * a run or repeat stops. Input: a target ("to last 2 sts", "to marker"). Output: a place on the needle,
 * or null where it lies behind, which is said.
 */
import type { Step, Target } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import type { PatternStitches } from './established-pattern.ts';
import type { Columns } from './ribbing.ts';
import type { RoundBuffer } from './round-buffer.ts';
import type { RoundMarkers } from './round-markers.ts';
import { type RoundProblems, stitches } from './round-problems.ts';

export interface RoundSetting {
  readonly wrongSide: boolean;
  readonly inRound: boolean;
  /** Number of equal sides, or null where the plan does not say. */
  readonly sides: number | null;
  /** The ribbing worked last, null without any; looked for when it is needed. */
  readonly lastRib?: () => Columns | null;
}

export interface RoundContext {
  readonly setting: RoundSetting;
  readonly tape: RoundBuffer;
  readonly markers: RoundMarkers;
  readonly patterns: PatternStitches;
  /** Places where short rows were turned, in working order of this row. */
  readonly turns: readonly number[];
  readonly problems: RoundProblems;
  /**
   * Works steps one after the other. `limit`: where this scope ends. `tail`: stitches within it that
   * steps after these need.
   */
  readonly work: (steps: readonly Step[], limit: number, tail: number) => void;
}

/**
 * Place where a run stops; null (and said so) where it lies behind. `limit`: where the scope ends.
 * `after`: stitches that the following steps need.
 */
export function stopOf(
  target: Target,
  limit: number,
  after: number,
  step: Place,
  round: RoundContext,
): number | null {
  const { tape, markers, problems } = round;
  let stop: number;
  switch (target.kind) {
    case 'next':
      return tape.at + target.count;
    case 'rest':
      stop = limit - after;
      break;
    case 'end':
      stop = ((target.corner && markers.markedAhead(target.count)) || limit) - target.count;
      if (target.count === 0 && after > 0) {
        problems.warn(
          step,
          'stitches-after-end',
          `this goes to the end, but ${stitches(after)} more ${after === 1 ? 'is' : 'are'} worked afterwards`,
          `Read as "to last ${after === 1 ? 'st' : `${after} sts`}".`,
        );
        stop -= after;
      }
      break;
    case 'centre':
      stop = centreAhead(target.count, round) - target.count;
      break;
    case 'knit':
    case 'purl':
      stop = facing(target.kind[0], limit, round) - target.count;
      break;
    case 'turn':
      stop =
        (round.turns.find((t) => t - target.count >= tape.at && t > tape.at) ?? limit) -
        target.count;
      break;
    case 'marker':
      stop = markers.next(target.count, step) - target.count;
      break;
  }
  if (stop >= tape.at) return stop;
  if (!tape.beyond) {
    const left = Math.max(0, limit - tape.at);
    problems.error(
      step,
      'nothing-left-for-run',
      target.kind === 'marker'
        ? `the marker is only ${stitches(Math.max(0, stop + target.count - tape.at))} away here`
        : `only ${stitches(left)} ${left === 1 ? 'is' : 'are'} left here, fewer than what must remain`,
      'Check the count of the round before.',
    );
  }
  return null;
}

/** The next stitch that shows its knit or purl side; `limit` where none does. */
function facing(face: string, limit: number, { tape, patterns }: RoundContext): number {
  let at = tape.at;
  while (at < limit && patterns.nameAt('knits', at) !== face) at++;
  return at;
}

/** The next marked stitch; where none was marked by name the middle one of the row, in the round of the next side. */
function centreAhead(count: number, { tape, setting, markers }: RoundContext): number {
  const marked = markers.nextMarked(count);
  if (marked !== null) return marked;
  const { before } = tape;
  const sides = setting.inRound ? (setting.sides ?? 1) : 1;
  const bounds = setting.inRound && markers.places.length > 0 ? markers.places : [];
  const ends =
    bounds.length > 0 || before % sides !== 0
      ? [...bounds, before]
      : Array.from({ length: sides }, (_, i) => ((i + 1) * before) / sides);
  const middles = ends.map((end, i) => Math.floor(((ends[i - 1] ?? 0) + end) / 2));
  return middles.find((at) => at - count >= tape.at) ?? middles[middles.length - 1];
}

/** Notes that a run has come to its target. */
export function arrive(target: Target, round: RoundContext): void {
  if (target.kind === 'marker' && target.count === 0) round.markers.reach();
}

/** Says that repeats of `each` stitches don't go into `room`. */
export function sayMisfit(step: Place, each: number, room: number, problems: RoundProblems): void {
  const over = room % each;
  const short = each - over;
  problems.error(
    step,
    'repeat-does-not-fit',
    `each repeat works ${stitches(each)}, and ${room} can't be divided by ${each}: ` +
      `the last repeat comes out ${stitches(short)} short`,
    `It would fit over ${room - over} or ${room + short} stitches.`,
  );
}
