/**
 * Wordings that can be meant in two ways: "repeat from * 3 times" can mean 3 or 4 in all. Input: a round
 * and the needles before it. Output: the reading whose counts come out, once for every use of the
 * round. Also which rounds show, unsaid, how many equal sides there are.
 */
import type { Step } from '../grammar/steps/steps.ts';
import { fits, type RoundExpander, type WorkedRound } from '../work/expand.ts';
import type { Needle } from '../work/needle.ts';
import type { RoundSetting } from '../work/round-context.ts';

/** Most parts of a round that are taken for its sides without being named. Chosen. */
const MOST_PARTS = 12;

export class Readings {
  readonly #expander: RoundExpander;
  readonly #settled = new WeakMap<readonly Step[], readonly Step[]>();

  constructor(expander: RoundExpander) {
    this.#expander = expander;
  }

  /** `stated`: stitches that the text says are there afterwards. `sides`: of the piece, as said. */
  best(
    asked: readonly Step[],
    needle: Needle,
    setting: RoundSetting,
    stated: number | null,
    sides: number | null,
  ): { steps: readonly Step[]; worked: WorkedRound; parts?: number; otherwise?: number } {
    const settled = this.#settled.get(asked);
    const merit = (w: WorkedRound): number =>
      !fits(w, needle.count) ? 0 : stated === null || stated === w.after ? 2 : 1;
    let steps = settled ?? asked;
    let worked = this.#expander.work(steps, needle, setting);
    if (settled) return { steps, worked };
    let changed = false;
    for (const what of ['times', 'names', 'both'] as const) {
      const other = otherReading(asked, sides, what);
      if (!other) continue;
      const second = this.#expander.work(other.steps, needle, setting);
      const better = other.preferred
        ? merit(second) >= merit(worked)
        : merit(second) > merit(worked);
      if (!better || merit(second) === 0) continue;
      ({ steps } = other);
      worked = second;
      changed = true;
    }
    const over = overAgain(asked);
    if (over) {
      const second = this.#expander.work(over, needle, setting);
      const alike = merit(second) === merit(worked);
      if (merit(second) > 0 && merit(second) >= merit(worked)) {
        this.#settled.set(asked, over);
        const other = alike && stated === null && worked.after !== second.after;
        return { steps: over, worked: second, ...(other && { otherwise: worked.after }) };
      }
    }
    const parts = merit(worked) > 0 ? null : this.#ofOnePart(asked, needle, setting, stated);
    if (parts) {
      this.#settled.set(asked, parts.steps);
      return parts;
    }
    if (changed) this.#settled.set(asked, steps);
    return { steps, worked };
  }

  /** A round told for one of its equal parts: it works just one, and the count told is that of all of them. */
  #ofOnePart(
    asked: readonly Step[],
    needle: Needle,
    setting: RoundSetting,
    stated: number | null,
  ): { steps: readonly Step[]; worked: WorkedRound; parts: number } | null {
    const { sides, inRound } = setting;
    if (!inRound || sides === null || sides < 2 || stated === null || stated === needle.count)
      return null;
    const width = this.#expander.fixedOfAll(asked);
    if (width === null || width * sides !== needle.count) return null;
    const [first] = asked;
    const place = { from: first.from, to: asked[asked.length - 1].to };
    const group = {
      kind: 'group',
      steps: asked,
      amount: { times: sides },
      otherTimes: null,
    } as const;
    const steps: readonly Step[] = [{ ...group, eachSide: false, ...place }];
    const worked = this.#expander.work(steps, needle, setting);
    return fits(worked, needle.count) && worked.after === stated
      ? { steps, worked, parts: sides }
      : null;
  }
}

/** "K8, k2tog around": all of it over and over, and not the last stitch alone; null where nothing is so. */
function overAgain(steps: readonly Step[]): readonly Step[] | null {
  const last = steps[steps.length - 1];
  const before = steps.slice(0, -1);
  if (before.length === 0 || last.kind !== 'stitch' || !('kind' in last.amount)) return null;
  if (last.amount.kind !== 'rest' || last.amount.count !== 0 || last.name.length === 1) return null;
  if (!before.every((s) => s.kind === 'stitch' && 'times' in s.amount && s.name !== last.name))
    return null;
  const once: Step = { ...last, amount: { times: 1 } };
  const place = { from: steps[0].from, to: last.to };
  const amount = { kind: 'rest', count: 0 } as const;
  const group = { kind: 'group', steps: [...before, once], amount, otherTimes: null } as const;
  return [{ ...group, eachSide: false, ...place }];
}

/**
 * The steps with every ambiguous number of repeats, every increase without a place, or both taken the other way; null
 * where none is. Preferred if that number is the number of sides.
 */
function otherReading(
  steps: readonly Step[],
  sides: number | null,
  what: 'times' | 'names' | 'both',
): { steps: readonly Step[]; preferred: boolean } | null {
  const changed = { times: false, names: false };
  let preferred = false;
  // Abbreviations within abbreviations share their lists of steps: each is turned once.
  const done = new Map<readonly Step[], readonly Step[]>();
  const turned = (list: readonly Step[]): readonly Step[] => {
    const known = done.get(list);
    if (known) return known;
    const out = list.map((step): Step => {
      if (step.kind === 'stitch' && step.otherName && what !== 'times') {
        changed.names = true;
        const { otherName: name, ...stitch } = step;
        return { ...stitch, name };
      }
      if (step.kind !== 'group') return step;
      if (step.otherSteps && what !== 'names') {
        changed.times = true;
        const { otherSteps, ...group } = step;
        return { ...group, steps: otherSteps, amount: { times: 1 }, eachSide: false };
      }
      const inner = turned(step.steps);
      if (step.otherTimes === null || step.otherTimes < 1 || what === 'names') {
        return inner === step.steps ? step : { ...step, steps: inner };
      }
      changed.times = true;
      preferred ||= step.otherTimes === sides;
      return { ...step, steps: inner, amount: { times: step.otherTimes }, otherTimes: null };
    });
    const result = out.every((step, i) => step === list[i]) ? list : out;
    done.set(list, result);
    return result;
  };
  const out = turned(steps);
  const all = what === 'both' ? changed.times && changed.names : changed[what];
  return all ? { steps: out, preferred } : null;
}

/**
 * Equal parts of a round that is one repeat with shaping in it, or begins and ends within a part: "k10, k1, [k21, k1] 3
 * times, k11"; null where it is something else. `widthOf`: stitches that steps work wherever they stand.
 */
export function partsOf(
  steps: readonly Step[],
  count: number,
  widthOf: (steps: readonly Step[]) => number | null,
): number | null {
  const groups = steps.filter((s) => s.kind === 'group');
  const [group] = groups;
  if (groups.length !== 1 || group?.kind !== 'group') return null;
  if (!('times' in group.amount)) return null;
  const whole = steps.every((s) => s.kind === 'group' || s.kind === 'marker');
  const times = group.amount.times + (whole ? 0 : 1);
  if (!whole && widthOf(group.steps) !== count / times) return null;
  return times >= 3 && times <= MOST_PARTS && count % times === 0 ? times : null;
}
