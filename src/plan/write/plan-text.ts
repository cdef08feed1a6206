/**
 * Rounds, stitch by stitch → plan text in the trade's notation.
 *
 * Equal neighbouring rounds are folded into ranges; the count follows every round that changes it
 * and every range. Used by the drafter, the re-drafter and the turning of round work into flat.
 */
import type { PlanEdges } from '../edge-ways.ts';
import type { Plan } from '../plan.ts';
import { colourLabel } from './colours.ts';
import { foldRound } from './fold-stitches.ts';
import {
  castOnSentence,
  endSentences,
  pickUpSentence,
  roundLine,
  roundsLabel,
} from './sentences.ts';

export interface DraftRound {
  /** Canonical stitch names in working order, as the knitter meets them on the side that faces. */
  readonly names: readonly string[];
  /** Flat work only: the wrong side faces. */
  readonly wrongSide: boolean;
  /** Stitches on the needles afterwards. */
  readonly after: number;
  readonly colour?: string;
}

export interface PlanOutline {
  /** Header lines, ready to print. */
  readonly header: readonly string[];
  readonly castOn: number;
  /** How it begins and ends; left open where it is not told. */
  readonly edges?: PlanEdges;
  readonly worked: 'round' | 'flat';
  readonly rounds: readonly DraftRound[];
  readonly ending: 'drawn-up' | 'bound-off' | 'live';
  readonly colours?: Plan['colours'];
}

export function planText(outline: PlanOutline): string {
  const { castOn, rounds, worked, colours, edges } = outline;
  const lines = [...outline.header];
  if (lines.length > 0) lines.push('');
  lines.push(
    edges?.pickedUp
      ? pickUpSentence(castOn, worked, colours?.castOn)
      : castOnSentence(castOn, worked, colours?.castOn, edges?.castOn),
  );
  const word = worked === 'round' ? 'Round' : 'Row';
  const texts = rounds.map((round) => foldRound(round.names));
  const alike = (i: number, j: number) =>
    texts[j] === texts[i] &&
    rounds[j].after === rounds[i].after &&
    rounds[j].colour === rounds[i].colour;
  for (let i = 0; i < rounds.length; ) {
    let j = i + 1;
    while (j < rounds.length && alike(i, j)) j++;
    const side = worked === 'flat' && j - i === 1 ? (rounds[i].wrongSide ? ' (WS)' : ' (RS)') : '';
    const label = `${roundsLabel(word, i + 1, j)}${side}${colourLabel(rounds[i].colour)}`;
    lines.push(roundLine(label, texts[i], rounds[i].after));
    i = j;
  }
  lines.push(...endSentences(outline.ending, edges?.bindOff, colours?.ending));
  return lines.join('\n') + '\n';
}
