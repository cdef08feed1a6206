/**
 * Plan → StitchGraph: works the plan loop by loop, as a knitter would, and notes what hangs on what.
 *
 * Input: a Plan whose rounds consume what the needle holds (RangeError otherwise: check the plan's
 * diagnostics first). Output: every loop with its parents, seen from the right side. Rows worked from
 * the wrong side are turned over here once and for all: faces and layers change sign, positions and
 * front-to-back orders are reversed; the lean of a crossing stays, as a helix keeps its hand.
 */
import { hasShortRows, type Plan, type PlanRound } from '../plan/plan.ts';
import { isUnworked, type StitchKind } from '../plan/stitches/stitch-kind.ts';
import { childrenOf } from './loop-children.ts';
import { type HeldNeedles, NeedleOrder } from './needle-order.ts';
import {
  type Closure,
  FLAG_FLOAT_IN_FRONT,
  FLAG_LIFTED,
  FLAG_SEAM,
  FLAG_SLIPPED,
  FLAG_TWISTED,
  FLAG_YARN_OVER,
  type StitchGraph,
} from './stitch-graph.ts';

/** Needles that hold a round: four and one to work with (common practice for squares). */
const NEEDLES_IN_THE_ROUND = 4;

/** Name under which cast-on loops stand in `kindNames`, after the plan's own kinds. */
const CAST_ON_KIND = 'cast-on';

export function buildStitchGraph(plan: Plan): StitchGraph {
  const builder = new GraphBuilder(plan);
  builder.castOn();
  plan.rounds.forEach((round, k) => {
    builder.workRound(round, k + 1);
  });
  return builder.finish();
}

/** A round being worked: where it finds its loops. */
interface RoundBelow {
  readonly ws: boolean;
  /** The needle as this round meets it, in working order, where rows are short: loops of the course below, or what waits there. */
  readonly order: readonly number[] | undefined;
  /** Else the course below: its first loop, their number, and whether it was worked the same way. */
  readonly below: number;
  readonly belowCount: number;
  readonly sameWay: boolean;
  /** What the join does to the round: see joinOf. */
  readonly merged: boolean;
  readonly swapped: boolean;
  /** Loops that have been taken off the needle. */
  taken: number;
}

class GraphBuilder {
  private readonly plan: Plan;
  private readonly closure: Closure;
  private readonly joins: ReturnType<typeof joinOf>;
  private readonly onNeedle: NeedleOrder | null;
  private readonly courses: number;
  private readonly loops: number;
  private readonly stitches: number;
  /** The arrays of the graph, by the names that they have there. */
  private readonly start: Int32Array;
  private readonly course: Int32Array;
  private readonly position: Int32Array;
  private readonly wrongSide: Uint8Array;
  private readonly parentStart: Int32Array;
  private readonly parents: Int32Array;
  private readonly kind: Int16Array;
  private readonly stitch: Int32Array;
  private readonly stitchStart: Int32Array;
  private readonly stitchKind: Int16Array;
  private readonly madeStart: Int32Array;
  private readonly consumedStart: Int32Array;
  private readonly consumed: Int32Array;
  private readonly face: Int8Array;
  private readonly flags: Uint8Array;
  private readonly layer: Int8Array;
  private readonly crossing: Int32Array;
  private readonly needle: Uint8Array;
  /** How far they are filled. */
  private loop = 0;
  private stitchAt = 0;
  private parentAt = 0;
  private consumedAt = 0;
  private crossings = 0;

  constructor(plan: Plan) {
    const size = measurePlan(plan);
    const { loops, stitches } = size;
    const courses = plan.rounds.length + 1;
    this.plan = plan;
    this.closure = closureOf(plan);
    this.joins = joinOf(plan, this.closure);
    this.courses = courses;
    this.loops = loops;
    this.stitches = stitches;
    this.start = new Int32Array(courses + 1);
    this.course = new Int32Array(loops);
    this.position = new Int32Array(loops);
    this.wrongSide = new Uint8Array(courses);
    this.parentStart = new Int32Array(loops + 1);
    this.parents = new Int32Array(size.parents);
    this.kind = new Int16Array(loops);
    this.stitch = new Int32Array(loops);
    this.stitchStart = new Int32Array(courses + 1);
    this.stitchKind = new Int16Array(stitches);
    this.madeStart = new Int32Array(stitches + 1);
    this.consumedStart = new Int32Array(stitches + 1);
    this.consumed = new Int32Array(size.consumed);
    this.face = new Int8Array(loops);
    this.flags = new Uint8Array(loops);
    this.layer = new Int8Array(loops);
    this.crossing = new Int32Array(loops).fill(-1);
    this.needle = new Uint8Array(loops);
    // Flat work begins with the loop cast on last, so the cast-on lies like the row before.
    const backwards =
      this.closure !== 'helix' && plan.rounds.length > 0 && !plan.rounds[0].wrongSide;
    this.wrongSide[0] = backwards ? 1 : 0;
    this.onNeedle = hasShortRows(plan) ? needleOf(plan, backwards) : null;
  }

  /** Loops of the cast-on, with the join's extra one. */
  private get castOnLoops(): number {
    return this.plan.castOn + (this.joins.merged ? 1 : 0);
  }

  castOn(): void {
    const count = this.castOnLoops;
    const kind = this.plan.kinds.length;
    for (let i = 0; i < count; i++) {
      this.kind[i] = kind;
      this.stitch[i] = i;
      this.stitchKind[i] = kind;
      this.madeStart[i + 1] = i + 1;
      this.face[i] = 1;
    }
    this.loop = this.stitchAt = count;
    this.start[1] = this.stitchStart[1] = count;
  }

  /** Makes course `c`. */
  workRound(round: PlanRound, c: number): void {
    const { start, wrongSide, joins, onNeedle, plan } = this;
    const ws = round.wrongSide;
    wrongSide[c] = ws ? 1 : 0;
    const from: RoundBelow = {
      ws,
      order: onNeedle?.begin(round),
      below: start[c - 1],
      belowCount: start[c] - start[c - 1],
      sameWay: (wrongSide[c - 1] === 1) === ws,
      merged: c === 1 && joins.merged,
      swapped: c === 1 && joins.swapped,
      taken: 0,
    };
    for (const k of round.works) {
      const made = plan.kinds[k];
      if (onNeedle && isUnworked(made)) {
        onNeedle.wait();
        from.taken++;
        continue;
      }
      onNeedle?.work(
        made.consumes,
        made.loops.map((_, j) => this.loop + j),
      );
      this.workStitch(k, made, from);
    }
    start[c + 1] = this.loop;
    this.stitchStart[c + 1] = this.stitchAt;
    onNeedle?.end(round);
  }

  private workStitch(k: number, made: StitchKind, from: RoundBelow): void {
    const first = this.consumedAt;
    // The extra cast-on loop hangs behind the first stitch of the round.
    const merges = from.merged && from.taken === 0 && made.consumes > 0;
    if (merges) this.consumed[this.consumedAt++] = this.castOnLoops - 1;
    this.takeLoops(made.consumes, from);
    for (let j = 0; j < made.loops.length; j++) {
      this.hang(made.loops[j].parents, merges ? first + 1 : first, from);
      if (j === 0 && merges) this.parents[this.parentAt++] = this.castOnLoops - 1;
      this.makeLoop(k, made, j, from.ws);
    }
    if (made.crossing) this.crossings++;
    this.stitchKind[this.stitchAt++] = k;
    this.madeStart[this.stitchAt] = this.loop;
    this.consumedStart[this.stitchAt] = this.consumedAt;
  }

  /** Takes so many loops off the needle. */
  private takeLoops(count: number, from: RoundBelow): void {
    const { order, sameWay, below, belowCount } = from;
    for (let j = 0; j < count; j++, from.taken++) {
      const { taken } = from;
      const inCourse = sameWay ? below + taken : below + belowCount - 1 - taken;
      this.consumed[this.consumedAt++] = order ? order[taken] : inCourse;
    }
  }

  /** Hangs the loop that is made next in `parents`: places among those that were taken from `base` on. */
  private hang(parents: readonly number[], base: number, { ws, swapped }: RoundBelow): void {
    const count = parents.length;
    const last = this.castOnLoops - 1;
    for (let m = 0; m < count; m++) {
      let parent = this.consumed[base + parents[ws ? count - 1 - m : m]];
      if (swapped && parent === 0) parent = last;
      else if (swapped && parent === last) parent = 0;
      this.parents[this.parentAt++] = parent;
    }
  }

  /** The j-th loop of a stitch, hung already. */
  private makeLoop(k: number, made: StitchKind, j: number, ws: boolean): void {
    const side = ws ? -1 : 1;
    const { face, twisted, origin } = made.loops[j];
    const id = this.loop++;
    this.parentStart[id + 1] = this.parentAt;
    this.kind[id] = k;
    this.stitch[id] = this.stitchAt;
    this.face[id] = face * side;
    this.flags[id] = flagsOf(twisted, origin);
    // In front as the knitter faced it is behind on a row that was worked from the wrong side.
    if (origin === 'slipped' && (made.slipped === 1) !== ws) this.flags[id] |= FLAG_FLOAT_IN_FRONT;
    if (!made.crossing) return;
    this.layer[id] = layerOf(made, j) * side;
    this.crossing[id] = this.crossings;
  }

  finish(): StitchGraph {
    const { plan, closure, loops, courses, start, wrongSide, parentStart } = this;
    const parents = this.parents.slice(0, this.parentAt);
    const seam = closure === 'seam' ? seamOf(plan) : null;
    const held = this.onNeedle?.held() ?? null;
    this.placeLoops(held, seam);
    if (this.joins.merged) this.flags[this.castOnLoops - 1] |= FLAG_SEAM;
    return {
      version: 1,
      loops,
      courses,
      start,
      course: this.course,
      position: this.position,
      wrongSide,
      parentStart,
      parents,
      ...childrenOf(loops, courses, start, wrongSide, parentStart, parents),
      kind: this.kind,
      kindNames: [...plan.kinds.map((k) => k.name), CAST_ON_KIND],
      stitch: this.stitch,
      stitches: this.stitches,
      stitchStart: this.stitchStart,
      stitchKind: this.stitchKind,
      madeStart: this.madeStart,
      consumedStart: this.consumedStart,
      consumed: this.consumed,
      face: this.face,
      flags: this.flags,
      layer: this.layer,
      crossing: this.crossing,
      crossings: this.crossings,
      needle: this.needle,
      closure,
      join: plan.join,
      seam,
      ending: plan.ending,
      held,
    };
  }

  /** Every loop's course and place in it, its needle, and whether the seam takes it. */
  private placeLoops(held: HeldNeedles | null, seam: StitchGraph['seam']): void {
    const { start, wrongSide, closure } = this;
    for (let c = 0; c < this.courses; c++) {
      const first = start[c];
      const made = start[c + 1] - first;
      const count = held ? held.start[c + 1] - held.start[c] : made;
      for (let i = 0; i < count; i++) {
        const inCourse = wrongSide[c] ? first + made - 1 - i : first + i;
        const id = held ? held.ids[held.start[c] + i] : inCourse;
        if (id < first) continue;
        this.course[id] = c;
        this.position[id] = i;
        if (closure === 'helix') this.needle[id] = Math.floor((i * NEEDLES_IN_THE_ROUND) / count);
        if (seam && (i < seam.right || i >= count - seam.left)) this.flags[id] |= FLAG_SEAM;
      }
    }
  }
}

/** The cast-on on the needle; the extra loop of a join waits behind it. */
function needleOf({ castOn, worked }: Plan, reversed: boolean): NeedleOrder {
  const loops = Array.from({ length: castOn }, (_, i) => (reversed ? castOn - 1 - i : i));
  return new NeedleOrder(loops, worked === 'round');
}

function closureOf(plan: Plan): Closure {
  if (plan.worked === 'round') return 'helix';
  return plan.seam ? 'seam' : 'open';
}

/** Right-side rows begin at the right edge, so what the seam takes at their beginning lies there. */
function seamOf(plan: Plan): { right: number; left: number } | null {
  return plan.seam && { right: plan.seam.begin, left: plan.seam.end };
}

/**
 * What the join does to the first round. `crossed`: first and last cast-on loop change places.
 * `extra`: one loop more than the plan counts is cast on and worked together with the first.
 */
function joinOf(plan: Plan, closure: Closure): { swapped: boolean; merged: boolean } {
  const joined = closure === 'helix' && plan.rounds.length > 0;
  return {
    swapped: joined && plan.join.method === 'crossed' && plan.castOn > 1,
    merged: joined && plan.join.method === 'extra' && plan.castOn > 0,
  };
}

/** Array sizes, and the check that every round consumes what the one before left. */
function measurePlan(plan: Plan) {
  let loops = plan.castOn;
  let stitches = plan.castOn;
  let consumed = 0;
  let parents = 0;
  let live = plan.castOn;
  if (!Number.isInteger(live) || live < 0) {
    throw new RangeError(`cast-on must be a whole number of loops, got ${live}`);
  }
  for (const round of plan.rounds) {
    const used = consumption(plan.kinds, round);
    if (used !== live) {
      throw new RangeError(
        `${round.label || `round ${round.n}`} works ${used} loops but ${live} are on the needle`,
      );
    }
    if (plan.worked === 'round' && round.wrongSide && !round.shortRow) {
      throw new RangeError(`${round.label} is worked from the wrong side, in the round`);
    }
    live = 0;
    for (const k of round.works) {
      const of = plan.kinds[k].loops;
      live += of.length;
      if (isUnworked(plan.kinds[k])) continue;
      consumed += plan.kinds[k].consumes;
      stitches++;
      loops += of.length;
      for (let j = 0; j < of.length; j++) parents += of[j].parents.length;
    }
  }
  // The extra cast-on loop is one stitch and loop more, consumed once and once a parent.
  const extra = joinOf(plan, closureOf(plan)).merged ? 1 : 0;
  return {
    loops: loops + extra,
    stitches: stitches + extra,
    consumed: consumed + extra,
    parents: parents + extra,
  };
}

function consumption(kinds: readonly StitchKind[], round: PlanRound): number {
  let used = 0;
  for (const k of round.works) used += kinds[k].consumes;
  return used;
}

function flagsOf(twisted: boolean, origin: string): number {
  let flags = twisted ? FLAG_TWISTED : 0;
  if (origin === 'slipped') flags |= FLAG_SLIPPED;
  else if (origin === 'yarn-over') flags |= FLAG_YARN_OVER;
  else if (origin === 'lifted-strand') flags |= FLAG_LIFTED;
  return flags;
}

/**
 * Layer of a crossing's loop as seen from the facing side. A front strand that leans left starts
 * with the loops worked off first (they wait in front), one that leans right with the last ones.
 * Loops between the two strands (a middle stitch) lie in neither layer.
 */
function layerOf(kind: StitchKind, j: number): number {
  const cross = kind.crossing;
  const from = kind.loops[j].parents[0];
  if (!cross || from === undefined) return 0;
  const fromEnd = kind.consumes - 1 - from;
  const [front, back] = cross.lean === 1 ? [from, fromEnd] : [fromEnd, from];
  if (front < cross.over) return 1;
  return back < cross.under ? -1 : 0;
}
