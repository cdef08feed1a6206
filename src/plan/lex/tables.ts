/**
 * Tables of rounds, with tabs or upright bars between the cells, as lines that read like any other: `4 | knit | 84`
 * becomes `4: knit =84`. In and out: text of the same length, so that places hold.
 */
import { romanValue } from './numbers.ts';

const HEAD = /\b(?:rounds?|rnds?|rds?|rows?|r)\b/i;
const HEAD_WORK =
  /\b(?:work|instructions?|pattern|stitch(?:es)?|sts|what|directions?|side|rs\/ws|colou?r)\b/i;

const CASTS_ON = /^(?:cast[\s-]*on|c\/?o)$/i;
/** The head of a table whose cells semicolons part. */
const SEPARATED = /^[ \t]*(?:rounds?|rnds?|rds?|rows?|r)\.?[ ]*;[^;\n]+(?:;|$)/im;

/** Cells of a line: where each begins and ends. Null where the line is no row of a table. */
function cellsOf(line: string, mark: string | null): { from: number; to: number }[] | null {
  const bar = line.includes('|');
  if (!bar && mark === null && !line.includes('\t')) return null;
  const cells: { from: number; to: number }[] = [];
  let from = 0;
  for (let i = 0; i <= line.length; i++) {
    if (i < line.length && line[i] !== (mark ?? (bar ? '|' : '\t'))) continue;
    if (i > from || cells.length > 0) cells.push({ from, to: i });
    from = i + 1;
  }
  if (bar && line.slice(cells[0]?.from, cells[0]?.to).trim() === '') cells.shift();
  while (cells.length > 0) {
    const last = cells[cells.length - 1];
    if (line.slice(last.from, last.to).trim() !== '') break;
    cells.pop();
  }
  return cells.length >= 2 ? cells : null;
}

/** The head of a table whose cells commas part. */
const COMMAS =
  /^[ \t]*"?(?:rounds?|rnds?|rds?|rows?|r)\.?"?[ ]*,[ ]*"?[a-z/ ]{2,20}"?(?:,[^,\n]{0,30})*$/im;
/** Stands for a comma within quotation marks. */
const HELD = '\u0001';

/** Same length: commas within quotation marks part no cells. */
function withoutQuotes(line: string): string {
  return line.replace(
    /"([^"]*)"/g,
    (_: string, inner: string) => ` ${inner.replaceAll(',', HELD)} `,
  );
}

export function plainTables(text: string): string {
  if (!text.includes('\t') && !text.includes('|') && !SEPARATED.test(text) && !COMMAS.test(text))
    return text;
  const lines = text.split('\n');
  let head: string[] | null = null;
  let mark: string | null = null;
  return lines
    .map((written) => {
      let line = written;
      if (COMMAS.test(line)) mark = ',';
      else if (SEPARATED.test(line)) mark = ';';
      else if (!line.includes(mark ?? ';')) mark = null;
      if (mark === ',') line = withoutQuotes(line);
      const cells = cellsOf(line, mark);
      if (!cells) {
        if (mark === ';') return line.replaceAll(';', ' ');
        if (line.trim() !== '' || !line.includes('\t')) head = line.trim() === '' ? head : null;
        return line;
      }
      const words = cells.map((c) => line.slice(c.from, c.to).trim());
      if (words.every((w) => /^:?-+:?$/.test(w))) return ' '.repeat(line.length);
      if (
        !/\d/.test(words[0]) &&
        HEAD.test(words[0]) &&
        words.slice(1).some((w) => HEAD_WORK.test(w))
      ) {
        head = words;
        return ' '.repeat(line.length);
      }
      const plain = head && /^(?:(?:rounds?|rnds?|rows?|r)\.?\s*)?(?:\d|[IVX]+$)/i.test(words[0]);
      if (!plain && !(head && CASTS_ON.test(words[0]))) return line.replaceAll('|', ' ');
      return plainRow(blankShares(line, cells, words, head), cells, words, mark);
    })
    .join('\n');
}

/** Per-needle counts beside a count of all: left out where they share that count evenly. Same length. */
function blankShares(
  line: string,
  cells: readonly { from: number; to: number }[],
  words: readonly string[],
  head: readonly string[] | null,
): string {
  const last = words.length - 1;
  if (!head || !/^\d+$/.test(words[last] ?? '')) return line;
  let out = line;
  for (let i = 2; i < last; i++) {
    const per = /\b(?:per|each|every|a)\b/i.test(head[i] ?? '') && /^\d+$/.test(words[i]);
    if (
      !per ||
      Number(words[last]) % Number(words[i]) !== 0 ||
      Number(words[last]) / Number(words[i]) > 12
    )
      continue;
    const { from, to } = cells[i];
    out = out.slice(0, from) + ' '.repeat(to - from) + out.slice(to);
  }
  return out;
}

function plainRow(
  line: string,
  cells: readonly { from: number; to: number }[],
  words: readonly string[],
  mark: string | null,
): string {
  const out = [...line].map((c) =>
    c === '|' || c === '\t' || c === mark ? ' ' : c === HELD ? ',' : c,
  );
  const roman = romanValue(words[0]);
  if (roman) {
    const at = line.indexOf(words[0]);
    const digits = String(roman).padEnd(words[0].length).slice(0, words[0].length);
    out.splice(at, digits.length, ...digits);
  }
  const before = (i: number): number => cells[i].from - 1;
  cells.forEach((_, i) => {
    if (i === 0) return;
    const word = words[i];
    if (i === 1) out[before(i)] = ':';
    else if (i === cells.length - 1 && /^\d+\s*(?:sts?)?$/i.test(word)) out[before(i)] = '=';
  });
  return out.join('');
}
