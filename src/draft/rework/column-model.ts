/**
 * A Plan taken apart: which column (wale) every stitch stands on, which rounds shape the piece and
 * which stitches are the pattern as set.
 *
 * Input: any Plan. Output: columns numbered over the whole piece, told from the right side from right
 * to left, so that rounds and rows read alike. Shaping is found by its effect (stitches lost or
 * gained), not by wording.
 */
import { NeedleOrder } from '../../fabric/needle-order.ts';
import { hasShortRows, type Plan, type PlanRound } from '../../plan/plan.ts';
import type { StitchKind } from '../../plan/stitches/stitch-kind.ts';
import { turnNames } from './facing.ts';

/** A stitch, or a group that keeps its number of stitches, of one round. */
export type WorkedItem =
  /** One stitch on one column. */
  | { readonly role: 'column'; readonly name: string; readonly column: number }
  /** A crossing or a lace group: several columns that stay. */
  | {
      readonly role: 'block';
      readonly names: readonly string[];
      readonly columns: readonly number[];
      readonly crossing: boolean;
    }
  /** An increase or decrease: columns before and after. */
  | {
      readonly role: 'shape';
      readonly name: string;
      readonly before: readonly number[];
      readonly after: readonly number[];
    };

export interface WorkedRound {
  readonly items: readonly WorkedItem[];
  readonly wrongSide: boolean;
  /** Stitches gained (negative: lost) by shaping. */
  readonly change: number;
}

export interface WorkedColumns {
  /** Columns cast on are 0 … castOn − 1 from right to left as the right side shows them. */
  readonly castOn: number;
  readonly columns: number;
  /** [columns] sort key from right to left; columns born later lie between their neighbours. */
  readonly order: readonly number[];
  readonly rounds: readonly WorkedRound[];
}

interface Part {
  readonly name: string;
  readonly consumes: number;
  readonly makes: number;
  readonly lean: number;
  readonly yarnOver: boolean;
  readonly crossing: boolean;
}

export function decomposeColumns(plan: Plan): WorkedColumns {
  const order: number[] = Array.from({ length: plan.castOn }, (_, i) => i);
  let live = order.map((_, i) => i);
  const rounds: WorkedRound[] = [];
  const needle = hasShortRows(plan) ? columnsOnNeedle(plan) : null;
  const grouped = plan.rounds.map((round) => groupLace(rightSideParts(plan, round)));
  const ends = plan.worked === 'round' ? 'round' : plan.seam ? 'seam' : 'edge';
  const places = cornerSides(grouped, ends);
  for (const [r, round] of plan.rounds.entries()) {
    // Behind a turn a round begins elsewhere and runs the other way.
    const working = needle?.begin(round);
    if (working) live = round.wrongSide ? working.toReversed() : [...working];
    const items: WorkedItem[] = [];
    const next: number[] = [];
    const groups = grouped[r];
    const shapes = places[r];
    let at = 0;
    let change = 0;
    const born = (): number => {
      const before = next.length > 0 ? order[next[next.length - 1]] : -1;
      const after = at < live.length ? order[live[at]] : before + 2;
      order.push((before + after) / 2);
      return order.length - 1;
    };
    groups.forEach((group, g) => {
      const consumes = sum(group, 'consumes');
      const makes = sum(group, 'makes');
      const taken = live.slice(at, at + consumes);
      if (group.length === 1 && consumes === 1 && makes === 1 && !group[0].crossing) {
        items.push({ role: 'column', name: group[0].name, column: taken[0] });
        next.push(taken[0]);
      } else if (consumes === makes) {
        items.push({
          role: 'block',
          names: group.map((p) => p.name),
          columns: taken,
          crossing: group.some((p) => p.crossing),
        });
        next.push(...taken);
      } else {
        at += consumes;
        const after = survivors(taken, makes, shapes.get(g) ?? 0, group[0].lean, born);
        at -= consumes;
        items.push({ role: 'shape', name: group[0].name, before: taken, after });
        next.push(...after);
        change += makes - consumes;
      }
      at += consumes;
    });
    live = next;
    if (needle) passOn(needle, plan, round, next);
    rounds.push({ items, wrongSide: round.wrongSide, change });
  }
  return { castOn: plan.castOn, columns: order.length, order, rounds };
}

/** The columns as they hang on the needle, for plans with short rows. */
function columnsOnNeedle({ castOn, worked }: Plan): NeedleOrder {
  return new NeedleOrder(
    Array.from({ length: castOn }, (_, i) => i),
    worked === 'round',
  );
}

/** `next`: columns after the round from right to left, as far round as it went. */
function passOn(needle: NeedleOrder, plan: Plan, round: PlanRound, next: number[]): void {
  const left = round.wrongSide ? next.toReversed() : next;
  let at = 0;
  for (const id of round.works) {
    const { consumes, loops } = plan.kinds[id];
    needle.work(consumes, left.slice(at, at + loops.length));
    at += loops.length;
  }
  needle.end(round);
}

function rightSideParts(plan: Plan, round: PlanRound): Part[] {
  const kinds = Array.from(round.works, (id) => plan.kinds[id]);
  if (!round.wrongSide) return kinds.map((kind) => partOf(kind.name, kind, 1));
  const names = turnNames(kinds.map((kind) => kind.name));
  const turned = [...kinds].reverse();
  return turned.map((kind, i) => partOf(names[i], kind, -1));
}

function partOf(name: string, kind: StitchKind, facing: 1 | -1): Part {
  const [loop] = kind.loops;
  const single = kind.loops.length === 1 && loop.parents.length > 1;
  // As the right side shows it: from the other side order and depth are both reversed.
  const parents = !single
    ? []
    : facing === 1
      ? loop.parents
      : [...loop.parents].reverse().map((i) => kind.consumes - 1 - i);
  const middle = (kind.consumes - 1) / 2;
  // A double is centred where its middle loop lies on top on the knit side.
  const top = single && loop.face * facing < 0 ? parents[parents.length - 1] : parents[0];
  const centred = single && kind.consumes === 3 && top === 1;
  return {
    name,
    consumes: kind.consumes,
    makes: kind.loops.length,
    lean: single && !centred ? Math.sign(middle - parents[0]) : 0,
    yarnOver: kind.loops.some((loop) => loop.origin === 'yarn-over'),
    crossing: kind.crossing !== null,
  };
}

/** Joins yarn overs with the decreases that balance them, so that lace counts as pattern. */
function groupLace(parts: readonly Part[]): Part[][] {
  const groups: Part[][] = [];
  const isDecrease = (p: Part) => p.makes < p.consumes;
  for (let i = 0; i < parts.length; ) {
    const end = laceEnd(parts, i, isDecrease);
    groups.push(parts.slice(i, end));
    i = end;
  }
  return groups;
}

/** Farthest a yarn over stands from the decrease that balances it, in worked stitches. Chosen. */
const LACE_REACH = 3;

function laceEnd(parts: readonly Part[], at: number, isDecrease: (p: Part) => boolean): number {
  if (!parts[at].yarnOver && !isDecrease(parts[at])) return at + 1;
  let balance = 0;
  let overs = 0;
  for (let i = at; i < parts.length && i - at <= 3 * LACE_REACH; i++) {
    balance += parts[i].makes - parts[i].consumes;
    if (parts[i].yarnOver) overs++;
    if (balance === 0 && overs > 0) return i + 1;
    if (overs === 0 && i - at >= LACE_REACH) break;
  }
  return at + 1;
}

function sum(parts: readonly Part[], field: 'consumes' | 'makes'): number {
  return parts.reduce((total, part) => total + part[field], 0);
}

interface Place {
  right: number;
  left: number;
}

/**
 * For each shaping group: distance in stitches to the shaping before (right) and behind it (left),
 * on past the beginning of the round; the edges of flat work count as shaping.
 */
function shapePlaces(groups: readonly Part[][], inTheRound: boolean): Map<number, Place> {
  const places = new Map<number, Place>();
  let gap = 0;
  let first: Place | null = null;
  let last: Place | null = null;
  groups.forEach((group, g) => {
    const consumes = sum(group, 'consumes');
    if (consumes === sum(group, 'makes')) {
      gap += consumes;
      return;
    }
    const place = { right: gap, left: 0 };
    places.set(g, place);
    if (last) last.left = gap;
    first ??= place;
    last = place;
    gap = 0;
  });
  closeRound(first, last, gap, inTheRound);
  return places;
}

function closeRound(first: Place | null, last: Place | null, gap: number, round: boolean): void {
  if (!first || !last) return;
  last.left = gap;
  if (round) {
    last.left += first.right;
    first.right = last.left;
  }
}

/** Where the corner lies that a stitch shapes: +1 to the right (worked before), −1 to the left, 0 not told. */
type CornerSide = 1 | -1 | 0;

/**
 * For each shaping group of every round: where its corner lies. From one shaping round to the next a side loses or gains
 * stitches and a corner keeps its own, be it wider than the side: groups with nothing but kept stitches between them, however
 * many, stand round one corner. Where that tells nothing, what is far nearer is the corner.
 */
function cornerSides(rounds: readonly Part[][][], ends: Ends): Map<number, CornerSide>[] {
  const places = rounds.map((groups) => shapePlaces(groups, ends === 'round'));
  const shaped = places.filter(({ size }) => size > 0);
  let k = 0;
  return places.map((own, r) => {
    if (own.size === 0) return new Map();
    // Towards the centre shaping moves elsewhere once a side is used up: the neighbour nearer to the rim tells first.
    const fewer = sum(rounds[r].flat(), 'makes') < sum(rounds[r].flat(), 'consumes');
    const rimward = fewer ? -1 : 1;
    const like = likeNear(shaped, k, own.size, rimward);
    const alone = like ? null : besideShaping([...own.values()], shaped, k, rimward, ends);
    k++;
    const sides = alone ?? cornersOfRound([...own.values()], like && [...like.values()], ends);
    return new Map([...own.keys()].map((g, i): [number, CornerSide] => [g, sides[i]]));
  });
}

/** Shaping rounds on either side that are looked at for one shaped at as many places. Chosen: more than by turns. */
const NEAR = 3;

/** The nearest shaping round with so many groups, of two as near the one towards the rim. */
function likeNear<T>(
  shaped: readonly Map<number, T>[],
  at: number,
  groups: number,
  rimward: 1 | -1,
) {
  for (let far = 1; far <= NEAR; far++)
    for (const step of [rimward, -rimward]) {
      const other = shaped[at + step * far];
      if (other?.size === groups) return other;
    }
  return null;
}

/**
 * A round that shapes several stitches side by side where those near it shape one: they all stand as that one does. Null
 * where those near it are not so, or have stitches side by side of their own.
 */
function besideShaping(
  own: readonly Place[],
  shaped: readonly Map<number, Place>[],
  at: number,
  rimward: 1 | -1,
  ends: Ends,
): CornerSide[] | null {
  const firsts = own.flatMap(({ right }, i) => (i === 0 || right > 0 ? [i] : []));
  const like = likeNear(shaped, at, firsts.length, rimward);
  const others = like ? [...like.values()] : [];
  const apart = others.every(({ right, left }) => right > 0 && left > 0);
  if (!like || !apart || firsts.length === own.length || own[0].right === 0) return null;
  const places = firsts.map((from, c): Place => {
    const last = (firsts[c + 1] ?? own.length) - 1;
    return { right: own[from].right, left: own[last].left };
  });
  const sides = cornersOfRound(places, others, ends);
  return own.map((_, i) => sides[firsts.findLastIndex((from) => from <= i)]);
}

/** How a round ends: it goes on, its ends are sewn, or they are edges. */
type Ends = 'round' | 'seam' | 'edge';

/** Of one round, by the gaps that are as wide in the shaping round beside it, `other`. */
function cornersOfRound(
  own: readonly Place[],
  other: readonly Place[] | null,
  ends: Ends,
): CornerSide[] {
  const n = own.length;
  const sides = own.map(nearerCorner);
  if (!other) return sides;
  const kept = own.map(({ right }, i) => right === other[i].right);
  const last = own[n - 1].left === other[n - 1].left;
  // The ends of a round that closes are one gap.
  if (ends !== 'edge') kept[0] &&= last;
  const from = kept.indexOf(false);
  if (from < 0 && ends !== 'edge') return sides;
  const first = ends === 'edge' ? 0 : from;
  for (let i = first; i < first + n; ) {
    let end = i + 1;
    while (end < first + n && kept[end % n]) end++;
    const size = end - i;
    const atStart = ends === 'edge' && i === 0 && kept[0];
    const atEnd = ends === 'edge' && end === n && last;
    for (let j = i; j < end; j++) {
      const middle = 2 * (j - i) + 1 - size;
      if (atStart !== atEnd) sides[j % n] = atStart ? 1 : -1;
      else if (middle !== 0) sides[j % n] = middle < 0 ? -1 : 1;
    }
    i = end;
  }
  return sides;
}

function nearerCorner({ right, left }: Place): CornerSide {
  const clear = Math.min(right, left) * 2 < Math.max(right, left);
  return clear ? (right < left ? 1 : -1) : 0;
}

/**
 * Columns that go on. A decrease beside a corner keeps the column farther from the corner; a lone
 * one keeps the column that it leans away from; a centred one the middle.
 */
function survivors(
  taken: readonly number[],
  makes: number,
  side: CornerSide,
  lean: number,
  born: () => number,
): number[] {
  const corner = side === 0 ? lean : side;
  if (makes < taken.length) {
    if (makes === 0) return [];
    if (taken.length === 3 && makes === 1 && lean === 0) return [taken[1]];
    return corner > 0 ? taken.slice(taken.length - makes) : taken.slice(0, makes);
  }
  const after = [...taken];
  while (after.length < makes) {
    if (corner > 0 && taken.length > 0) after.unshift(born());
    else after.push(born());
  }
  return after;
}
