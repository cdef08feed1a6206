/**
 * `writePlan`: Plan → plan text that reads back to the same meaning. Rounds are written as the designer
 * worded them where their step trees are kept and still say the same; otherwise stitch by stitch with
 * counts and repeats, which is always exact.
 */
import { parsePlan } from '../parse.ts';
import type { GaugeStatement, Plan, PlanRound } from '../plan.ts';
import { isUnworked } from '../stitches/stitch-kind.ts';
import { stitchKind } from '../stitches/table.ts';
import { samePlan } from './meaning.ts';
import { stepsWords } from './steps.ts';
import { worksWords } from './stitches.ts';

export function writePlan(plan: Plan): string {
  if (plan.rounds.every((r) => r.steps !== undefined)) {
    const text = compose(plan, wordedRounds(plan));
    if (samePlan(parsePlan(text), plan)) return text;
  }
  return compose(plan, countedRounds(plan));
}

function compose(plan: Plan, bodies: readonly string[]): string {
  return [
    ...headerLines(plan),
    '',
    castOnLine(plan),
    ...roundLines(plan, bodies),
    ...endLines(plan),
  ]
    .join('\n')
    .concat('\n');
}

/** Digits enough that a gauge survives: ten are a nanometre in 10 cm. */
function number(value: number): string {
  return String(Number(value.toPrecision(12)));
}

function gaugeLine(g: GaugeStatement): string {
  const rounds = g.roundMm === null ? '' : ` and ${number(100 / g.roundMm)} rounds`;
  const fabric =
    g.fabric === null ? '' : ` in ${g.fabric === 'reverse' ? 'reverse stockinette' : g.fabric}`;
  return `Gauge: ${number(100 / g.stitchMm)} sts${rounds} = 10 cm${fabric}`;
}

function headerLines(plan: Plan): string[] {
  const lines: string[] = [];
  if (plan.title !== '') lines.push(`Title: ${plan.title}`);
  if (plan.yarn) lines.push(`Yarn: ${plan.yarn.text}`);
  for (const g of plan.gauges) lines.push(gaugeLine(g));
  if (plan.needles) lines.push(`Needles: ${plan.needles.text}`);
  if (plan.worked === 'round') lines.push('Worked: in the round');
  else if (plan.seam) {
    lines.push(
      `Worked: flat with ${plan.seam.begin} + ${plan.seam.end} seam stitches, then seamed`,
    );
  } else lines.push('Worked: flat', 'Seam: none');
  const { method, halfTurns } = plan.join;
  if (method !== 'plain' || halfTurns > 0) {
    const words = method === 'extra' ? 'extra stitch' : method;
    const turns = halfTurns === 1 ? '1 half turn' : `${halfTurns} half turns`;
    lines.push(`Join: ${halfTurns > 0 ? `${words}, twisted by ${turns}` : words}`);
  }
  if (plan.sides !== null && plan.sides !== undefined) lines.push(`Sides: ${plan.sides}`);
  for (const kind of plan.kinds) {
    if (stitchKind(kind.name)) continue;
    lines.push(`Abbreviation: ${kind.name} = works ${kind.consumes} makes ${kind.loops.length}`);
  }
  return lines;
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

function wordedRounds(plan: Plan): string[] {
  return plan.rounds.map((r) => stepsWords(r.steps ?? []));
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
    body: change ? `${body} (${round.after} sts)` : body,
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

function endLines(plan: Plan): string[] {
  const last = plan.rounds[plan.rounds.length - 1]?.after ?? plan.castOn;
  if (plan.ending === 'bound-off') return ['Bind off all sts.'];
  if (plan.ending === 'drawn-up') return [`Break yarn and draw through remaining ${last} sts.`];
  return [];
}
