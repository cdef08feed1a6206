/**
 * A shaping, timed anew → the rounds of a piece: plain rounds are put in or left out between the shaping
 * rounds in the pattern as set, and crossings keep their interval.
 *
 * In: the shaping and how many rounds follow each shaping round. Out: every round, stitch by stitch.
 */
import type { DraftRound } from '../../plan/write/plan-text.ts';
import { roundPattern } from './closing-band.ts';
import type { WorkedColumns, WorkedItem } from './column-model.ts';
import { asFace, turnNames, unturned } from './facing.ts';
import { standsOut } from './panel-columns.ts';
import { patternAsSet } from './pattern-period.ts';
import { namesIn, type Series, seriesOf } from './repeated-groups.ts';
import { type Face, faceOf, faceOfRound, shapesByRound } from './round-face.ts';
import { isShaping, type Shaping, type ShapingEvent } from './shaping.ts';

/** Rounds after a shaping round: `change` stitches lost or gained in it, from `before` stitches, the `index`th of all. */
export type ShapingGap = (change: number, before: number, index: number) => number;

/** What a column is worked as in a plain round, where it is not simply the pattern as set. */
export interface PatternSource {
  /** Whether columns of the plan stay where its own shaping and crossings have them. */
  readonly inPlace: boolean;
  /** Right-side name for a column in a round (1-based), among the columns live before it. */
  readonly stitch: (column: number, round: number) => string;
  /** The ground of a round at two neighbouring places. */
  readonly ground: (round: number) => readonly [string, string];
  /** Columns of these that are worked as the ground, since what they belong to is gone. */
  readonly orphans: (live: readonly number[]) => ReadonlySet<number>;
  readonly groundStitch: (column: number, round: number) => string;
}

export interface Rebuilt {
  readonly rounds: readonly DraftRound[];
  /** Each round as the right side shows it, and the round of the plan (1-based) that it is patterned after. */
  readonly faces: readonly { readonly names: readonly string[]; readonly planRound: number }[];
  /** Stitches on every course, the cast-on first. */
  readonly counts: readonly number[];
  /** Rounds from each shaping round to the next. */
  readonly spacing: readonly number[];
  /** First columns of the groups that are crossed at least once. */
  readonly crossed: ReadonlySet<number>;
  /** Stretches of columns that were asked about and are seen whole, without shaping, in some round. */
  readonly shown: ReadonlySet<readonly number[]>;
  /** What could not be kept, in a knitter's words. */
  readonly notes: readonly string[];
}

/** Plain rounds kept between a crossing and the decrease that breaks into the cable. Chosen. */
const REST_ROUNDS = 2;

/**
 * The shaping worked in each new round, null for a plain round. Item 0 is unused. `ahead`: rounds by which
 * every shaping round comes sooner than the gaps say; `side`: see `shapedSide`.
 */
function newTimeline(
  { worked, start, events }: Shaping,
  gap: ShapingGap,
  ahead: number,
  side: Side | null,
): (ShapingEvent | null)[] {
  const shaped = worked.rounds.map(isShaping);
  const first = shaped.indexOf(true) + 1;
  if (first === 0 || events.length === 0) return [null, ...worked.rounds.map(() => null)];
  // One round on the other side and the next one on this: as the plan begins.
  const offSide = side !== null && first % 2 !== side;
  const head = offSide && shaped[first] ? Math.max(ahead, 1) : ahead;
  const begin = offSide && head <= 0 ? first + 1 : first;
  const timeline: (ShapingEvent | null)[] = Array.from({ length: begin }, () => null);
  let ideal = begin - Math.min(0, head);
  let stitches = start.length;
  events.forEach((event, index) => {
    const due = Math.max(Math.floor(ideal + 1e-9), timeline.length);
    const next = side === null || due % 2 === side ? due : due + 1;
    const at = next - ideal < MAX_BEHIND ? next : due;
    while (timeline.length < at) timeline.push(null);
    timeline.push(event);
    ideal += gap(Math.abs(event.change), stitches, index);
    // A head start is taken once the first shaping round stands.
    if (timeline.length === begin + 1) ideal -= Math.max(0, head);
    stitches += event.change;
  });
  const tail = worked.rounds.length - 1 - shaped.lastIndexOf(true);
  for (let i = 0; i < tail; i++) timeline.push(null);
  return timeline;
}

/** Rounds that shaping may wait for a round of its side. Chosen: where it falls behind, it is worked on both. */
const MAX_BEHIND = 1;

/** Odd rounds or even ones. */
export type Side = 0 | 1;

/** Share of its shaping rounds that stand on one side, where a plan shapes on it, and fewest that tell. Chosen. */
const MOSTLY = 0.75;
const LEAST_SHAPED = 3;

/**
 * Where the shaping stands on every other round alone, as garter has it in its knit rounds and flat work on its right
 * side, with at most a few rounds beside it: on odd rounds or even ones. Null where it stands on both.
 */
export function shapedSide({ rounds }: WorkedColumns): Side | null {
  // Rounds shaped one after the other stand on both, because they must: those that stand alone tell, where there are any.
  const shapes = (i: number) => rounds[i] !== undefined && isShaping(rounds[i]);
  const all = rounds.flatMap((_, i) => (shapes(i) ? [i + 1] : []));
  const alone = all.filter((round) => !shapes(round) && !shapes(round - 2));
  const shaped = alone.length < LEAST_SHAPED ? all : alone;
  const odd = shaped.filter((round) => round % 2 === 1).length;
  const flat = rounds.some((round) => round.wrongSide);
  const rightSide: Side = rounds[0]?.wrongSide ? 0 : 1;
  const side: Side = flat ? rightSide : 2 * odd >= shaped.length ? 1 : 0;
  const on = side === 1 ? odd : shaped.length - odd;
  return shaped.length >= LEAST_SHAPED && on >= MOSTLY * shaped.length ? side : null;
}

type ShapeItem = Extract<WorkedItem, { role: 'shape' }>;
type Block = Pick<Extract<WorkedItem, { role: 'block' }>, 'names' | 'columns'>;

/** Works the same shaping at one timing after another. */
export class PlanRebuilder {
  private readonly pattern;
  private readonly rounds;
  private readonly series: readonly Series[];
  private readonly followsRound: boolean;
  private readonly followsFabric: boolean;
  /** Round of the plan that each of its shaping stitches was worked in. */
  private readonly workedIn = new Map<WorkedItem, number>();
  private readonly worked: WorkedColumns;
  private timeline: readonly (ShapingEvent | null)[] = [];
  private notes: string[] = [];
  private crossed = new Set<number>();
  private shown = new Set<readonly number[]>();
  private orphans: ReadonlySet<number> = new Set();

  /**
   * `source`: what columns are worked as where the shaping is not the plan's own; `stretches`: columns of which
   * it is asked whether they are shown.
   */
  /** What the plan shapes by. */
  private readonly own = new Set<string>();

  constructor(
    private readonly shaping: Shaping,
    private readonly source: PatternSource | null = null,
    private readonly stretches: readonly (readonly number[])[] = [],
  ) {
    const { worked } = shaping;
    this.worked = worked;
    worked.rounds.forEach((round, i) => {
      for (const item of round.items) {
        this.workedIn.set(item, i + 1);
        if (item.role === 'shape') this.own.add(item.name);
      }
    });
    this.pattern = patternAsSet(worked);
    this.rounds = roundPattern(worked);
    this.series = seriesOf(worked.rounds);
    this.followsRound = shapesByRound(worked);
    this.followsFabric = this.decreasesFollowFabric();
  }

  /** `side`: shaping waits for a round of it, where it does not fall behind; see `shapedSide`. */
  rebuild(gap: ShapingGap, ahead = 0, side: Side | null = null): Rebuilt {
    this.timeline = newTimeline(this.shaping, gap, ahead, side);
    this.notes = [];
    this.crossed = new Set();
    this.shown = new Set();
    const lives = this.liveColumns();
    const flat = this.worked.rounds.some((round) => round.wrongSide);
    const rounds: DraftRound[] = [];
    const faces: { names: readonly string[]; planRound: number }[] = [];
    for (let round = 1; round < this.timeline.length; round++) {
      this.orphans = this.source?.orphans(lives[round - 1]) ?? this.orphans;
      const names = this.work(round, lives);
      faces.push({ names, planRound: this.planRound(round) });
      const wrongSide = flat && this.facesWrong(round);
      const turned = wrongSide ? turnNames(names) : names;
      for (const name of unturned(turned))
        this.note(`"${name}" has no form on the other side and was left as it is in row ${round}.`);
      rounds.push({
        names: turned.map((name) => name.replace(/^~/, '')),
        wrongSide,
        after: lives[round].length,
      });
    }
    const { notes, crossed, shown } = this;
    const counts = lives.map((live) => live.length);
    return { rounds, faces, counts, spacing: this.spacing(), crossed, shown, notes };
  }

  private spacing(): number[] {
    const at = this.timeline.flatMap((event, round) => (event ? [round] : []));
    return at.slice(1).map((round, i) => round - at[i]);
  }

  private stitch(column: number, round: number): string {
    const { source } = this;
    const as = this.planRound(round);
    if (!source) return this.pattern.stitch(column, as);
    return this.orphans.has(column) ? source.groundStitch(column, as) : source.stitch(column, as);
  }

  /** Rounds of the piece timed anew. */
  private get total(): number {
    return this.timeline.length - 1;
  }

  /** The round of the plan that a new round is patterned after. */
  private planRound(round: number): number {
    return this.rounds.planRound(round, this.total);
  }

  /** Rows alternate; the first row faces as the plan's first row does. */
  private facesWrong(round: number): boolean {
    return this.worked.rounds[0].wrongSide === (round % 2 === 1);
  }

  /** Live columns after each new round. */
  private liveColumns(): number[][] {
    let live = [...this.shaping.start];
    const lives = [live];
    for (let round = 1; round < this.timeline.length; round++) {
      const event = this.timeline[round];
      if (event)
        live = event.items.flatMap((item) =>
          item.role === 'column'
            ? [item.column]
            : item.role === 'block'
              ? [...item.columns]
              : [...item.after],
        );
      lives.push(live);
    }
    return lives;
  }

  private work(round: number, lives: readonly number[][]): string[] {
    const before = lives[round - 1];
    const shapes = this.shapesOf(this.timeline[round]);
    const blocks = this.blocksIn(round, lives, shapes);
    this.noteShown(before, round, shapes, blocks);
    const plain = before.filter((column) => !shapes.touched.has(column));
    const made = (at: number) =>
      (shapes.between.get(at) ?? []).map((shape) => this.facing(shape, round, plain));
    const names: string[] = [];
    for (let i = 0; i < before.length; ) {
      names.push(...made(i));
      const shape = shapes.at.get(before[i]);
      const block = blocks.get(before[i]);
      if (shape) {
        names.push(this.facing(shape, round, plain));
        i += shape.before.length;
      } else if (block) {
        names.push(...block.names);
        i += block.columns.length;
      } else names.push(this.stitch(before[i++], round));
    }
    names.push(...made(before.length));
    return names;
  }

  /** Shaping of a round: by first column consumed, and stitches made between columns. */
  private shapesOf(event: ShapingEvent | null): {
    at: Map<number, ShapeItem>;
    between: Map<number, ShapeItem[]>;
    touched: Set<number>;
  } {
    const at = new Map<number, ShapeItem>();
    const between = new Map<number, ShapeItem[]>();
    const touched = new Set<number>();
    let place = 0;
    for (const item of event?.items ?? []) {
      if (item.role === 'column') place++;
      else if (item.role === 'block') place += item.columns.length;
      else if (item.before.length === 0) between.set(place, [...(between.get(place) ?? []), item]);
      else {
        at.set(item.before[0], item);
        for (const column of item.before) touched.add(column);
        place += item.before.length;
      }
    }
    return { at, between, touched };
  }

  private noteShown(
    before: readonly number[],
    round: number,
    { touched, between }: { touched: ReadonlySet<number>; between: ReadonlyMap<number, unknown> },
    blocks: ReadonlyMap<number, Block>,
  ): void {
    if (this.shown.size === this.stretches.length) return;
    const ground = this.source?.ground(this.planRound(round));
    const seen = (stretch: readonly number[]) =>
      !ground ||
      stretch.some((column) => blocks.has(column)) ||
      standsOut(
        stretch.map((column) => this.stitch(column, round)),
        ground,
      );
    const place = new Map(before.map((column, i) => [column, i]));
    for (const stretch of this.stretches) {
      const first = place.get(stretch[0]);
      const whole =
        first !== undefined &&
        stretch.every(
          (column, i) =>
            before[first + i] === column &&
            !touched.has(column) &&
            (i === 0 || !between.has(first + i)),
        );
      if (whole && seen(stretch)) this.shown.add(stretch);
    }
  }

  /** Crossings due in this round whose columns are whole now and for the rest rounds to come. */
  private blocksIn(
    round: number,
    lives: readonly number[][],
    shapes: { touched: ReadonlySet<number>; between: ReadonlyMap<number, unknown> },
  ): Map<number, Block> {
    const due = new Map<number, Block>();
    const before = lives[round - 1];
    const place = new Map(before.map((column, i) => [column, i]));
    const later = new Set(lives[Math.min(lives.length - 1, round + REST_ROUNDS)]);
    const taken = new Set<number>();
    for (const series of this.series) {
      const names = this.rounds.inBand(round, this.total)
        ? series.rounds.get(this.planRound(round))
        : namesIn(series, round);
      if (!names) continue;
      const first = place.get(series.columns[0]);
      const whole =
        first !== undefined &&
        series.columns.every(
          (column, i) =>
            before[first + i] === column &&
            !shapes.touched.has(column) &&
            !taken.has(column) &&
            (i === 0 || !shapes.between.has(first + i)),
        );
      // The plan's own crossings stand where its own shaping does.
      const own = this.source?.inPlace !== false && series.rounds.has(round);
      if (!whole || !(own || series.columns.every((column) => later.has(column)))) continue;
      this.crossed.add(series.columns[0]);
      for (const column of series.columns) taken.add(column);
      due.set(series.columns[0], { names, columns: series.columns });
    }
    return due;
  }

  /** Shaping that lands in a round whose neighbours are all purled is purled, and back. `plain`: the round's other columns. */
  private facing(shape: ShapeItem, round: number, plain: readonly number[]): string {
    if (shape.after.length === 0) return shape.name;
    const whole = this.followsRound ? this.faceOfWhole(round, plain) : null;
    if (whole !== null) return asFace(shape.name, whole, this.own);
    if (!this.followsFabric) return shape.name;
    if (this.source?.inPlace === false) {
      const ground = faceOf(this.source.groundStitch(shape.after[0], this.planRound(round)));
      return ground === null ? shape.name : asFace(shape.name, ground, this.own);
    }
    const at = this.workedIn.get(shape);
    const then = at === undefined ? null : faceOf(this.pattern.stitch(shape.after[0], at));
    if (then !== null && asFace(shape.name, then) !== shape.name) return shape.name;
    const now = faceOf(this.stitch(shape.after[0], round));
    return now === null ? shape.name : asFace(shape.name, now, this.own);
  }

  private faceOfWhole(round: number, plain: readonly number[]): Face | null {
    const ground = this.source?.ground(this.planRound(round));
    if (ground && ground[0] === ground[1]) return faceOf(ground[0]);
    return faceOfRound(plain.map((column) => this.stitch(column, round)));
  }

  /** Whether every decrease of the plan is knitted on knit columns and purled on purl ones. */
  private decreasesFollowFabric(): boolean {
    let agree = 0;
    let differ = 0;
    this.worked.rounds.forEach((round, i) => {
      for (const item of round.items) {
        if (item.role !== 'shape' || item.after.length === 0) continue;
        const here = faceOf(this.pattern.stitch(item.after[0], i + 1));
        if (here === null) continue;
        if (asFace(item.name, here) === item.name) agree++;
        else differ++;
      }
    });
    // Where a panel is eaten at the centre a few may differ.
    return agree > 9 * differ;
  }

  private note(text: string): void {
    if (!this.notes.includes(text)) this.notes.push(text);
  }
}
