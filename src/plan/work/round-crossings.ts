/**
 * Cables crossed on some rounds alone. In: what is crossed on which rounds, as the text comes to it; the steps of a round
 * about to be worked, written with knit stitches in the cable's place. Out: the steps with the cable; rounds where none
 * found its place are said at the end.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { Crossing } from '../grammar/ast.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import { stitchKind } from '../stitches/table.ts';

interface Told {
  readonly stitch: string;
  readonly over: number;
  /** Rounds of the piece that are crossed, from 0. */
  readonly rounds: (round: number) => boolean;
  /** Those of them that are told by number and not worked yet. */
  readonly open: Set<number>;
  /** The first round of which it is said, and the one behind the last. */
  readonly from: number;
  to: number;
  readonly at: Place;
}

export class RoundCrossings {
  readonly #told: Told[] = [];
  /** The cable worked last. */
  #last: string | null = null;

  /** `done`: rounds worked; `base`: rounds of the piece before the first that the numbers count. False where no cable is known. */
  tell({ stitch, over, rounds, every }: Crossing, at: Place, done: number, base: number): boolean {
    const name = stitch ?? this.#last;
    const kind = name === null ? null : stitchKind(name);
    if (!name || !kind) return false;
    const listed = new Set((rounds ?? []).map((n) => base + n - 1));
    const last = Math.max(base - 1, ...listed);
    const holds = (round: number): boolean =>
      listed.has(round) || (every !== null && round > last && (round - last) % every === 0);
    const to = every === null ? last + 1 : Number.POSITIVE_INFINITY;
    const open = new Set(listed);
    const told = { stitch: name, over: kind.consumes, rounds: holds, open, from: done, to, at };
    if ((over ?? kind.consumes) !== kind.consumes || [...listed].some((n) => n < done))
      return false;
    this.#told.push(told);
    return true;
  }

  /** What goes on behind `done` rounds is told otherwise. */
  end(done: number): void {
    for (const told of this.#told) if (told.open.size === 0) told.to = Math.min(told.to, done);
  }

  /** The steps as this round of the piece has them; `again`: of a round told before. */
  of(steps: readonly Step[], round: number, again: boolean): readonly Step[] {
    for (const told of this.#told) {
      if (round < told.from || round >= told.to) continue;
      const { stitch, over } = told;
      if (told.rounds(round)) {
        const crossed = swapped(steps, over, 'k', stitch, 1);
        if (crossed !== steps || holds(steps, stitch)) told.open.delete(round);
        return crossed;
      }
      if (again) return swapped(steps, 1, stitch, 'k', over);
    }
    return steps;
  }

  /** A round was worked from these steps. */
  note(steps: readonly Step[]): void {
    this.#last = cableIn(steps) ?? this.#last;
  }

  /** Says where no cable was crossed. */
  check(base: number, found: DiagnosticList): void {
    for (const { stitch, over, open, at } of this.#told) {
      const [round] = open;
      if (round === undefined) continue;
      found.error(
        'crossing-not-worked',
        at,
        `${stitch} is to be crossed on round ${round - base + 1}, but no ${over} knit stitches of that round could be told to be its own`,
        'Write that round out, with the cable in its place.',
      );
    }
  }
}

function holds(steps: readonly Step[], name: string): boolean {
  return steps.some((s) =>
    s.kind === 'group' ? holds(s.steps, name) : s.kind === 'stitch' && s.name === name,
  );
}

/** The first cable of the steps. */
export function cableIn(steps: readonly Step[]): string | null {
  for (const s of steps) {
    const name =
      s.kind === 'group'
        ? cableIn(s.steps)
        : s.kind === 'stitch' && stitchKind(s.name)?.crossing
          ? s.name
          : null;
    if (name) return name;
  }
  return null;
}

const isPurl = (s: Step | undefined): boolean => s?.kind === 'stitch' && s.name === 'p';

/**
 * Each list of steps with its one run of `times` stitches `from` made `to`; where there are several, those between purl
 * stitches. The same list where there is none.
 */
function swapped(
  steps: readonly Step[],
  times: number,
  from: string,
  to: string,
  becomes: number,
): readonly Step[] {
  const runs = steps.flatMap((s, i) =>
    s.kind === 'stitch' && s.name === from && 'times' in s.amount && s.amount.times === times
      ? [i]
      : [],
  );
  const edged = runs.filter((i) => isPurl(steps[i - 1]) && isPurl(steps[i + 1]));
  const chosen = new Set(edged.length > 0 ? edged : runs.length === 1 ? runs : []);
  let changed = chosen.size > 0;
  const out = steps.map((s, i): Step => {
    if (chosen.has(i) && s.kind === 'stitch') return { ...s, name: to, amount: { times: becomes } };
    if (s.kind !== 'group') return s;
    const inner = swapped(s.steps, times, from, to, becomes);
    changed ||= inner !== s.steps;
    return inner === s.steps ? s : { ...s, steps: inner };
  });
  return changed ? out : steps;
}
