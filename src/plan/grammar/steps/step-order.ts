/**
 * Mistakes in the order of steps: a first stitch behind all the others, work where none is left, a bracket that closes
 * nothing. In: a cursor and the steps. Out: what is said of them.
 */
import type { StepCursor } from './step-cursor.ts';
import type { GroupStep, Step, StitchStep } from './steps.ts';

/** This closing bracket has no opening one. */
export function sayNotOpened(cursor: StepCursor, c: string): void {
  cursor.i++;
  cursor.say(
    'warning',
    'bracket-not-opened',
    cursor.i - 1,
    `this closing "${c}" has no opening bracket`,
    'Remove it, or open a bracket before the stitches that belong together.',
  );
}

export function goesToEnd(step: Step): boolean {
  return (
    (step.kind === 'stitch' || step.kind === 'pattern') &&
    'kind' in step.amount &&
    (step.amount.kind === 'rest' || step.amount.kind === 'end')
  );
}

/** "Knit, slipping the first stitch": the first stitch does not stand behind the others. */
export function sayFirstBehind(cursor: StepCursor, step: Step): void {
  const from = step.from - cursor.base;
  const to = step.to - cursor.base;
  if (step.kind !== 'stitch' || !/\bfirst\s+(?:\d+\s+)?st/.test(cursor.text.slice(from, to)))
    return;
  cursor.sayAt(
    'error',
    'first-behind-others',
    from,
    to,
    'the first stitch is told here, behind all the others',
    'Tell the stitches in the order in which they are worked, for example: sl 1, knit to end.',
  );
  cursor.failed = true;
}

/** "Knit - purl the edge stitches": behind what goes to the end, nothing is left for what would go there too. */
export function sayNothingLeft(cursor: StepCursor, items: readonly Step[]): void {
  const toEnd = items.filter(
    (s): s is GroupStep | StitchStep =>
      (s.kind === 'stitch' || (s.kind === 'group' && !s.eachSide && !s.part)) &&
      'kind' in s.amount &&
      (s.amount.kind === 'rest' || s.amount.kind === 'end') &&
      s.amount.count === 0,
  );
  const [first, second] = toEnd;
  if (!first || !second || (first.kind === 'stitch' && nameOf(second) === first.name)) return;
  cursor.sayAt(
    'error',
    'nothing-left-to-work',
    second.from - cursor.base,
    second.to - cursor.base,
    'what stands before this goes to the end, so that nothing is left for it',
    'Say which stitches are meant, for example: p1, k to last st, p1.',
  );
  cursor.failed = true;
}

function nameOf(step: GroupStep | StitchStep): string | null {
  if (step.kind === 'stitch') return step.name;
  const [only] = step.steps;
  return step.steps.length === 1 && only.kind === 'stitch' ? only.name : null;
}
