/**
 * Sentences that tell together how the work goes on, made one clause: "Go on like this. Purl the odd rounds. Stop when 8
 * sts are left." In: statements in order. Out: the same, each such group worked as one.
 */
import type { Going, RoundLabel, Statement, Tail, WorkClause } from '../grammar/ast.ts';
import { isOutcome, onTheWay } from '../grammar/statements/going-on/stops.ts';
import { stopOf } from '../grammar/tail/open-tail.ts';

/** "Repeat rounds 2 and 3 twelve times. On rounds 7 and 13 work C6F instead of k6": told before the rounds it is said of. */
export function crossingsFirst(statements: readonly Statement[]): readonly Statement[] {
  if (!statements.some((s) => s.kind === 'crossing')) return statements;
  const out: Statement[] = [];
  for (const s of statements) {
    const at = out.findLastIndex((b) => b.kind !== 'prose' && b.kind !== 'count');
    if (s.kind === 'crossing' && at >= 0 && isOfMany(out[at])) out.splice(at, 0, s);
    else out.push(s);
  }
  return out;
}

function isOfMany(s: Statement): boolean {
  if (s.kind === 'round') return s.body.kind !== 'steps' && (s.label?.numbers.length ?? 0) > 1;
  return s.kind === 'work' || s.kind === 'going';
}

/** "…. 8 rounds are then done. Do not knit round 4 after the last of these": said of the rounds told before. */
export function leftOutOf(statements: readonly Statement[]): readonly Statement[] {
  const out: Statement[] = [];
  for (const s of statements) {
    const at = out.findLastIndex((b) => b.kind !== 'count' && (b.kind !== 'prose' || b.instructs));
    const before = at >= 0 ? out[at] : null;
    const { endWith } = s.kind === 'going' ? s.going.tail : { endWith: null };
    const told = s.kind === 'going' && !s.going.asks && endWith !== null && 'without' in endWith;
    if (told && before?.kind === 'work') {
      const { tail, ...last } = before.clauses[before.clauses.length - 1];
      const ended = { ...last, tail: { ...tail, endWith } } as WorkClause;
      if (tail.endWith === null || 'like' in tail.endWith) {
        out[at] = { ...before, clauses: [...before.clauses.slice(0, -1), ended] };
        continue;
      }
    }
    out.push(s);
  }
  return out;
}

type Part = Extract<Statement, { kind: 'going' | 'work' }>;

export function joinGoing(statements: readonly Statement[]): readonly Statement[] {
  if (!statements.some((s) => s.kind === 'going' || isRule(s))) return statements;
  const out: Statement[] = [];
  for (let i = 0; i < statements.length; i++) {
    const first = statements[i];
    const more = first.kind === 'work' && (opens(first) || tellsBetween(first, statements[i + 1]));
    if (first.kind !== 'going' && !more) {
      // Where rounds have been told one by one, those go on.
      const alone = !out.some((s) => s.kind === 'round' && !isRule(s));
      const ruled = first.kind === 'work' && alone && rulesCover(before(out));
      out.push(ruled ? byRules(first) : first);
      continue;
    }
    const parts: Part[] = [first];
    const held: Statement[] = [];
    let bounded = isBounded(tailOf(first));
    let next = i + 1;
    for (let j = next; j < statements.length; j++) {
      const s = statements[j];
      if (s.kind === 'going' && (!bounded || tellsMore(s.going))) {
        parts.push(s);
        held.push(...statements.slice(next, j));
        bounded ||= isBounded(s.going.tail);
        next = j + 1;
      } else if (s.kind === 'work' && !bounded && (closes(s) || worksTold(parts, s))) {
        // "All rows are alike. Carry on until …"
        parts.push(s);
        held.push(...statements.slice(next, j));
        next = j + 1;
        break;
      } else if (!isRule(s) && s.kind !== 'prose') break;
    }
    const clause = clauseOf(
      parts,
      rulesCover([...before(out), ...held, ...after(statements, next)]),
    );
    if (!clause) {
      out.push(first);
      continue;
    }
    // "Stop when there are 9", and then "Continue until 3 remain"
    const behind = statements.slice(next).find((s) => s.kind !== 'prose');
    if (
      parts.length === 1 &&
      first.kind === 'going' &&
      first.going.stop === 'said' &&
      !first.going.asks &&
      ((behind?.kind === 'work' && closes(behind)) ||
        (behind?.kind === 'going' && behind.going.asks && isBounded(behind.going.tail)))
    ) {
      out.push({ kind: 'prose', heading: false, instructs: true, from: first.from, to: first.to });
      continue;
    }
    const earlier = first.kind === 'work' ? first.clauses.slice(0, -1) : [];
    const { from } = first;
    const { to } = parts[parts.length - 1];
    out.push(...held, { kind: 'work', clauses: [...earlier, clause], from, to });
    i = next - 1;
  }
  return out;
}

/** It asks for nothing, and ends nothing but by a count that is told on the way. */
function tellsMore(going: Going): boolean {
  return !going.asks && (going.stop === null || isOutcome(going));
}

/** Work that goes on, to an end that it tells. */
function closes({ clauses }: Extract<Statement, { kind: 'work' }>): boolean {
  const [{ kind, tail }] = clauses;
  return clauses.length === 1 && (kind === 'repeat' || kind === 'shape') && isBounded(tail);
}

/** "Every row is the same as row 1. Do 38 rows": how many of them. */
function worksTold(
  parts: readonly Part[],
  { clauses }: Extract<Statement, { kind: 'work' }>,
): boolean {
  const [clause] = clauses;
  if (!parts.some((p) => p.kind === 'going' && p.going.which)) return false;
  return clauses.length === 1 && clause.kind === 'plain' && clause.rounds !== null;
}

/** Work whose end is told elsewhere. */
function opens({ clauses }: Extract<Statement, { kind: 'work' }>): boolean {
  const { kind, tail } = clauses[clauses.length - 1];
  return (kind === 'repeat' || kind === 'shape' || kind === 'named') && !isBounded(tail);
}

/** "Work the decrease round 11 times, in every 2nd round. In the rounds between knit": what those are. */
function tellsBetween(
  { clauses }: Extract<Statement, { kind: 'work' }>,
  next: Statement | undefined,
): boolean {
  const { kind, tail } = clauses[clauses.length - 1];
  if (next?.kind !== 'going' || tail.every === null || tail.between !== null) return false;
  const { asks, stop, which, tail: told } = next.going;
  const only = !asks && stop === null && which === null && told.between !== null;
  return only && !isBounded(told) && (kind === 'named' || kind === 'shape' || kind === 'repeat');
}

function isBounded(tail: Tail): boolean {
  return (stopOf(tail) ?? tail.lastStitches) !== null;
}

function tailOf(part: Part): Tail {
  if (part.kind === 'going') return part.going.tail;
  const clause = part.clauses[part.clauses.length - 1];
  if (clause.kind !== 'plain' || clause.tail.untilRounds !== null) return clause.tail;
  return { ...clause.tail, untilRounds: clause.rounds };
}

function isRule(s: Statement): s is Extract<Statement, { kind: 'round' }> & { label: RoundLabel } {
  return (
    s.kind === 'round' && s.label?.rule != null && s.label.numbers.length === 0 && !s.label.upTo
  );
}

/** "Round 2 and every even round": a round, and the rule for those to come. */
function rulesFrom(s: Statement): boolean {
  return s.kind === 'round' && s.label?.rule != null && !s.label.upTo;
}

/** Rules that stand right before. */
function before(out: readonly Statement[]): Statement[] {
  const found: Statement[] = [];
  for (let i = out.length - 1; i >= 0; i--) {
    const s = out[i];
    if (isRule(s) || rulesFrom(s)) found.push(s);
    else if (s.kind !== 'prose' || s.instructs) break;
  }
  return found;
}

/** Rules that stand right behind. */
function after(statements: readonly Statement[], from: number): Statement[] {
  const found: Statement[] = [];
  for (let i = from; i < statements.length && isRule(statements[i]); i++) found.push(statements[i]);
  return found;
}

/** The rules describe every round: odd and even ones, or both sides. */
function rulesCover(statements: readonly Statement[]): boolean {
  const told = new Set(statements.map((s) => (s.kind === 'round' ? s.label?.rule : null)));
  return (told.has('even') && told.has('odd')) || (told.has('rs') && told.has('ws'));
}

/** "Every RS row: …. Every WS row: purl. Continue until 35 sts remain": those rows. */
function byRules(s: Extract<Statement, { kind: 'work' }>): Statement {
  const [clause] = s.clauses;
  const goesOn =
    (clause.kind === 'shape' && clause.shaping === null && clause.tail.every === null) ||
    (clause.kind === 'repeat' &&
      (clause.which.kind === 'these' ||
        (clause.which.kind === 'last' && clause.which.count === 2)));
  if (!goesOn || !isBounded(clause.tail)) return s;
  const { from, to } = clause;
  const which = { kind: 'rules' } as const;
  // "Repeat these 2 rows once": those told are worked as well.
  const { times, total } = clause.tail;
  const again = clause.kind === 'repeat' && clause.repeats && times !== null && !total;
  const tail = again ? { ...clause.tail, times: times + 1 } : clause.tail;
  const ruled = { kind: 'repeat', which, repeats: true, tail, from, to } as const;
  return { ...s, clauses: [ruled, ...s.clauses.slice(1)] };
}

/** The one clause that the parts make; null where they ask for nothing. */
function clauseOf(parts: readonly Part[], ruled: boolean): WorkClause | null {
  const [first] = parts;
  if (first.kind === 'work' && parts.length === 1 && !ruled) return null;
  const tails = parts.map(tailOf);
  const bound = boundOf(parts) ?? lastCounted(tails);
  const says = (what: (g: Going) => boolean): boolean =>
    parts.some((p) => p.kind === 'going' && what(p.going));
  const told = !says((g) => g.stop !== 'told');
  if (!says((g) => g.asks) && told && first.kind === 'going' && !ruled) return null;
  if (!bound) return null;
  const { from } = first;
  const { to } = parts[parts.length - 1];
  const tail = merged(tails, bound);
  const place = { from, to };
  if (ruled) return { kind: 'repeat', which: { kind: 'rules' }, repeats: true, tail, ...place };
  for (const p of parts)
    if (p.kind === 'work' && !worksTold(parts, p))
      return { ...p.clauses[p.clauses.length - 1], tail, from, to };
  for (const p of parts)
    if (p.kind === 'going' && p.going.which)
      return { kind: 'repeat', which: p.going.which, repeats: true, tail, ...place };
  return { kind: 'shape', shaping: null, tail, ...place };
}

/** What tells how long: an order before counts that are only told, and of those the one of the last round. */
function boundOf(parts: readonly Part[]): Tail | undefined {
  const told = parts.filter((p) => p.kind === 'going' && isOutcome(p.going)).map(tailOf);
  const order = parts.filter((p) => !(p.kind === 'going' && isOutcome(p.going))).map(tailOf);
  const last = order.find(isBounded) ?? told.toSorted((a, b) => lastOf(b) - lastOf(a))[0];
  const passed = told.filter((t) => t !== last);
  if (!last || passed.length === 0) return last;
  return { ...last, stated: passed.reduce((so, t) => onTheWay(t, so), last.stated) };
}

const lastOf = ({ untilRound }: Tail): number => untilRound ?? 0;

/** "(72, 64, 56, 48)": up to the last of the counts told. */
function lastCounted(tails: readonly Tail[]): Tail | undefined {
  const told = tails.find((t) => t.counts?.all);
  if (!told?.counts) return undefined;
  const { list, perSide } = told.counts;
  return { ...told, untilStitches: list[list.length - 1], perSide };
}

/** What any of them says; how long, as the one that says so. */
function merged(tails: readonly Tail[], bound: Tail): Tail {
  const first = <K extends keyof Tail>(key: K): Tail[K] =>
    tails.find((t) => t[key] !== null)?.[key] ?? bound[key];
  const stated =
    bound.untilRound !== null && bound.untilStitches !== null
      ? bound.perSide
        ? { total: null, perSide: bound.untilStitches, change: null }
        : { total: bound.untilStitches, perSide: null, change: null }
      : null;
  return {
    ...bound,
    every: first('every'),
    inARow: first('inARow'),
    endWith: first('endWith'),
    fewer: first('fewer'),
    between: first('between'),
    betweenLike: first('betweenLike'),
    likeRound: first('likeRound'),
    keeps: first('keeps'),
    eachPass: first('eachPass'),
    roundsTold: first('roundsTold'),
    crosses: first('crosses'),
    stripes: first('stripes'),
    lastRound: first('lastRound'),
    counts: first('counts'),
    stated: bound.stated ?? first('stated') ?? stated,
    afterEach: tails.some((t) => t.afterEach),
    ground: first('ground'),
    shapes: first('shapes'),
    follows: tails.some((t) => t.follows),
    atOnce: tails.some((t) => t.atOnce),
  };
}
