/**
 * What a text says of the piece as a whole besides its rounds: flat or round, which side faces first, how many sides,
 * its seam, its title. In: the source, its headers and statements. Out: what they tell; a guess by its words else.
 */
import type { Statement, Tail, WorkClause } from '../grammar/ast.ts';
import type { HeaderReader, Headers } from '../grammar/statements/header.ts';
import { NOT_JOINED } from '../grammar/statements/opening/joins.ts';
import { stopOf } from '../grammar/tail/open-tail.ts';
import type { Source } from '../lex/source.ts';
import type { SeamSaid } from './seam.ts';

export function guessWorked(source: Source, statements: readonly Statement[]): 'round' | 'flat' {
  let rounds = 0;
  let rows = 0;
  let sided = 0;
  for (const s of statements) {
    if (s.kind === 'round' && s.label) {
      if (s.label.unit === 'round') rounds++;
      else if (s.label.unit === 'row') rows++;
      if (s.label.side) sided++;
    } else if (s.kind === 'work') {
      const text = source.norm.slice(s.from, s.to);
      if (/\brounds?\b|\brnds?\b/.test(text)) rounds++;
      else if (/\brows?\b/.test(text)) rows++;
    }
  }
  const joins = statements.some(
    (s) => (s.kind === 'set-up' && s.setUp.joins) || (s.kind === 'cast-on' && s.castOn?.join),
  );
  // Rows by their labels, and nothing joined: whatever is told of other pieces "knitted in the round".
  const inRows = rows > 1 && rounds === 0 && !joins;
  if (
    !inRows &&
    /(?:\bjoin(?:ing)?|work(?:ed)?|knit(?:ted)?)\b[^.\n]{0,50}\bround\b/.test(
      source.norm.replace(NOT_JOINED, ' '),
    )
  ) {
    return 'round';
  }
  if (sided > 0 && rounds === 0) return 'flat';
  if (rounds === 0 && !joins && ROWS_SAID.test(source.norm)) return 'flat';
  if (rounds === 0 && !joins && ROWS_AT_ALL.test(source.norm) && !IN_ROUND.test(source.norm))
    return 'flat';
  return rows > rounds ? 'flat' : 'round';
}

/** Rows anywhere, as in the gauge, and nothing that rounds are worked with. */
const ROWS_AT_ALL = /\brows?\b/;
const IN_ROUND =
  /\b(?:rounds?|rnds?|dpns?|double[- ]pointed|circulars?|circular needles?|magic loop|join(?:ed|ing)?)\b/;

/** How a piece is worked that is not joined. */
const ROWS_SAID =
  /\b(?:work|works|worked|working|knit|knits|knitted|knitting|it|flat,?)\b[^.\n]{0,30}\b(?:back and forth|to and fro|flat|in rows|no joining)\b/;

/** Row 1 faces the wrong side if the labels say so. */
export function firstWrongSide(statements: readonly Statement[]): boolean {
  let rows = 0;
  for (const s of statements) {
    if (s.kind !== 'round' || !s.label) {
      if (s.kind === 'ground' && rows === 0 && beginsOnWrong(s.startWith ?? [], true)) return true;
      if (s.kind !== 'work') continue;
      if (rows === 0 && beginsWrong(s.clauses[0])) return true;
      const worked = rowsOf(s.clauses);
      if (worked === null) return false;
      rows += worked;
      continue;
    }
    const { numbers, rule } = s.label;
    let { side } = s.label;
    if (side === null && numbers.length > 0 && (rule === 'ws' || rule === 'rs')) {
      side = rule === 'ws' ? 'WS' : 'RS';
    }
    if (side !== null) {
      const n = numbers.length > 0 ? numbers[0] : rows + 1;
      const parity = (rows > 0 && numbers.length === 0 ? rows : n - 1) % 2 === 1;
      return (side === 'WS') !== parity;
    }
    if (rule === null) rows += Math.max(1, numbers.length) * s.label.repeat;
  }
  return false;
}

/** Rows that clauses of prose come to; null where their words alone do not say. */
function rowsOf(clauses: readonly WorkClause[]): number | null {
  let rows = 0;
  for (const clause of clauses) {
    const stop = stopOf(clause.tail);
    if (clause.kind !== 'plain' || clause.rounds === null || stop !== null) return null;
    rows += clause.rounds;
  }
  return rows;
}

/** "Starting with a purl row, work 6 rows in st st": stockinette purls on the wrong side. */
function beginsWrong(clause: WorkClause): boolean {
  const { startWith } = clause.tail;
  const [[step]] = clause.kind === 'plain' ? clause.cycle : [[]];
  const smooth = step?.kind === 'pattern' && step.rule === 'stockinette';
  return beginsOnWrong(startWith, smooth);
}

function beginsOnWrong(said: Tail['startWith'], smooth: boolean): boolean {
  return said.includes('WS') || (smooth && said.includes('purl'));
}

export function roundHeight({ gauges }: Headers): number | null {
  const ground = gauges.find((g) => g.fabric === null || g.fabric === 'stockinette');
  return ground?.roundMm ?? gauges.find((g) => g.roundMm !== null)?.roundMm ?? null;
}

const SIDE_WORDS: readonly (readonly [RegExp, number])[] = [
  [/\btriang(?:le|ular)\b|\b(?:three|3)[\s-]*sided\b/, 3],
  [/\bpentagon/, 5],
  [/(?<!\bnot an? )\bhexagon/, 6],
  [/\boctagon/, 8],
  [
    /(?<!\bnot an? )\bsquare\b(?!\s*(?:cm|in|inch|\d|#|no\b))|\b(?:four|4)[\s-]*sided\b|\b(?:four|4)\s+(?:sides|corners)\b/,
    4,
  ],
];

/** "a piece of 5 sides"; not "sew 3 sides", "the other 3 sides", "2 sides of the hexagon on each needle". */
const SIDES_TOLD =
  /(?<!\b(?:sew|sewing|seam|seaming|join|joining|stitch|stitching|close|leave|leaving|along|other|remaining|around)(?:\s+(?:up|the|all|together|along|on|around|round|it|them|just|only))*\s+)\b(\d{1,2}|three|four|five|six|eight)\s+(?:equal\s+)?sides\b(?!\s+(?:of\s+(?:the|your|a)|on\s+(?:each|every|a|one))\b)/;

export function sidesNamed(text: string, title: string | null): number | null {
  const named = SIDES_TOLD.exec(text);
  if (named) {
    const words: Record<string, number> = { three: 3, four: 4, five: 5, six: 6, eight: 8 };
    const n = words[named[1]] ?? Number(named[1]);
    if (n >= 1) return n;
  }
  for (const where of [title?.toLowerCase() ?? '', text]) {
    for (const [re, n] of SIDE_WORDS) if (re.test(where)) return n;
  }
  return null;
}

/** What the text says of a seam: its stitches, or that it is sewn. */
export function seamSaid(headers: Headers, reader: HeaderReader, source: Source): SeamSaid {
  if (headers.seam || reader.seamSaid) return headers.seam;
  const sewn =
    /\b(?:sew|seam|graft)\b[^.\n]{0,60}\b(?:seam|edges?|sides?|together|ends?)\b|\bmattress\s+st/;
  return sewn.test(source.norm) ? 'sewn' : null;
}

/** The first line of prose before the cast-on serves as title. */
export function titleOf(source: Source, statements: readonly Statement[]): string {
  const first = statements[0];
  if (first?.kind !== 'prose') return '';
  const text = source.text
    .slice(source.map[first.from], source.map[first.to])
    .replace(/^[\s#*_>]+|[\s*_#]+$/g, '');
  return text.length <= 80 && !SIZES_LINE.test(text) ? text : '';
}

/** A line of sizes is no title. */
const SIZES_LINE = /^(?:for\s+)?sizes?\b[\s:]*[^([\n]*[([][^)\]\n]*[)\]]\.?$/i;
