/** The stitches that the page explains: all that have a name in the trade, and the usual cables. From the reader's own table. */
import { cableKind } from '../../plan/stitches/cables.ts';
import type { StitchKind } from '../../plan/stitches/stitch-kind.ts';
import { NAMED_STITCHES } from '../../plan/stitches/table.ts';

const COMMON_CABLES = [
  '1/1 LC',
  '1/1 RC',
  '2/2 LC',
  '2/2 RC',
  '3/3 LC',
  '3/3 RC',
  '2/1 LPC',
  '2/1 RPC',
];

export const EXPLAINED_STITCHES: readonly StitchKind[] = [
  ...NAMED_STITCHES,
  ...COMMON_CABLES.map(cableKind).filter((kind) => kind !== null),
];

/** What the stitch does in words, ending with how it changes the count. */
export function stitchWords(kind: StitchKind): string {
  const words = kind.words || kind.name;
  return `${words[0].toUpperCase()}${words.slice(1)}.${countText(kind)}`;
}

function countText(kind: StitchKind): string {
  const change = kind.loops.length - kind.consumes;
  if (change === 0) return '';
  return ` ${change > 0 ? 'Adds' : 'Loses'} ${Math.abs(change)} ${Math.abs(change) === 1 ? 'stitch' : 'stitches'}.`;
}
