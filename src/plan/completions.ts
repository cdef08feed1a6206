/**
 * Words that the plan language knows, with explanations, for completion while typing.
 */
import { cableKind } from './cables.ts';
import { NAMED_STITCHES, stitchKind } from './stitch-table.ts';

export interface Completion {
  /** Text to insert. */
  readonly label: string;
  readonly kind: 'stitch' | 'decrease' | 'increase' | 'cable' | 'phrase' | 'header';
  /** What it does, in a knitter's words. */
  readonly detail: string;
}

/** Spellings for typing in place of the canonical names that carry a count. */
const TYPED: Record<string, string> = {
  'sl1 wyib': 'sl1 wyib',
  'sl1k wyib': 'sl1 knitwise wyib',
  'sl1k wyif': 'sl1 knitwise wyif',
  co1: 'cast on 1 st',
  bo1: 'bind off 1 st',
  drop1: 'drop 1 st',
};

const CABLES = ['1/1', '2/1', '1/2', '2/2', '3/3', '4/4'].flatMap((sizes) =>
  ['LC', 'RC', 'LPC', 'RPC'].map((lean) => `${sizes} ${lean}`),
);

const PHRASES: readonly (readonly [string, string])[] = [
  ['knit', 'knit all stitches of the round'],
  ['purl', 'purl all stitches of the round'],
  ['k to end', 'knit to the end of the round'],
  [
    'k to last 2 sts',
    'knit until 2 stitches are left (of the side, inside a bracket for every side)',
  ],
  ['k to 2 sts before marker', 'knit until 2 stitches are left before the next marker'],
  ['work as set', 'go on as the columns have been going'],
  ['knit the knits and purl the purls', 'work every stitch as it looks from this side'],
  ['rep from * to end', 'repeat from the asterisk until the round ends'],
  ['rep from * to last 2 sts', 'repeat from the asterisk until 2 stitches are left'],
  ['4 times', 'work the bracket before it four times'],
  ['on each side', 'work the bracket before it once for every side'],
  ['twice', 'work the stitch or bracket before it two times'],
  ['pm', 'place a marker'],
  ['sm', 'slip the marker'],
  ['remove marker', 'take the marker off'],
  ['as round 1', 'work this round as round 1'],
];

const LINES: readonly (readonly [string, string])[] = [
  ['Title: ', 'name of the piece'],
  ['Yarn: ', 'weight name, and grams and metres of a ball: DK, 100 g = 220 m'],
  ['Gauge: ', 'stitches and rounds over a length: 22 sts and 30 rounds = 10 cm'],
  ['Needles: ', 'size in mm or US'],
  ['Worked: in the round', 'the piece is worked round and round'],
  ['Worked: flat with 2 seam stitches, then seamed', 'worked in rows and sewn into a ring'],
  [
    'Join: plain',
    'how the cast-on is joined: plain, crossed, extra stitch, twisted by 1 half turn',
  ],
  ['Sides: 4', 'number of equal sides'],
  ['Abbreviation: ', 'a word of your own: dd = s2kp'],
  ['Cast on ', 'number of stitches to begin with'],
  ['Round ', 'one round, or a range: Rounds 5-9'],
  ['Repeat rounds ', 'rounds to work again: Repeat rounds 1 and 2 until 8 sts remain'],
  ['Bind off all sts.', 'the end of the piece'],
  ['Break yarn and draw through remaining sts.', 'the end of a piece that closes in the middle'],
];

function stitchCompletion(name: string): Completion {
  const stitch = stitchKind(name);
  if (!stitch) throw new RangeError(`no stitch named ${name}`);
  const change = stitch.loops.length - stitch.consumes;
  const kind = change < 0 ? 'decrease' : change > 0 ? 'increase' : 'stitch';
  return { label: TYPED[name] ?? name, kind, detail: stitch.words };
}

/** All completions: stitches first, then phrases, then whole lines. */
export function completions(): Completion[] {
  const named = NAMED_STITCHES.map((s) => s.name);
  const out = [...named, 'k2tog', 'k3tog', 'p2tog', 'p3tog'].map(stitchCompletion);
  for (const name of CABLES) {
    out.push({ label: name, kind: 'cable', detail: cableKind(name)?.words ?? '' });
  }
  for (const [label, detail] of PHRASES) out.push({ label, kind: 'phrase', detail });
  for (const [label, detail] of LINES) out.push({ label, kind: 'header', detail });
  return out;
}
