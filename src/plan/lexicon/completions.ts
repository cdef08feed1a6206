/** Phrases and headings of plan text that an editor may complete, each with what it says. Data alone. */
export interface CompletedWords {
  readonly label: string;
  readonly detail: string;
}

export const PHRASES: readonly CompletedWords[] = [
  { label: 'to end', detail: 'as many as are left in the round' },
  { label: 'to last 2 sts', detail: 'stop before the last stitches' },
  { label: 'to marker', detail: 'stop at the next marker' },
  { label: 'pm', detail: 'place marker' },
  { label: 'sm', detail: 'slip marker' },
  { label: 'repeat from * to end', detail: 'again and again from the star' },
  { label: 'work as set', detail: 'knit the knits and purl the purls' },
  { label: 'cast on', detail: 'stitches to begin with' },
  { label: 'bind off', detail: 'end with a finished edge' },
  { label: 'draw yarn through remaining sts', detail: 'end closed at the centre' },
];

export const LINE_STARTS: readonly CompletedWords[] = [
  { label: 'Title: ', detail: 'name of the piece' },
  { label: 'Yarn: ', detail: 'weight, grams and metres of a ball' },
  { label: 'Gauge: ', detail: 'stitches and rounds in 10 cm or 4 in' },
  { label: 'Needles: ', detail: 'size in mm' },
  { label: 'Worked: ', detail: 'in the round, or flat' },
  { label: 'Join: ', detail: 'plain, crossed or with an extra stitch' },
  { label: 'Round 1: ', detail: 'instructions of one round' },
  { label: 'Rounds 1-4: ', detail: 'the same instructions in several rounds' },
  { label: 'Abbreviation: ', detail: 'your own word for some stitches' },
];
