/**
 * What a knitter goes by within a round: markers between sides and at panels, or marked stitches that sides are shaped
 * about. In: a Plan. Out: which of them, and for every round the stretches from one to the next.
 */
import type { Plan } from '../../plan/plan.ts';
import { foldSequence } from '../../plan/write/fold-stitches.ts';
import { isShaping, middlesOf, shapesAt } from './marked-middle.ts';
import { consumes, insideSeam, makes, namesOf, seamStitches, smallRepeat } from './marked-sides.ts';
import { type PanelPlace, panelBounds, placeInWork, splitAtPanel } from './panel-bounds.ts';
import { type SidesToMark, sidesToMark } from './sides-to-mark.ts';
import type { MarkerWord, Stretch } from './stretch-words.ts';

export interface Landmarks {
  readonly plan: Plan;
  readonly marked: SidesToMark;
  /** The round that they are placed in, 0-based: before it nothing is marked. */
  readonly from: number;
  readonly panels: readonly (PanelPlace | null)[] | null;
  /** Which stitch of every side works the marked one, round by round: then no marker parts the sides. */
  readonly middles: readonly number[] | null;
  /** The same where markers part them as well: null from the round on that no more is told by it. */
  readonly marks: readonly (number | null)[] | null;
}

export interface MarkersUsed {
  /** Between sides, that of the start of the round among them. */
  readonly sides: number;
  /** At the edges of panels. */
  readonly panels: number;
  /** Hung into stitches. */
  readonly stitches: number;
}

export function landmarksOf(plan: Plan): Landmarks {
  const marked = sidesToMark(plan);
  const { sides, unlike } = marked;
  const none = { plan, marked, from: 0, panels: null, middles: null, marks: null };
  if (sides < 2 || unlike) return none;
  const from = placingRound(plan, marked);
  const bounds = panelBounds(plan, sides)?.map((place, i) => (i < from ? null : place));
  const panels = bounds?.some((place) => place !== null) ? bounds : null;
  const middles = panels ? null : sideMiddles(plan, marked, from);
  return { ...none, from, panels, middles, marks: middles ? null : sideMarks(plan, marked, from) };
}

export function markersUsed(plan: Plan): MarkersUsed {
  const { marked, panels, middles, marks } = landmarksOf(plan);
  const { sides } = marked;
  if (middles) return { sides: 1, panels: 0, stitches: sides };
  if (sides < 2) return { sides: 0, panels: 0, stitches: 0 };
  const between = plan.worked === 'flat' ? sides - 1 : sides;
  return { sides: between, panels: panels ? 2 * sides : 0, stitches: marks ? sides : 0 };
}

/**
 * The last round before one that needs its markers, or that one where the sides of the former are not alike: what is
 * worked over and over, right round, needs none.
 */
function placingRound(plan: Plan, { sides, rounds }: SidesToMark): number {
  const inside = plan.rounds.map((round) => insideSeam(plan, round));
  const first = inside.findIndex(
    (names) => smallRepeat(names) === 0 && names.some((name) => name !== names[0]),
  );
  if (first < 1 || first >= rounds - 1) return 0;
  const before = inside[first - 1];
  const each = before.length / sides;
  const alike = before.every((name, i) => name === before[i % each]);
  return alike ? first - 1 : first;
}

/** Of rounds whose sides are alike from edge to edge and shaped about their middle stitch. */
function sideMiddles(
  plan: Plan,
  { sides, rounds }: SidesToMark,
  from: number,
): readonly number[] | null {
  if (plan.worked === 'flat' || rounds < plan.rounds.length) return null;
  const blocks = plan.rounds.map((round) => {
    const names = namesOf(plan, round);
    return names.slice(0, names.length / sides);
  });
  const middles = middlesOf(blocks);
  const plain = /^[kp]$/;
  const inMiddle = middles?.every((middle, i) => {
    const names = blocks[i];
    const shaped = names.flatMap((name, at) => (isShaping(name) ? [at] : []));
    return (
      shaped.every((at) => Math.abs(at - middle) <= 1) &&
      (shaped.length === 0 || shapesAt(names, middle)) &&
      (shaped.length === 0 ||
        names.length === 1 ||
        (plain.test(names[0]) && names[0] === names.at(-1)))
    );
  });
  return middles && inMiddle && plain.test(blocks[from][middles[from]]) ? middles : null;
}

/**
 * Sides that are shaped about a stitch within them and nowhere else, for as long as they are: which one works it in each
 * round, among the stitches of a side as the row is worked.
 */
function sideMarks(
  plan: Plan,
  { sides, rounds }: SidesToMark,
  from: number,
): readonly (number | null)[] | null {
  const blocks = plan.rounds.map((round) => {
    const names = insideSeam(plan, round);
    return names.slice(0, names.length / sides);
  });
  const first = blocks.findIndex((names) => names.some(isShaping));
  const middle =
    first <= from ? -1 : blocks[first].findIndex((_, at) => isShapedAbout(blocks[first], at));
  if (middle < 0) return null;
  const made = (names: readonly string[], of: (name: string) => number) =>
    names.reduce((sum, name) => sum + of(name), 0);
  const turned = (place: number, count: number, i: number) =>
    plan.rounds[i].wrongSide ? count - 1 - place : place;
  const reachOf = (name: string) => (consumes(name) - 1) / 2;
  let place = turned(
    made(blocks[first].slice(0, middle), consumes) + reachOf(blocks[first][middle]),
    made(blocks[first], consumes),
    first,
  );
  const marks: (number | null)[] = plan.rounds.map(() => null);
  let shaped = 0;
  for (let i = 0; i < rounds; i++) {
    const names = blocks[i];
    const here = turned(place, made(names, consumes), i);
    const at = worksOf(names, here);
    const isShaped = names.some(isShaping);
    if (at < 0 || (isShaped && !isShapedAbout(names, at))) break;
    // Where nothing is shaped the stitch tells nothing.
    if (i === from || (i > from && isShaped)) marks[i] = at;
    if (isShaped) shaped++;
    place = turned(made(names.slice(0, at), makes), made(names, makes), i);
  }
  return shaped >= LEAST_SHAPED && /^[kp]$/.test(blocks[from][marks[from] ?? -1]) ? marks : null;
}

/** Which stitch makes one of so many on either side of a place; −1 where none does. */
function worksOf(names: readonly string[], place: number): number {
  let worked = 0;
  return names.findIndex((name) => {
    const middle = worked + (consumes(name) - 1) / 2;
    worked += consumes(name);
    return middle === place && makes(name) === 1;
  });
}

/** Whether all that is shaped in a side is a stitch within it, or beside that. */
function isShapedAbout(names: readonly string[], at: number): boolean {
  const plain = /^[kp]$/;
  return (
    plain.test(names[0]) &&
    plain.test(names[names.length - 1]) &&
    shapesAt(names, at) &&
    makes(names[at]) === 1 &&
    consumes(names[at]) % 2 === 1 &&
    isShaping(names[at - 1] ?? 'k') === isShaping(names[at + 1] ?? 'k') &&
    names.every((name, k) => !isShaping(name) || Math.abs(k - at) <= 1)
  );
}

/** Shaped rounds from which on a stitch is marked. Chosen: fewer are told by their figures as shortly. */
const LEAST_SHAPED = 3;

/** The round from one landmark to the next; in flat work with the first edge as a stretch of its own, or not. */
export function cutsOf(landmarks: Landmarks, i: number): Stretch[][] {
  const { plan, marked, middles, from } = landmarks;
  const names = namesOf(plan, plan.rounds[i]);
  if (middles) return [aboutMiddles(names, marked.sides, middles[i], i === from)];
  const word: MarkerWord =
    i === from
      ? 'pm'
      : i + 1 === marked.rounds && i + 1 < plan.rounds.length
        ? 'remove marker'
        : 'sm';
  const inSides = betweenMarkers(landmarks, i, word);
  const { first } = seamStitches(plan, plan.rounds[i].wrongSide);
  if (first === 0) return [inSides];
  const edge: Stretch = { names: names.slice(0, first), to: 'marker', done: [], counted: true };
  const [begin, ...others] = inSides;
  return [inSides, [edge, { ...begin, names: begin.names.slice(first) }, ...others]];
}

function betweenMarkers(landmarks: Landmarks, i: number, word: MarkerWord): Stretch[] {
  const { plan, marked } = landmarks;
  const round = plan.rounds[i];
  const names = namesOf(plan, round);
  const flat = plan.worked === 'flat';
  const { first, last } = seamStitches(plan, round.wrongSide);
  const inside = names.slice(first, names.length - last);
  const sides = marked.unlike?.[i] ?? partsOf(inside, marked.sides);
  const place = landmarks.panels && placeInWork(plan, marked.sides, landmarks.panels, i);
  const placing = i === landmarks.from;
  return sides.flatMap((side, k): Stretch[] => {
    const cut = place && splitAtPanel(side, place.now, place.next);
    const parts: (readonly string[])[] = cut ? [...cut] : [side];
    if (k === 0) parts[0] = [...names.slice(0, first), ...parts[0]];
    const isLast = k === sides.length - 1;
    if (isLast)
      parts[parts.length - 1] = [...(parts.at(-1) ?? []), ...names.slice(names.length - last)];
    // The start of the round has its marker from the join, and keeps it; the edges of a row are seen.
    const atEnd = !isLast ? [word] : flat || word === 'pm' ? [] : ['sm'];
    const atPanel = placing ? 'pm' : place?.next ? 'sm' : 'remove marker';
    const mark = landmarks.marks?.[i] ?? null;
    let start = k === 0 ? -first : 0;
    return parts.flatMap((part, n): Stretch[] => {
      const ends = n === parts.length - 1;
      const inPanel = cut !== null && n === 1;
      const stretch: Stretch = {
        names: part,
        to: ends && isLast && flat ? 'end' : 'marker',
        done: ends ? atEnd : [atPanel],
        counted: placing || inPanel,
        sewn: ends && isLast ? last : 0,
        within: n > 0,
      };
      const at = mark === null || inPanel ? -1 : mark - start;
      start += part.length;
      return at >= 0 && at < part.length ? cutAtMark(stretch, at, placing) : [stretch];
    });
  });
}

/** A stretch parted behind its marked stitch and what is shaped beside that. */
function cutAtMark(stretch: Stretch, at: number, placing: boolean): Stretch[] {
  const { names } = stretch;
  const behind = names.slice(at + 1);
  const plain = placing ? 0 : behind.findIndex((name) => !isShaping(name));
  const shaped = behind.slice(0, plain < 0 ? behind.length : plain);
  const done = placing ? `${names[at]}1 and mark this st` : foldSequence([names[at], ...shaped]);
  const reach = (consumes(names[at]) - 1) / 2;
  return [
    { ...stretch, names: names.slice(0, at), to: 'marked st', done: [done], reach, sewn: 0 },
    { ...stretch, names: behind.slice(shaped.length), within: true },
  ];
}

/** `k to 1 st before marked st, s2kp`: up to each marked stitch and what is shaped behind it, then to the end. */
function aboutMiddles(
  names: readonly string[],
  sides: number,
  middle: number,
  placing: boolean,
): Stretch[] {
  const stretches: Stretch[] = [];
  let before: string[] = [];
  for (const side of partsOf(names, sides)) {
    const [marked, behind] = [side[middle], side.slice(middle + 1)];
    const plain = behind.findIndex((name) => !isShaping(name));
    const shaped = behind.slice(0, plain < 0 ? behind.length : plain);
    const done = placing
      ? [`${marked}1 and mark this st`, foldSequence(behind)]
      : [foldSequence([marked, ...shaped])];
    stretches.push({
      names: [...before, ...side.slice(0, middle)],
      to: 'marked st',
      done,
      reach: (consumes(marked) - 1) / 2,
      counted: placing,
    });
    before = placing ? [] : behind.slice(shaped.length);
  }
  return before.length === 0 ? stretches : [...stretches, { names: before, to: 'end', done: [] }];
}

/** Equal parts of a round; of one that runs on over their borders they differ. */
function partsOf(names: readonly string[], sides: number): string[][] {
  const each = names.length / sides;
  return Array.from({ length: sides }, (_, i) => names.slice(i * each, (i + 1) * each));
}
