/**
 * What a round or row is called where the piece is counted through: its place in it, with what its text calls it.
 * In: the plan and the number from the cast-on. Out: `Round 5`, `Round 26 (round 2 again)`, `Row 7 (last row)`.
 */
import type { Plan } from '../../plan/plan.ts';

const REPEATED = / \(repeat\)$/;
const OWN_NUMBER = /^(?:Round|Row) (\d+)/;
/** They say no more than that one round follows another. */
const NO_NAME = /^(next|following|every) (round|row|rnd)s?$/i;

/** `n`: from 1, in working order. */
export function courseName({ worked, rounds }: Plan, n: number): string {
  const label = rounds[n - 1]?.label ?? '';
  const place = `${worked === 'flat' ? 'Row' : 'Round'} ${n}`;
  if (REPEATED.test(label)) return `${place} (${within(label.replace(REPEATED, ''))} again)`;
  const own = OWN_NUMBER.exec(label);
  if (own && Number(own[1]) === n) return label;
  // The text counts otherwise, as behind rounds without numbers.
  if (own) return `${label}, number ${n} in all`;
  return label === '' || NO_NAME.test(label) ? place : `${place} (${within(label)})`;
}

/** In the middle of a sentence, without brackets of its own. */
function within(label: string): string {
  return label
    .replace(/^[A-Z](?=[a-z])/, (first) => first.toLowerCase())
    .replace(/ \((\w+)\)/g, ', $1');
}
