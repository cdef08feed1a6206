/**
 * What a clause of prose tells besides, against what came out: counts in a row, rounds in all, stitches fewer each time, what
 * its first round is like. In: the clause, the rounds before it, the piece. Out: an error for what does not hold.
 */
import type { Tail, WorkClause } from '../grammar/ast.ts';
import type { StatedCount } from '../grammar/steps/stated-counts.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Tally } from '../grammar/tallies.ts';
import { type Place, trimmed } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { checkFabric } from './ground.ts';
import { numberTold } from './rounds-told.ts';
import { spelled, worksAlike } from './shaping.ts';

export function checkTold(clause: WorkClause, before: number, piece: WorkedPiece): void {
  checkEachTime(clause, before, piece);
  checkFewer(clause, before, piece);
  checkRounds(clause, before, piece);
  checkCounts(clause, piece);
  checkFirst(clause, before, piece);
  checkLast(clause, before, piece);
  checkReached(clause, piece);
  checkBetween(clause, before, piece);
  checkSort(clause, before, piece);
  checkGround(clause, before, piece);
  checkKind(clause, before, piece);
  checkLastRound(clause, before, piece);
  checkLastNumber(clause, before, piece);
}

/** What a label tells of its rounds, from `first` up to the `last` of the piece that is one of them. */
export function checkGoing(
  told: Place & { readonly tail: Tail },
  first: number,
  last: number,
  piece: WorkedPiece,
): void {
  const clause = { ...told, kind: 'shape', shaping: null } as const;
  if (first < 0) return;
  checkEachTime(clause, first, piece, last);
  checkFewer(clause, first, piece, last);
  checkCounts(clause, piece);
  checkBetween(clause, first, piece, last);
  checkKind(clause, first, piece, last);
}

/** "up to round 13: *k3, k2tog*": what the last round is said to be. */
function checkLastRound({ tail }: WorkClause, before: number, piece: WorkedPiece): void {
  const { lastRound } = tail;
  if (!lastRound || piece.rounds.length === before || piece.counts.believed.active) return;
  const { steps } = lastRound;
  const over = { kind: 'group', steps, otherTimes: null, eachSide: false } as const;
  const { from, to } = lastRound;
  // "round 12 (k1, k2tog)": what it repeats.
  const again: Step = { ...over, amount: { kind: 'rest', count: 0 }, from, to };
  if (piece.lastIs(steps) || piece.lastIs([again])) return;
  piece.found.error(
    'last-round-otherwise',
    trimmed(piece.source, lastRound),
    'the last of these rounds is told otherwise than it comes out',
    'Check the stitches told, or the number of the round.',
  );
}

/** "until you have worked the *k1, k2tog* round": what is said of the last round that shapes has to hold. */
function checkLast({ tail, from, to }: WorkClause, before: number, piece: WorkedPiece): void {
  const { lastStitches } = tail;
  const at = piece.rounds.findLastIndex((r) => r.after !== r.before);
  if (!lastStitches || at < before || piece.counts.believed.active) return;
  const { steps } = piece.history[at];
  if (worksAlike(steps, lastStitches) !== false) return;
  piece.found.error(
    'last-round-otherwise',
    trimmed(piece.source, { from, to }),
    `the last of these is called ${lastStitches.map(spelled).join(', ')}, but with ${stitches(piece.count)} left it comes out otherwise`,
    'Check the stitches told, or the count.',
  );
}

/** "2 rounds more …, until 36 sts remain": wherever it stops, so many have to be there. */
function checkReached(clause: WorkClause, piece: WorkedPiece): void {
  const target = piece.targetOf(clause.tail);
  if (target === null || target === piece.count || !piece.goesOn) return;
  piece.sayMissed(
    target,
    clause,
    'repeat-never-ends',
    `this is to go on until ${stitches(target)} are left, but it stops at ${stitches(piece.count)}`,
    'Check how many rounds it takes, or the count.',
  );
}

/** "decreasing in every knit round" means every second only where the others are purled. */
const OF_SORT =
  /\b(?:in|on) (?:each|every|all|the|all the) (knit|purl)(?:ted|ed)? (?:rounds?|rnds?|rows?)\b/;

function checkSort({ tail, from, to }: WorkClause, before: number, piece: WorkedPiece): void {
  const [, sort] = OF_SORT.exec(piece.source.norm.slice(from, to)) ?? [];
  if (!sort || tail.every === null || tail.every < 2) return;
  const other = sort === 'knit' ? 'purl' : 'knit';
  const plain = piece.rounds.slice(0, before).filter((r) => r.after === r.before);
  if (plain.some((r) => piece.isLike(r, other))) return;
  piece.sayNotFollowed({ from, to });
}

/** "purl every other round": what is said of the rounds that do not shape has to hold. */
function checkBetween(
  { tail, from, to }: WorkClause,
  before: number,
  piece: WorkedPiece,
  last?: number,
): void {
  const { between } = tail;
  if (between === null || piece.counts.believed.active) return;
  const how = between === 'k' ? 'knit' : 'purl';
  const made = piece.rounds.slice(before, last);
  const plain = made.filter((r) => r.after === r.before);
  const other = plain.find((r) => !piece.isLike(r, how));
  // Where nothing shapes they lie between rounds of another sort.
  const among = plain.length === made.length && plain.some((r) => piece.isLike(r, how));
  const wrong = among ? undefined : other;
  if (!wrong) return;
  piece.found.error(
    'told-otherwise',
    trimmed(piece.source, { from, to }),
    `these are to be ${how === 'knit' ? 'knitted' : 'purled'} between, but round ${wrong.n} is not`,
    'Change the one or the other.',
  );
}

/** "on the odd rounds", "every RS row": the rounds that shape have to be those. */
function checkKind(clause: WorkClause, before: number, piece: WorkedPiece, last?: number): void {
  const { shapes } = clause.tail;
  if (shapes === null || clause.kind !== 'shape' || piece.counts.believed.active) return;
  const one = piece.rounds.findLast((r) => /\b1\b/.test(r.label) && !r.label.endsWith('(repeat)'));
  const since = (one?.n ?? 1) - 1;
  const is = (r: PlanRound): boolean => {
    if (typeof shapes !== 'string') return shapes.includes(r.n) || shapes.includes(r.n - since);
    if (shapes === 'rs' || shapes === 'ws')
      return piece.inRound || r.wrongSide === (shapes === 'ws');
    const rest = shapes === 'odd' ? 1 : 0;
    return r.n % 2 === rest || (r.n - since) % 2 === rest;
  };
  const made = piece.rounds.slice(before, last);
  const listed = typeof shapes !== 'string';
  const wrong = made.find((r) => (r.after !== r.before ? !is(r) : listed && is(r)));
  if (!wrong) return;
  const units = piece.inRound ? 'rounds' : 'rows';
  const kind =
    typeof shapes === 'string'
      ? `${{ rs: 'right-side', ws: 'wrong-side', odd: 'odd', even: 'even' }[shapes]} ${units}`
      : `${units} ${shapes.join(', ')}`;
  piece.found.error(
    'told-otherwise',
    trimmed(piece.source, clause),
    `these are to be shaped in ${kind}, but round ${wrong.n} ${wrong.after === wrong.before ? 'does not shape' : 'shapes as well'}`,
    'Change the one or the other.',
  );
}

/** "Continue in moss stitch, …": the plain rounds between have to be of that fabric. */
function checkGround({ tail, from, to }: WorkClause, before: number, piece: WorkedPiece): void {
  const made = piece.rounds.slice(before).filter((r) => r.after === r.before);
  if (tail.ground) checkFabric(tail.ground, made, { from, to }, piece);
}

/** "72, 56, 40, 24, 8 sts": the counts of rounds that shape, one after the other. */
function checkCounts(clause: WorkClause, piece: WorkedPiece): void {
  const { counts } = clause.tail;
  if (counts === null || piece.counts.believed.active) return;
  const times = counts.perSide ? piece.sections() : 1;
  const told = counts.list.map((n) => n * times);
  const made = piece.rounds.filter((r) => r.after !== r.before).map((r) => r.after);
  if (made.some((_, i) => told.every((n, k) => made[i + k] === n))) return;
  const wrong = told.find((n) => !made.includes(n)) ?? told[told.length - 1];
  piece.found.error(
    'stated-count-wrong',
    trimmed(piece.source, clause),
    `the text tells ${told.join(', ')}, but no round here leaves ${stitches(wrong)} in that order`,
    'Check the counts told, or the shaping.',
  );
}

const SIDED = /\b(?:rs|ws|right[ -]side|wrong[ -]side)\b/;

/** "first row purl", "beginning on the wrong side": what is said of the first round has to hold. */
function checkFirst({ tail, from, to }: WorkClause, before: number, piece: WorkedPiece): void {
  const first = piece.rounds[before];
  if (!first || piece.counts.believed.active) return;
  // Without any side told before, it is the reader who took the first row for a right-side one.
  const sided = SIDED.test(piece.source.norm.slice(0, from));
  const wrong = tail.startWith.find(
    (said) => (sided || !/^[RW]S$/.test(said)) && !piece.isLike(first, said),
  );
  if (wrong === undefined) return;
  const unit = piece.inRound ? 'round' : 'row';
  const is = first.wrongSide ? 'WS' : 'RS';
  const told = `a ${wrong} ${unit}`;
  piece.found.error(
    'first-round-otherwise',
    trimmed(piece.source, { from, to }),
    `the first of these is called ${told}, but here it comes out otherwise${piece.inRound ? '' : `: it is a ${is} row`}`,
    'Check which row comes before, or write these out.',
  );
}

/** "(40 rows)": those of the repeat, with the ones repeated, or all so far. */
function checkRounds(clause: WorkClause, before: number, piece: WorkedPiece): void {
  const { total, times, forRounds } = clause.tail;
  // "3 more times, for a total of 32 rounds"
  const roundsTold = clause.tail.roundsTold ?? (times === null ? null : forRounds);
  if (roundsTold === null || !piece.goesOn) return;
  const all = piece.rounds.length;
  const made = all - before;
  const n = times ?? 1;
  const last = piece.rounds.at(-1);
  const again = ({ from }: PlanRound) =>
    from.line === last?.from.line && from.column === last.from.column;
  const passes = piece.rounds.slice(before).filter(again).length;
  // "Work rows 1-4 6 times (24 rows)" below those rows: where they were worked once before, they count.
  const inAll = n > 1 && (total || passes === n - 1);
  const whole = inAll ? made + made / (n - 1) : made;
  const fits = inAll ? [whole, all, all + 1] : [made, made + made / n, all, all + 1];
  if (fits.includes(roundsTold)) return;
  sayRounds(roundsTold, `this makes ${whole}, ${all} in all so far`, clause, piece);
}

/** The number of rounds told is not what comes out. */
export function sayRounds(told: number, made: string, at: Place, piece: WorkedPiece): void {
  const { found, source, inRound } = piece;
  found.error(
    'stated-rounds-wrong',
    trimmed(source, at),
    `the text says ${told} ${inRound ? 'rounds' : 'rows'}, but ${made}`,
    'Check how often they are worked, or the number told.',
  );
}

const PAIRED = /\b(?:each|either|both) (?:sides?|ends?)\b/;

/** "(8 sts dec'd each time)": so many in every round that shapes, or in every time all are worked. */
function checkEachTime(
  clause: WorkClause,
  before: number,
  piece: WorkedPiece,
  last?: number,
): void {
  const { eachPass, times } = clause.tail;
  const shaped = piece.rounds.slice(before, last).filter((r) => r.after !== r.before);
  if (eachPass === null || shaped.length === 0 || piece.counts.believed.active) return;
  const changes = shaped.map((r) => r.after - r.before);
  const sides = piece.counts.sides ?? 1;
  // "dec 1 st each side of the centre": twice as many
  const paired = PAIRED.test(piece.source.norm.slice(clause.from, clause.to)) ? [1, 2] : [1];
  const fits = paired.flatMap((n) => [n * eachPass, n * eachPass * sides]);
  if (changes.every((c) => fits.includes(c))) return;
  if (times !== null && changes.reduce((sum, c) => sum + c, 0) === eachPass * times) return;
  const wrong = changes.find((c) => c !== eachPass) ?? 0;
  piece.found.error(
    'stated-change-wrong',
    trimmed(piece.source, clause),
    `the text says ${stitches(Math.abs(eachPass))} ${eachPass < 0 ? 'fewer' : 'more'} each time, but these rounds make ${stitches(Math.abs(wrong))} ${wrong < 0 ? 'fewer' : 'more'}`,
    'Check the shaping round, or the number told.',
  );
}

/** "2 sts fewer between the decreases each time": by how much the plain runs change from one shaping round to the next. */
function checkFewer(clause: WorkClause, before: number, piece: WorkedPiece, last?: number): void {
  const { fewer } = clause.tail;
  if (fewer === null || !ofOneShaping(clause, before, piece) || piece.counts.believed.active)
    return;
  const shaped = piece.rounds.slice(0, last).filter((r) => r.after !== r.before);
  const first = shaped.findIndex((r) => r.n > before);
  if (first < 0) return;
  const runs = shaped.slice(Math.max(0, first - 1)).map((r) => plainRuns(r, piece));
  const words = piece.source.norm.slice(clause.from, clause.to).replace(AFTER_ROUND, '');
  const between = BETWEEN.test(words);
  const beside = between || BESIDE.test(words);
  for (let i = 1; i < runs.length; i++) {
    const [a, b] = [runs[i - 1], runs[i]];
    if (a.length !== b.length) continue;
    const less = a.map((n, k) => n - b[k]).filter((n) => n !== 0);
    const { before: had, after } = shaped[Math.max(0, first - 1) + i];
    const whole = [had - after, (had - after) / piece.sections()];
    const fits = [fewer, ...(between ? [] : [2 * fewer])];
    if (less.length === 0 || less.some((n) => fits.includes(n))) continue;
    if (!beside && whole.includes(fewer)) continue;
    const by = less[0];
    piece.found.error(
      'stated-change-wrong',
      trimmed(piece.source, clause),
      `the text says ${stitches(Math.abs(fewer))} ${fewer > 0 ? 'fewer' : 'more'} beside the shaping each time, but these rounds make ${stitches(Math.abs(by))} ${by > 0 ? 'fewer' : 'more'}`,
      'Check the rounds before it, or the number told.',
    );
    return;
  }
}

const AFTER_ROUND =
  /\b(?:after|in|on|before) (?:each|every|the) (?:\w+ ){0,2}(?:round|rnd|row)s?\b/g;
const BETWEEN =
  /\b(?:less|fewer|more|extra)\b[^,;.]*\bbetween\b|\bbetween\b[^,;.]*\b(?:less|fewer|more)\b/;
const BESIDE = /\b(?:before|after|beside|sides? of|middle)\b/;

/** The clause goes on with shaping, or each of its passes has one round that shapes. */
function ofOneShaping(clause: WorkClause, before: number, piece: WorkedPiece): boolean {
  if (clause.kind === 'shape') return true;
  if (clause.kind !== 'repeat') return false;
  const { which } = clause;
  const n =
    which.kind === 'numbers' ? which.numbers.length : which.kind === 'last' ? which.count : 0;
  const [first, next] = piece.rounds.slice(before).filter((r) => r.after !== r.before);
  return next !== undefined && next.n - first.n === n;
}

/** Lengths of the plain runs between stitches that shape; in the round the last runs on into the first. */
function plainRuns(round: PlanRound, piece: WorkedPiece): number[] {
  const runs = [0];
  for (const name of piece.namesOf(round)) {
    if (name === 'k' || name === 'p') runs[runs.length - 1]++;
    else runs.push(0);
  }
  if (!piece.inRound || runs.length < 2) return runs;
  const last = runs.pop() ?? 0;
  return [runs[0] + last, ...runs.slice(1)];
}

/** "56 sts after rnd 4, 40 sts after rnd 8": counts told of rounds by their numbers. */
export function checkOfRounds(stated: StatedCount, at: Place, piece: WorkedPiece): void {
  const { rounds, found, source, counts } = piece;
  if (counts.believed.active) return;
  for (const told of [stated, ...(stated.before ?? [])]) {
    if (told.round === undefined) continue;
    const those = rounds.filter(
      (r) => r.n === told.round || Number(/\d+/.exec(r.label)?.[0]) === told.round,
    );
    const sides = counts.sides ?? piece.sections();
    const shared = told.perSide !== null && sides > 1 ? told.perSide * sides : null;
    const total = [counts.total(told), shared].find(
      (n) => n !== null && !those.some((r) => r.after === n),
    );
    const none = those.length === 0 && told.round > rounds.length;
    if (total == null || (those.length === 0 && !none)) continue;
    const is = none ? 'there is no such round' : `${those[0].after} are on the needles there`;
    found.error(
      'stated-count-wrong',
      trimmed(source, at),
      `the text says ${stitches(total)} after round ${told.round}, but ${is}`,
      'Check the count, or the number of the round.',
    );
    return;
  }
}

/** "After 3 decrease rounds: 72 sts, 18 on each side": so many after that round, or else after any. */
export function checkTally({ total, perSide, nth }: Tally, at: Place, piece: WorkedPiece): void {
  const { rounds, found, source, counts } = piece;
  if (counts.believed.active) return;
  const shaped = rounds.filter((r) => r.after !== r.before);
  const those = nth === null ? rounds : shaped.slice(nth - 1, nth);
  const sides = counts.sides ?? piece.sections();
  const shared = perSide === null || sides < 2 || Math.abs(perSide * sides - total) <= 2;
  if (shared && those.some((r) => r.after === total)) return;
  const is = shared
    ? nth === null
      ? 'no round leaves so many'
      : `${those.length === 0 ? 'there is no such round' : `${those[0].after} are on the needles there`}`
    : `${perSide} on each of ${sides} sides are ${(perSide ?? 0) * sides}`;
  found.error(
    'stated-count-wrong',
    trimmed(source, at),
    `the text says ${stitches(total)} here, but ${is}`,
    'Check the count, or which round it is told of.',
  );
}

/** "The last row is row 12": the number of the round that it stops at. */
function checkLastNumber({ tail, from, to }: WorkClause, before: number, piece: WorkedPiece): void {
  const { endWith } = tail;
  const { rounds } = piece;
  const last = rounds.at(-1);
  if (!endWith || !('number' in endWith) || !last || rounds.length === before) return;
  if (piece.counts.believed.active || !piece.goesOn) return;
  const one = rounds.findLast((r) => numberTold(r) === 1 && !r.label.endsWith('(repeat)'));
  const since = (one?.n ?? 1) - 1;
  // "ending with row 1 of the pattern": one like it.
  if (endWith.number <= before - since) return;
  const those = [numberTold(last), rounds.length, rounds.length - since];
  if (!those.includes(endWith.number))
    sayRounds(endWith.number, `this stops at ${those[2]}`, { from, to }, piece);
}
