/**
 * Ground and panels of a side, read off what its columns are worked as.
 *
 * In: the columns of a piece and its sides. Out: which columns are ground, what the ground is worked as in any
 * round, and the panels of sides and corners with their parts (purl edge, cable, purl edge).
 */
import type { FabricName } from '../../plan/plan.ts';
import { orphansOf } from '../motif/orphan-stitches.ts';
import { MAX_CABLE } from '../spec/panel-words.ts';
import type { WorkedColumns } from './column-model.ts';
import { commonest, groundOf } from './ground-fabric.ts';

export interface Panel {
  /** Columns from right to left. */
  readonly columns: readonly number[];
  /** Neighbours worked alike, right to left: an edge, a cable, an edge. */
  readonly parts: readonly (readonly number[])[];
  /** First columns of its cables. */
  readonly cables: readonly number[];
}

/** Columns of the rim, its sides, right to left, and every column's place on its side. */
export interface SidesOnRim {
  readonly rim: readonly number[];
  readonly sides: readonly (readonly number[])[];
  readonly place: ReadonlyMap<number, number>;
  /** Whether the places of a side tell the phase of its ground. */
  readonly inPhase: boolean;
  /** Whether the rim is worked first. */
  readonly inwards: boolean;
  /** Columns that the shaping at the rim takes or makes: between two panels, they part them. */
  readonly shaped: ReadonlySet<number>;
  /** Columns that the seam takes up: none of any side or panel. */
  readonly sewn: ReadonlySet<number>;
}

export interface SideFabric {
  /** Columns of the sides that are worked as the ground. */
  readonly ground: ReadonlySet<number>;
  readonly panels: readonly Panel[];
  /** Whether a column that the shaping at the rim takes or makes may be its panel's as well as ground. */
  readonly unclear: boolean;
  /** By how much each side's ground is ahead of its places. */
  readonly phases: readonly number[];
  /** Right-side name for a ground stitch at a place of its side, 0 at the right end; rounds are 1-based. */
  readonly groundStitch: (place: number, round: number) => string;
}

/** Share of its rounds that a column may differ from the ground in, beside decreases. Chosen. */
const LIKE_GROUND = 0.3;
/** Rounds of a column nearest to the rim that tell what it is there. Chosen: more than a repeat of two. */
const AT_RIM = 3;
/** Such rounds of a corner's column that tell it for ground. Chosen: in garter and seed a column of one kind is so in one of two. */
const AS_GROUND = 2;
/** Ground stitches between two columns of one panel at most: a rib's own. Chosen. */
const INSIDE = 2;
/** Ground stitches between two equal edges at most: the widest cable's. */
const ROPE = MAX_CABLE;

export function readSideFabric(
  worked: WorkedColumns,
  { rim, sides, place, inPhase, inwards, shaped, sewn }: SidesOnRim,
  named: FabricName | null,
): SideFabric {
  const cables = cableColumns(worked);
  const crossed = new Set([...cables.values()].flat());
  const ground = groundOf(worked, place, crossed, named);
  const isGround = (column: number, at: number) => {
    const { all, other } = ground.differs(column, at);
    return other <= LIKE_GROUND * all;
  };
  /** `phase`: null where the place does not tell the phase of a ground that repeats over two. */
  const isPlain = (column: number, phase: number | null) => {
    if (crossed.has(column)) return false;
    const at = phase === null ? undefined : place.get(column);
    return at === undefined
      ? isGround(column, 0) || isGround(column, 1)
      : isGround(column, at + (phase as number));
  };
  /** Rounds nearest to the rim that tell what a column is, and what it is there. */
  const nearRim = (column: number, count: number) => {
    const rounds = (ground.known[column] ?? []).flatMap((name, round) =>
      name === undefined ? [] : [{ name, round }],
    );
    return inwards ? rounds.slice(0, count) : rounds.slice(-count);
  };
  /** A panel is whole at the rim; what is as the ground there was the end of a panel only while the side was no wider. */
  const isPlainAtRim = (column: number) => {
    const near = nearRim(column, AS_GROUND);
    const asAt = (phase: number) =>
      near.every(({ name, round }) => ground.stitch(phase, round) === name);
    return !crossed.has(column) && near.length === AS_GROUND && (asAt(0) || asAt(1));
  };
  const plain = new Set<number>();
  const panels: Panel[] = [];
  const take = (columns: readonly number[]) =>
    panels.push({
      columns,
      parts: partsOf(columns, crossed, ground.known),
      cables: columns.filter((column) => cables.has(column)),
    });
  const phases: number[] = [];
  // In seed a column that is worked once before it is shaped away may be either.
  const alternates = ground.stitch(0, 1) !== ground.stitch(1, 1);
  let unclear = false;
  for (const side of sides) {
    const plainAt = (phase: number) => side.filter((column) => isPlain(column, phase)).length;
    const phase = inPhase ? (plainAt(1) > plainAt(0) ? 1 : 0) : null;
    phases.push(phase ?? 0);
    const own = side.map((column) => !isPlain(column, phase));
    const at = (column: number) => (place.get(column) ?? 0) + (phase ?? 0);
    const kinds = side.map((column, i) =>
      crossed.has(column) ? 'cable' : ground.kind(column, own[i] ? at(column) : null),
    );
    const always = (i: number, kind: string) =>
      ground.known[side[i]]?.every((name) => name === undefined || name === kind) ?? false;
    const varies = (i: number) => new Set(ground.known[side[i]]?.filter(Boolean)).size > 1;
    // In seed what is worked in odd rounds alone, or in even ones, is as constant as an edge.
    const ofOneParity = (i: number) =>
      new Set(ground.known[side[i]]?.flatMap((name, round) => (name ? [round % 2] : []))).size < 2;
    // Worked in one telling round at most: there as the panel's end beside it, beside an end in seed, or in a ground of seed,
    // where it may be an edge.
    const newborn = (i: number, end: number) =>
      i >= 0 &&
      i < side.length &&
      (ground.differs(side[i], at(side[i])).all <= 1 || (alternates && ofOneParity(i))) &&
      (alternates || always(i, kinds[end]) || varies(end));
    // What was ground before its panel was wide enough for it is worked alike all along at the rim, and the ground is not.
    const kindAtRim = (i: number) => {
      const near = nearRim(side[i], AT_RIM);
      const name = near.length === AT_RIM ? near[0].name : null;
      const alike = near.every((one) => one.name === name);
      return alike && near.some(({ round }) => ground.stitch(at(side[i]), round) !== name)
        ? name
        : null;
    };
    // Beside a panel, always worked as its end and not always as the ground, or not as the ground at the rim: the panel's too.
    const joins = (i: number, beside: number) => {
      if (own[i] || !own[beside]) return false;
      const asEnd = always(i, kinds[beside]) && ground.differs(side[i], at(side[i])).other > 0;
      return asEnd || kindAtRim(i) !== null;
    };
    for (let i = 1; i < side.length; i++) if (joins(i, i - 1)) own[i] = true;
    for (let i = side.length - 2; i >= 0; i--) if (joins(i, i + 1)) own[i] = true;
    const parted = side.map((column) => shaped.has(column));
    let done = 0;
    for (let i = 0; i < side.length; ) {
      if (!own[i]) {
        i++;
        continue;
      }
      const panel = withEdges(
        { from: i, end: panelEnd(own, kinds, parted, i) },
        kinds,
        (at, kind) => at >= done && !own[at] && (always(at, kind) || kindAtRim(at) === kind),
      );
      for (const column of side.slice(done, panel.from)) plain.add(column);
      take(side.slice(panel.from, panel.end));
      unclear ||=
        (!inwards || alternates) &&
        (newborn(panel.from - 1, panel.from) || newborn(panel.end, panel.end - 1));
      i = panel.end;
      done = i;
    }
    for (const column of side.slice(done)) plain.add(column);
  }
  const inside = rim.filter((column) => !sewn.has(column));
  for (const corner of cornersOf(inside, sides)) {
    const own = corner.map((column) => !isPlain(column, null) && !isPlainAtRim(column));
    if (own.includes(true)) take(corner.slice(own.indexOf(true), own.lastIndexOf(true) + 1));
  }
  return { ground: plain, panels, unclear, phases, groundStitch: ground.stitch };
}

/** Stretches of the rim between the sides. */
function cornersOf(
  rim: readonly number[],
  sides: readonly (readonly number[])[],
): (readonly number[])[] {
  const onSides = new Set(sides.flat());
  const corners: number[][] = [];
  rim.forEach((column, i) => {
    if (onSides.has(column)) return;
    if (i > 0 && !onSides.has(rim[i - 1]) && corners.length > 0)
      corners[corners.length - 1].push(column);
    else corners.push([column]);
  });
  return corners;
}

/**
 * End of the panel that begins at place `from`: `own` tells the columns that are not ground, `kinds` what they
 * are, `parted` those that part two panels.
 */
function panelEnd(
  own: readonly boolean[],
  kinds: readonly string[],
  parted: readonly boolean[],
  from: number,
): number {
  const runEnd = (at: number) => {
    let end = at;
    while (own[end]) end++;
    return end;
  };
  let end = runEnd(from);
  let run = from;
  for (;;) {
    let next = end;
    while (next < own.length && !own[next]) next++;
    if (next === own.length || parted.slice(end, next).includes(true)) return end;
    const nextEnd = runEnd(next);
    const gap = next - end;
    // Two equal edges with a little ground between them: a rope that is not crossed.
    const edge = end - run;
    const alike = kinds
      .slice(run, nextEnd)
      .every((kind, i) => !own[run + i] || kind === kinds[run]);
    const equal = nextEnd - next === edge && alike;
    const rope = equal && edge <= 2 && gap <= ROPE && !goesOn(own, nextEnd, gap, edge);
    if (gap > INSIDE && !rope) return end;
    end = nextEnd;
    run = next;
    if (rope && gap > INSIDE) return end;
  }
}

/**
 * Whether shaped columns of the rim stand where a rope may lie as well: between the edges of two uncrossed ropes, no
 * farther apart than a cable is wide. `p1 k4 p1 k2 p1 k4 p1` is ropes of four as well as of two.
 */
export function mayBeRope(
  rim: readonly number[],
  shaped: ReadonlySet<number>,
  panels: readonly Panel[],
): boolean {
  const ropes = panels.filter(
    ({ parts, cables }) =>
      cables.length === 0 &&
      parts.length === 3 &&
      parts[0].length === parts[2].length &&
      parts[0].length <= WIDEST_EDGE,
  );
  const begins = new Set(ropes.map(({ columns }) => columns[0]));
  const ends = new Set(ropes.map(({ columns }) => columns[columns.length - 1]));
  const taken = new Set(panels.flatMap(({ columns }) => columns));
  return rim.some((column, i) => {
    if (!ends.has(column)) return false;
    let next = i + 1;
    while (next < rim.length && !taken.has(rim[next])) next++;
    const between = rim.slice(i + 1, next);
    return (
      begins.has(rim[next]) && between.length <= ROPE && between.some((other) => shaped.has(other))
    );
  });
}

/** Widest edge of a panel, stitches. Chosen from common practice. */
const WIDEST_EDGE = 2;

interface Stretch {
  readonly from: number;
  readonly end: number;
}

/**
 * A panel with both its edges alike: the shaping may have left one too few rounds to differ from the ground in.
 * `may` tells whether a place not taken is always worked as told.
 */
function withEdges(
  { from, end }: Stretch,
  kinds: readonly string[],
  may: (at: number, kind: string) => boolean,
): Stretch {
  const width = (at: number, step: 1 | -1) => {
    let i = at;
    while (i >= from && i < end && kinds[i] === kinds[at]) i += step;
    return Math.abs(i - at);
  };
  const right = width(from, 1);
  const left = width(end - 1, -1);
  const isEdge = (edge: number) => edge <= WIDEST_EDGE && edge < end - from;
  let grown = { from, end };
  if (isEdge(right))
    for (let n = kinds[end - 1] === kinds[from] ? left : 0; n < right; n++)
      if (may(grown.end, kinds[from])) grown = { ...grown, end: grown.end + 1 };
  if (isEdge(left))
    for (let n = kinds[end - 1] === kinds[from] ? right : 0; n < left; n++)
      if (may(grown.from - 1, kinds[end - 1])) grown = { ...grown, from: grown.from - 1 };
  return grown;
}

/** Whether another edge stands as far behind: lines spaced evenly are no ropes. */
function goesOn(own: readonly boolean[], from: number, gap: number, edge: number): boolean {
  for (let i = 0; i < gap + edge; i++) if (own[from + i] !== i >= gap) return false;
  return true;
}

/** Columns of each cable, by its first. */
function cableColumns(worked: WorkedColumns): Map<number, readonly number[]> {
  const cables = new Map<number, readonly number[]>();
  for (const round of worked.rounds)
    for (const item of round.items)
      if (item.role === 'block') cables.set(item.columns[0], item.columns);
  return cables;
}

function partsOf(
  columns: readonly number[],
  crossed: ReadonlySet<number>,
  known: readonly (string | undefined)[][],
): number[][] {
  const parts: number[][] = [];
  let before = '';
  for (const column of columns) {
    const kind = crossed.has(column) ? 'cable' : commonest(known[column]);
    if (parts.length > 0 && kind === before) parts[parts.length - 1].push(column);
    else parts.push([column]);
    before = kind;
  }
  return parts;
}

/**
 * Whether stitches stand out from the ground of their round, which is told at two neighbouring places: in garter's
 * knit round a rope does not.
 */
export function standsOut(names: readonly string[], ground: readonly [string, string]): boolean {
  return ground[0] !== ground[1] || names.some((name) => name !== ground[0]);
}

/** Columns of all panels that are orphans among those live; see `orphansOf`. */
export function orphanColumns(panels: readonly Panel[], live: readonly number[]): Set<number> {
  const alive = new Set(live);
  return new Set(panels.flatMap(({ parts }) => orphansOf(parts, (column) => alive.has(column))));
}
