/** Sentences that every plan text is made of: casting on, rounds and ranges of them with their counts, the end. */
import { colourInWords } from './colours.ts';

/** `1 st`, `88 sts` */
export function countWords(sts: number): string {
  return sts === 1 ? '1 st' : `${sts} sts`;
}

/** `colour`: what it is cast on with, where the rounds have colours; `way`: `a tubular cast-on`. */
export function castOnSentence(
  castOn: number,
  worked: 'round' | 'flat',
  colour?: string,
  way: string | null = null,
): string {
  const cast = `Cast on ${countWords(castOn)}${inColour(colour)}${way === null ? '' : ` with ${way}`}.`;
  return worked === 'round' ? `${cast} Join in the round.` : cast;
}

/** ` in CC` */
export function inColour(colour: string | undefined): string {
  return colour === undefined ? '' : ` in ${colourInWords(colour)}`;
}

/** How a border begins: its first round of stitches is drawn through an edge that is there. */
export function pickUpSentence(
  sts: number,
  worked: 'round' | 'flat' = 'round',
  colour?: string,
): string {
  const first = `Pick up and knit ${countWords(sts)}${inColour(colour)}`;
  return worked === 'round'
    ? `${first} round the edge. Join in the round.`
    : `${first} along the edge.`;
}

/** `Round 3`, `Rows 4 and 5`, `Rounds 6-9` */
export function roundsLabel(word: 'Round' | 'Row', first: number, last = first): string {
  if (last === first) return `${word} ${first}`;
  return `${word}s ${first}${last === first + 1 ? ' and ' : '-'}${last}`;
}

/** A line of the pattern: `Round 3: k2, p2. (88 sts)` */
export function roundLine(label: string, text: string, after: number): string {
  return `${label}: ${text}. (${countWords(after)})`;
}

/** How the piece ends; nothing where its stitches stay on the needles. `way`: `loosely`, `with a sewn bind-off`. */
export function endSentences(
  ending: 'drawn-up' | 'bound-off' | 'live',
  way: string | null = null,
  colour?: string,
): string[] {
  if (ending === 'live') return [];
  if (ending === 'bound-off')
    return [`Bind off all sts${way === null ? '' : ` ${way}`}${inColour(colour)}.`];
  return ['Cut the yarn and draw it through the remaining sts.'];
}
