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
import { NeedleOrder } from './needle-order.ts';
import {
  type Closure,
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
  const { kinds, rounds } = plan;
  const closure = closureOf(plan);
  const size = measurePlan(plan);
  const courses = rounds.length + 1;
  const { loops, stitches } = size;

  const start = new Int32Array(courses + 1);
  const course = new Int32Array(loops);
  const position = new Int32Array(loops);
  const wrongSide = new Uint8Array(courses);
  const parentStart = new Int32Array(loops + 1);
  let parents = new Int32Array(size.parents);
  const kind = new Int16Array(loops);
  const stitch = new Int32Array(loops);
  const stitchStart = new Int32Array(courses + 1);
  const stitchKind = new Int16Array(stitches);
  const madeStart = new Int32Array(stitches + 1);
  const consumedStart = new Int32Array(stitches + 1);
  const consumed = new Int32Array(size.consumed);
  const face = new Int8Array(loops);
  const flags = new Uint8Array(loops);
  const layer = new Int8Array(loops);
  const crossing = new Int32Array(loops).fill(-1);
  const needle = new Uint8Array(loops);

  // Cast-on. Flat work begins with the loop cast on last, so the cast-on lies like the row before.
  const joins = joinOf(plan, closure);
  const castOn = plan.castOn + (joins.merged ? 1 : 0);
  wrongSide[0] = closure !== 'helix' && rounds.length > 0 && !rounds[0].wrongSide ? 1 : 0;
  for (let i = 0; i < castOn; i++) {
    kind[i] = kinds.length;
    stitch[i] = i;
    stitchKind[i] = kinds.length;
    madeStart[i + 1] = i + 1;
    face[i] = 1;
  }
  start[1] = castOn;
  stitchStart[1] = castOn;

  let loop = castOn;
  let stitchAt = castOn;
  let parentAt = 0;
  let consumedAt = 0;
  let crossings = 0;
  const onNeedle = hasShortRows(plan) ? needleOf(plan, wrongSide[0] === 1) : null;
  for (let c = 1; c < courses; c++) {
    const round = rounds[c - 1];
    const ws = round.wrongSide;
    wrongSide[c] = ws ? 1 : 0;
    const side = ws ? -1 : 1;
    // The needle as this round meets it: loops of the course below in working order, or whatever waits there.
    const order = onNeedle?.begin(round);
    const below = start[c - 1];
    const belowCount = start[c] - below;
    const sameWay = (wrongSide[c - 1] === 1) === ws;
    const merged = c === 1 && joins.merged;
    const swapped = c === 1 && joins.swapped;
    let taken = 0;
    for (const k of round.works) {
      const made = kinds[k];
      if (onNeedle) {
        if (isUnworked(made)) {
          onNeedle.wait();
          taken++;
          continue;
        }
        onNeedle.work(
          made.consumes,
          made.loops.map((_, j) => loop + j),
        );
      }
      const first = consumedAt;
      if (merged && taken === 0 && made.consumes > 0) consumed[consumedAt++] = castOn - 1;
      const base = consumedAt;
      for (let j = 0; j < made.consumes; j++, taken++) {
        consumed[consumedAt++] = order
          ? order[taken]
          : sameWay
            ? below + taken
            : below + belowCount - 1 - taken;
      }
      for (let j = 0; j < made.loops.length; j++) {
        const from = made.loops[j];
        const count = from.parents.length;
        for (let m = 0; m < count; m++) {
          const local = from.parents[ws ? count - 1 - m : m];
          let parent = consumed[base + local];
          if (swapped && parent === 0) parent = castOn - 1;
          else if (swapped && parent === castOn - 1) parent = 0;
          parents[parentAt++] = parent;
        }
        // The extra cast-on loop hangs behind the first stitch of the round.
        if (j === 0 && base > first) parents[parentAt++] = castOn - 1;
        parentStart[loop + 1] = parentAt;
        kind[loop] = k;
        stitch[loop] = stitchAt;
        face[loop] = from.face * side;
        flags[loop] = flagsOf(from.twisted, from.origin);
        if (made.crossing) {
          layer[loop] = layerOf(made, j) * side;
          crossing[loop] = crossings;
        }
        loop++;
      }
      if (made.crossing) crossings++;
      stitchKind[stitchAt++] = k;
      madeStart[stitchAt] = loop;
      consumedStart[stitchAt] = consumedAt;
    }
    start[c + 1] = loop;
    stitchStart[c + 1] = stitchAt;
    onNeedle?.end(round);
  }

  parents = parents.slice(0, parentAt);
  const seam = closure === 'seam' ? seamOf(plan) : null;
  const held = onNeedle?.held() ?? null;
  for (let c = 0; c < courses; c++) {
    const first = start[c];
    const made = start[c + 1] - first;
    const count = held ? held.start[c + 1] - held.start[c] : made;
    for (let i = 0; i < count; i++) {
      const id = held
        ? held.ids[held.start[c] + i]
        : wrongSide[c]
          ? first + made - 1 - i
          : first + i;
      if (id < first) continue;
      course[id] = c;
      position[id] = i;
      if (closure === 'helix') needle[id] = Math.floor((i * NEEDLES_IN_THE_ROUND) / count);
      if (seam && (i < seam.right || i >= count - seam.left)) flags[id] |= FLAG_SEAM;
    }
  }

  if (joins.merged) flags[castOn - 1] |= FLAG_SEAM;

  const hung = childrenOf(loops, courses, start, wrongSide, parentStart, parents);
  return {
    version: 1,
    loops,
    courses,
    start,
    course,
    position,
    wrongSide,
    parentStart,
    parents,
    childStart: hung.childStart,
    children: hung.children,
    kind,
    kindNames: [...kinds.map((k) => k.name), CAST_ON_KIND],
    stitch,
    stitches,
    stitchStart,
    stitchKind,
    madeStart,
    consumedStart,
    consumed,
    face,
    flags,
    layer,
    crossing,
    crossings,
    needle,
    closure,
    join: plan.join,
    seam,
    ending: plan.ending,
    held,
  };
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
