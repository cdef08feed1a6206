/** The words above a chart that say how it is read. In: the plan, the hand and colours of the sheet, what it shows. Out: sentences. */
import type { Plan } from '../../plan/plan.ts';
import { times } from '../../report/words/counts.ts';
import type { ChartStyle } from './chart-sheet.ts';

interface Shown {
  /** Repeats inside the outline. */
  readonly repeats: number;
  /** Some row of it is worked on the wrong side. */
  readonly turned: boolean;
  /** Stitches of a seam lie outside the outline. */
  readonly seam: boolean;
  /** Which of several sheets it is; empty where there is one. */
  readonly sheet: string;
}

export function howToRead(
  plan: Plan,
  { hand, strip, terms }: Pick<ChartStyle, 'hand' | 'strip' | 'terms'>,
  { repeats, turned, seam, sheet }: Shown,
): string {
  const round = plan.worked === 'round';
  const [from, to] = hand === 'right' ? ['right', 'left'] : ['left', 'right'];
  const parts = [];
  if (repeats > 1)
    parts.push(
      `Work the stitches inside the bold outline ${times(repeats)} in each ${round ? 'round' : 'row'}.`,
    );
  if (round && turned)
    parts.push(
      `Read rounds from ${from} to ${to}, upwards; where the number stands on the ${to}, the row is turned: read it from ${to} to ${from}, on the WS.`,
    );
  else if (round) parts.push(`Read every round from ${from} to ${to}, upwards.`);
  else
    parts.push(
      'Every row is drawn as the right side shows it.',
      `Read RS rows from ${from} to ${to} and WS rows from ${to} to ${from}, upwards; the key says what to work on each.`,
    );
  if (seam) parts.push('The seam takes up the stitches outside the outline.');
  parts.push(`Figures under “sts” count the stitches after each ${round ? 'round' : 'row'}.`);
  const colours = strip.reading(terms);
  if (colours !== '') parts.push(colours);
  if (hand === 'left') parts.push('Mirrored for knitting left-handed.');
  if (sheet) parts.push(`${sheet}.`);
  return parts.join(' ');
}
