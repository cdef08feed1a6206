/**
 * `writePlan`: Plan → plan text that reads back to the same meaning, stitch by stitch with counts, repeats, markers and
 * short rows.
 */
import type { Plan, PlanRound } from '../plan.ts';
import { isUnworked } from '../stitches/stitch-kind.ts';
import { headerOf } from './header.ts';
import { countWords, endSentences } from './sentences.ts';
import { worksWords } from './stitches.ts';

export function writePlan(plan: Plan): string {
  return [
    ...headerOf(plan),
    '',
    castOnLine(plan),
    ...roundLines(plan, countedRounds(plan)),
    ...endSentences(plan.ending),
  ]
    .join('\n')
    .concat('\n');
}

function castOnLine(plan: Plan): string {
  const markers = plan.castOnMarkers ?? [];
  const inside = markers.filter((m) => m > 0);
  const every = inside[0] ?? 0;
  const even = every > 0 && inside.every((m, i) => m === every * (i + 1));
  const first = markers.includes(0);
  if (
    even &&
    inside[inside.length - 1] + every >= plan.castOn &&
    (first || plan.worked === 'flat')
  ) {
    return `Cast on ${plan.castOn} sts, placing a marker every ${every} sts.`;
  }
  if (inside.length > 0) {
    const parts = [...inside, plan.castOn].map((m, i) => `cast on ${m - (inside[i - 1] ?? 0)} sts`);
    const line = parts.join(', pm, ').concat(first ? ', pm' : '');
    return `${line[0].toUpperCase()}${line.slice(1)}.`;
  }
  return `Cast on ${plan.castOn} sts${first ? ', place marker' : ''}.`;
}

function countedRounds(plan: Plan): string[] {
  let markers: readonly number[] = plan.castOnMarkers ?? [];
  let count = plan.castOn;
  return plan.rounds.map((round) => {
    // Flat work turns, so the markers come from the other side.
    const turned = plan.worked === 'flat';
    const before = turned ? markers.map((m) => count - m).reverse() : markers;
    const words = round.shortRow
      ? shortRowWords(round, plan)
      : worksWords(round.works, plan.kinds, before, [...round.markers]);
    markers = [...round.markers];
    count = round.after;
    return words;
  });
}

/** A short row: the stitches between those left, and the turn. */
export function shortRowWords(round: PlanRound, plan: Plan): string {
  const left = (id: number): boolean => isUnworked(plan.kinds[id]);
  const worked = round.works.filter((id) => !left(id));
  const words = worksWords(worked, plan.kinds, [], []);
  const turns = { wrap: 'w&t', double: 'turn and make double st', plain: 'turn' };
  const { turnedAt, style } = round.shortRow ?? {};
  const plain = words === 'knit' || words === 'purl' ? `${words[0]}${worked.length}` : words;
  return turnedAt === null || !style ? plain : `${plain}, ${turns[style]}`;
}

interface Written {
  readonly label: string;
  readonly body: string;
  readonly number: number | null;
  readonly word: string;
  readonly repeat: boolean;
}

function written(round: PlanRound, body: string): Written {
  const m = /^(Round|Row) (\d+)(?: \((?:RS|WS)\))?( \(repeat\))?$/.exec(round.label);
  const change = round.after !== round.before || round.stated === round.after;
  return {
    label: round.label,
    body: change ? `${body} (${countWords(round.after)})` : body,
    number: m ? Number(m[2]) : null,
    word: m?.[1] ?? '',
    repeat: m?.[3] !== undefined,
  };
}

/** Lines for all rounds; equal neighbours are taken together, repeats are written as repeats. */
function roundLines(plan: Plan, bodies: readonly string[]): string[] {
  const list = plan.rounds.map((round, i) => written(round, bodies[i]));
  const plainBodies = new Map<number, string>();
  const lines: string[] = [];
  let next = 1;
  for (let i = 0; i < list.length; ) {
    const item = list[i];
    if (item.repeat && item.number !== null) {
      const block = repeatBlock(list, i, bodies, plainBodies);
      if (block) {
        lines.push(block.line);
        i += block.rounds;
        continue;
      }
      lines.push(`${item.label}: ${item.body}`);
      i++;
      continue;
    }
    let j = i + 1;
    if (item.number !== null) {
      while (
        j < list.length &&
        list[j].body === item.body &&
        !list[j].repeat &&
        list[j].label === `${item.word} ${item.number + (j - i)}` &&
        item.label === `${item.word} ${item.number}` &&
        list[j].word === item.word &&
        list[j].number === item.number + (j - i)
      ) {
        j++;
      }
      if (item.number < next && item.number !== 1) lines.push('', 'Counting starts anew');
      for (let k = i; k < j; k++) plainBodies.set(item.number + (k - i), bodies[k]);
      const last = item.number + (j - i) - 1;
      next = last + 1;
      lines.push(
        j - i > 1
          ? `${item.word}s ${item.number}-${last}: ${item.body}`
          : `${item.label}: ${item.body}`,
      );
    } else {
      const nextLabel = /^Next (round|row)$/.exec(item.label);
      if (nextLabel)
        while (j < list.length && list[j].label === item.label && list[j].body === item.body) j++;
      lines.push(
        j - i > 1
          ? `Next ${j - i} ${nextLabel?.[1]}s: ${item.body}`
          : `${item.label}: ${item.body}`,
      );
    }
    i = j;
  }
  return lines;
}

/** `Repeat rounds 3-4 5 more times`, where the repeated rounds say what their numbers say above. */
function repeatBlock(
  list: readonly Written[],
  start: number,
  bodies: readonly string[],
  plainBodies: ReadonlyMap<number, string>,
): { line: string; rounds: number } | null {
  let end = start;
  while (
    end < list.length &&
    list[end].repeat &&
    plainBodies.get(list[end].number ?? -1) === bodies[end]
  )
    end++;
  const length = end - start;
  if (length === 0) return null;
  const first = list[start].number ?? 0;
  let period = 1;
  while (start + period < end && list[start + period].number === first + period) period++;
  let times = 1;
  while (
    (times + 1) * period <= length &&
    Array.from({ length: period }, (_, k) => k).every(
      (k) => list[start + times * period + k].number === first + k,
    )
  ) {
    times++;
  }
  const word = list[start].word.toLowerCase();
  const which = period === 1 ? `${word} ${first}` : `${word}s ${first}-${first + period - 1}`;
  const often = times === 1 ? 'once more' : `${times} more times`;
  return { line: `Repeat ${which} ${often}.`, rounds: times * period };
}
