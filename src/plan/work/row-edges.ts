/**
 * Edge stitches that a text tells once for all rows. In: what is told, the steps of a row. Out: its steps with the edges worked so:
 * beside a fabric or a plain run each way; told stitch by stitch, only a plain stitch that is to be slipped.
 */
import type { Edge, EdgesTold, EdgeWay } from '../grammar/edges.ts';
import { isTarget, type Step } from '../grammar/steps/steps.ts';

export class RowEdges {
  #told: EdgesTold = { first: null, last: null };

  tell({ first, last }: EdgesTold): void {
    this.#told = { first: over(this.#told.first, first), last: over(this.#told.last, last) };
  }

  /** Stitches at the beginning and the end of a row that its sides lie between; 0 where none are told. */
  get counts(): readonly [number, number] {
    return [this.#told.first?.count ?? 0, this.#told.last?.count ?? 0];
  }

  /** The steps of a row, its edges as they are told. */
  of(steps: readonly Step[], wrongSide: boolean): readonly Step[] {
    const way = (edge: Edge | null): EdgeWay => (wrongSide ? edge?.ws : edge?.rs) ?? null;
    const { first, last } = this.#told;
    const [begins, ends] = [way(first), way(last)];
    if ((!begins && !ends) || steps.length === 0 || steps.some((s) => s.kind === 'turn'))
      return steps;
    const out = [...steps];
    if (last && ends) lastAs(out, ends, last.count);
    if (first && begins) firstAs(out, begins, first.count);
    return out.length === steps.length && out.every((s, i) => s === steps[i]) ? steps : out;
  }
}

/** The edge as it is told now; "inside the edge sts" does not say how they are worked. */
function over(before: Edge | null, now: Edge | null): Edge | null {
  return now === null || (before && now.rs === null && now.ws === null) ? before : now;
}

function edge(name: string, times: number, { from, to }: Step): Step {
  return { kind: 'stitch', name, amount: { times }, from, to };
}

/** A fabric, or stitches that are all knitted or all purled. */
function isRun(step: Step | undefined): step is Extract<Step, { kind: 'stitch' | 'pattern' }> {
  return step?.kind === 'pattern' || (step?.kind === 'stitch' && /^[kp]$/.test(step.name));
}

/** A plain stitch that the row tells for itself; a habit of slipping is meant for it all the same. */
function isTold(step: Step, name: string): boolean {
  return step.kind === 'stitch' && !name.startsWith('sl');
}

function firstAs(steps: Step[], name: string, count: number): void {
  const [step] = steps;
  if (!isRun(step) || ('name' in step && step.name === name)) return;
  if (isTarget(step.amount)) {
    steps.unshift(edge(name, count, step));
    return;
  }
  const { times } = step.amount;
  if (times < count || (times === count && isTold(step, name))) return;
  const rest: Step = { ...step, amount: { times: times - count } };
  steps.splice(0, 1, edge(name, count, step), ...(times > count ? [rest] : []));
}

function lastAs(steps: Step[], name: string, count: number): void {
  const step = steps[steps.length - 1];
  if (!isRun(step) || ('name' in step && step.name === name)) return;
  if (isTarget(step.amount)) {
    const whole = step.amount.kind === 'rest' || (step.amount.kind === 'end' && !step.amount.count);
    if (!whole) return;
    steps.splice(-1, 1, { ...step, amount: { kind: 'end', count } }, edge(name, count, step));
    return;
  }
  const { times } = step.amount;
  if (times < count || (times === count && isTold(step, name))) return;
  const rest: Step = { ...step, amount: { times: times - count } };
  steps.splice(-1, 1, ...(times > count ? [rest] : []), edge(name, count, step));
}
