/**
 * What can be told of steps without working them: how many stitches they take wherever they stand,
 * whether they look for the end of their scope, whether they are the same in every place. Answers are
 * kept for each list of steps: abbreviations within abbreviations share their lists, and walking
 * such a tree again and again would take forever.
 */
import { isTarget, type Step } from '../grammar/steps/steps.ts';

/** Counts of steps that do not depend on the round. */
export class FixedCounts {
  /** −1 stands for "depends on the round". */
  readonly #known = new WeakMap<Step, number>();
  readonly #consumes: (name: string) => number;

  /** `consumes` tells how many loops a stitch of this name works. */
  constructor(consumes: (name: string) => number) {
    this.#consumes = consumes;
  }

  /** Stitches that a step works if that does not depend on the round; null otherwise. */
  of(step: Step): number | null {
    const known = this.#known.get(step);
    if (known !== undefined) return known < 0 ? null : known;
    const value = this.#count(step);
    this.#known.set(step, value ?? -1);
    return value;
  }

  ofAll(steps: readonly Step[]): number | null {
    let sum = 0;
    for (const step of steps) {
      const one = this.of(step);
      if (one === null) return null;
      sum += one;
    }
    return sum;
  }

  #count(step: Step): number | null {
    switch (step.kind) {
      case 'marker':
      case 'turn':
        return 0;
      case 'spread':
        return null;
      case 'stitch':
      case 'pattern': {
        const each = step.kind === 'stitch' ? this.#consumes(step.name) : 1;
        if (!isTarget(step.amount)) return step.amount.times * each;
        return step.amount.kind === 'next' ? step.amount.count : null;
      }
      case 'group': {
        if (step.eachSide || step.part) return null;
        const body = this.ofAll(step.steps);
        if (!isTarget(step.amount)) return body === null ? null : body * step.amount.times;
        return step.amount.kind === 'next' ? step.amount.count : null;
      }
    }
  }
}

/** One of several parts that share the round. */
export function isPart(step: Step): boolean {
  return step.kind === 'group' && step.part === true;
}

const withEnd = new WeakMap<readonly Step[], boolean>();
const pure = new WeakMap<readonly Step[], boolean>();

function kept(
  answers: WeakMap<readonly Step[], boolean>,
  steps: readonly Step[],
  ask: () => boolean,
): boolean {
  const known = answers.get(steps);
  if (known !== undefined) return known;
  const answer = ask();
  answers.set(steps, answer);
  return answer;
}

/** Some step looks for the end of the scope. */
export function hasEnd(steps: readonly Step[]): boolean {
  return kept(withEnd, steps, () =>
    steps.some((step) => {
      if (step.kind === 'marker' || step.kind === 'turn' || step.kind === 'spread') return false;
      if (isTarget(step.amount)) return step.amount.kind === 'end' || step.amount.kind === 'rest';
      return step.kind === 'group' && step.amount.times === 1 && hasEnd(step.steps);
    }),
  );
}

/** The stitches do not depend on where in the round they are worked. */
export function isPure(steps: readonly Step[]): boolean {
  return kept(pure, steps, () =>
    steps.every(
      (step) =>
        (step.kind === 'stitch' && !isTarget(step.amount)) ||
        (step.kind === 'group' &&
          !isTarget(step.amount) &&
          !step.eachSide &&
          !step.part &&
          isPure(step.steps)),
    ),
  );
}
