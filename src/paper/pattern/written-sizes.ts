/**
 * One pattern for several sizes: `Cast on 120 (160, 200) sts.`, counts in brackets, what differs otherwise told
 * size by size.
 * In: the plan at every size with what is known of it. Out: sections and one text; read with a size chosen it is
 * that size's plan again.
 */
import {
  alignLists,
  mergedEffort,
  mergeLines,
  sizesHeader,
} from '../../draft/motif/merge-sizes.ts';
import type { Plan } from '../../plan/plan.ts';
import { withTwice } from './round-lines.ts';
import {
  patternText,
  type Section,
  type WrittenOptions,
  type WrittenPattern,
  writePattern,
} from './written.ts';

export interface SizedPlan {
  readonly name: string;
  readonly plan: Plan;
  readonly options: WrittenOptions;
}

export function writeSizes(sizes: readonly SizedPlan[]): WrittenPattern {
  const names = sizes.map(({ name }) => name);
  const written = easiest(
    [true, false].map((everyRound) =>
      sizes.map(({ plan, options }) =>
        writePattern(plan, { ...options, everyRound, severalSizes: true }),
      ),
    ),
  );
  const headings = alignLists(
    written.map(({ sections }) => sections.map(({ heading }) => heading)),
    (heading) => heading,
  ).map((own) => own.find((heading) => heading !== undefined) as string);
  const sections = headings.map((heading): Section => {
    const lists = written.map((one) => linesUnder(one.sections, heading));
    return { heading, lines: mergedSection(heading, lists, names) };
  });
  const [{ title }] = written;
  const head = [`Title: ${title}`, sizesHeader(names)];
  return { title, sections, text: patternText(sizes[0].plan, head, sections) };
}

/** Told round by round, or by repeats of each size: whichever is easier to follow for all sizes together. */
function easiest(ways: readonly (readonly WrittenPattern[])[]): readonly WrittenPattern[] {
  const efforts = ways.map((way) =>
    mergedEffort(listable(way.map(({ sections }) => linesUnder(sections, 'Pattern')))),
  );
  return ways[efforts.indexOf(Math.min(...efforts))];
}

function linesUnder(sections: readonly Section[], heading: string): readonly string[] {
  return sections.find((section) => section.heading === heading)?.lines ?? [];
}

const OFTEN: Record<string, string> = { once: 'one', twice: 'two' };

/** `repeat rounds 3 and 4 once more`, `[k2tog] twice` with a number, which stands in a list where other sizes repeat them as well. */
function listable(lists: readonly (readonly string[])[]): readonly string[][] {
  return lists.map((list) =>
    list.map((line) =>
      line
        .replace(
          /(: repeat .*) (once|twice)(?= more)/,
          (_, which: string, often: string) => `${which} ${OFTEN[often]} times`,
        )
        .replace(/\] twice\b/g, '] 2 times'),
    ),
  );
}

function mergedRounds(lists: readonly (readonly string[])[]): string[] {
  return mergeLines(listable(lists)).map((line) =>
    withTwice(
      line.replace(/ one times(?= more)/g, ' once').replace(/ two times(?= more)/g, ' twice'),
    ),
  );
}

function mergedSection(
  heading: string,
  lists: readonly (readonly string[])[],
  names: readonly string[],
): readonly string[] {
  if (heading === 'Pattern') return mergedRounds(lists);
  if (heading === 'Abbreviations')
    return [...new Set(lists.flat())].sort((a, b) => a.localeCompare(b, 'en'));
  const isGauge = /^(Gauge|Tension)$/.test(heading);
  if (isGauge) return mergeLines(lists.map((list) => list.map(decimals)));
  const parted = heading === 'Materials' ? lists.map((list) => list.flatMap(needlesApart)) : lists;
  const lines = alignLists(parted, proseShape).flatMap((own) =>
    own.every((line) => line === own[0])
      ? [own[0] as string]
      : own.flatMap((line, k) => (line === undefined ? [] : [`For ${names[k]}: ${line}`])),
  );
  return heading === 'Notes' ? [HOW_TO_READ, ...lines] : lines;
}

/** The size of the needles is the same for all, their lengths are not. */
function needlesApart(line: string): string[] {
  const [size, ...needles] = line.split('; ');
  return line.startsWith('Needles: ') && needles.length > 0 ? [size, needles.join('; ')] : [line];
}

const HOW_TO_READ =
  'Figures are for the first size, those for the others in brackets in the same order; where there is one figure it is for all. A line that begins with some sizes only is left out for the others, and its figures are for those sizes alone, in the same order.';

/** A line without its figures, so that the same sentence at another size is found. */
function proseShape(line: string): string {
  return line.replace(/\d+(?:\.\d+)?|[⅛¼⅜½⅝¾⅞]/g, '#').replace(/#+/g, '#');
}

/** `30½` → `30.5`: figures of several sizes stand side by side. */
function decimals(line: string): string {
  const eighths = '⅛¼⅜½⅝¾⅞';
  return line.replace(/(\d*)([⅛¼⅜½⅝¾⅞])/g, (_, whole: string, part: string) =>
    String(Number(whole || 0) + (eighths.indexOf(part) + 1) / 8),
  );
}
