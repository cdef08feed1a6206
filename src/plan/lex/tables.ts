/**
 * Tables of rounds, with tabs, upright bars, commas, semicolons or wide gaps between the cells, as lines that read like
 * any other: `4 | knit | 84` becomes `4: knit =84`. In and out: text of the same length, so that places hold; marks that
 * stand for several characters are read out by `TABLE_MARKS`.
 */
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import { romanValue } from './numbers.ts';
import {
  type Cell,
  COUNT,
  columns,
  countIn,
  countsIn,
  isColour,
  NEEDLE,
  type Role,
  type Row,
  SHARE_AND_ALL,
  SHARED_WORK,
  type Table,
  TIMES_TOLD,
  YARN,
} from './table-columns.ts';

const HEAD = regex.i`^(?:${UNIT}|steps?|r|n(?:o|r|umber)|#)\.?[ ]*(?:(?:/[ ]*)?(?:${UNIT}|n(?:o|r|umber)s?|#)\.?)?$`;
/** First cells of rows: `4`, `5-7`, `2, 4 and 6`, `Rnd 5`, `VII`. */
const NUMBERS = regex.i`^(?:(?:${UNIT}|r)\.?[ ]*)?(?:\d{1,4}(?:st|nd|rd|th)?(?:[ ]*(?:-|–|—|,|&|\+|to|and|through)[ ]*\d{1,4})*|[IVX]+)[.:)]?(?:[ ]*\((?:[rw]s|right|wrong)\))?$`;
const CASTS_ON = /^(?:cast[\s-]*on|c\/?o|0|start|-|–)$/i;
const ENDS =
  /^(?:end|ends|finish|finishing|fin|close|closing|last|after|b\/?o|bind[ -]off|cast[ -]off|-|–)$/i;
/** A cell that says only whether its round is done. */
const TICKED = /^(?:yes|no|done|not (?:yet|done)|ok|to do|x|\[ ?x?\])$/i;
const ENDING = /\b(?:cut|break|bind|cast|draw|pull|fasten|thread|gather|close)\b/i;

const GAPS = '  ';
const MARKS = ['|', '\t', ';', ',', GAPS];
/** Stands for a comma within quotation marks. */
const HELD = '\u0001';
/** Marks that stand for more than one character, in front of a table's cells. */
const SHARED_FROM = '\ufdd0';
const ON_EACH = '\ufdd1';
const NEEDLE_FROM = 0xfdd8;
const AFTER_COUNT = '\ufde2';
const IN_COLOUR = '\ufdd2';
const TIMES_BEHIND = '\ufde1';
const PER_SIDE = '\ufde3';
/** `) N times =`, of N up to the most parts that a round is told in. */
const TIMES_FROM = 0xfde4;
const MOST_PARTS = 10;

/** What the marks of tables are read as. */
export const TABLE_MARKS = /[\ufdd0-\ufdef]/g;
export function tableMark(mark: string): string {
  if (mark === SHARED_FROM) return ': (';
  if (mark === ON_EACH) return ': on each needle: ';
  if (mark === IN_COLOUR) return ': in ';
  if (mark === AFTER_COUNT) return '): ';
  if (mark === TIMES_BEHIND) return ') x ';
  if (mark === PER_SIDE) return ' = each side ';
  const code = mark.charCodeAt(0);
  if (code >= TIMES_FROM) return `) ${code - TIMES_FROM + 2} times = `;
  const needle = code - NEEDLE_FROM;
  return `${needle === 1 ? ':' : ';'} needle ${needle}: `;
}

/** Same length: commas within quotation marks part no cells. */
function withoutQuotes(line: string): string {
  return line.replace(
    /"([^"]*)"/g,
    (_: string, inner: string) => ` ${inner.replaceAll(',', HELD)} `,
  );
}

/** The cells of a line that `mark` parts; null where it parts none. */
function rowOf(line: string, mark: string): Row | null {
  if (!line.includes(mark)) return null;
  const cells: Cell[] = [];
  if (mark === GAPS) {
    for (const m of line.matchAll(/\S+(?: \S+)*/g))
      cells.push({ from: m.index, to: m.index + m[0].length });
  } else {
    const plain = mark === ',' ? withoutQuotes(line) : line;
    let from = 0;
    for (let i = 0; i <= plain.length; i++) {
      if (i < plain.length && plain[i] !== mark) continue;
      if (i > from || cells.length > 0) cells.push({ from, to: i });
      from = i + 1;
    }
    const bare = (c: Cell | undefined): boolean => !!c && line.slice(c.from, c.to).trim() === '';
    if (mark === '|' && bare(cells[0])) cells.shift();
    while (bare(cells[cells.length - 1])) cells.pop();
  }
  if (cells.length < 2) return null;
  const words = cells.map(({ from, to }) =>
    line
      .slice(from, to)
      .replaceAll('"', ' ')
      .replaceAll('*', mark === '|' ? '*' : '*')
      .trim(),
  );
  return { cells, words };
}

const RULE = /^[\s|:+=-]*$/;

/** Rows that follow line `at`, up to the first that is none; blank lines and rules may stand between. */
function rowsBelow(lines: readonly string[], at: number, mark: string, most = 400): Row[] {
  const rows: Row[] = [];
  for (let i = at; i < lines.length && rows.length < most; i++) {
    if (RULE.test(lines[i])) continue;
    const row = rowOf(lines[i], mark);
    if (!row) break;
    rows.push(row);
  }
  return rows;
}

/** The table that the line heads: its first cell names rounds, and numbered rows follow. */
function tableAt(lines: readonly string[], at: number): Table | null {
  for (const mark of MARKS) {
    const head = rowOf(lines[at], mark);
    if (!head) continue;
    const bare = NUMBERS.test(head.words[0]);
    const words = bare ? head.words.map(() => '') : head.words.map((w) => w.replace(/[*_]/g, ''));
    if (!bare && !HEAD.test(words[0])) continue;
    // Without a head three rows tell whether it is a table at all.
    if (bare && !countsUp(rowsBelow(lines, at, mark, 3))) continue;
    const rows = rowsBelow(lines, bare ? at : at + 1, mark);
    const first = rows[0]?.words[0] ?? '';
    if (!NUMBERS.test(first) && !CASTS_ON.test(first)) continue;
    // "Round 1   knit": only a head tells a table of two columns from a sentence; without one counts must stand last.
    if (bare && !countsUp(rows)) continue;
    if (
      words
        .slice(1)
        .some((w) => /\d/.test(w) && !NEEDLE.test(w) && !SHARED_WORK.test(w) && !TIMES_TOLD.test(w))
    )
      continue;
    return { mark, ...columns(words, rows) };
  }
  return null;
}

/** Rows without a head: numbers that go up, something to work, a count. */
function countsUp(rows: readonly Row[]): boolean {
  const yarned = rows.filter(
    ({ words }) =>
      words.length > 2 && NUMBERS.test(words[0]) && (YARN.test(words[1]) || isColour(words[1])),
  );
  if (yarned.length >= 3 && yarned.length >= 0.8 * rows.length) return true;
  const like = rows.filter(
    ({ words }) =>
      words.length === 3 &&
      /\d/.test(words[0]) &&
      NUMBERS.test(words[0]) &&
      /[a-z]/i.test(words[1]) &&
      COUNT.test(words[2]),
  );
  const numbers = like.map(({ words }) => Number(/\d+/.exec(words[0])?.[0]));
  return (
    like.length >= 3 &&
    like.length === rows.length &&
    numbers.every((n, i) => !i || n > numbers[i - 1])
  );
}

/** "Work the middle column once for each of the four sides", "the second column is worked on every needle": as its head says. */
const COLUMN_TOLD =
  /\b(?<=^[ \t]*|[.;!:][ ]{1,3})(?:(?:work|read|follow|knit|repeat) (?:the |what is in the )?(?:[a-z]+ )?column|(?:the )?(?:[a-z]+ )?column is (?:worked|read|followed|knitted|repeated)) (?:once |again )?(?:for|on|along|over|across) (?:each|every|all)(?: one)?(?: of)?(?: the| your)?(?: [a-z0-9]+)? (?:sides?|needles?|sections?|quarters?)\.?(?=[ \t]*(?:$|[A-Z]))/gim;

/** "2 - k2tog, k18, ssk on each needle - 80": dashes that part the cells. */
const DASHED =
  /^([ \t]*\d{1,3} )[-–]( [^|\t\n]{1,200}? )[-–]( \d{1,5}(?: (?:sts|stitches))?[ \t]*)$/;
const dashed = (line: string): string => line.replace(DASHED, '$1|$2|$3');

/** Same length: rows of tables as lines of text. */
export function plainTables(text: string): string {
  if (!/[\t|]| {2}\S|^[^\n,;]{1,12}[,;]|^[ ]*\d{1,3} [-–] /m.test(text)) return text;
  const lines = text.split('\n').map(dashed);
  let table: Table | null = null;
  let shared = false;
  let before = '';
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i];
    if (table && RULE.test(line)) {
      lines[i] = ' '.repeat(line.length);
      continue;
    }
    const row = table && rowOf(line, table.mark);
    if (table && row) {
      const { words } = row;
      lines[i] = plainRow(line, row, table, before);
      before = words[table.roles.lastIndexOf('total')] ?? before;
      continue;
    }
    const found = tableAt(lines, i);
    if (found) {
      table = found;
      shared ||= found.roles.includes('shared');
      const headless = NUMBERS.test(rowOf(line, found.mark)?.words[0] ?? '');
      lines[i] = headless ? '' : ' '.repeat(line.length);
      if (headless) {
        lines[i--] = line;
      }
      continue;
    }
    table = null;
    lines[i] = line.replaceAll('|', ' ');
  }
  const plain = lines.join('\n');
  return shared ? plain.replace(COLUMN_TOLD, (said) => ' '.repeat(said.length)) : plain;
}

/** More cells than columns: a wide gap within the words to work. */
function fitted(row: Row, roles: readonly Role[], line: string): Row {
  const more = row.cells.length - roles.length;
  const at = roles.findIndex((r) => r === 'work' || r === 'shared');
  if (more <= 0 || at < 0) return row;
  const cells = [...row.cells];
  const whole = { from: cells[at].from, to: cells[at + more].to };
  cells.splice(at, more + 1, whole);
  return { cells, words: cells.map(({ from, to }) => line.slice(from, to).trim()) };
}

/** Fewer cells than columns: the last one is a count, or none is told. */
function placed(words: readonly string[], roles: readonly Role[]): readonly Role[] {
  if (words.length >= roles.length) return roles;
  const total = roles.lastIndexOf('total');
  const last = words.length - 1;
  if (last < 2 || !COUNT.test(words[last]) || roles[last] === 'total' || total < 0) return roles;
  return roles.map((r, i) => (i === last ? 'total' : r));
}

function plainRow(written: string, given: Row, table: Table, before: string): string {
  const { mark } = table;
  const line = mark === ',' ? withoutQuotes(written) : written;
  const { cells, words } = fitted(given, table.roles, line);
  const roles = placed(words, table.roles);
  const out = line
    .split('')
    .map((c) => (c === HELD ? ',' : c === mark || c === '|' || c === '\t' ? ' ' : c));
  const put = (i: number, c: string): void => {
    out[cells[i].from - 1] = c;
  };
  const blank = (i: number): void => {
    if (cells[i]) out.fill(' ', cells[i].from, cells[i].to);
  };
  const at = (role: Role): number => roles.findIndex((r, i) => r === role && i < words.length);
  const number = (i: number): number => countIn(words[i]);
  const work = Math.max(at('work'), at('shared'));
  const totalAt = at('total');
  const total = number(totalAt);
  const shareAt = at('share');
  const { parts } = table;
  const all = countsIn(words[totalAt]);
  const each = countsIn(words[shareAt]);
  const whole =
    parts > 0 && each.length === all.length && each.every((n, i) => n * parts === all[i]);
  const dealt = words.reduce((sum, _, i) => sum + (table.needles[i] ? number(i) : 0), 0);

  if (ENDS.test(words[0]) && ENDING.test(words.slice(1).join(' '))) {
    blank(0);
    if (words[totalAt] === before || /^0(?: sts?)?$/.test(words[totalAt] ?? '')) blank(totalAt);
    return out.join('');
  }
  if (
    CASTS_ON.test(words[0]) &&
    (/cast|co\b/i.test(words.join(' ')) || /^(?:0|start)$/i.test(words[0]))
  ) {
    const told = work < 0 ? at('needle') : work;
    return castOnRow(out, { cells, words }, { work: told, totalAt, total, shareAt });
  }
  if (!NUMBERS.test(words[0]) && !/^(?:set[ -]?up|foundation|edge|edging|joining)/i.test(words[0]))
    return out.join('');

  const roman = romanValue(words[0]);
  if (roman) {
    const from = line.indexOf(words[0]);
    const digits = String(roman).padEnd(words[0].length).slice(0, words[0].length);
    out.splice(from, digits.length, ...digits);
  }
  // "18 / 72", where the one is a part of the other
  const both = SHARE_AND_ALL.exec(words[totalAt] ?? '');
  if (both && parts > 1 && Number(both[1]) * parts === Number(both[2])) {
    const { from } = cells[totalAt];
    const first = line.indexOf(both[1], from);
    out.fill(' ', first, line.indexOf('/', first) + 1);
  }
  const several = number(at('times')) > 1;
  const told = (i: number): boolean => /^(?:work|shared)$/.test(roles[i] ?? '') && words[i] !== '';
  // "3 | plain | | 84": what sort of round it is tells all of it.
  const [first, alone] = [words.findIndex((_, i) => i > 0 && told(i)), at('sort')];
  const begins = first < 0 && alone > 0 ? alone : first;
  const ahead = totalAt >= 0 && totalAt < work;
  // "as 3 and 4": what those are already told for.
  const like = /^(?:as|like|same|rep|repeat|=|the same)\b/i.test(words[work] ?? '');
  const wraps =
    !like &&
    at('shared') >= 0 &&
    parts > 1 &&
    parts <= MOST_PARTS &&
    !/^(?:k(?:nit)?|p(?:url)?|plain)[^\d]*$/i.test(words[work]);
  words.forEach((word, i) => {
    if (i === 0 || word === '') return;
    const role = roles[i] ?? 'remark';
    if (role === 'total')
      put(i, ahead ? '(' : wraps ? String.fromCharCode(TIMES_FROM + parts - 2) : '=');
    else if (role === 'needle') put(i, String.fromCharCode(NEEDLE_FROM + table.needles[i]));
    else if (role === 'share') {
      if (table.needles[i] ? dealt === total : whole) blank(i);
      else put(i, PER_SIDE);
    } else if (role === 'remark') TICKED.test(word) ? blank(i) : put(i, '\n');
    else if (role === 'times') several ? put(i, TIMES_BEHIND) : blank(i);
    else if (role === 'colour') YARN.test(word) ? put(i, ':') : put(i, IN_COLOUR);
    else if (roles[i - 1] === 'colour' && words[i - 1] !== '')
      YARN.test(words[i - 1]) || put(i, ',');
    else if (role === 'sort' && i !== begins) blank(i);
    else if (i === begins && !(i === work && ahead))
      put(
        i,
        wraps || several ? SHARED_FROM : role === 'shared' && parts === 0 && !like ? ON_EACH : ':',
      );
    else if (i === work && ahead) put(i, AFTER_COUNT);
  });
  return out.join('');
}

/** `CO | cast on 21 | 21 | 63`, `0 | cast on | 90`: all that is cast on. */
function castOnRow(
  out: string[],
  { cells, words }: Row,
  at: { work: number; totalAt: number; total: number; shareAt: number },
): string {
  const { work, totalAt, total, shareAt } = at;
  const told = /\d+/.exec(words[work] ?? '');
  const of = Number(words[shareAt] ?? 0);
  const put = (i: number, c: string): void => {
    out[cells[i].from - 1] = c;
  };
  const counted = told !== null || total <= 0;
  if (work > 0 && counted && /cast|\bco\b/i.test(words[work]))
    out.fill(' ', cells[0].from, cells[0].to);
  else if (!/c/i.test(words[0]))
    out.splice(
      cells[0].from,
      cells[0].to - cells[0].from,
      ...'co'.padEnd(cells[0].to - cells[0].from),
    );
  // "CO | long-tail | 35"
  if (work > 0 && !told && total > 0 && !/join|needle|mark|place|divide/i.test(words[work])) {
    const room = cells[work].to - cells[work].from;
    const count = String(total);
    if (count.length <= room) {
      out.splice(cells[work].from, room, ...count.padEnd(room));
      out.fill(' ', cells[totalAt].from, cells[totalAt].to);
      return out.join('');
    }
  }
  if (told && of > 0 && Number(told[0]) === of && total > of && total % of === 0) {
    const from =
      cells[work].from + out.slice(cells[work].from, cells[work].to).join('').indexOf(told[0]);
    const rest = out.length - from;
    const behind = words[work]
      .slice(told.index + told[0].length)
      .replaceAll(/\beach needle\b/gi, '');
    out.splice(from, rest, ...`${total}${behind}`.padEnd(rest).slice(0, rest));
  } else {
    if (shareAt > 0 && shareAt !== totalAt) out.fill(' ', cells[shareAt].from, cells[shareAt].to);
    if ((told || !counted) && totalAt > 0) put(totalAt, '=');
    // "CO | any stretchy cast-on, join | 64": the name of a way, and how many behind it
    const named = counted ? null : /cast[ -]?on\b/i.exec(words[work] ?? '');
    if (named) {
      const from = out.join('').toLowerCase().indexOf(named[0].toLowerCase(), cells[work].from);
      out.splice(from, named[0].length, ...'edge'.padEnd(named[0].length));
    }
  }
  return out.join('');
}
