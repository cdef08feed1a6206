/**
 * Sentences that only announce the rounds told behind them. In: the statements of a plan. Out: the same, with such
 * sentences left out, or as the repeat that they ask for.
 */
import type { Statement } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { emptyTail, stopOf } from '../grammar/tail/open-tail.ts';
import type { Place } from '../lex/source.ts';
import { shapedBy } from './shaping-steps.ts';

/**
 * "Work 4 rounds in seed st as follows:" over numbered rounds only announces them: it is left out where so many are
 * told, becomes their repeat where fewer are, and stays, not followed, where they do not come to that number.
 */
export function withoutAnnouncements(statements: readonly Statement[], text: string): Statement[] {
  const out: Statement[] = [];
  /** Rounds told are repeated before this statement. */
  const repeats = new Map<number, Statement>();
  statements.forEach((s, i) => {
    const repeat = repeats.get(i);
    if (repeat) out.push(repeat);
    if (s.kind === 'work' && announcesNext(statements, i)) {
      const { item, from } = s;
      out.push({
        kind: 'prose',
        heading: false,
        instructs: false,
        item,
        from,
        to: s.clauses[0].to,
      });
      return;
    }
    const rounds = announced(s, text);
    let at = i + 1;
    let told = 0;
    for (; rounds !== null && told < rounds; at++) {
      const next = statements[at];
      if (next?.kind === 'prose' && !next.instructs) continue;
      if (next?.kind !== 'round' || !next.label || next.label.numbers.length === 0) break;
      told += next.label.numbers.length;
    }
    if (rounds === null || told === 0) out.push(s);
    else {
      const goesIn = told <= rounds && rounds % told === 0;
      const said = statements[at]?.kind === 'work';
      out.push({ kind: 'prose', heading: goesIn, instructs: !goesIn, from: s.from, to: s.to });
      if (goesIn && told < rounds && !said) repeats.set(at, repeatOf(told, rounds / told - 1, s));
    }
  });
  const last = repeats.get(statements.length);
  return last ? [...out, last] : out;
}

/** "Work the first decrease round. On every needle: …": the sentence only announces what is told behind it. */
function announcesNext(statements: readonly Statement[], i: number): boolean {
  const s = statements[i];
  const next = statements[i + 1];
  if (s.kind !== 'work' || s.clauses.length > 1 || next?.kind !== 'round' || next.label)
    return false;
  const [clause] = s.clauses;
  if (clause.kind !== 'named' || stopOf(clause.tail) !== null || clause.tail.every !== null)
    return false;
  const name = /^(first )?(decrease|increase|shaping)$/.exec(clause.name);
  const shapes = next.body.kind === 'steps' && next.body.hasStitches && shapesIn(next.body.steps);
  if (!name || !shapes) return false;
  const before = statements.slice(0, i);
  const told = before.some(
    (b) => b.kind === 'round' && b.body.kind === 'steps' && shapesIn(b.body.steps),
  );
  return name[1] !== undefined || !told;
}

function shapesIn(steps: readonly Step[]): boolean {
  return shapedBy(steps).length > 0;
}

/** Number of rounds that a sentence up to a colon announces; null where it does not. */
function announced(s: Statement, text: string): number | null {
  if (s.kind !== 'work' || s.clauses.length > 1 || !/:\s*$/.test(text.slice(s.from, s.to)))
    return null;
  const [clause] = s.clauses;
  return clause.kind === 'plain' ? clause.rounds : null;
}

function repeatOf(count: number, times: number, { from, to }: Place): Statement {
  const which = { kind: 'last', count } as const;
  const tail = { ...emptyTail(), times, more: true };
  return {
    kind: 'work',
    clauses: [{ kind: 'repeat', which, repeats: true, tail, from, to }],
    from,
    to,
  };
}
