/**
 * The same plan with its decreases (or increases) timed anew: what `compare` and the advice use.
 *
 * Input: a Plan and how many rounds lie between shaping rounds on average (1 every round, 4/3 three
 * rounds of every four, 2 every other). Output: plan text with the same cast-on, ground, corners and
 * panels. It works on the stitches, whatever wording they came from: each shaping round keeps its
 * stitches and its order; plain rounds are put in or left out between them in the pattern as set,
 * and crossings keep their interval.
 */
import type { Plan } from '../../plan/plan.ts';
import { headerOf } from '../motif/plan-header.ts';
import { type DraftRound, planText } from '../motif/plan-text.ts';
import {
  decomposeColumns,
  type WorkedColumns,
  type WorkedItem,
  type WorkedRound,
} from './column-model.ts';
import { asFace, turnNames, unturned } from './facing.ts';
import { patternAsSet } from './pattern-period.ts';

export interface Redraft {
  readonly text: string;
  /** What could not be kept, in a knitter's words. */
  readonly notes: readonly string[];
}

/** Most rounds between two shaping rounds. Chosen: beyond it the piece is a tube. */
const MOST_ROUNDS_BETWEEN = 60;
/** Plain rounds kept between a crossing and the decrease that breaks into the cable. Chosen. */
const REST_ROUNDS = 2;

/** Re-times the shaping to one shaping round in `every` rounds on average. */
export function redraft(plan: Plan, every: number): Redraft {
  if (!(every >= 1 && every <= MOST_ROUNDS_BETWEEN))
    throw new RangeError(
      `Decreases every ${every} rounds cannot be worked: give 1 (every round) to ${MOST_ROUNDS_BETWEEN}, e.g. 4/3 for three rounds of every four.`,
    );
  return rescheduleShaping(plan, () => every);
}

/**
 * Re-times the shaping with a gap of its own after each shaping round: how many rounds, not necessarily
 * whole, so many stitches lost or gained ask for.
 */
export function rescheduleShaping(plan: Plan, gap: ShapingGap): Redraft {
  const worked = decomposeColumns(plan);
  const start = Array.from({ length: worked.castOn }, (_, column) => column);
  return rebuildPlan(plan, { worked, start, events: eventsOf(worked) }, gap);
}

/** Rounds after a shaping round: `change` stitches lost or gained in it, from `before` stitches. */
export type ShapingGap = (change: number, before: number) => number;

/** One shaping round: what it does to the columns. */
export interface ShapingEvent {
  readonly items: readonly WorkedItem[];
  /** Stitches gained (negative: lost). */
  readonly change: number;
}

/** A piece as columns and the shaping rounds that they go through, in order. */
export interface Shaping {
  /** Told the pattern from; its columns may have grown beyond those that the plan worked. */
  readonly worked: WorkedColumns;
  /** Columns cast on, right to left. */
  readonly start: readonly number[];
  readonly events: readonly ShapingEvent[];
}

/** Rounds with any shaping, even where losses and gains cancel. */
export function eventsOf(worked: WorkedColumns): ShapingEvent[] {
  return worked.rounds.filter(isShaping);
}

function isShaping(round: WorkedRound): boolean {
  return round.items.some((item) => item.role === 'shape');
}

/** Works a shaping out into rounds and text. `header` replaces the plan's own. */
export function rebuildPlan(
  plan: Plan,
  shaping: Shaping,
  gap: ShapingGap,
  header: readonly string[] = headerOf(plan),
): Redraft {
  const notes: string[] = [];
  const timeline = newTimeline(shaping, gap);
  const rounds = new PlanRebuilder(shaping, timeline, notes).rounds();
  const castOn = shaping.start.length;
  const { worked, ending } = plan;
  return { text: planText({ header, castOn, worked, rounds, ending }), notes };
}

/** The shaping worked in each new round, null for a plain round. Item 0 is unused. */
function newTimeline({ worked, start, events }: Shaping, gap: ShapingGap): (ShapingEvent | null)[] {
  const shaped = worked.rounds.map(isShaping);
  const first = shaped.indexOf(true) + 1;
  if (first === 0 || events.length === 0) return [null, ...worked.rounds.map(() => null)];
  const timeline: (ShapingEvent | null)[] = Array.from({ length: first }, () => null);
  let ideal = first;
  let stitches = start.length;
  for (const event of events) {
    const at = Math.max(Math.floor(ideal + 1e-9), timeline.length);
    while (timeline.length < at) timeline.push(null);
    timeline.push(event);
    ideal += gap(Math.abs(event.change), stitches);
    stitches += event.change;
  }
  const tail = worked.rounds.length - 1 - shaped.lastIndexOf(true);
  for (let i = 0; i < tail; i++) timeline.push(null);
  return timeline;
}

type Block = Extract<WorkedItem, { role: 'block' }>;

/** A crossing or lace group that comes again on the same columns. */
interface Series {
  readonly columns: readonly number[];
  readonly rounds: Map<number, readonly string[]>;
  readonly last: number;
  /** Rounds between repeats; 0 where it happens once. */
  readonly every: number;
}

class PlanRebuilder {
  private readonly pattern;
  private readonly series: readonly Series[];
  private readonly followsFabric: boolean;
  /** Round of the plan that each of its shaping stitches was worked in. */
  private readonly workedIn = new Map<WorkedItem, number>();

  private readonly worked: WorkedColumns;

  constructor(
    private readonly shaping: Shaping,
    private readonly timeline: readonly (ShapingEvent | null)[],
    private readonly notes: string[],
  ) {
    const { worked } = shaping;
    this.worked = worked;
    worked.rounds.forEach((round, i) => {
      for (const item of round.items) this.workedIn.set(item, i + 1);
    });
    this.pattern = patternAsSet(worked);
    this.series = seriesOf(worked.rounds);
    this.followsFabric = this.decreasesFollowFabric();
  }

  rounds(): DraftRound[] {
    const lives = this.liveColumns();
    const flat = this.worked.rounds.some((round) => round.wrongSide);
    const rounds: DraftRound[] = [];
    for (let round = 1; round < this.timeline.length; round++) {
      const names = this.work(round, lives);
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
    return rounds;
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
    const names: string[] = [];
    for (let i = 0; i < before.length; ) {
      for (const made of shapes.between.get(i) ?? []) names.push(made);
      const shape = shapes.at.get(before[i]);
      const block = blocks.get(before[i]);
      if (shape) {
        names.push(this.facing(shape, round));
        i += shape.before.length;
      } else if (block) {
        names.push(...block.names);
        i += block.columns.length;
      } else names.push(this.pattern.stitch(before[i++], round));
    }
    names.push(...(shapes.between.get(before.length) ?? []));
    return names;
  }

  /** Shaping of a round: by first column consumed, and stitches made between columns. */
  private shapesOf(event: ShapingEvent | null): {
    at: Map<number, Extract<WorkedItem, { role: 'shape' }>>;
    between: Map<number, string[]>;
    touched: Set<number>;
  } {
    const at = new Map<number, Extract<WorkedItem, { role: 'shape' }>>();
    const between = new Map<number, string[]>();
    const touched = new Set<number>();
    let place = 0;
    for (const item of event?.items ?? []) {
      if (item.role === 'column') place++;
      else if (item.role === 'block') place += item.columns.length;
      else if (item.before.length === 0)
        between.set(place, [...(between.get(place) ?? []), item.name]);
      else {
        at.set(item.before[0], item);
        for (const column of item.before) touched.add(column);
        place += item.before.length;
      }
    }
    return { at, between, touched };
  }

  /** Crossings due in this round whose columns are whole now and for the rest rounds to come. */
  private blocksIn(
    round: number,
    lives: readonly number[][],
    shapes: { touched: Set<number>; between: Map<number, string[]> },
  ): Map<number, Block> {
    const due = new Map<number, Block>();
    const before = lives[round - 1];
    const place = new Map(before.map((column, i) => [column, i]));
    const later = new Set(lives[Math.min(lives.length - 1, round + REST_ROUNDS)]);
    const taken = new Set<number>();
    for (const series of this.series) {
      const names = namesIn(series, round);
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
      const rests = series.rounds.has(round) || series.columns.every((column) => later.has(column));
      if (!whole || !rests) continue;
      for (const column of series.columns) taken.add(column);
      due.set(series.columns[0], { role: 'block', names, columns: series.columns });
    }
    return due;
  }

  /** A decrease that lands in a round whose neighbours are all purled is purled, and back. */
  private facing(shape: Extract<WorkedItem, { role: 'shape' }>, round: number): string {
    if (!this.followsFabric || shape.after.length === 0) return shape.name;
    const at = this.workedIn.get(shape);
    const then = at === undefined ? null : this.faceRound(shape.after[0], at);
    if (then !== null && asFace(shape.name, then) !== shape.name) return shape.name;
    const now = this.faceRound(shape.after[0], round);
    return now === null ? shape.name : asFace(shape.name, now);
  }

  /** Whether every decrease of the plan is knitted on knit columns and purled on purl ones. */
  private decreasesFollowFabric(): boolean {
    let agree = 0;
    let differ = 0;
    this.worked.rounds.forEach((round, i) => {
      for (const item of round.items) {
        if (item.role !== 'shape' || item.after.length === 0) continue;
        const face = this.faceRound(item.after[0], i + 1);
        if (face === null) continue;
        if (asFace(item.name, face) === item.name) agree++;
        else differ++;
      }
    });
    // Where a panel is eaten at the centre a few may differ.
    return agree > 9 * differ;
  }

  private faceRound(column: number, round: number): 'k' | 'p' | null {
    const here = this.pattern.stitch(column, round);
    return here === 'k' || here === 'p' ? here : null;
  }

  private note(text: string): void {
    if (!this.notes.includes(text)) this.notes.push(text);
  }
}

function seriesOf(rounds: readonly WorkedRound[]): Series[] {
  const found = new Map<
    string,
    { columns: readonly number[]; rounds: Map<number, readonly string[]> }
  >();
  rounds.forEach((round, i) => {
    for (const item of round.items) {
      if (item.role !== 'block') continue;
      const key = item.columns.join(',');
      const series = found.get(key) ?? { columns: item.columns, rounds: new Map() };
      series.rounds.set(i + 1, item.names);
      found.set(key, series);
    }
  });
  return [...found.values()].map((series) => {
    const at = [...series.rounds.keys()];
    return { ...series, last: at[at.length - 1], every: commonStep(at) };
  });
}

/** Most frequent difference between neighbours; 0 for fewer than two. */
function commonStep(at: readonly number[]): number {
  const counts = new Map<number, number>();
  for (let i = 1; i < at.length; i++) {
    const step = at[i] - at[i - 1];
    counts.set(step, (counts.get(step) ?? 0) + 1);
  }
  let best = 0;
  for (const [step, count] of counts) if (count > (counts.get(best) ?? 0)) best = step;
  return best;
}

/** Names of the group if it falls due in this round. */
function namesIn(series: Series, round: number): readonly string[] | null {
  const known = series.rounds.get(round);
  if (known) return known;
  if (series.every === 0 || round < series.last || (round - series.last) % series.every !== 0)
    return null;
  // The lean may alternate: take the names an even number of repeats back where they are known.
  const back = (round - series.last) / series.every;
  return (
    series.rounds.get(back % 2 === 0 ? series.last : series.last - series.every) ??
    series.rounds.get(series.last) ??
    null
  );
}
