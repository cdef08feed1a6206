/**
 * Several stitches worked into one: `(k1, yo, k1) in next st`, and bobbles told in full with their turns.
 * Input: steps. Output: the one stitch that they make, where the stitch table knows it.
 */
import { regex } from '../../lexicon/expression.ts';

import { STS } from '../../lexicon/words.ts';
import { stitchKind } from '../../stitches/table.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';

/** Behind a bracket: all of it goes into one stitch. */
export const INTO_ONE = regex.y`[\s,]*(?:all\s+)?(?:in|into|in\s+to)\s+(?:the\s+st(?:itch)?(?![a-z])|(?:the\s+)?(?:same\s+|next\s+|one\s+|1\s+|a\s+|single\s+|following\s+|center\s+|centre\s+|corner\s+)+(?:${STS}|yo(?![a-z])|loop))`;

/** Behind them: all of it goes into every stitch. */
export const INTO_EACH = regex.y`[\s,]*(?:all\s+)?(?:in|into|in\s+to)\s+(?:each|every)\s+(?:single\s+)?${STS}(?:\s+(?:to\s+(?:the\s+)?end|around|(?:of|on|in)\s+(?:the\s+)?(?:round|rnd|row)))?`;

/**
 * "k1, yo, k1 in each st": the steps so far and this one, which begins at `at`, all in every stitch; false and nothing kept where
 * that is not told or they can't be.
 */
export function foldIntoEach(cursor: StepCursor, items: Step[], step: Step, at: number): boolean {
  const told = ENDS_IN_EACH.test(cursor.text.slice(at, cursor.i));
  const once = told && step.kind === 'group' ? step.steps : null;
  const name = once && items.length > 0 ? intoOneName([...items, ...once]) : null;
  if (name === null) return false;
  const from = items[0].from - cursor.base;
  items.splice(0, items.length, cursor.stitch(name, from, { kind: 'rest', count: 0 }));
  return true;
}

const ENDS_IN_EACH = regex.plain`\b(?:in|into)\s+(?:each|every)\s+${STS}`;

/** Name of the kind that works these steps into one stitch; null if they can't be. */
export function intoOneName(steps: readonly Step[]): string | null {
  const parts: string[] = [];
  const collect = (list: readonly Step[]): boolean =>
    list.every((step) => {
      if (step.kind === 'group' && 'times' in step.amount && step.amount.times <= 24) {
        for (let i = 0; i < step.amount.times; i++) if (!collect(step.steps)) return false;
        return parts.length <= 24;
      }
      if (step.kind !== 'stitch') return false;
      const name = { k: 'k1', p: 'p1', ktbl: 'k1 tbl', ptbl: 'p1 tbl', yo: 'yo' }[step.name];
      if (!name) return false;
      const times = 'times' in step.amount ? step.amount.times : 1;
      if (times > 24) return false;
      for (let i = 0; i < times; i++) parts.push(name);
      return true;
    });
  if (!collect(steps) || parts.length === 0) return null;
  const name = `(${parts.join(', ')}) in 1 st`;
  return stitchKind(name) ? name : null;
}

/** Longest bobble: turns within one stitch. Chosen. */
const MOST_TURNS = 20;

/**
 * A bobble told in full ("(k1, yo, k1) in next st, turn, p3, turn, sk2p") takes one stitch and leaves
 * one: it becomes the stitch `mb`, because rows within a row cannot be followed.
 */
export function foldBobbles(steps: readonly Step[]): readonly Step[] {
  if (!steps.some((s) => s.kind === 'turn')) return steps;
  for (let start = 0; start + 3 < steps.length; start++) {
    const first = steps[start];
    if (first.kind !== 'stitch' || steps[start + 1].kind !== 'turn') continue;
    const kind = stitchKind(first.name);
    if (kind?.consumes !== 1 || kind.loops.length < 2) continue;
    let loops = kind.loops.length;
    let turns = 1;
    let i = start + 2;
    let used = 0;
    let made = 0;
    while (i < steps.length && turns < MOST_TURNS) {
      const step = steps[i];
      if (step.kind === 'turn') {
        if (used !== loops) break;
        loops = made;
        used = 0;
        made = 0;
        turns++;
        i++;
        continue;
      }
      if (step.kind !== 'stitch') break;
      const one = stitchKind(step.name.startsWith('sl1') ? 'k' : step.name);
      if (!one) break;
      const times = 'times' in step.amount ? step.amount.times : loops - used;
      used += one.consumes * times;
      made += one.loops.length * times;
      i++;
      if (turns % 2 === 0 && used === loops && made === 1) {
        const bobble: Step = {
          kind: 'stitch',
          name: 'mb',
          amount: { times: 1 },
          from: first.from,
          to: step.to,
        };
        return foldBobbles([...steps.slice(0, start), bobble, ...steps.slice(i)]);
      }
      if (used > loops) break;
    }
  }
  return steps;
}
