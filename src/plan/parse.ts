/**
 * `parsePlan`: the designer's text → Plan. Lexer, header lines, statements, then every round worked out stitch
 * by stitch. Never throws: mistakes are diagnostics, and the rounds stay consistent with each other as far
 * as they could be worked out.
 */
import { DiagnosticList } from './diagnostics.ts';
import type { Join } from './grammar/ast.ts';
import { coloursAlike, colourWords, edgeColours } from './grammar/colours.ts';
import { splitLines } from './grammar/lines.ts';
import { evenlyHung, stitchesHung } from './grammar/markers-hung.ts';
import { Recall } from './grammar/recall.ts';
import { roundNamesIn } from './grammar/round-names.ts';
import { liftGauges } from './grammar/statements/gauge-asides.ts';
import { HeaderReader } from './grammar/statements/header.ts';
import { StatementReader } from './grammar/statements.ts';
import { declaredIn } from './grammar/steps/declared-repeats.ts';
import type { Sizes } from './lex/sizes.ts';
import { lineAndColumn, positionAt, readSource, type Source, trimmed } from './lex/source.ts';
import { tokenize } from './lex/tokens.ts';
import { Abbreviations } from './lexicon/abbreviations.ts';
import type { Plan } from './plan.ts';
import {
  checkCastOn,
  checkParts,
  guessCastOn,
  joinOf,
  joinTakes,
  needlesShared,
  onePiece,
  partsNeedles,
  placedMarkers,
  placesMarkers,
  sayNoCastOn,
  setUpsOf,
} from './resolve/opening.ts';
import { checkMarkersTold, sayCornersUnmarked } from './resolve/opening-markers.ts';
import {
  firstWrongSide,
  guessWorked,
  roundHeight,
  seamSaid,
  sidesNamed,
  titleOf,
} from './resolve/piece-shape.ts';
import { seamTaken } from './resolve/seam.ts';
import { workStatements } from './resolve/work-statements.ts';
import { StitchRegistry } from './stitches/stitch-registry.ts';
import { noteJoin } from './work/join-notes.ts';
import { beforeTold } from './work/round-colours.ts';
import { noteShortRows } from './work/short-row-notes.ts';
import { WorkedPiece } from './work/worked-piece.ts';

/** Limit on the text (DESIGN section 9: 1 MB). */
const MOST_TEXT = 1_000_000;
/** Limit on lines, which bounds the time that reading takes. Chosen: far above any pattern. */
const MOST_LINES = 20_000;

/** Characters of all sizes together, up to which the other sizes are read as well. Chosen: bounds the time. */
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
  const all = text.length * sizes.count <= MOST_SIZED;
  const castOns: number[] = [];
  for (let i = 0; i < sizes.count; i++) {
    if (i === sizes.chosen || !all) {
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
  const followed = `${sizes.count} sizes are given${names.length > 0 ? ` (${names.join(', ')})` : ''}; ${nameOf(sizes, chosen)} is followed${all ? '' : '; the text is too long to check the others with it'}`;
  found.addAt({
    severity: 'note',
    code: 'several-sizes',
    from: plan.castOnAt,
    to: plan.castOnAt,
    message: followed,
    hint: 'A line such as "Size: 2" chooses another.',
  });
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
    found.addAt({ ...d, message: `in the size ${name}: ${d.message}` });
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
  for (const { from, to, name } of source.toldTwice)
    found.addAt({
      severity: 'error',
      code: 'name-told-twice',
      from: lineAndColumn(source, from),
      to: lineAndColumn(source, to),
      message: `"${name}" is explained in two ways`,
      hint: 'Give each of them a name of its own, or leave one of them out.',
    });
  const abbreviations = new Abbreviations();
  const split = splitLines(tokenize(source), source.norm);
  const headerReader = new HeaderReader(source, abbreviations, found);
  headerReader.read(split.lines);
  const { tokens, lines, asides } = liftGauges(split.tokens, split.lines, source.norm);
  headerReader.addGauges(asides);
  const repeats = declaredIn(source.norm);
  abbreviations.declare(repeats);
  abbreviations.callRounds(roundNamesIn(source.norm));
  const { headers } = headerReader;
  const statements = new StatementReader(tokens, source, abbreviations, recall).read(lines);

  const castOnAt = statements.findIndex((s) => s.kind === 'cast-on');
  for (const s of statements.slice(0, Math.max(0, castOnAt)))
    if (s.kind === 'refused') found.error(s.code, trimmed(source, s), s.message, s.hint);
  const statement = statements[castOnAt];
  const castOn = statement?.kind === 'cast-on' ? statement.castOn : null;
  // "On all even rounds knit", "Rounds 1 to 4 in A, rounds 5 to 8 in B" may stand above the cast-on.
  const rules = statements
    .slice(0, Math.max(0, castOnAt))
    .filter(
      (s) =>
        s.kind === 'colour' ||
        s.kind === 'edges' ||
        (s.kind === 'ground' && s.all) ||
        (s.kind === 'round' && s.label?.rule && s.label.numbers.length === 0),
    );
  const rest = onePiece([
    ...rules,
    ...(castOnAt >= 0 ? statements.slice(castOnAt + 1) : statements),
  ]);
  const setUps = setUpsOf(statements, castOnAt);
  const taken = castOn === null ? 0 : joinTakes(castOn, setUps);
  const count = castOn
    ? checkCastOn(castOn, statement, found) - taken
    : guessCastOn(rest, new StitchRegistry(abbreviations));
  if (!castOn) sayNoCastOn(found, count);

  const joined = castOn?.join != null || setUps.some((s) => s.joins);
  const worked = headers.worked ?? (joined ? 'round' : guessWorked(source, statements));
  const named = sidesNamed(source.norm, headers.title);
  if (worked === 'round') checkParts(repeats, count, found);
  const hungIn = [...(castOn?.hungIn ?? []), ...setUps.flatMap((s) => s.hungIn)].flatMap((hung) =>
    stitchesHung(hung, count),
  );
  const shared = castOn?.sides ?? needlesShared(setUps, count) ?? evenlyHung(hungIn, count);
  // Two tips of a long needle, or three needles, hold a square as well (common practice).
  const held = shared !== null && shared < 4 && named !== null && named > 3;
  const byNeedle = /\b(?:each|every|both) (?:needle|tip)|\bneedle \d/.test(source.norm);
  const sides =
    headers.sides ?? (held && !byNeedle && count % named === 0 ? named : shared) ?? named;
  const shown = castOn?.roundMarker || setUps.some((s) => s.roundMarker);
  const between = shown === true && worked === 'round' && shared !== null && sides !== null;
  // "Cast on 48 sts, 12 on each of four sides": rounds that go by markers which nothing places go by the sides.
  const unplaced =
    worked === 'round' && !setUps.some((s) => s.hungIn.length > 0) && !placesMarkers(statements);
  const parted = sides !== null && (between || unplaced) && partsNeedles(statements, sides);
  const asTold = placedMarkers(castOn, setUps, count, sides, between && parted).markers;
  const placed = placedMarkers(castOn, setUps, count, sides, parted);
  if (castOn && asTold.length === 0 && placed.markers.length > 0)
    found.note(
      'markers-at-sides',
      statements[castOnAt],
      `no line places the markers that rounds go by: they are taken to part the ${placed.markers.length + 1} sides`,
      'Say for example: place a marker after every 12 sts.',
    );
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
  const edges = edgeColours(source.norm);
  const work = (into: DiagnosticList, otherwise: boolean) => {
    const list = new StitchRegistry(abbreviations);
    const piece = new WorkedPiece(
      source,
      into,
      list,
      {
        worked,
        firstWrongSide: worked === 'flat' && firstWrongSide(statements),
        castOn: count,
        markers: placed.markers,
        hungIn,
        roundMarker,
        roundMm: roundHeight(headers),
        castOnColour: edges.castOn,
      },
      sides,
    );
    const before = castOnAt > 0 ? statements.slice(0, castOnAt) : [];
    const doubtful = count > 0 && workStatements(before, rest, piece, otherwise).doubtful;
    return { piece, list, doubtful, into };
  };
  const { piece, list } = likelier(work, found);

  const told = headers.join ?? castOn?.join ?? joinOf(setUps);
  const join: Join =
    taken > 0
      ? { method: 'extra', halfTurns: told?.halfTurns ?? 0 }
      : (told ?? { method: 'plain', halfTurns: 0 });
  const plan = {
    version: 1,
    text,
    title: headers.title ?? titleOf(source, statements),
    yarn: headers.yarn,
    gauges: headers.gauges,
    needles: headers.needles,
    worked,
    join: { method: join.method, halfTurns: join.halfTurns },
    seam:
      worked === 'flat' ? seamTaken(seamSaid(headers, headerReader, source), piece.rounds) : null,
    sides: piece.counts.sides,
    castOn: count,
    castOnMarkers: roundMarker ? [0, ...placed.markers] : placed.markers,
    castOnAt: positionAt(source, statement?.from ?? 0),
    ...inColours(piece, edges, source),
    ending: piece.ending,
    kinds: list.kinds,
  } as const;
  noteJoin(plan, join.assumed ?? false, found);
  noteShortRows(plan, found);
  return { ...plan, diagnostics: found.list() };
}

/** Works the plan; where it is in doubt whether some named round is worked or only told, as it comes out. */
function likelier<T extends { readonly doubtful: boolean; readonly into: DiagnosticList }>(
  work: (into: DiagnosticList, otherwise: boolean) => T,
  found: DiagnosticList,
): T {
  const begun = found.copy();
  const first = work(found, false);
  const wrong = first.into.firstErrorSince(begun);
  if (!first.doubtful || wrong === null) return first;
  const second = work(begun.copy(), true);
  const later = second.into.firstErrorSince(begun);
  if (later !== null && later <= wrong) return first;
  found.become(second.into);
  return second;
}

/** Rounds with a colour each, every colour by one name whichever of its names it was told in; as they are where none is told. */
function inColours(
  { rounds, colours }: WorkedPiece,
  edges: ReturnType<typeof edgeColours>,
  { norm, yarns }: Source,
): Pick<Plan, 'rounds' | 'colours'> {
  const told = rounds.map((r) => r.colour);
  const ending = edges.ending ?? colours.after(rounds.length);
  if (told.every((colour) => !colour) && (!ending || edges.castOn === ending)) return { rounds };
  const names = coloursAlike(norm);
  const named = (colour: string) =>
    names.get(colour) ?? yarns[Number(/^ownyarn(\d)$/.exec(colour)?.[1]) - 1] ?? colour;
  const first = edges.castOn ?? (told[0] || beforeTold([...told, ending]));
  const coloured = rounds.map((r) => ({ ...r, colour: named(r.colour ?? first) }));
  const words = Object.entries(colourWords(norm)).map(([name, word]) => [named(name), word]);
  return {
    rounds: coloured,
    colours: {
      castOn: named(first),
      ending: named(ending ?? first),
      words: Object.fromEntries(words),
    },
  };
}

function sayTooLong(found: DiagnosticList): void {
  found.error(
    'text-too-long',
    { from: 0, to: 1 },
    `this text is longer than a plan can be (1 MB, ${MOST_LINES.toLocaleString('en-US')} lines)`,
    'Keep one piece to a plan and leave out everything but its instructions.',
  );
}

function countLines(text: string): number {
  let lines = 1;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) lines++;
  return lines;
}
