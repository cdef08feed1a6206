/** The stitches that the page explains: all that have a name in the trade, and the usual cables. From the reader's own table. */
import { readStitch } from '../../plan/grammar/steps/stitch-words.ts';
import { readSource } from '../../plan/lex/source.ts';
import { cableKind } from '../../plan/stitches/cables.ts';
import type { StitchKind } from '../../plan/stitches/stitch-kind.ts';
import { NAMED_STITCHES, stitchKind } from '../../plan/stitches/table.ts';

/** Of the stitches that are worked for any number, those that knitters use. */
const TOGETHER = ['k2tog', 'p2tog', 'k3tog', 'p3tog'];

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

const madeOf = (names: readonly string[]) =>
  names.map(stitchKind).filter((kind): kind is StitchKind => kind !== null);

const change = (kind: StitchKind) => Math.sign(kind.loops.length - kind.consumes);

/** Those that keep the count, those that add to it, those that lose from it, and the cables. */
export const EXPLAINED_STITCHES: readonly StitchKind[] = [
  ...[0, 1, -1].flatMap((sign) =>
    [...madeOf(TOGETHER), ...NAMED_STITCHES].filter((kind) => change(kind) === sign),
  ),
  ...COMMON_CABLES.map(cableKind).filter((kind) => kind !== null),
];

const FEW = ['one', 'two', 'three', 'four', 'five', 'six'];
const inFigures = (text: string) => {
  const figure = (word: string) => String(1 + FEW.indexOf(word));
  return text.replace(new RegExp(`\\b(?:${FEW.join('|')})\\b`, 'g'), figure);
};

/**
 * The stitches that a search is about, the one that is called so first. A stitch is also found by any spelling that
 * the reader knows (`sl 1, k1, psso`).
 */
export function soughtStitches(sought: string): readonly StitchKind[] {
  const words = inFigures(sought.trim().toLowerCase());
  if (words === '') return EXPLAINED_STITCHES;
  const { text } = readSource(words);
  const read = readStitch(text, 0);
  const spelled = read && text.slice(read.end).trim() === '' ? read.name : null;
  const rank = (kind: StitchKind) => {
    const name = kind.name.toLowerCase();
    if (name === words || kind.name === spelled) return 0;
    if (name.startsWith(words)) return 1;
    if (name.includes(words)) return 2;
    return stitchWords(kind).toLowerCase().includes(words) ? 3 : 4;
  };
  const known = EXPLAINED_STITCHES.filter((kind) => rank(kind) < 4);
  const rare = known.some((kind) => rank(kind) === 0) || !spelled ? [] : madeOf([spelled]);
  return [...rare, ...known].sort((a, b) => rank(a) - rank(b));
}

/** What the stitch does in words, ending with how it changes the count. */
export function stitchWords(kind: StitchKind): string {
  const words = kind.words || kind.name;
  return `${words[0].toUpperCase()}${words.slice(1)}.${countText(kind)}`;
}

function countText(kind: StitchKind): string {
  const more = kind.loops.length - kind.consumes;
  if (more === 0) return '';
  return ` ${more > 0 ? 'Adds' : 'Loses'} ${Math.abs(more)} ${Math.abs(more) === 1 ? 'stitch' : 'stitches'}.`;
}
