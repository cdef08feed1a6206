/**
 * `writePlan`: Plan → plan text that reads back to the same meaning, stitch by stitch with counts, repeats, markers and
 * short rows. It words every round by its stitches alone, whatever the text said.
 */
import type { Plan, PlanRound } from '../../src/plan/plan.ts';
import type { StitchKind } from '../../src/plan/stitches/stitch-kind.ts';
import { foldSequence } from '../../src/plan/write/fold-stitches.ts';
import { headerOf } from '../../src/plan/write/header.ts';
import { countWords, endSentences } from '../../src/plan/write/sentences.ts';
import { shortRowWords, stitchWords } from '../../src/plan/write/stitches.ts';

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

interface MarkerEvent {
  /** Index into works before which the event stands. */
  readonly at: number;
  readonly words: 'pm' | 'sm' | 'remove marker';
}

/**
 * Marker instructions that turn the markers `before` (in working order) into `after`; empty where
 * they stay by themselves.
 */
function markerEvents(
  works: Int16Array,
  kinds: readonly StitchKind[],
  before: readonly number[],
  after: readonly number[],
): MarkerEvent[] {
  if (before.length === 0 && after.length === 0) return [];
  const used = new Int32Array(works.length + 1);
  const made = new Int32Array(works.length + 1);
  for (let i = 0; i < works.length; i++) {
    used[i + 1] = used[i] + kinds[works[i]].consumes;
    made[i + 1] = made[i] + kinds[works[i]].loops.length;
  }
  const wanted = new Set(after);
  const events: MarkerEvent[] = [];
  let quiet = true;
  let b = 0;
  for (const old of before) {
    if (old === 0) continue;
    while (b <= works.length && used[b] < old) b++;
    if (used[b] !== old) {
      // Inside a stitch: it comes to lie behind it without a word.
      if (wanted.has(made[b])) wanted.delete(made[b]);
      else quiet = false;
      continue;
    }
    let last = b;
    while (last < works.length && used[last + 1] === old) last++;
    let place = -1;
    for (let i = b; i <= last; i++) if (wanted.has(made[i])) place = i;
    if (place < 0) events.push({ at: last, words: 'remove marker' });
    else {
      wanted.delete(made[place]);
      events.push({ at: place, words: 'sm' });
      if (place !== last) quiet = false;
    }
    if (place < 0) quiet = false;
  }
  if (before.includes(0)) {
    if (wanted.has(0)) wanted.delete(0);
    else {
      events.push({ at: 0, words: 'remove marker' });
      quiet = false;
    }
  }
  for (const place of wanted) {
    let i = 0;
    while (i < works.length && made[i] < place) i++;
    events.push({ at: i, words: 'pm' });
    quiet = false;
  }
  if (quiet) return [];
  return events.sort((x, y) => x.at - y.at);
}

/** Instruction text for the worked stitches. `before` and `after` are markers in working order. */
function worksWords(
  works: Int16Array,
  kinds: readonly StitchKind[],
  before: readonly number[],
  after: readonly number[],
): string {
  const events = markerEvents(works, kinds, before, after);
  const names = Array.from(works, (id) => kinds[id].name);
  const [first] = names;
  if (events.length === 0 && (first === 'k' || first === 'p') && names.every((n) => n === first))
    return first === 'k' ? 'knit' : 'purl';
  const parts: string[] = [];
  let from = 0;
  for (const { at, words } of events) {
    parts.push(foldSequence(names.slice(from, at), stitchWords), words);
    from = at;
  }
  parts.push(foldSequence(names.slice(from), stitchWords));
  return parts.filter((part) => part !== '').join(', ');
}
