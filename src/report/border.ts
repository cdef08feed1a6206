/**
 * Stitches to pick up round the blanket: equal edges get equal counts, whatever squares lie along them.
 * In: the squares along each edge and the side they all have once adjusted or eased, mm. Out: counts, and how
 * many to pick up from each square.
 * One stitch for each stitch of a cast-on or bound-off edge (common practice), evened out to the count.
 */

import { times } from './words/counts.ts';

export interface BorderSquare {
  readonly id: string;
  readonly name: string;
  readonly sideStitches: number;
  readonly sideMm: number;
  /** The count is not the plan's but the one that it is to be adjusted to. */
  readonly adjusted?: boolean;
}

export interface PickUp {
  readonly id: string;
  readonly name: string;
  /** Stitches along the square's edge, and to pick up from them. */
  readonly along: number;
  readonly pickUp: number;
  readonly words: string;
}

export interface BorderCounts {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
  /** Stitches for one side of a square, and the width of each, mm. */
  readonly eachSide: number;
  readonly stitchMm: number;
  readonly pickUps: readonly PickUp[];
  /** Why no border goes all the way round; null where one does. */
  readonly trouble: string | null;
}

type Edge = readonly (BorderSquare | null | undefined)[];

interface Edges {
  readonly top: Edge;
  readonly right: Edge;
  readonly bottom: Edge;
  readonly left: Edge;
}

export function countBorder(edges: Edges, targetMm: number): BorderCounts {
  const all = [edges.top, edges.right, edges.bottom, edges.left].flatMap((edge) =>
    edge.filter((square) => square !== null && square !== undefined),
  );
  const used = [...new Map(all.map((square) => [square.id, square])).values()];
  // The squares' own stitch, on average: squares that are larger by mistake do not weigh more.
  const meanMm =
    all.reduce((sum, square) => sum + square.sideMm / square.sideStitches, 0) /
    Math.max(1, all.length);
  const eachSide = all.length === 0 ? 0 : Math.max(1, Math.round(targetMm / meanMm));
  const count = (edge: Edge) => eachSide * edge.filter((square) => square).length;
  return {
    top: count(edges.top),
    right: count(edges.right),
    bottom: count(edges.bottom),
    left: count(edges.left),
    eachSide,
    stitchMm: eachSide === 0 ? 0 : targetMm / eachSide,
    pickUps: used.map((square) => pickUp(square, eachSide)),
    trouble:
      all.length === 0
        ? 'There is no border: no square along the edge can be joined.'
        : isWhole(edges)
          ? null
          : 'There is no border yet: places along the edge have no square that can be joined, so there are no four straight sides. Fill them first.',
  };
}

/** A square in every place, and opposite edges alike: a rectangle. */
function isWhole({ top, right, bottom, left }: Edges): boolean {
  const full = [top, right, bottom, left].every((edge) => edge.every((square) => square));
  return full && top.length === bottom.length && left.length === right.length;
}

/** Part of a stitch over that makes some stretches one longer. Chosen. */
const UNEVEN = 1 / 3;

function pickUp(square: BorderSquare, eachSide: number): PickUp {
  const { id, name, sideStitches: along, adjusted = false } = square;
  const difference = eachSide - along;
  const often = Math.abs(difference);
  const every = often === 0 ? 0 : Math.floor(Math.min(along, eachSide) / often);
  const rest = often === 0 ? 0 : Math.min(along, eachSide) / often - every;
  const after =
    often === 1
      ? 'in the middle'
      : rest < UNEVEN
        ? `after about every ${every}`
        : `after every ${every} or ${every + 1}`;
  const how =
    difference === 0
      ? 'one from every stitch'
      : every < 2
        ? unlikeCounts(eachSide, along)
        : difference > 0
          ? `one from every stitch and one more ${times(often)}, ${after}`
          : `one from every stitch, but pass over one ${times(often)}, ${after}`;
  return {
    id,
    name,
    along,
    pickUp: eachSide,
    words: `${name}${adjusted ? ', once adjusted' : ''}: ${eachSide} from its ${along} stitches, ${how}.`,
  };
}

/** Counts so unlike that most stitches are passed over, or most give two. */
function unlikeCounts(eachSide: number, along: number): string {
  if (eachSide < along) {
    const each = Math.ceil(along / eachSide);
    const more = eachSide - Math.floor(along / each);
    const nth = ['', '', 'second', 'third'][each] ?? `${each}th`;
    return `one from every ${nth} stitch${more > 0 ? ` and one more ${times(more)}` : ''}, spread evenly`;
  }
  const each = Math.ceil(eachSide / along);
  const fewer = each * along - eachSide;
  return `${each} from every stitch${fewer > 0 ? `, but one fewer ${times(fewer)}` : ''}, spread evenly`;
}
