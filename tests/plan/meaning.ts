/**
 * What a Plan means, apart from its wording: two texts mean the same piece if their meanings are deeply
 * equal. Used to check that a plan survives being written out and read again.
 */
import type { Plan } from '../../src/plan/plan.ts';

export interface PlanMeaning {
  readonly title: string;
  readonly yarn: { weight: number | null; tex: number | null } | null;
  readonly gauges: readonly {
    fabric: string | null;
    stitchMm: number;
    roundMm: number | null;
  }[];
  readonly needlesMm: number | null;
  readonly worked: string;
  readonly join: { method: string; halfTurns: number };
  readonly seam: { begin: number; end: number } | null;
  readonly castOn: number;
  readonly rounds: readonly {
    label: string;
    wrongSide: boolean;
    before: number;
    after: number;
    /** Runs of stitches: `ssk 1, k 28, k2tog 1`. */
    works: string;
    markers: readonly number[];
  }[];
  readonly ending: string;
}

/** Lengths to a nanometre: what printing with ten digits keeps. */
function rounded(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}

function runs(works: Int16Array, names: readonly string[]): string {
  const out: string[] = [];
  for (let i = 0; i < works.length; ) {
    let j = i + 1;
    while (j < works.length && works[j] === works[i]) j++;
    out.push(`${names[works[i]]} ${j - i}`);
    i = j;
  }
  return out.join(', ');
}

export function planMeaning(plan: Plan): PlanMeaning {
  const names = plan.kinds.map((k) => k.name);
  return {
    title: plan.title,
    yarn: plan.yarn && {
      weight: plan.yarn.weight,
      tex: plan.yarn.tex === null ? null : rounded(plan.yarn.tex),
    },
    gauges: plan.gauges.map((g) => ({
      fabric: g.fabric,
      stitchMm: rounded(g.stitchMm),
      roundMm: g.roundMm === null ? null : rounded(g.roundMm),
    })),
    needlesMm: plan.needles?.mm ?? null,
    worked: plan.worked,
    join: { method: plan.join.method, halfTurns: plan.join.halfTurns },
    seam: plan.seam && { begin: plan.seam.begin, end: plan.seam.end },
    castOn: plan.castOn,
    rounds: plan.rounds.map((r) => ({
      label: r.label,
      wrongSide: r.wrongSide,
      before: r.before,
      after: r.after,
      works: runs(r.works, names),
      markers: [...r.markers],
    })),
    ending: plan.ending,
  };
}

/** True where two plans mean the same piece. */
export function samePlan(a: Plan, b: Plan): boolean {
  return JSON.stringify(planMeaning(a)) === JSON.stringify(planMeaning(b));
}
