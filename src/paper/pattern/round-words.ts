/**
 * One round after another in words: by its landmarks where it has some, else whole or by its repeats.
 * In: a Plan. Out: text that reads back into the same stitches, and what tells rounds apart beside it.
 */
import type { Plan } from '../../plan/plan.ts';
import { foldRound, foldSequence, smallestPeriod } from '../../plan/write/fold-stitches.ts';
import { shortRowWords } from '../../plan/write/stitches.ts';
import { cutsOf, type Landmarks, landmarksOf } from './landmarks.ts';
import { middleStitches } from './marked-middle.ts';
import { consumes, namesOf, seamStitches, smallRepeat } from './marked-sides.ts';
import { type Stretch, stitches, stretchAlone, told, wordStretches } from './stretch-words.ts';

export interface Worded {
  readonly text: string;
  readonly after: number;
  readonly before: number;
  readonly wrongSide: boolean;
  readonly colour: string | undefined;
}

export function wordRounds(plan: Plan): Worded[] {
  const landmarks = landmarksOf(plan);
  const middles = middleStitches(plan);
  const whole = plan.rounds.map((_, i) => wholeText(plan, landmarks, i));
  const stretched = plan.rounds.map((_, i): Stretch[][] | null => {
    if (whole[i] !== null) return null;
    if (hasLandmarks(landmarks, i)) return cutsOf(landmarks, i);
    const about = middles && aboutMiddle(plan, i, middles[i]);
    return about && [about];
  });
  const texts = wordStretches(stretched);
  return plan.rounds.map(({ after, before, wrongSide, colour }, i) => {
    const text = whole[i] ?? texts[i] ?? stretchAlone(namesOf(plan, plan.rounds[i]));
    return { text, after, before, wrongSide, colour };
  });
}

/** Whether the round is told from landmark to landmark. */
function hasLandmarks({ marked, from }: Landmarks, i: number): boolean {
  return marked.sides > 1 && i >= from && i < marked.rounds;
}

/** What a round is told by as a whole; null where it is told in stretches. */
function wholeText(plan: Plan, landmarks: Landmarks, i: number): string | null {
  const round = plan.rounds[i];
  if (round.shortRow) return shortRowWords(round, plan);
  const flat = plan.worked === 'flat';
  const names = namesOf(plan, round);
  const seam = seamStitches(plan, round.wrongSide);
  const { marked, middles, panels, from } = landmarks;
  if (hasLandmarks(landmarks, i)) {
    const changes = i === from || (i + 1 === marked.rounds && i + 1 < plan.rounds.length);
    const unmarks = panels?.[i] != null && panels[i + 1] === null;
    const text =
      changes || unmarks ? null : (wholeRound(names) ?? (flat ? smallRow(names, seam) : null));
    return text && (middles ? text : `${text}, slipping the markers`);
  }
  const gathered = marked.sides > 1 ? 2 : undefined;
  return (
    wholeRound(names, gathered) ??
    (gathered && flat ? smallRow(names, seam, gathered) : null) ??
    (middleStitches(plan) ? null : repeatedRow(names, flat))
  );
}

/** `k to 1 st before marked st, s2kp, k to end`; null where no run is parted by the middle stitch, at an index. */
function aboutMiddle(plan: Plan, i: number, middle: number): Stretch[] | null {
  const names = namesOf(plan, plan.rounds[i]);
  const [before, behind] = [names.slice(0, middle), names.slice(middle + 1)];
  const name = names[middle];
  const isPlain = name === 'k' || name === 'p';
  if (isPlain && before.at(-1) === name && behind[0] === name) return null;
  const reach = (consumes(name) - 1) / 2;
  return [
    { names: before, to: 'marked st', done: [foldSequence([name])], reach },
    { names: behind, to: 'end', done: [] },
  ];
}

/** `p1, k to last st, p1` and `k1, *p1, k1; rep from * to last st, k1`: a row that is all alike but for its edges. */
function smallRow(
  names: readonly string[],
  { first, last }: { first: number; last: number },
  least?: number,
): string | null {
  const inside = names.slice(first, names.length - last);
  const plain = /^[kp]$/.test(inside[0] ?? '') && inside.every((name) => name === inside[0]);
  const period = plain ? 1 : smallRepeat(inside, least);
  if (period === 0) return null;
  const edges = [names.slice(0, first), names.slice(names.length - last)].map((part) =>
    foldSequence(part),
  );
  const target = last === 0 ? 'to end' : `to last ${stitches(last)}`;
  const block = inside.slice(0, period);
  const run = plain ? `${block[0]} ${target}` : `*${foldSequence(block)}; rep from * ${target}`;
  return told([edges[0], run, edges[1]]);
}

function wholeRound(names: readonly string[], least?: number): string | null {
  if (names.every((name) => name === 'k')) return 'knit';
  if (names.every((name) => name === 'p')) return 'purl';
  const period = smallRepeat(names, least);
  return period === 0 ? null : `*${foldSequence(names.slice(0, period))}; rep from * to end`;
}

/** Rows of an open piece that are a repeat: as the rounds of a plan are told. */
function repeatedRow(names: readonly string[], flat: boolean): string | null {
  return flat && smallestPeriod(names) < names.length ? foldRound(names) : null;
}
