/**
 * What the plan keeps of a round that has been worked, and the rows of an instruction that turns within it. In: the round as asked
 * and as it came out. Out: a PlanRound; the rows one by one.
 */
import { endPositionAt, positionAt, type Source } from '../lex/source.ts';
import type { PlanRound, TextPosition } from '../plan.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import type { RoundCase } from './round-check.ts';

/** Where in the piece the round stands. */
interface Standing {
  readonly source: Source;
  /** 1-based. */
  readonly n: number;
  readonly inRound: boolean;
  /** Count that the text states for it. */
  readonly stated: number | null;
  readonly askedAt: TextPosition;
  readonly colour: Pick<PlanRound, 'colour'>;
}

export function planRound({ def, worked, needle, setting }: RoundCase, at: Standing): PlanRound {
  const atStart = worked.roundMarker && at.inRound && worked.after > 0;
  return {
    n: at.n,
    label: def.label,
    wrongSide: setting.wrongSide,
    before: needle.count,
    after: worked.after,
    works: worked.works,
    stated: at.stated,
    markers: Int32Array.from(atStart ? [0, ...worked.markers] : worked.markers),
    from: positionAt(at.source, def.from),
    to: endPositionAt(at.source, def.to),
    askedAt: at.askedAt,
    ...at.colour,
    ...shortRow({ def, worked, needle }),
  };
}

/** What the plan says of a short row. */
function shortRow({
  def,
  worked,
  needle,
}: Pick<RoundCase, 'def' | 'worked' | 'needle'>): Pick<PlanRound, 'shortRow'> {
  const { turned } = needle;
  const begins = turned !== undefined && (turned.passed > 0 || turned.bor !== null);
  if (worked.turnedAt === null && !begins) return {};
  const turn = def.steps.find((s) => s.kind === 'turn');
  const style = worked.turnedAt === null || turn?.kind !== 'turn' ? null : turn.style;
  return { shortRow: { passed: turned?.passed ?? 0, turnedAt: worked.turnedAt, style } };
}

/** The rows of an instruction that turns within it: "k20, w&t, p40, w&t, k to end". */
export function atTurns(def: RoundDef): RoundDef[] {
  const out: RoundDef[] = [];
  let from = 0;
  def.steps.forEach((step, i) => {
    if (step.kind !== 'turn' || i + 1 === def.steps.length) return;
    out.push({ ...def, steps: def.steps.slice(from, i + 1), stated: null });
    from = i + 1;
  });
  out.push(from === 0 ? def : { ...def, steps: def.steps.slice(from) });
  return out.map((d, i) => (i === 0 ? d : { ...d, label: `${def.label} (turned)`, side: null }));
}
