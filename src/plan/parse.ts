/**
 * `parsePlan`: the designer's text → Plan. Header lines, then the cast-on, then every round worked out
 * stitch by stitch. Never throws: mistakes are diagnostics, and the rounds stay consistent with each
 * other as far as they could be worked out.
 */

import { type CastOnLine, markersIn, readCastOn } from './cast-on-lines.ts';
import { DiagnosticList } from './diagnostics.ts';
import { readSteps } from './grammar/steps/step-reader.ts';
import { HeaderReader, type Headers, type Line, readJoin } from './headers.ts';
import { toNumber } from './lex/numbers.ts';
import { positionAt, readSource, type Source, sentenceAt } from './lex/source.ts';
import { Abbreviations } from './lexicon/abbreviations.ts';
import type { Plan } from './plan.ts';
import { workStatements } from './resolve/work-statements.ts';
import { readStatements, type Statement } from './statements.ts';
import { KindList } from './stitches/stitch-registry.ts';
import { RoundExpander } from './work/expand.ts';
import { MOST_STITCHES } from './work/round-buffer.ts';
import { WorkedPiece } from './work/worked-piece.ts';

/** Limit on the text (DESIGN section 9: 1 MB). */
export const MOST_TEXT = 1_000_000;
/** Limit on lines, which bounds the time that reading takes. Chosen: far above any pattern. */
export const MOST_LINES = 20_000;

export function parsePlan(text: string): Plan {
  const tooLong = text.length > MOST_TEXT || countLines(text) > MOST_LINES;
  const source = readSource(tooLong ? '' : text);
  const found = new DiagnosticList(source);
  if (tooLong) {
    found.add(
      'error',
      'text-too-long',
      0,
      1,
      `this text is longer than a plan can be (1 MB, ${MOST_LINES.toLocaleString('en-US')} lines)`,
      'Keep one piece to a plan and leave out everything but its instructions.',
    );
  }
  const abbreviations = new Abbreviations();
  const lines = splitLines(source);
  const headerReader = new HeaderReader(source, abbreviations, found);
  headerReader.read(lines);
  const { headers } = headerReader;
  const statements = readStatements(source, lines, abbreviations);

  const castOnAt = statements.findIndex((s) => s.kind === 'cast-on');
  const castOnStatement = statements[castOnAt] ?? null;
  const castOn = castOnStatement ? readCastOn(sentenceAt(source, castOnStatement)) : null;
  const worked = headers.worked ?? guessWorked(source, statements);
  const join = headers.join ??
    castOn?.join ??
    proseJoin(source, statements) ?? { method: 'plain' as const, halfTurns: 0 };
  const list = new KindList(abbreviations);
  const after = castOnAt >= 0 ? statements.slice(castOnAt + 1) : statements;
  const rest = dropLaterPieces(after, source, found);
  const count = castOn
    ? checkCastOn(castOn, castOnStatement as Statement, found)
    : guessCastOn(source, rest, abbreviations, list);
  if (!castOn) sayNoCastOn(found, count);

  const ground = headers.gauges.find((g) => g.fabric === null || g.fabric === 'stockinette');
  const roundMm =
    ground?.roundMm ?? headers.gauges.find((g) => g.roundMm !== null)?.roundMm ?? null;
  const sides =
    headers.sides ??
    castOn?.sides ??
    needlesShared(source, statements, count) ??
    sidesNamed(source.norm, headers.title);
  const placed =
    castOn && castOn.markers.length === 0
      ? markersIn(setUpText(source, statements, castOnAt), count, sides)
      : null;
  const markers = placed ?? castOn?.markers ?? [];
  const roundMarker =
    worked === 'round' &&
    (placed !== null || (castOn?.roundMarker ?? false) || saysRoundMarker(source, statements));
  const piece = new WorkedPiece(
    source,
    found,
    list,
    {
      worked,
      firstWrongSide: worked === 'flat' && firstWrongSide(statements),
      castOn: count,
      markers,
      roundMarker,
      roundMm,
    },
    sides,
  );
  if (count > 0) workStatements(rest, piece, abbreviations);

  return {
    version: 1,
    text,
    title: headers.title ?? titleOf(source, statements),
    yarn: headers.yarn,
    gauges: headers.gauges,
    needles: headers.needles,
    worked,
    join,
    seam: worked === 'flat' ? seamOf(headers, headerReader, source) : null,
    sides: piece.counts.sides,
    castOn: count,
    castOnMarkers: roundMarker ? [0, ...markers] : markers,
    castOnAt: positionAt(source, castOnStatement?.from ?? 0),
    rounds: piece.rounds,
    ending: piece.ending,
    kinds: list.kinds,
    diagnostics: found.list(),
  };
}

/** What is said from the cast-on up to the first round. */
function setUpText(source: Source, statements: readonly Statement[], castOnAt: number): string {
  if (castOnAt < 0) return '';
  let end = castOnAt;
  while (end + 1 < statements.length) {
    const { kind } = statements[end + 1];
    if (kind !== 'join' && kind !== 'heading' && kind !== 'count') break;
    end++;
  }
  return sentenceAt(source, { from: statements[castOnAt].from, to: statements[end].to });
}

function countLines(text: string): number {
  let lines = 1;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) lines++;
  return lines;
}

function splitLines(source: Source): Line[] {
  const lines: Line[] = [];
  let from = 0;
  for (;;) {
    const end = source.norm.indexOf('\n', from);
    lines.push({ from, to: end < 0 ? source.norm.length : end, taken: false });
    if (end < 0) return lines;
    from = end + 1;
  }
}

function guessWorked(source: Source, statements: readonly Statement[]): 'round' | 'flat' {
  if (/(?:join|joining|work(?:ed)?|knit(?:ted)?)\b[^.\n]{0,50}\bround\b/.test(source.norm)) {
    return 'round';
  }
  let rounds = 0;
  let rows = 0;
  let sided = 0;
  for (const s of statements) {
    if (s.kind === 'round' && s.label) {
      if (s.label.unit === 'round') rounds++;
      else if (s.label.unit === 'row') rows++;
      if (s.label.side) sided++;
    } else if (s.kind === 'plain' || s.kind === 'repeat') {
      const text = source.norm.slice(s.from, s.to);
      if (/\brounds?\b|\brnds?\b/.test(text)) rounds++;
      else if (/\brows?\b/.test(text)) rows++;
    }
  }
  if (sided > 0 && rounds === 0) return 'flat';
  return rows > rounds ? 'flat' : 'round';
}

/** Row 1 faces the wrong side if the labels say so. */
function firstWrongSide(statements: readonly Statement[]): boolean {
  let rows = 0;
  for (const s of statements) {
    if (s.kind !== 'round' || !s.label) {
      if (s.kind === 'plain' || s.kind === 'repeat') return false;
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

function saysRoundMarker(source: Source, statements: readonly Statement[]): boolean {
  return statements.some(
    (s) =>
      s.kind === 'join' &&
      /\bpm\b|place\s+(?:a\s+)?(?:stitch\s+)?marker/.test(source.norm.slice(s.from, s.to)),
  );
}

function proseJoin(source: Source, statements: readonly Statement[]): Plan['join'] | null {
  for (const s of statements) {
    if (s.kind === 'round' || s.kind === 'plain') return null;
    if (s.kind === 'join') {
      const join = readJoin(sentenceAt(source, s));
      if (join) return join;
    }
  }
  return null;
}

function checkCastOn(line: CastOnLine, at: Statement, found: DiagnosticList): number {
  if (line.severalSizes) {
    found.add(
      'warning',
      'several-sizes',
      at.from,
      at.to,
      'several sizes are given; the first one is followed',
      'Write a plan for one size.',
    );
  }
  if (line.stated !== null && line.stated !== line.count) {
    found.add(
      'error',
      'stated-count-wrong',
      at.from,
      at.to,
      `${line.stated} is stated, but ${line.count} stitches are cast on`,
    );
  }
  if (line.count > MOST_STITCHES) {
    found.add(
      'error',
      'plan-too-big',
      at.from,
      at.to,
      `more than ${MOST_STITCHES.toLocaleString('en-US')} stitches cannot be followed`,
    );
    return 0;
  }
  return line.count;
}

/** Without a cast-on the first round may tell how many stitches it works. */
function guessCastOn(
  source: Source,
  statements: readonly Statement[],
  abbreviations: Abbreviations,
  list: KindList,
): number {
  const first = statements.find((s) => s.kind === 'round');
  if (first?.kind !== 'round') return 0;
  const from = first.label?.end ?? first.from;
  const read = readSteps(source.norm.slice(from, first.to), from, abbreviations, null);
  const fixed = new RoundExpander(list).fixedOfAll(read.steps);
  if (fixed !== null && fixed > 0 && fixed <= MOST_STITCHES) return fixed;
  const stated = read.stated?.total ?? first.label?.stated?.total ?? 0;
  return stated <= MOST_STITCHES ? stated : 0;
}

function sayNoCastOn(found: DiagnosticList, guess: number): void {
  found.add(
    'error',
    'cast-on-missing',
    0,
    1,
    guess > 0
      ? `the number of stitches to cast on is missing; the first round works ${guess}`
      : 'the number of stitches to cast on is missing',
    `Begin with a line such as: Cast on ${guess > 0 ? guess : 120} sts.`,
  );
}

/** A second cast-on starts another piece, which a plan does not hold. */
function dropLaterPieces(
  statements: readonly Statement[],
  source: Source,
  found: DiagnosticList,
): readonly Statement[] {
  const at = statements.findIndex(
    (s, i) => s.kind === 'cast-on' && statements.slice(0, i).some((t) => t.kind === 'end'),
  );
  if (at < 0) return statements;
  const s = statements[at];
  void source;
  found.add(
    'warning',
    'second-piece',
    s.from,
    s.to,
    'another piece begins here; only the first one is followed',
    'Make a plan of its own for every piece.',
  );
  return statements.slice(0, at);
}

/** "Divide evenly over 4 needles", "2 sts on each needle": each needle holds one side. */
function needlesShared(
  source: Source,
  statements: readonly Statement[],
  count: number,
): number | null {
  for (const s of statements) {
    if (s.kind === 'round' || s.kind === 'plain') return null;
    const text = sentenceAt(source, s);
    const each = /(\d+)\s*(?:sts?|stitch(?:es)?)?\s*(?:on|per)\s+(?:each\s+)?needle/.exec(text);
    if (each && Number(each[1]) > 0 && count % Number(each[1]) === 0)
      return count / Number(each[1]);
    const m =
      /(?:divid|distribut|spread|arrang|split)[^.]{0,60}?(?:over|on|onto|between|across|among)\s+(\d+|three|four|five|six|eight)\s+(?:double|dpn|needle)/.exec(
        text,
      );
    const n = m ? toNumber(m[1]) : 0;
    if (n > 0 && count % n === 0) return n;
  }
  return null;
}

const SIDE_WORDS: readonly (readonly [RegExp, number])[] = [
  [/\btriang(?:le|ular)\b|\b(?:three|3)[\s-]*sided\b/, 3],
  [/\bpentagon/, 5],
  [/\bhexagon/, 6],
  [/\boctagon/, 8],
  [
    /\bsquare\b(?!\s*(?:cm|in|inch))|\b(?:four|4)[\s-]*sided\b|\b(?:four|4)\s+(?:sides|corners)\b/,
    4,
  ],
];

function sidesNamed(text: string, title: string | null): number | null {
  const named = /\b(\d{1,2}|three|four|five|six|eight)\s+(?:equal\s+)?sides\b/.exec(text);
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

function seamOf(headers: Headers, reader: HeaderReader, source: Source): Plan['seam'] {
  if (headers.seam || reader.seamSaid) return headers.seam;
  // Mattress stitch one stitch in from each edge takes one stitch of each (lanagrossa stricktipp).
  if (
    /\b(?:sew|seam|graft)\b[^.\n]{0,60}\b(?:seam|edges?|sides?|together|ends?)\b|\bmattress\s+st/.test(
      source.norm,
    )
  ) {
    return { begin: 1, end: 1 };
  }
  return null;
}

/** The first line of prose before the cast-on serves as title. */
function titleOf(source: Source, statements: readonly Statement[]): string {
  const first = statements[0];
  if (first?.kind !== 'heading') return '';
  const text = source.text
    .slice(source.map[first.from], source.map[first.to])
    .replace(/^[\s#*_>]+|[\s*_#]+$/g, '');
  return text.length <= 80 ? text : '';
}
