/**
 * Places within a round: so many stitches before the end of the round or side, a marker, the corner, the middle stitch, a
 * turn. One piece for all that is worked up to a place ("knit to 2 sts before the marker", "until 3 sts are left on the
 * needle", "work to the last st of the side"). In: a cursor behind "to". Out: the place, the cursor behind it; null and the
 * cursor unmoved where there is none.
 */
import { stitchKind } from '../../stitches/table.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Target } from './steps.ts';
import { readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

/** "the centre 3 sts" */
const MIDDLE_STS = wording('the? center|centre|middle|central # @sts');
const THERE = 'there|you|we|it|are|is|have|reach|still|lack|lacks|remain|remains|stand|stands';
const LEFT =
  'are|is|still|yet|left|remaining|rem|remain|remains|that|lacking|missing|lack|lacks|short|away|separate|separates|wanting|to|go';
/** "within 3 sts of", "there are only 3 sts left before", "3 sts are lacking to", "2 sts separate you from" */
const BEFORE = wording(
  `within? the? last? ${THERE}* { only|just|still? the? # @sts? ${LEFT}* | the @sts } { before|bef.|bef|from|of|b4|to|until|till | you|us from | away from | short of | prior to }`,
);
/** "until before the edge st" */
const JUST_BEFORE = wording('just|right? before');
/** "only 3 sts remain", "the last 2 edge sts", "the last": of the round, or of the place that may follow. */
const REMAIN = wording(
  '{ { there are|is | you|we are|have|reach | the|each|every|your|this|that? @stretch has|have|holds|hold|counts|shows | it|they has|have|holds|hold } only|just|still? # more? @sts? { remaining|left|remain|unworked | to go|work }? | only|just|the|last? # @sts? { remain|remains|remaining|rem.|rem|lie|lies|stand|stands | are|is|remain? left|unworked|over | to go } { on it|them }? }',
);
const LAST = wording('the? last|final { # @edge? @sts? | @edge? @sts }?');
const OF = wording('of|on|upon|over|along|at|before|from|in|to');

const MARKER =
  'next|first|second|third|last|1st|2nd|3rd|corner|side|following|other|opposite|end|left|center|centre|a|b|c|d|red|blue|green|bor|eor* stitch? m|mk|mkr|pm|marker|markers';
const TURN =
  '{ last|previous|prev.|prev|first|next|wrapped|double|turned | wrap and turn }* { turn|turning point|gap|st|stitch? | gap|ds|w&t | wrap|wrapped st|stitch? | wrapped|double|ds|turned st|stitch } { of the? previous|last|prev.|prev rs|ws|short? row|round }?';
const END = `very? { needle|round|row|side|section 's? }? end { of this|that|each|every|the? @stretch }?`;

type Place = readonly [kind: Target['kind'], re: RegExp];

const CORNER: Place = [
  'end',
  wording(
    'the|this|that|each|every|its|your? next|first|following|marked* corner @sts?',
    '(?!\\s*(?:markers?|mk|mkr|pm|m)\\b)',
  ),
];

/** "to the other edge st": the last of the row. */
const EDGE: Place = [
  'end',
  wording(
    'the|an|your? { other|second|last|final|opposite|next|2nd|1 { edge|selvedge|selvage|border|seam st|stitch | selvedge|selvage } | edge|selvedge|selvage|border|seam st|stitch } { at|on the? other|opposite|far|left end|side|edge }?',
  ),
];

/** Where a stretch ends. */
const PLACES: readonly Place[] = [
  [
    'end',
    wording(
      `the|this|that|each|every? { ${END} | bor|eor | beg.|beg|beginning of the? round|rnd }`,
    ),
  ],
  [
    'centre',
    wording(
      '{ the|this|that|each|every|its|your? next|following? { { center|centre|middle|central | marked|pinned } back|front? st|stitch|one | center|centre|middle } | its? st|stitch with|holding|bearing|carrying the|a? marker|m|pin }',
      '(?!\\s*(?:of|\\d|panel|cable|markers?|mk|mkr|pm|m|sts|stitches)\\b)',
    ),
  ],
  [
    'marker',
    wording(`the|this|that|each|every? ${MARKER}`, '(?:\\s*[a-d1-9]\\b(?!\\s*(?:st|,\\s*k)))?'),
  ],
  CORNER,
  EDGE,
  ['turn', wording(`the|this|that|each|every? ${TURN}`)],
  // "to 2 purl sts", "to the p2"
  ['purl', wording('the? next|first|following? { #? purl|p @sts|bump|bumps|column | ~p\\d }')],
  // "k to panel, p1, k6, p1": it begins with its purl edge
  [
    'purl',
    wording(
      'the|each|your? cable|rope|rib|centre|center|central? panel|cable',
      '(?=\\s*,?\\s*(?:p\\d|p(?:url)?\\s+(?:\\d|the\\b)))',
    ),
  ],
  ['knit', wording('the? next|first|following? { #? knit|k @sts|column | ~k\\d }')],
  // "p to next cable": it stands out of the purled ground
  [
    'knit',
    wording(
      'the|each? next|first|following? cable|rope|plait|braid panel|@sts?',
      '(?<=\\bp(?:url)?\\s[^,;()*]*)',
    ),
  ],
];
/** "at each marked st: knit to 1 st before it" */
const IT: Place = ['centre', wording('it|this|that')];
/** "At each marker: knit to 3 sts before it" */
const IT_MARKER: Place = ['marker', wording('it|this|that|them')];
const MARKER_BEFORE = /\bmarkers?\b(?!.*\b(?:needle|side|st|stitch|end)\b.*\bbefore)/;
const NAMED_BEFORE = /\b(?:marked|corner|centre|center|middle) (?:sts?|stitch)\b/;

/** "over the corner st and its two neighbours", "over the marked st and the st on either side of it": the three that stand there. */
export const WITH_NEIGHBOURS = wording(
  'over|on|across|with|of|from|using|in? the|each|every|this|that|its|your? marked|next* { corner|centre|center|middle|marked st|stitch|one? | marker|pin } and|with|plus|,* { its|the? both|2? neighbours|neighbors|neighbour|neighbor | the? one|1? # ? @sts? { to|on|at|in? either|each|both side|sides { of it|this|that|them }? | before and after { it|this|that }? | beside it|this|that? } | the|1|one|a? @sts? { to|on|at|in? either|each|both side|sides { of it|this|that|them }? | before and { the|1|one @sts? }? after { it|this|that }? | beside|next to? it|this|that? } } { to|on|at|in? either|each|both side|sides { of it|this|that|them }? }?',
);

/** What the last stitches are those of. */
const STRETCH: Place = [
  'end',
  wording('this|that|each|every|the? @stretch', '(?:\\s*\\d(?![\\d\\s]*sts))?'),
];

/** "to 3 sts before the marker or the end of the needle": the last side has no marker of its own. */
const OR_ELSE = wording(
  '~\\s+ or the|each|every|your? { end { of the|each|every|this? @stretch }? | next? marker|m }',
);

/** A place, and how many stitches before the end of the row it lies. */
type PlaceFound = Pick<Target, 'kind' | 'corner'> & { readonly before: number };

function placeKind(cursor: StepCursor, places: readonly Place[], before = 0): PlaceFound | null {
  const at = cursor.i;
  cursor.match(/\s+/y);
  const named = NAMED_BEFORE.test(cursor.text.slice(0, at));
  const found = [
    ...places,
    ...(named ? [IT] : MARKER_BEFORE.test(cursor.text.slice(0, at)) ? [IT_MARKER] : []),
  ].find(([, re]) => cursor.match(re));
  if (!found) return cursor.back(at, null);
  cursor.match(OR_ELSE);
  if (found === EDGE) return { kind: 'end', before: 1 };
  if (found !== CORNER) return { kind: found[0], before: 0 };
  return { kind: takesPlace(cursor, before) ? 'centre' : 'end', corner: true, before: 0 };
}

function targetAt({ before, ...place }: PlaceFound, count: number): Target {
  return { ...place, count: before + count };
}

/** "1 st before the corner st, cdd": the stitch behind takes the corner stitch with it, which no side ends at. */
function takesPlace({ text, i }: StepCursor, before: number): boolean {
  const gap = /^[\s,;]*(?:(?:and|then|work|make)\s+)*(?:an?\s+|the\s+|1\s+)?/.exec(
    text.slice(i, i + 24),
  );
  const read = before > 0 ? readStitch(text, i + (gap?.[0].length ?? 0)) : null;
  return read !== null && (stitchKind(read.name)?.consumes ?? 0) > before;
}

/** Behind "to". */
export function readPlace(cursor: StepCursor): Target | null {
  if (cursor.match(JUST_BEFORE)) cursor.match(/\s+/y);
  const at = cursor.i;
  const middle = cursor.match(MIDDLE_STS);
  if (middle) return { kind: 'centre', count: Math.floor(Number(middle[1]) / 2) };
  const before = cursor.match(BEFORE);
  const from = before && placeKind(cursor, PLACES, Number(before[1] ?? 1));
  if (before && from) return targetAt(from, Number(before[1] ?? 1));
  cursor.i = at;
  const remain = cursor.match(REMAIN);
  const place = remain ? null : placeKind(cursor, PLACES);
  if (place) return targetAt(place, 0);
  const last = remain ?? cursor.match(LAST);
  if (!last) return null;
  const behind = cursor.i;
  cursor.match(/\s+/y);
  const of = cursor.match(OF) && placeKind(cursor, [...PLACES, STRETCH]);
  if (!of) cursor.i = behind;
  const n = Number(last.slice(1).find((told) => told !== undefined) ?? 1);
  return of ? targetAt(of, n) : { kind: 'end', count: n };
}
