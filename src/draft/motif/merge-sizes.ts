/**
 * The same plan at several sizes → one text: `Cast on 120 (160, 200) sts.`
 *
 * In: the plan's text at every size, written alike (`plan-text.ts`), and the sizes' names. Out: one text in which
 * numbers that differ stand for all sizes, and rounds that only one size has are marked `Size 2 only:`. Read with
 * a size chosen it is that size's text again.
 */

/** Numbers that may differ: counts, rounds, `k5`, `3 times`; not those inside names such as k2tog or 2/2 LC. */
const NUMBER = /(?<=\b[kp])\d+(?![\w/]|\.\d)|(?<![\w/.])\d+(?:\.\d+)?(?![\w/])/g;

export function mergeSizes(texts: readonly string[], names: readonly string[]): string {
  const body = mergeLines(texts.map((text) => text.trimEnd().split('\n')));
  const title = body.findIndex((line) => /^Title:/.test(line));
  body.splice(title + 1, 0, sizesHeader(names));
  return `${body.join('\n')}\n`;
}

/** `Sizes: 12 cm (15 cm, 20 cm)`: the line that the reader takes their names from. */
export function sizesHeader([first, ...others]: readonly string[]): string {
  return `Sizes: ${first} (${others.join(', ')})`;
}

/** Lines of fewer than this share of the shortest size that all have in common: each size is told by itself. Chosen. */
const ENOUGH_ALIKE = 0.5;

/** Lines of instructions at every size → lines for all; those of one size marked, in blocks of one size. */
export function mergeLines(lists: readonly (readonly string[])[]): string[] {
  const ranges = lists.map((list) => list.map(asRange));
  const aligned = alignLists(ranges, shapeOf);
  const alike = aligned.filter((own) => own.every((line) => line !== undefined)).length;
  const shortest = Math.min(...lists.map((list) => list.length));
  const rows = alike >= ENOUGH_ALIKE * shortest ? aligned : endsAligned(ranges);
  const out: string[] = [];
  let apart: string[][] = lists.map(() => []);
  const flush = () => {
    out.push(...apart.flat());
    apart = lists.map(() => []);
  };
  for (const own of rows) {
    if (own.every((line) => line !== undefined)) {
      flush();
      out.push(...lineText(own, lists.length));
    } else
      own.forEach((line, size) => {
        if (line !== undefined) apart[size].push(...oneSize(line, size, lists.length));
      });
  }
  flush();
  return out;
}

/** Rows that all sizes begin and end with alike; between them each size by itself. */
function endsAligned(lists: readonly (readonly string[])[]): (readonly (string | undefined)[])[] {
  const shortest = Math.min(...lists.map((list) => list.length));
  const alike = (at: (list: readonly string[]) => string) => {
    const first = shapeOf(at(lists[0]));
    return lists.every((list) => shapeOf(at(list)) === first);
  };
  let head = 0;
  while (head < shortest && alike((list) => list[head])) head++;
  let tail = 0;
  while (head + tail < shortest && alike((list) => list[list.length - 1 - tail])) tail++;
  return [
    ...Array.from({ length: head }, (_, i) => lists.map((list) => list[i])),
    ...lists.flatMap((list, size) =>
      list
        .slice(head, list.length - tail)
        .map((line) => lists.map((_, k) => (k === size ? line : undefined))),
    ),
    ...Array.from({ length: tail }, (_, i) => lists.map((list) => list[list.length - tail + i])),
  ];
}

/**
 * The lines of every list beside those of like shape in the others, in order: for each row the line at every size,
 * a hole where a size has none.
 */
export function alignLists(
  [first, ...others]: readonly (readonly string[])[],
  shape: (line: string) => string,
): (readonly (string | undefined)[])[] {
  let merged: Line[] = first.map((text) => ({ shape: shape(text), own: [text] }));
  others.forEach((lines, k) => {
    merged = alignLines(merged, lines, k + 1, shape);
  });
  return merged.map(({ own }) => Array.from({ length: others.length + 1 }, (_, k) => own[k]));
}

interface Line {
  readonly shape: string;
  /** The line at each size; a hole where a size has none. */
  readonly own: readonly (string | undefined)[];
}

/** Two rounds alike are told as a range too, so that longer ranges of other sizes match. */
function asRange(line: string): string {
  return line.replace(/^(Rounds|Rows) (\d+) and (\d+)/, '$1 $2-$3');
}

function shapeOf(line: string): string {
  return line.replace(NUMBER, '#');
}

/** Longest common run of lines of the same shape, those of the new size put in between in order. */
function alignLines(
  merged: readonly Line[],
  lines: readonly string[],
  size: number,
  shape: (line: string) => string,
): Line[] {
  const shapes = lines.map(shape);
  const [m, n] = [merged.length, lines.length];
  const best = Array.from({ length: m + 1 }, () => new Int32Array(n + 1));
  for (let i = m - 1; i >= 0; i--)
    for (let j = n - 1; j >= 0; j--)
      best[i][j] =
        merged[i].shape === shapes[j]
          ? best[i + 1][j + 1] + 1
          : Math.max(best[i + 1][j], best[i][j + 1]);
  const out: Line[] = [];
  const only = (j: number): Line => {
    const own: (string | undefined)[] = [];
    own[size] = lines[j];
    return { shape: shapes[j], own };
  };
  let [i, j] = [0, 0];
  while (i < m || j < n) {
    if (i < m && j < n && merged[i].shape === shapes[j]) {
      const own = [...merged[i].own];
      own[size] = lines[j++];
      out.push({ shape: merged[i++].shape, own });
    } else if (j < n && (i === m || best[i][j + 1] >= best[i + 1][j])) out.push(only(j++));
    else out.push(merged[i++]);
  }
  return out;
}

/** One line for all sizes, or one for each of those that have it. */
function lineText(all: readonly (string | undefined)[], sizes: number): string[] {
  if (sizes === 1) return all.filter((line) => line !== undefined);
  if (all.every((line) => line !== undefined)) {
    const numbers = all.map((line) => line.match(NUMBER) ?? []);
    let k = 0;
    return [
      all[0].replace(NUMBER, (number) => {
        const each = numbers.map((list) => list[k]);
        k++;
        // The cast-on tells that there are several sizes, be it the same for all.
        const told = k === 1 && /^Cast on/.test(all[0] ?? '');
        return !told && each.every((value) => value === number)
          ? number
          : `${number} (${each.slice(1).join(', ')})`;
      }),
    ];
  }
  return all.flatMap((line, size) => (line === undefined ? [] : oneSize(line, size, sizes)));
}

function oneSize(line: string, size: number, sizes: number): string[] {
  return [sizes === 1 ? line : `Size ${size + 1} only: ${line}`];
}
