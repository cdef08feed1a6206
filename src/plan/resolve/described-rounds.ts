/**
 * Rounds by a name of their own that the text describes in one place and asks for in another. In: the label and body of
 * such a round, the statements around it. Out: whether it is only told there, or worked as well.
 */
import type { RoundBody, RoundLabel, Statement, Tail, WorkClause } from '../grammar/ast.ts';
import { patternSteps } from '../grammar/steps/patterns.ts';
import type { Place } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';

/** The statements up to the description, it included, and behind it; `begun`: some round has been worked. */
interface Around {
  readonly before: readonly Statement[];
  readonly behind: readonly Statement[];
  readonly begun: boolean;
}

/** "Decrease round: …" over "Round 1: work decrease round": what it is called, and not worked yet. */
export function headsList(name: string, body: RoundBody, behind: readonly Statement[]): boolean {
  if (name === '' || name === 'next') return false;
  const from = behind.findIndex((s) => s.kind === 'round' && (s.label?.numbers.length ?? 0) > 0);
  const first = behind[from];
  // "Odd rounds: knit. Rounds 2 and 4: decrease round": so the first is told, too.
  const ruled = behind.some((s) => s.kind === 'round' && /^(?:odd|rest)$/.test(ruleOf(s) ?? ''));
  if (first?.kind !== 'round' || !(first.label?.numbers[0] === 1 || ruled)) return false;
  const between = behind.slice(0, from);
  if (
    !between.every(
      (s) => s.kind === 'prose' || (s.kind === 'round' && (s.label?.name || ruleOf(s) !== null)),
    )
  )
    return false;
  const rounds = behind.slice(from);
  const stop = rounds.findIndex(
    (s) => s.kind !== 'round' && s.kind !== 'prose' && s.kind !== 'count',
  );
  const listed = stop < 0 ? rounds : rounds.slice(0, stop);
  if (ruled && rounds.some((s) => s.kind === 'round' && alike(s.body, body))) return true;
  return namesLike(first).length > 0 && listed.some((s) => namesLike(s).includes(name));
}

/** The same stitches, wherever they stand. */
function alike(a: RoundBody, b: RoundBody): boolean {
  const bare = (body: RoundBody): string | null =>
    body.kind === 'steps'
      ? JSON.stringify(body.steps, (key, value) => (/^(?:from|to)$/.test(key) ? 0 : value))
      : null;
  return bare(a) !== null && bare(a) === bare(b);
}

/** The sort of rounds that a statement tells of without their numbers. */
const ruleOf = (s: Statement): RoundLabel['rule'] =>
  s.kind === 'round' && s.label?.numbers.length === 0 ? s.label.rule : null;

/** "My shrinky round goes like this: …": `likely` only told, `unlikely`, or beyond doubt. */
export function isDescribed(
  label: RoundLabel,
  body: RoundBody,
  { before, behind, begun }: Around,
): 'yes' | 'no' | 'likely' | 'unlikely' {
  const { name } = label;
  if (label.means === 'only') return 'yes';
  if (name === '' || name === 'next' || body.kind !== 'steps' || !body.hasStitches) return 'no';
  const called = [name, ...(label.called ? [label.called] : [])];
  const asks = (s: Statement): boolean => namesAsked(s).some((n) => called.includes(n));
  if (label.means && before.some(asks)) return 'yes';
  if (label.repeat > 1 || !behind.some(asks)) return 'no';
  if (label.means) return 'likely';
  // "Dec rnd: …. Work 1 knit rnd, 1 dec rnd": told first, counted later.
  const next = behind.findIndex((s) => s.kind !== 'prose' && describes(s).length === 0);
  if (begun || next < 0 || body.stated?.total != null) return 'unlikely';
  const block = [...before, ...behind.slice(0, next)].flatMap(describes);
  const asked = namesAsked(behind[next]).some((n) => block.includes(n));
  // "Repeat the decrease round", "3 times more": so it has been worked.
  if (asksAgain(behind[next])) return 'unlikely';
  return asked && !behind.slice(0, next + 1).some(tellsTotal) ? 'likely' : 'unlikely';
}

function tellsTotal(s: Statement): boolean {
  if (s.kind === 'count') return true;
  return s.kind === 'round' && s.body.kind === 'steps' && s.body.stated?.total != null;
}

/** Names of rounds that a statement asks for. */
function namesAsked(s: Statement): readonly string[] {
  if (s.kind === 'work') return s.clauses.flatMap(namesIn);
  if (s.kind !== 'round') return [];
  if (s.body.kind === 'like') return s.body.which.kind === 'named' ? [s.body.which.name] : [];
  return s.body.kind === 'clauses' ? s.body.clauses.flatMap(namesIn) : [];
}

function asksAgain(s: Statement): boolean {
  const first = s.kind === 'work' ? s.clauses[0] : null;
  return first?.kind === 'named' && (first.repeats || first.tail.more);
}

/** Names that a statement describes. */
function describes(s: Statement): readonly string[] {
  if (s.kind !== 'round' || s.body.kind !== 'steps' || s.label?.numbers.length !== 0) return [];
  const { name, called } = s.label;
  if (name === '' || name === 'next') return [];
  return called ? [name, called] : [name];
}

/** Names of the rounds that a numbered round is to be like. */
function namesLike(s: Statement): readonly string[] {
  return s.kind === 'round' && s.label?.numbers.length ? namesAsked(s) : [];
}

function namesIn(clause: WorkClause): readonly string[] {
  if (clause.kind === 'named') return [clause.name];
  if (clause.kind === 'repeat' && clause.which.kind === 'letters') return clause.which.names;
  if (clause.kind === 'repeat' && clause.which.kind === 'named') return [clause.which.name];
  return clause.kind === 'sequence' ? clause.parts.flatMap(namesIn) : [];
}

/** "Rounds 4-8: continue as set" where nothing has been shaped: the pattern goes on. */
export function asPattern(body: RoundBody, at: Place): RoundBody | null {
  if (body.kind !== 'going' || body.which !== null || !body.tail.follows) return null;
  const { every, fewer, eachPass, crosses } = body.tail;
  if ((every ?? fewer ?? eachPass ?? crosses ?? null) !== null) return null;
  const steps = patternSteps('set', at);
  const read = { unread: 0, failed: false, unfinished: false, hasStitches: true, remarks: [] };
  return { kind: 'steps', steps, stated: body.stated, colour: null, ...read };
}

/**
 * "Rounds 27-32: decrease on every even round": how many of them come before the first that shapes; null where no numbers tell,
 * or the rounds that shaped before were the others.
 */
export function aheadOf(
  { shapes, every }: Tail,
  numbers: readonly number[],
  rounds: readonly PlanRound[],
): number | null {
  if ((shapes !== 'even' && shapes !== 'odd') || every !== 2) return null;
  const isOne = (n: number): boolean => (n % 2 === 0) === (shapes === 'even');
  const last = rounds.findLastIndex((r) => r.after !== r.before);
  const first = numbers.findIndex(isOne);
  return first < 0 || last < 0 || !isOne(numbers[0] - rounds.length + last) ? null : first;
}
