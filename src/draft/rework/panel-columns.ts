/**
 * Ground and panels of a side, read off what its columns are worked as.
 *
 * In: the columns of a piece and its sides. Out: which columns are ground, what the ground is worked as in any
 * round, and the panels of sides and corners with their parts (purl edge, cable, purl edge).
 */
import type { FabricName } from '../../plan/plan.ts';
import { orphansOf } from '../motif/orphan-stitches.ts';
import { fabricStitch } from '../motif/side-pattern.ts';
import { MAX_CABLE } from '../spec/panel-words.ts';
import type { WorkedColumns } from './column-model.ts';
import { goOn } from './pattern-period.ts';

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
  /** Columns that the shaping at the rim takes or makes: between two panels, they part them. */
  readonly shaped: ReadonlySet<number>;
}

export interface SideFabric {
  /** Columns of the sides that are worked as the ground. */
  readonly ground: ReadonlySet<number>;
  readonly panels: readonly Panel[];
  /** By how much each side's ground is ahead of its places. */
  readonly phases: readonly number[];
  /** Right-side name for a ground stitch at a place of its side, 0 at the right end; rounds are 1-based. */
  readonly groundStitch: (place: number, round: number) => string;
}

/** Widths of a ground's repeat that are looked for, stitches: plain, single and double rib, seed. */
const REPEATS = [1, 2, 4];
/** Share of stitches that a wider repeat must explain beyond a narrower one. Chosen. */
const CLEARLY_BETTER = 0.15;
/** Share of its rounds that a column may differ from the ground in, beside decreases. Chosen. */
const LIKE_GROUND = 0.3;
/** Ground stitches between two columns of one panel at most: a rib's own. Chosen. */
const INSIDE = 2;
/** Ground stitches between two equal edges at most: the widest cable's. */
const ROPE = MAX_CABLE;

export function readSideFabric(
  worked: WorkedColumns,
  { rim, sides, place, inPhase, shaped }: SidesOnRim,
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
  const plain = new Set<number>();
  const panels: Panel[] = [];
  const take = (columns: readonly number[]) =>
    panels.push({
      columns,
      parts: partsOf(columns, crossed, ground.known),
      cables: columns.filter((column) => cables.has(column)),
    });
  const phases: number[] = [];
  for (const side of sides) {
    const plainAt = (phase: number) => side.filter((column) => isPlain(column, phase)).length;
    const phase = inPhase ? (plainAt(1) > plainAt(0) ? 1 : 0) : null;
    phases.push(phase ?? 0);
    const own = side.map((column) => !isPlain(column, phase));
    const kinds = side.map((column) =>
      crossed.has(column) ? 'cable' : commonest(ground.known[column]),
    );
    const always = (i: number, kind: string) =>
      ground.known[side[i]]?.every((name) => name === undefined || name === kind) ?? false;
    // Beside a panel, always worked as its end and not always as the ground: the panel's too.
    const joins = (i: number, beside: number) =>
      !own[i] &&
      own[beside] &&
      always(i, kinds[beside]) &&
      ground.differs(side[i], (place.get(side[i]) ?? 0) + (phase ?? 0)).other > 0;
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
        (at, kind) => at >= done && !own[at] && always(at, kind),
      );
      for (const column of side.slice(done, panel.from)) plain.add(column);
      take(side.slice(panel.from, panel.end));
      i = panel.end;
      done = i;
    }
    for (const column of side.slice(done)) plain.add(column);
  }
  for (const corner of cornersOf(rim, sides)) {
    const own = corner.map((column) => !isPlain(column, null));
    if (own.includes(true)) take(corner.slice(own.indexOf(true), own.lastIndexOf(true) + 1));
  }
  return { ground: plain, panels, phases, groundStitch: ground.stitch };
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
  const edge = end - from;
  for (;;) {
    let next = end;
    while (next < own.length && !own[next]) next++;
    if (next === own.length || parted.slice(end, next).includes(true)) return end;
    const nextEnd = runEnd(next);
    const gap = next - end;
    // Two equal edges with a little ground between them: a rope that is not crossed.
    const alike = kinds
      .slice(from, nextEnd)
      .every((kind, i) => !own[from + i] || kind === kinds[from]);
    const equal = end - from === edge && nextEnd - next === edge && alike;
    const rope = equal && edge <= 2 && gap <= ROPE && !goesOn(own, nextEnd, gap, edge);
    if (gap > INSIDE && !rope) return end;
    end = nextEnd;
    if (rope && gap > INSIDE) return end;
  }
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

interface Ground {
  readonly stitch: (place: number, round: number) => string;
  /** Rounds of the column that tell a panel from its ground, and those of them in which it differs. */
  readonly differs: (column: number, place: number) => { all: number; other: number };
  /** Right-side names by column and round, 1-based. */
  readonly known: readonly (string | undefined)[][];
}

/** Stitches of a round, corners included, by which the fabric that the gauge names is known; a seam has two. */
const MIN_NAMED = 3;

/** What most columns that no cable takes are worked as; where panels fill the side, what the gauge names. */
function groundOf(
  worked: WorkedColumns,
  place: ReadonlyMap<number, number>,
  crossed: ReadonlySet<number>,
  named: FabricName | null,
): Ground {
  const known: (string | undefined)[][] = Array.from({ length: worked.columns }, () => []);
  worked.rounds.forEach((round, i) => {
    for (const item of round.items)
      if (item.role === 'column') known[item.column][i + 1] = item.name;
  });
  const rounds = worked.rounds.length;
  const wanted = namedStitches(named, known, place);
  const inRound = countNamed(wanted, known, place, rounds);
  let best: string[][] = [];
  let explained = Number.NEGATIVE_INFINITY;
  for (const repeat of REPEATS) {
    const votes = Array.from({ length: repeat }, () =>
      Array.from({ length: rounds + 1 }, () => new Map<string, number>()),
    );
    for (const [column, at] of place)
      known[column].forEach((name, round) => {
        if (name === undefined || crossed.has(column)) return;
        const box = votes[at % repeat][round];
        box.set(name, (box.get(name) ?? 0) + 1);
      });
    let all = 0;
    let agree = 0;
    const winner = votes.map((line, phase) =>
      line.map((box, round) => {
        let name = '';
        let most = 0;
        for (const [other, count] of box) {
          all += count;
          if (count > most) [name, most] = [other, count];
        }
        const own = inRound[round] >= MIN_NAMED ? wanted?.(phase, round) : undefined;
        if (own) [name, most] = [own, box.get(own) ?? 0];
        agree += most;
        return name;
      }),
    );
    const share = agree / Math.max(1, all);
    if (share > explained + CLEARLY_BETTER) [best, explained] = [winner, share];
  }
  const names = best.map((line) => line.map((name) => name || undefined));
  const later = names.map(() => new Map<number, string>());
  const stitch = (at: number, round: number): string => {
    const phase = at % names.length;
    const told = names[phase][round] ?? later[phase].get(round) ?? goOn(names[phase], round);
    if (round >= names[phase].length) later[phase].set(round, told);
    return told;
  };
  const tells = tellingRounds(known, rounds);
  const differs = (column: number, at: number) => {
    let all = 0;
    let other = 0;
    known[column].forEach((name, round) => {
      if (name === undefined || !tells[round]) return;
      all++;
      if (name !== stitch(at, round)) other++;
    });
    return { all, other };
  };
  return { stitch, differs, known };
}

/** Rounds in which not all columns are worked alike: only those tell a panel from its ground. */
function tellingRounds(known: readonly (string | undefined)[][], rounds: number): boolean[] {
  const first = new Array<string | undefined>(rounds + 1).fill(undefined);
  const tells = new Array<boolean>(rounds + 1).fill(false);
  for (const names of known)
    names.forEach((name, round) => {
      if (name === undefined) return;
      first[round] ??= name;
      if (name !== first[round]) tells[round] = true;
    });
  return tells;
}

type NamedStitch = (place: number, round: number) => string;

/** What the fabric that the gauge names is worked as, in the phase that fits the plan; null for others. */
function namedStitches(
  named: FabricName | null,
  known: readonly (string | undefined)[][],
  place: ReadonlyMap<number, number>,
): NamedStitch | null {
  if (named !== 'stockinette' && named !== 'reverse' && named !== 'garter' && named !== 'seed')
    return null;
  let best: NamedStitch | null = null;
  let most = -1;
  for (const phase of [0, 1]) {
    const stitch: NamedStitch = (at, round) => fabricStitch(named, at, round + phase);
    const rounds = Math.max(...known.map((names) => names.length));
    const agree = countNamed(stitch, known, place, rounds).reduce((a, b) => a + b, 0);
    if (agree > most) [best, most] = [stitch, agree];
  }
  return best;
}

/** Stitches of each round that are worked so; columns outside the sides, corners, count at place 0. */
function countNamed(
  stitch: NamedStitch | null,
  known: readonly (string | undefined)[][],
  place: ReadonlyMap<number, number>,
  rounds: number,
): number[] {
  const counts = new Array<number>(rounds + 1).fill(0);
  if (!stitch) return counts;
  known.forEach((names, column) => {
    names.forEach((name, round) => {
      if (name !== undefined && name === stitch(place.get(column) ?? 0, round)) counts[round]++;
    });
  });
  return counts;
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

function commonest(names: readonly (string | undefined)[]): string {
  const counts = new Map<string, number>();
  for (const name of names) if (name !== undefined) counts.set(name, (counts.get(name) ?? 0) + 1);
  let best = '';
  for (const [name, count] of counts) if (count > (counts.get(best) ?? 0)) best = name;
  return best;
}

/** Columns of all panels that are orphans among those live; see `orphansOf`. */
export function orphanColumns(panels: readonly Panel[], live: readonly number[]): Set<number> {
  const alive = new Set(live);
  return new Set(panels.flatMap(({ parts }) => orphansOf(parts, (column) => alive.has(column))));
}
