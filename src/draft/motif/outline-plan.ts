/**
 * Rounds, stitch by stitch → a Plan, without going through text: what a search measures.
 *
 * In: the rounds, the gauges and how the piece is worked and joined. Out: a Plan whose text is empty; the
 * text of the one that is chosen is written by `plan-text.ts` and read back.
 */
import type { Plan, PlanRound } from '../../plan/plan.ts';
import type { StitchKind } from '../../plan/stitches/stitch-kind.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import type { PlanOutline } from '../../plan/write/plan-text.ts';

/** What a fabric's shape hangs on besides its stitches. */
export type OutlineFacts = Pick<Plan, 'gauges' | 'yarn' | 'join' | 'seam'> & {
  readonly sides?: number | null;
  /** Stitches of the designer's own. */
  readonly kinds?: readonly StitchKind[];
};

const START = { line: 1, column: 1 } as const;

export function outlinePlan(outline: Omit<PlanOutline, 'header'>, facts: OutlineFacts): Plan {
  const { castOn, worked, ending, colours } = outline;
  const kinds: StitchKind[] = [];
  const ids = new Map<string, number>();
  const idOf = (name: string): number => {
    const known = ids.get(name);
    if (known !== undefined) return known;
    const kind = facts.kinds?.find((own) => own.name === name) ?? stitchKind(name);
    if (!kind) throw new RangeError(`The stitch "${name}" is not known.`);
    ids.set(name, kinds.length);
    return kinds.push(kind) - 1;
  };
  let before = castOn;
  const rounds = outline.rounds.map((round, i): PlanRound => {
    const made: PlanRound = {
      n: i + 1,
      label: `${worked === 'round' ? 'Round' : 'Row'} ${i + 1}`,
      wrongSide: round.wrongSide,
      before,
      after: round.after,
      works: Int16Array.from(round.names, idOf),
      stated: round.after,
      markers: new Int32Array(0),
      from: START,
      to: START,
      ...(round.colour === undefined ? null : { colour: round.colour }),
    };
    before = round.after;
    return made;
  });
  return {
    version: 1,
    text: '',
    title: '',
    yarn: facts.yarn,
    gauges: facts.gauges,
    needles: null,
    worked,
    join: facts.join,
    seam: facts.seam,
    sides: facts.sides ?? null,
    castOn,
    castOnAt: START,
    rounds,
    ...(colours && { colours }),
    ending,
    kinds,
    diagnostics: [],
  };
}
