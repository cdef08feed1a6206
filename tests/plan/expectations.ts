/** What the texts of `tests/plans` expect, and what a plan comes to, in the same words. */
import type { Plan, PlanRound } from '../../src/plan/plan.ts';

/** Items of a list; `112*3` stands for three of them. */
export function spread(list: string): string[] {
  return list
    .trim()
    .split(/\s+/)
    .filter((item) => item !== '')
    .flatMap((item) => {
      const m = /^(.+)\*(\d+)$/.exec(item);
      return m ? new Array<string>(Number(m[2])).fill(m[1]) : [item];
    });
}

function works(plan: Plan, round: PlanRound | undefined): string {
  if (!round) return 'no such round';
  const out: string[] = [];
  for (let i = 0; i < round.works.length; ) {
    let j = i + 1;
    while (j < round.works.length && round.works[j] === round.works[i]) j++;
    const { name } = plan.kinds[round.works[i]];
    out.push(j - i > 1 ? `${name}*${j - i}` : name);
    i = j;
  }
  return out.join(', ');
}

/** What a plan comes to under a key of the corpus. */
export function found(plan: Plan, key: string): string {
  const n = Number(/\d+$/.exec(key)?.[0]);
  const round = plan.rounds[n - 1];
  switch (key.replace(/ \d+$/, '')) {
    case 'works':
      return works(plan, round);
    case 'markers':
      return [...(round?.markers ?? [])].join(' ');
    case 'label':
      return round?.label ?? '';
    case 'title':
      return plan.title;
    case 'sides':
      return String(plan.sides);
    case 'castOn':
      return String(plan.castOn);
    case 'join':
      return `${plan.join.method} ${plan.join.halfTurns}`;
    case 'seam':
      return plan.seam ? `${plan.seam.begin} ${plan.seam.end}` : 'none';
    case 'gauge':
      return plan.gauges
        .map((g) => `${g.fabric ?? '-'} ${g.stitchMm.toFixed(3)} ${g.roundMm?.toFixed(3) ?? '-'}`)
        .join('; ');
    case 'yarn':
      return plan.yarn
        ? `${plan.yarn.weight ?? '-'} ${plan.yarn.tex?.toFixed(1) ?? '-'} ${plan.yarn.ballGrams?.toFixed(1) ?? '-'} ${plan.yarn.ballMetres?.toFixed(1) ?? '-'}`
        : 'none';
    case 'needles':
      return String(plan.needles?.mm ?? null);
    case 'colours':
      return plan.rounds.map((r) => r.colour ?? '-').join(' ');
    case 'kinds':
      return plan.kinds.map((k) => k.name).join('; ');
    default:
      throw new RangeError(`unknown expectation "${key}"`);
  }
}
