/**
 * The same plan at several sizes → one text: `Cast on 120 (160, 200) sts.`
 *
 * In: the plan's text at every size, written alike (`plan-text.ts`), and the sizes' names. Out: one text in which
 * numbers that differ stand for all sizes, and rounds that not all have are marked `Size 2 only:`, `Sizes 2 and 3
 * only:`. Read with a size chosen it is that size's text again.
 */

/**
 * Numbers that may differ: counts, rounds, `k5`, `3 times`, `four times more`; not those inside names such as k2tog,
 * 2/2 LC or colour 3.
 */
const NUMBER =
  /(?<=\b[kp])\d+(?![\w/]|\.\d)|(?<![\w/.]|\bcolou?r )\d+(?:\.\d+)?(?![\w/])|\b[a-z]+(?= times more\b)/g;

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

/** Lines of instructions at every size → lines for all; those of one size or some marked, in blocks. */
export function mergeLines(lists: readonly (readonly string[])[]): string[] {
  const rows = mergedRows(lists);
  // That there are several sizes is told by figures somewhere: by those of the cast-on, be they all the same.
  const told = rows.some((row) => !isCastOn(row) && figuresDiffer(row));
  return rows.flatMap((row) => lineText(row, !told && isCastOn(row)));
}

/** What a knitter of one size has to find her way through, lines and changes from some sizes to others: fewer are better. */
export function mergedEffort(lists: readonly (readonly string[])[]): number {
  return effort(mergedRows(lists));
}

/** Sizes told line by line together, or each by itself between a beginning and an end for all: whichever is easier. */
function mergedRows(lists: readonly (readonly string[])[]): readonly Row[] {
  const ranges = lists.map((list) => list.map(asRange));
  const [together, apart] = [alignLists(ranges, shapeOf), endsAligned(ranges)].map((rows) =>
    inBlocks(rows.map((own) => ({ own, sizes: sizesOf(own) }))),
  );
  return effort(together) <= effort(apart) ? together : apart;
}

/** Lines that finding where one's own size goes on is worth. Chosen. */
const A_CHANGE = 2;

function effort(rows: readonly Row[]): number {
  const changes = rows.filter(({ sizes }, i) => i > 0 && sizes.join() !== rows[i - 1].sizes.join());
  return rows.length + A_CHANGE * changes.length;
}

/** Lines of one text that the other has none like, and the other way round. */
export function linesApart(texts: readonly [string, string]): number {
  const rows = alignLists(
    texts.map((text) => text.trimEnd().split('\n').map(asRange)),
    shapeOf,
  );
  return rows.filter((own) => own.includes(undefined)).length;
}

interface Row {
  /** The line at every size; a hole where a size has none. */
  readonly own: readonly (string | undefined)[];
  readonly sizes: readonly number[];
}

function sizesOf(own: Row['own']): number[] {
  return own.flatMap((line, size) => (line === undefined ? [] : [size]));
}

/** Rows of the same sizes side by side, as far as every size's own lines stay in order. */
function inBlocks(rows: readonly Row[]): Row[] {
  const left = [...rows];
  const out: Row[] = [];
  while (left.length > 0) {
    const key = out[out.length - 1]?.sizes.join();
    const free = freeRows(left);
    const next =
      free.find(({ sizes }) => sizes.join() === key) ??
      free.reduce((a, b) => (b.sizes[0] < a.sizes[0] ? b : a));
    left.splice(left.indexOf(next), 1);
    out.push(next);
  }
  return out;
}

/** Rows that no row before them shares a size with. */
function freeRows(rows: readonly Row[]): Row[] {
  const seen = new Set<number>();
  const free: Row[] = [];
  for (const row of rows) {
    if (row.sizes.every((size) => !seen.has(size))) free.push(row);
    for (const size of row.sizes) seen.add(size);
    if (seen.size === row.own.length) break;
  }
  return free;
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
 * The lines of every list beside those of like shape in the others, in order: for each row the line at every list,
 * a hole where a list has none. The longest lists are laid side by side first: shorter ones lack lines of theirs.
 */
export function alignLists(
  lists: readonly (readonly string[])[],
  shape: (line: string) => string,
): (readonly (string | undefined)[])[] {
  const longest = lists.map((_, k) => k).sort((a, b) => lists[b].length - lists[a].length || a - b);
  let merged: Line[] = [];
  for (const k of longest) merged = alignLines(merged, lists[k], k, shape);
  return merged.map(({ own }) => Array.from(lists, (_, k) => own[k]));
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
  // Of two lines that may stand in either order the smaller size's goes first.
  const goesFirst = (i: number, j: number) => {
    const [own, other] = [best[i][j + 1], best[i + 1][j]];
    return (
      own > other || (own === other && size < merged[i].own.findIndex((line) => line !== undefined))
    );
  };
  let [i, j] = [0, 0];
  while (i < m || j < n) {
    if (i < m && j < n && merged[i].shape === shapes[j]) {
      const own = [...merged[i].own];
      own[size] = lines[j++];
      out.push({ shape: merged[i++].shape, own });
    } else if (i === m || (j < n && goesFirst(i, j))) out.push(only(j++));
    else out.push(merged[i++]);
  }
  return out;
}

function isCastOn({ own, sizes }: Row): boolean {
  return sizes.length === own.length && /^Cast on/.test(own[0] ?? '');
}

/** The numbers of a row at each of its sizes. */
function figuresOf({ own, sizes }: Row): readonly (readonly string[])[] {
  return sizes.map((size) => own[size]?.match(NUMBER) ?? []);
}

function figuresDiffer(row: Row): boolean {
  const [first, ...others] = figuresOf(row);
  return others.some((figures) => figures.join() !== first.join());
}

/** One line for all sizes, or for those that have it: `Sizes 2 and 3 only: Round 9: k5 (7).` `spelled`: its first figure for each. */
function lineText(row: Row, spelled: boolean): string[] {
  const { own, sizes } = row;
  const lines = sizes.map((size) => own[size] as string);
  const numbers = figuresOf(row);
  let k = 0;
  const text = toldApart(lines).replace(NUMBER, (number) => {
    const [, ...others] = numbers.map((list) => list[k]);
    k++;
    const told = (k === 1 && spelled) || others.some((value) => value !== number);
    return others.length > 0 && told ? `${number} (${others.join(', ')})` : number;
  });
  return [`${whose(sizes, own.length)}${text}`];
}

/** Ranges of rounds whose numbers differ are told with words between: `Rounds 4 (6) to 9 (11)`. */
function toldApart([first, ...others]: readonly string[]): string {
  const label = /^((?:Rounds|Rows) \d+)-(\d+)/;
  const differ = others.some((line) => label.exec(line)?.[0] !== label.exec(first)?.[0]);
  return differ ? first.replace(label, '$1 to $2') : first;
}

function whose(sizes: readonly number[], all: number): string {
  if (sizes.length === all) return '';
  const named = sizes.map((size) => String(size + 1));
  const last = named.pop() as string;
  return named.length === 0
    ? `Size ${last} only: `
    : `Sizes ${named.join(', ')} and ${last} only: `;
}
