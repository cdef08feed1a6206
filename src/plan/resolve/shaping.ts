/**
 * Shaping told in prose: "continue decreasing 8 sts every other round until 8 sts remain". Input: a
 * sentence that `shape-lines.ts` reads. Output: the shaping rounds worked in turn with plain ones between
 * them; a count that going on never leaves is said.
 */

import type { Step } from '../grammar/steps/steps.ts';
import { type Place, sentenceAt, trimmed } from '../lex/source.ts';
import { patternSteps } from '../round-bodies.ts';
import { readShape, type ShapeLine } from '../shape-lines.ts';
import { type LastShaping, lastShaping, nextShaping } from '../work/next-shaping.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { comesNearer } from './repeats.ts';
import { nextLabel, type RoundDef, unnumberedDef } from './round-defs.ts';
import type { RoundBook } from './round-scope.ts';

/** Works the sentence at `at`. */
export function workShaping(at: Place, piece: WorkedPiece, book: RoundBook): void {
  const line = readShape(sentenceAt(piece.source, at), at.from);
  if (!line) return;
  const last = lastShaping(piece);
  if (!line.rows && !last) {
    const message = 'this goes on with the shaping, but no round before it decreases or increases';
    piece.found.add('error', 'unknown-round', at.from, at.to, message);
    return;
  }
  const before = piece.rounds.length;
  workRounds(line, last, at, piece);
  book.countSince(before);
  if (line.stated) piece.checkStated(line.stated, at);
}

function workRounds(
  line: ShapeLine,
  last: LastShaping | null,
  at: Place,
  piece: WorkedPiece,
): void {
  const place = trimmed(piece.source, at);
  const goesOn = line.rows === null ? last : null;
  const every = line.every ?? goesOn?.period ?? 1;
  const between = plainBetween(goesOn, every, place, piece);
  let skip = goesOn ? Math.min(goesOn.since, every - 1) : 0;
  const target = piece.targetOf(line);
  const up = target !== null && target > piece.count;
  const times = line.times ?? Number.POSITIVE_INFINITY;
  for (let i = 0; i < times && !piece.stopped; i++) {
    if (target !== null && piece.count === target) return;
    const { count } = piece;
    if (i > 0 || !line.atOnce) {
      for (const plain of between.slice(skip)) if (!piece.stopped) piece.work(fitted(plain, piece));
    }
    skip = 0;
    if (piece.stopped) return;
    const steps = shapedSteps(line, last, i, piece);
    if (!steps) {
      piece.sayMissed(
        target,
        at,
        'repeat-never-ends',
        `going on like this never leaves ${target === null ? 'a round that works out' : stitches(target)}: no plain stitches are left between the decreases at ${piece.count}`,
        'Check the number that should remain, or write the last rounds out.',
      );
      return;
    }
    piece.work(unnumberedDef(place, piece.inRound, steps));
    if (target === null) continue;
    const never = `going on like this never leaves ${stitches(target)}`;
    if (!comesNearer(count, piece.count, up)) {
      piece.sayMissed(target, at, 'repeat-never-ends', never);
      return;
    }
    if (up ? piece.count > target : piece.count < target) {
      piece.sayMissed(
        target,
        at,
        'repeat-misses-count',
        `${never}: the count goes past it to ${piece.count}`,
        'Check the count before it, or the number that should remain.',
      );
      return;
    }
  }
}

/** Steps of shaping round `i` of a sentence, from 0; null where it can't go on. */
function shapedSteps(
  { rows, fewer }: ShapeLine,
  last: LastShaping | null,
  i: number,
  piece: WorkedPiece,
): readonly Step[] | null {
  if (rows) return rows[i % rows.length];
  return last && nextShaping(last, i + 1, fewer, piece);
}

/** Plain rounds in between are those between the last two shaped ones, if there are as many. */
function plainBetween(
  last: LastShaping | null,
  every: number,
  place: Place,
  piece: WorkedPiece,
): RoundDef[] {
  if (last && last.between.length === every - 1) {
    const label = nextLabel(piece.inRound);
    return last.between.map((d) => ({ ...d, stated: null, label, side: null }));
  }
  const steps = patternSteps('set', place.from, place.to);
  return Array.from({ length: every - 1 }, () => unnumberedDef(place, piece.inRound, steps));
}

/** A round between two shaping rounds, its plain stretches made to fit. */
function fitted(def: RoundDef, piece: WorkedPiece): RoundDef {
  if (piece.fixedOfAll(def.steps) === piece.count) return def;
  const steps = piece.fitted(def.steps);
  return steps ? { ...def, steps } : def;
}
