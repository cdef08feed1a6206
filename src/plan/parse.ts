/**
 * `parsePlan`: the designer's text → Plan. Lexer, header lines, statements, then every round worked out stitch
 * by stitch. Never throws: mistakes are diagnostics, and the rounds stay consistent with each other as far
 * as they could be worked out.
 */
import { DiagnosticList } from './diagnostics.ts';
import type { CastOn, Join, SetUp, Statement, WorkClause } from './grammar/ast.ts';
import { coloursAlike } from './grammar/colours.ts';
import { splitLines } from './grammar/lines.ts';
import { Recall } from './grammar/recall.ts';
import { placesOf } from './grammar/statements/cast-on.ts';
import { HeaderReader, type Headers } from './grammar/statements/header.ts';
import { NOT_JOINED } from './grammar/statements/opening/joins.ts';
import { StatementReader } from './grammar/statements.ts';
import { declaredIn } from './grammar/steps/declared-repeats.ts';
import type { Sizes } from './lex/sizes.ts';
import { positionAt, readSource, type Source } from './lex/source.ts';
import { tokenize } from './lex/tokens.ts';
import { Abbreviations } from './lexicon/abbreviations.ts';
import type { Plan, PlanRound } from './plan.ts';
import { checkMarkersTold, sayCornersUnmarked } from './resolve/opening-markers.ts';
import { workStatements } from './resolve/work-statements.ts';
import { StitchRegistry } from './stitches/stitch-registry.ts';
import { RoundExpander } from './work/expand.ts';
import { noteJoin } from './work/join-notes.ts';
import { MOST_STITCHES } from './work/round-buffer.ts';
import { noteShortRows } from './work/short-row-notes.ts';
import { WorkedPiece } from './work/worked-piece.ts';

/** Limit on the text (DESIGN section 9: 1 MB). */
const MOST_TEXT = 1_000_000;
/** Limit on lines, which bounds the time that reading takes. Chosen: far above any pattern. */
const MOST_LINES = 20_000;

/** Longest text whose other sizes are read as well. Chosen: bounds the time. */
const MOST_SIZED = 100_000;

/** `size`: index of the size to follow where the text is for several; else its `Size:` line or the first. */
export function parsePlan(text: string, size: number | null = null): Plan {
  return new PlanReader().read(text, size);
}

/**
 * Reads one text after another, as an editor does: gives what `parsePlan` gives, and reads again only lines that are
 * not as before.
 */
export class PlanReader {
  /** [sizes] what was read of the text before. */
  readonly #recalls: Recall[] = [];

  read(text: string, size: number | null = null): Plan {
    return readSizes(text, size, (i) => {
      this.#recalls[i] ??= new Recall();
      return this.#recalls[i];
    });
  }
}

function readSizes(text: string, size: number | null, recallOf: (size: number) => Recall): Plan {
  const tooLong = text.length > MOST_TEXT || countLines(text) > MOST_LINES;
  const source = readSource(tooLong ? '' : text, size);
  const found = new DiagnosticList(source);
  const { sizes } = source;
  const plan = readPlan(text, tooLong, source, found, recallOf(sizes?.chosen ?? 0));
  if (!sizes) return plan;
  const castOns: number[] = [];
  for (let i = 0; i < sizes.count; i++) {
    if (i === sizes.chosen || text.length > MOST_SIZED) {
      castOns.push(plan.castOn);
      continue;
    }
    const other = readSource(text, i);
    const list = new DiagnosticList(other);
    const another = readPlan(text, false, other, list, recallOf(i));
    castOns.push(another.castOn);
    addOtherSize(found, plan, another, nameOf(sizes, i));
  }
  const { names, chosen } = sizes;
  const followed = `${sizes.count} sizes are given${names.length > 0 ? ` (${names.join(', ')})` : ''}; ${nameOf(sizes, chosen)} is followed`;
  found.addAt(
    'note',
    'several-sizes',
    plan.castOnAt,
    plan.castOnAt,
    followed,
    'A line such as "Size: 2" chooses another.',
  );
  return { ...plan, sizes: { names, chosen, castOns }, diagnostics: found.list() };
}

function nameOf(sizes: Sizes, i: number): string {
  return sizes.names[i] ?? (i === 0 ? 'the first' : `size ${i + 1}`);
}

/** Mistakes that only another size has. */
function addOtherSize(found: DiagnosticList, plan: Plan, other: Plan, name: string): void {
  const known = new Set(plan.diagnostics.map((d) => `${d.code} ${d.from.line}`));
  for (const d of other.diagnostics) {
    if (d.severity !== 'error' || known.has(`${d.code} ${d.from.line}`)) continue;
    found.addAt(d.severity, d.code, d.from, d.to, `in the size ${name}: ${d.message}`, d.hint);
    return;
  }
}

function readPlan(
  text: string,
  tooLong: boolean,
  source: Source,
  found: DiagnosticList,
  recall: Recall,
): Plan {
  if (tooLong) sayTooLong(found);
  const abbreviations = new Abbreviations();
  const { tokens, lines } = splitLines(tokenize(source), source.norm);
  const headerReader = new HeaderReader(source, abbreviations, found);
  headerReader.read(lines);
  abbreviations.declare(declaredIn(source.norm));
  const { headers } = headerReader;
  const statements = new StatementReader(tokens, source, abbreviations, recall).read(lines);

  const castOnAt = statements.findIndex((s) => s.kind === 'cast-on');
  const statement = statements[castOnAt];
  const castOn = statement?.kind === 'cast-on' ? statement.castOn : null;
  const list = new StitchRegistry(abbreviations);
  // "On all even rounds knit" may stand above the cast-on.
  const rules = statements
    .slice(0, Math.max(0, castOnAt))
    .filter((s) => s.kind === 'round' && s.label?.rule && s.label.numbers.length === 0);
  const rest = onePiece([
    ...rules,
    ...(castOnAt >= 0 ? statements.slice(castOnAt + 1) : statements),
  ]);
  const count = castOn ? checkCastOn(castOn, statement, found) : guessCastOn(rest, list);
  if (!castOn) sayNoCastOn(found, count);

  const setUps = setUpsOf(statements, castOnAt);
  const joined = castOn?.join != null || setUps.some((s) => s.joins);
  const worked = headers.worked ?? (joined ? 'round' : guessWorked(source, statements));
  const named = sidesNamed(source.norm, headers.title);
  const shared = castOn?.sides ?? needlesShared(setUps, count);
  // Two tips of a long needle, or three needles, hold a square as well (common practice).
  const held = shared !== null && shared < 4 && named !== null && named > 3;
  const byNeedle = /\b(?:each|every|both) (?:needle|tip)|\bneedle \d/.test(source.norm);
  const sides =
    headers.sides ?? (held && !byNeedle && count % named === 0 ? named : shared) ?? named;
  const placed = placedMarkers(castOn, setUps, count, sides);
  if (castOn) {
    const opening = statements.slice(castOnAt);
    if (placed.markers.length > 0) checkMarkersTold(opening, placed.markers.length, worked, found);
    else if (worked === 'round') sayCornersUnmarked(opening, count, sides, found);
  }
  const roundMarker =
    worked === 'round' &&
    (placed.markers.length > (castOn?.markers.length ?? 0) ||
      (castOn?.roundMarker ?? false) ||
      setUps.some((s) => s.joins && s.roundMarker));
  const piece = new WorkedPiece(
    source,
    found,
    list,
    {
      worked,
      firstWrongSide: worked === 'flat' && firstWrongSide(statements),
      castOn: count,
      markers: placed.markers,
      roundMarker,
      roundMm: roundHeight(headers),
    },
    sides,
  );
  if (count > 0) workStatements(castOnAt > 0 ? statements.slice(0, castOnAt) : [], rest, piece);

  const join: Join = headers.join ??
    castOn?.join ??
    joinOf(setUps) ?? { method: 'plain', halfTurns: 0 };
  const plan = {
    version: 1,
    text,
    title: headers.title ?? titleOf(source, statements),
    yarn: headers.yarn,
    gauges: headers.gauges,
    needles: headers.needles,
    worked,
    join: { method: join.method, halfTurns: join.halfTurns },
    seam: worked === 'flat' ? seamOf(headers, headerReader, source) : null,
    sides: piece.counts.sides,
    castOn: count,
    castOnMarkers: roundMarker ? [0, ...placed.markers] : placed.markers,
    castOnAt: positionAt(source, statement?.from ?? 0),
    rounds: inOneName(piece.rounds, coloursAlike(source.norm)),
    ending: piece.ending,
    kinds: list.kinds,
  } as const;
  noteJoin(plan, join.assumed ?? false, found);
  noteShortRows(plan, found);
  return { ...plan, diagnostics: found.list() };
}

/** Rounds with every colour by one name, whichever of its names they were told in. */
function inOneName(
  rounds: readonly PlanRound[],
  names: ReadonlyMap<string, string>,
): readonly PlanRound[] {
  if (names.size === 0) return rounds;
  return rounds.map((r) => {
    const colour = r.colour === undefined ? undefined : names.get(r.colour);
    return colour === undefined ? r : { ...r, colour };
  });
}

function sayTooLong(found: DiagnosticList): void {
  found.add(
    'error',
    'text-too-long',
    0,
    1,
    `this text is longer than a plan can be (1 MB, ${MOST_LINES.toLocaleString('en-US')} lines)`,
    'Keep one piece to a plan and leave out everything but its instructions.',
  );
}

function countLines(text: string): number {
  let lines = 1;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) lines++;
  return lines;
}

// ---- the cast-on ------------------------------------------------------------------------------

function checkCastOn(castOn: CastOn, at: Statement, found: DiagnosticList): number {
  for (const stated of castOn.stated) {
    if (stated === castOn.count) continue;
    found.add(
      'error',
      'stated-count-wrong',
      at.from,
      at.to,
      `${stated} is stated, but ${castOn.count} stitches are cast on`,
    );
  }
  if (castOn.count <= MOST_STITCHES) return castOn.count;
  found.add(
    'error',
    'plan-too-big',
    at.from,
    at.to,
    `more than ${MOST_STITCHES.toLocaleString('en-US')} stitches cannot be followed`,
  );
  return 0;
}

/** Without a cast-on the first round may tell how many stitches it works. */
function guessCastOn(statements: readonly Statement[], list: StitchRegistry): number {
  const first = statements.find((s) => s.kind === 'round');
  if (first?.kind !== 'round' || first.body.kind !== 'steps') return 0;
  const fixed = new RoundExpander(list).fixedOfAll(first.body.steps);
  if (fixed !== null && fixed > 0 && fixed <= MOST_STITCHES) return fixed;
  const stated = first.body.stated?.total ?? first.label?.stated?.total ?? 0;
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
function onePiece(statements: readonly Statement[]): readonly Statement[] {
  return statements.map((s) =>
    s.kind === 'cast-on'
      ? {
          kind: 'refused',
          code: 'second-piece',
          message: 'a second piece begins here, and only one can be followed',
          hint: 'Make a plan of its own for every piece.',
          from: s.from,
          to: s.to,
        }
      : s,
  );
}

// ---- set-up -----------------------------------------------------------------------------------

/** What is said from the cast-on up to the first round. */
function setUpsOf(statements: readonly Statement[], castOnAt: number): SetUp[] {
  const out: SetUp[] = [];
  for (let i = castOnAt + 1; i < statements.length; i++) {
    const s = statements[i];
    if (s.kind === 'round' || s.kind === 'work') break;
    if (s.kind === 'set-up') out.push(s.setUp);
  }
  return out;
}

function joinOf(setUps: readonly SetUp[]): Join | null {
  return setUps.find((s) => s.join !== null)?.join ?? null;
}

function placedMarkers(
  castOn: CastOn | null,
  setUps: readonly SetUp[],
  count: number,
  sides: number | null,
): { markers: readonly number[] } {
  const given = castOn?.markers ?? [];
  if (given.length > 0) return { markers: given };
  const corners = castOn?.cornerMarkers || setUps.some((s) => s.markers === 'corners');
  for (const { markers } of setUps) {
    const places = markers === null || markers === 'corners' ? null : placesOf(markers, count);
    if (places) return { markers: places };
  }
  if (corners && sides !== null && sides > 1 && count % sides === 0) {
    return { markers: placesOf({ every: count / sides }, count) ?? [] };
  }
  return { markers: [] };
}

/** "Divide evenly over 4 needles", "2 sts on each needle": each needle holds one side. */
function needlesShared(setUps: readonly SetUp[], count: number): number | null {
  for (const { perNeedle, needles } of setUps) {
    if (perNeedle !== null && perNeedle > 0 && count % perNeedle === 0) return count / perNeedle;
    if (needles !== null && needles > 1 && count % needles === 0) return needles;
  }
  return null;
}

// ---- flat or round ----------------------------------------------------------------------------

function guessWorked(source: Source, statements: readonly Statement[]): 'round' | 'flat' {
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
  return rows > rounds ? 'flat' : 'round';
}

/** How a piece is worked that is not joined. */
const ROWS_SAID =
  /\b(?:work|works|worked|working|knit|knits|knitted|knitting|it|flat,?)\b[^.\n]{0,30}\b(?:back and forth|to and fro|flat|in rows|no joining)\b/;

/** Row 1 faces the wrong side if the labels say so. */
function firstWrongSide(statements: readonly Statement[]): boolean {
  let rows = 0;
  for (const s of statements) {
    if (s.kind !== 'round' || !s.label) {
      if (s.kind === 'work') return rows === 0 && beginsWrong(s.clauses[0]);
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

/** "Starting with a purl row, work 6 rows in st st": stockinette purls on the wrong side. */
function beginsWrong(clause: WorkClause): boolean {
  const { startWith } = clause.tail;
  const [[step]] = clause.kind === 'plain' ? clause.cycle : [[]];
  const smooth = step?.kind === 'pattern' && step.rule === 'stockinette';
  return startWith.includes('WS') || (smooth && startWith.includes('purl'));
}

function roundHeight({ gauges }: Headers): number | null {
  const ground = gauges.find((g) => g.fabric === null || g.fabric === 'stockinette');
  return ground?.roundMm ?? gauges.find((g) => g.roundMm !== null)?.roundMm ?? null;
}

// ---- the piece as a whole ---------------------------------------------------------------------

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
  // Mattress stitch one stitch in from each edge takes one stitch of each (common practice).
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
  if (first?.kind !== 'prose') return '';
  const text = source.text
    .slice(source.map[first.from], source.map[first.to])
    .replace(/^[\s#*_>]+|[\s*_#]+$/g, '');
  return text.length <= 80 ? text : '';
}
