/**
 * Rounds, stitch by stitch → plan text in the trade's notation.
 *
 * Equal neighbouring rounds are folded into ranges; the count follows every round that changes it
 * and every range. Used by the drafter, the re-drafter and the turning of round work into flat.
 */
import { foldRound } from './fold-stitches.ts';

export interface DraftRound {
  /** Canonical stitch names in working order, as the knitter meets them on the side that faces. */
  readonly names: readonly string[];
  /** Flat work only: the wrong side faces. */
  readonly wrongSide: boolean;
  /** Stitches on the needles afterwards. */
  readonly after: number;
}

export interface PlanOutline {
  /** Header lines, ready to print. */
  readonly header: readonly string[];
  readonly castOn: number;
  readonly worked: 'round' | 'flat';
  readonly rounds: readonly DraftRound[];
  readonly ending: 'drawn-up' | 'bound-off' | 'live';
}

export function planText(outline: PlanOutline): string {
  const { castOn, rounds, worked } = outline;
  const lines = [...outline.header];
  if (lines.length > 0) lines.push('');
  lines.push(
    worked === 'round' ? `Cast on ${castOn} sts. Join in the round.` : `Cast on ${castOn} sts.`,
  );
  const word = worked === 'round' ? 'Round' : 'Row';
  const texts = rounds.map((round) => foldRound(round.names));
  for (let i = 0; i < rounds.length; ) {
    let j = i + 1;
    while (j < rounds.length && texts[j] === texts[i] && rounds[j].after === rounds[i].after) j++;
    const label =
      j - i === 1
        ? `${word} ${i + 1}`
        : j - i === 2
          ? `${word}s ${i + 1} and ${j}`
          : `${word}s ${i + 1}-${j}`;
    const side = worked === 'flat' && j - i === 1 ? (rounds[i].wrongSide ? ' (WS)' : ' (RS)') : '';
    const after = rounds[i].after;
    lines.push(`${label}${side}: ${texts[i]}. (${after} ${after === 1 ? 'st' : 'sts'})`);
    i = j;
  }
  if (outline.ending === 'drawn-up')
    lines.push('Cut the yarn and draw it through the remaining sts.');
  else if (outline.ending === 'bound-off') lines.push('Bind off all sts.');
  return lines.join('\n') + '\n';
}
