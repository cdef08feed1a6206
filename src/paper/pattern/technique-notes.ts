/**
 * Notes on technique and finishing for the written pattern: only those that this plan needs, with the usual
 * cautions. In: a Plan and how it is to be written. Out: sentences that the plan reader passes over.
 * Sources: a seam half a stitch in takes one stitch of both edges together, one whole stitch in takes two
 * (craftgossip.com, Mattress stitch, 2014); joins: knitoasis.com 2014 (extra stitch); the rest common practice.
 */
import { chooseSeam, type Seam } from '../../draft/motif/seam-rows.ts';
import { rightSideRounds } from '../../draft/rework/turn-flat.ts';
import type { EdgeWays } from '../../plan/edge-ways.ts';
import { type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import { coloursOf } from '../../plan/write/colours.ts';
import { closingLengths, closingOf, closingReason } from '../../report/closing.ts';
import { CARRIED_ROUNDS, colourJoins } from '../../report/colour-joins.ts';
import { counted, listed, numberWord, stitchCount, times } from '../../report/words/counts.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import type { Terms } from '../../report/words/terms.ts';
import { castOnNotes, endingNotes, growsFromCentre, opensAtCentre } from './cast-on-words.ts';
import { markersUsed } from './landmarks.ts';
import { middleStitches } from './marked-middle.ts';
import { sidesToMark } from './sides-to-mark.ts';

export interface Writing {
  readonly plan: Plan;
  readonly terms: Terms;
  readonly units: LengthUnit;
  /** Whether the stitches ever lie on several needles, or parts of one. */
  readonly several: boolean;
  /** Width of a stitch of the ground, mm; null where it is not known. */
  readonly stitchMm: number | null;
  readonly hand: 'right' | 'left';
  /** Sides that are marked; 1 for none. */
  readonly sides: number;
  /** How its edges are cast on and bound off. */
  readonly ways: EdgeWays;
  /** The rounds as they are written. */
  readonly body: string;
}

export const LADDERS =
  'At each change of needle tug the yarn after the first stitch: this keeps ladders away.';

/** Which rows show the right side; null where they do not take turns (short rows). */
function rowSides(plan: Plan): string | null {
  const first = plan.rounds[0]?.wrongSide ?? false;
  if (plan.rounds.some((row, i) => row.wrongSide !== (i % 2 === 0 ? first : !first))) return null;
  return first
    ? 'Wrong-side rows are odd, right-side rows even.'
    : 'Right-side rows are odd, wrong-side rows even.';
}

export function notes(writing: Writing): string[] {
  const { plan, units, stitchMm, hand, sides } = writing;
  const lines: string[] = [...readingNotes(writing)];
  if (plan.worked === 'round') {
    const join = joinNote(plan);
    if (join) lines.push(join);
    if (writing.several) lines.push(LADDERS);
  } else {
    const sides = rowSides(plan);
    if (sides !== null) lines.push(sides);
    const seam = seamNote(plan);
    if (seam) lines.push(seam);
  }
  lines.push(...markerNotes(plan, sides));
  if (middleStitches(plan)) lines.push(MOVE_MARKER);
  if (coloursOf(plan).length > 1) lines.push(changingColours(plan));
  lines.push(...castOnNotes(plan, writing.ways, stitchMm, units));
  lines.push(...shortRowNotes(plan));
  if (plan.kinds.some((kind) => kind.crossing))
    lines.push(
      'Cables: a/b means a stitches pass over b; LC leans left (cable needle in front), RC leans right (cable needle at the back).',
    );
  if (hand === 'left')
    lines.push(
      'Worked left-handed, from left to right, the piece comes out as the mirror image: what leans left leans right. The words stay as they are.',
    );
  lines.push(
    'Long knitting can strain hands, wrists and neck: rest often, and ask a professional if pain stays.',
  );
  return lines;
}

/** What the markers of the pattern part or mark. */
function markerNotes(plan: Plan, sides: number): string[] {
  const used = markersUsed(plan);
  const marked =
    used.stitches === 0
      ? []
      : [
          `The ${numberWord(used.stitches)} marked sts are the middles of the shaping: hang a marker that opens into each, and move it up into the st above as you go.`,
        ];
  const between = plan.worked === 'round' ? used.sides > 1 : used.sides > 0;
  if (sides < 2 || !between) return marked;
  const [round, one] =
    plan.worked === 'round'
      ? ['round', sidesToMark(plan).unlike ? 'sides' : 'equal parts']
      : ['row', 'equal parts'];
  const start = plan.worked === 'round' ? ', that of its start in another colour' : '';
  const panels =
    used.panels > 0 ? ', and two more in every part stand at the edges of its panel' : '';
  const edges = plan.worked === 'round' ? '' : '; there is none at the edges of the row';
  return [
    `Markers part the ${numberWord(sides)} ${one} of the ${round}${start}${panels}${edges}. Slip them as they come.`,
    ...marked,
  ];
}

/** How colours change, and which are joined again (common practice). */
function changingColours(plan: Plan): string {
  const flat = plan.worked === 'flat';
  const word = flat ? 'row' : 'round';
  const cut = flat
    ? `one that rests for longer, hangs at the other edge, or is done with, is cut`
    : 'one that rests for longer, or is done with, is cut';
  const again = colourJoins(plan).filter((join) => join.again);
  const [first] = again;
  const place =
    first?.round > plan.rounds.length ? 'the finishing edge' : `${word} ${first?.round}`;
  const anew =
    again.length === 0
      ? 'In this piece none comes back after that.'
      : `In this piece one comes back after that ${times(again.length)}, ${again.length === 1 ? 'at' : 'first at'} ${place}.`;
  return `The colour behind a label holds for the whole of it, and for each part of a repeat as it was there. A colour that rests for up to ${numberWord(CARRIED_ROUNDS)} ${word}s is carried up ${flat ? 'the edge' : 'on the wrong side'}, not tightly; ${cut}, with an end to weave in. ${anew}`;
}

/** How the gap at a turn is closed (common practice). */
function shortRowNotes({ rounds }: Plan): string[] {
  const styles = new Set(rounds.flatMap((round) => round.shortRow?.style ?? []));
  const lines: string[] = [];
  if (styles.size > 0)
    lines.push(
      'Short rows: what lies behind a turn waits on the needle, and the counts include it.',
    );
  if (styles.has('wrap'))
    lines.push(
      'A wrap is lifted onto the needle and taken together with its stitch later, which closes the gap.',
    );
  if (styles.has('double'))
    lines.push(
      'Both legs of a double stitch are taken together later, as one stitch, which closes the gap.',
    );
  return lines;
}

/** What the marks of the pattern mean, where it uses them. */
function readingNotes({ body, plan }: Writing): string[] {
  const round = plan.worked === 'round' ? 'round' : 'row';
  const lines: string[] = [];
  if (/\*/.test(body))
    lines.push(
      'What stands between * and the semicolon is worked once, and then again as often as the words behind it say.',
    );
  if (/\[/.test(body))
    lines.push('What stands in [ ] is worked as often in all as the words behind the bracket say.');
  if (/\(\d+ sts?\)/.test(body))
    lines.push(
      `The figure in ( ) behind a ${round}, or behind a group of them, counts the stitches after the last of them.`,
    );
  return lines;
}

function seamNote(plan: Plan): string | null {
  const { seam, castOn } = plan;
  if (!seam) return null;
  const extra = seam.begin + seam.end;
  const sides = castOn - extra;
  if (extra === 0) return 'The two edges are sewn together as they are.';
  if (extra === 1)
    return `One extra stitch is there for the seam (${castOn} for ${stitchCount(sides)} of the fabric): sewn half a stitch in from each edge, both edges together make it up.`;
  const both = `${extra} extra stitches are there for the seam (${castOn} for ${stitchCount(sides)} of the fabric): sewn a whole stitch in, they vanish on the wrong side.`;
  return needsTwo(plan, seam)
    ? `${both} Both ends of the fabric are shaped: one extra stitch alone would leave no plain edge to sew.`
    : both;
}

/** Whether one stitch for the seam, as is common practice, would leave no edge to sew. */
function needsTwo(plan: Plan, { begin, end }: Seam): boolean {
  if (begin !== 1 || end !== 1) return false;
  const inside = rightSideRounds(plan).map((names) => names.slice(begin, names.length - end));
  return chooseSeam(inside, 1).why !== null;
}

/** `a half turn`, `1 full turn`, `3 half turns`. */
function turnWords(halfTurns: number): string {
  if (halfTurns === 1) return 'a half turn';
  return halfTurns % 2 === 0
    ? counted(halfTurns / 2, 'full turn')
    : counted(halfTurns, 'half turn');
}

/** How the ring is closed; null where it has no edge that could twist. */
export function joinNote(plan: Plan): string | null {
  // A ring has no edge that could twist.
  if (growsFromCentre(plan) && plan.join.method === 'plain' && plan.join.halfTurns === 0)
    return null;
  const lay = 'Lay the edge flat, inside all the way round, before you close the ring.';
  if (plan.join.halfTurns > 0)
    return `The ring is closed with ${turnWords(plan.join.halfTurns)} on purpose: it cannot be undone later.`;
  if (plan.join.method === 'extra')
    return `${lay} The last stitch is knitted together with the first, which closes the gap.`;
  if (plan.join.method === 'crossed')
    return `${lay} The first and last stitch change places, which closes the gap.`;
  return `${lay} A twist cannot be undone later.`;
}

const MOVE_MARKER =
  'The marker hangs in the middle stitch. Move it up into the stitch above that one as you go, or you lose the middle.';

/** What besides yarn and needles lies ready; `pinned`: whether it may be pinned out. */
export function notions({ plan, sides }: Writing, pinned: boolean): string[] {
  const list: string[] = [];
  const used = markersUsed(plan);
  if (plan.worked === 'round')
    list.push(
      used.sides > 1
        ? `${used.sides + used.panels} stitch markers, one of them of another colour`
        : 'a stitch marker for the start of the round',
    );
  else if (sides > 1) list.push(counted(used.sides + used.panels, 'stitch marker'));
  else if (middleStitches(plan)) list.push('a stitch marker that opens');
  if (used.stitches > 0) list.push(`${used.stitches} stitch markers that open`);
  if (plan.kinds.some((kind) => kind.crossing)) list.push('cable needle');
  list.push('tapestry needle', ...(pinned ? ['rust-proof pins'] : []));
  return [listed(list)];
}

/** `blockTo`: the size to block to, in words; null where the piece does not lie flat or is not known. `pinned`: as for `notions`. */
export function finishing(writing: Writing, blockTo: string | null, pinned: boolean): string[] {
  const { plan, stitchMm, units } = writing;
  const lines: string[] = [];
  if (plan.ending === 'drawn-up')
    lines.push(
      stitchesAtEnd(plan) === 1
        ? 'Pull the end tight and fasten it on the wrong side.'
        : 'Pull the end tight, pass it through the loops once more and fasten it on the wrong side.',
    );
  const closing = stitchMm === null ? null : closingOf(plan, stitchMm);
  const puckers = closingReason(closing);
  if (closing && puckers)
    lines.push(`${puckers} Side by side they are ${closingLengths(closing, units)}.`);
  if (opensAtCentre(plan))
    lines.push(
      'The long end closes the hole in the middle: sew it round the first edge and tighten it.',
    );
  if (plan.seam) lines.push(seamFinish(plan.seam.begin + plan.seam.end));
  lines.push(...endingNotes(plan, writing.ways));
  lines.push('Weave in all ends well: loose ends and loops are a danger to babies.');
  const ease = blockTo === null ? 'lay it down' : `lay it flat, ease it to ${blockTo}`;
  const pins = pinned
    ? ' Pin with rust-proof pins, count them before and after, and keep them away from children and pets.'
    : '';
  lines.push(`Wash as the yarn label says, ${ease} and let it dry.${pins}`);
  lines.push(
    'If you steam, follow the yarn label, do not press the iron on the fabric, and keep hands out of the steam.',
  );
  return lines;
}

function seamFinish(stitches: number): string {
  const how =
    stitches === 0
      ? 'edge to edge'
      : stitches === 1
        ? 'half a stitch in from each edge, so that the two halves make one whole stitch'
        : 'a whole stitch in from each edge';
  return `Sew the two edges together with mattress stitch, right side facing, ${how}, row to row.`;
}
