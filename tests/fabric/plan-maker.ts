/**
 * Plans made by hand for the graph's tests: stitch kinds, rounds from words such as `k3 k2tog`, and
 * random valid plans for property tests. Independent of the parser on purpose.
 */
import fc from 'fast-check';
import type { Ending, JoinMethod, Plan, PlanRound } from '../../src/plan/plan.ts';
import type { MadeLoop, StitchKind } from '../../src/plan/stitches/stitch-kind.ts';

type Origin = MadeLoop['origin'];

function loop(parents: number[], face: 1 | -1 = 1, origin: Origin = 'drawn'): MadeLoop {
  return { parents, face, twisted: false, origin };
}

function kind(name: string, consumes: number, loops: MadeLoop[]): StitchKind {
  return { name, words: name, consumes, loops, crossing: null, slipped: 0 };
}

function cable(name: string, over: number, under: number, lean: 1 | -1): StitchKind {
  const first = lean === 1 ? over : under;
  const n = over + under;
  const loops = Array.from({ length: n }, (_, i) => loop([(i + first) % n]));
  return { ...kind(name, n, loops), crossing: { lean, over, under } };
}

export const KINDS: readonly StitchKind[] = [
  kind('k', 1, [loop([0])]),
  kind('p', 1, [loop([0], -1)]),
  { ...kind('ktbl', 1, [{ ...loop([0]), twisted: true }]) },
  kind('k2tog', 2, [loop([1, 0])]),
  kind('ssk', 2, [loop([0, 1])]),
  kind('k3tog', 3, [loop([2, 1, 0])]),
  kind('sssk', 3, [loop([0, 1, 2])]),
  kind('s2kp', 3, [loop([1, 0, 2])]),
  kind('kfb', 1, [loop([0]), loop([0])]),
  kind('kpk', 1, [loop([0]), loop([0], -1), loop([0])]),
  kind('yo', 0, [loop([], 1, 'yarn-over')]),
  kind('m1', 0, [loop([], 1, 'lifted-strand')]),
  { ...kind('sl', 1, [loop([0], 1, 'slipped')]), slipped: -1 },
  cable('1/1 LC', 1, 1, 1),
  cable('1/1 RC', 1, 1, -1),
  cable('2/1 LC', 2, 1, 1),
  cable('2/1 RC', 2, 1, -1),
  cable('2/2 LC', 2, 2, 1),
  cable('2/2 RC', 2, 2, -1),
  kind('bo', 1, []),
];

/** The kind that a mirror shows in place of each kind. */
const MIRRORED: Record<string, string> = {
  k2tog: 'ssk',
  ssk: 'k2tog',
  k3tog: 'sssk',
  sssk: 'k3tog',
  s2kp: 's2kp mirrored',
  '1/1 LC': '1/1 RC',
  '1/1 RC': '1/1 LC',
  '2/1 LC': '2/1 RC',
  '2/1 RC': '2/1 LC',
  '2/2 LC': '2/2 RC',
  '2/2 RC': '2/2 LC',
};

export interface PlanOptions {
  worked?: 'round' | 'flat';
  ending?: Ending;
  seam?: { begin: number; end: number } | null;
  method?: JoinMethod;
  halfTurns?: number;
  /** Flat: side of the first row; rows alternate. */
  firstWrong?: boolean;
}

export function makePlan(
  castOn: number,
  rounds: readonly (readonly number[])[],
  options: PlanOptions = {},
  kinds: readonly StitchKind[] = KINDS,
): Plan {
  const at = { line: 1, column: 1 };
  const worked = options.worked ?? 'round';
  let before = castOn;
  const made: PlanRound[] = rounds.map((works, i) => {
    const after = works.reduce((sum, k) => sum + kinds[k].loops.length, 0);
    const round: PlanRound = {
      n: i + 1,
      label: `Round ${i + 1}`,
      wrongSide: worked === 'flat' && (i % 2 === 1) !== (options.firstWrong ?? false),
      before,
      after,
      works: Int16Array.from(works),
      stated: null,
      markers: new Int32Array(0),
      from: at,
      to: at,
    };
    before = after;
    return round;
  });
  return {
    version: 1,
    text: '',
    title: '',
    yarn: null,
    gauges: [],
    needles: null,
    worked,
    join: { method: options.method ?? 'plain', halfTurns: options.halfTurns ?? 0 },
    seam: options.seam ?? null,
    castOn,
    castOnAt: at,
    rounds: made,
    ending: options.ending ?? 'live',
    kinds,
    diagnostics: [],
  };
}

/** Stitch ids from words: `k3 2/2 LC yo` (a trailing count repeats the stitch). */
export function works(words: string): number[] {
  const out: number[] = [];
  const pattern = /(\d\/\d [LR]C|k2tog|k3tog|ktbl|kfb|kpk|sssk|ssk|s2kp|m1|yo|sl|bo|k|p)(\d*)\s*/gy;
  let end = 0;
  for (let m = pattern.exec(words); m; m = pattern.exec(words)) {
    const id = KINDS.findIndex((k) => k.name === m[1]);
    for (let i = 0; i < Number(m[2] || 1); i++) out.push(id);
    end = pattern.lastIndex;
  }
  if (end !== words.length) throw new Error(`cannot read "${words.slice(end)}"`);
  return out;
}

export function planOf(castOn: number, rounds: readonly string[], options: PlanOptions = {}): Plan {
  return makePlan(castOn, rounds.map(works), options);
}

/** The plan seen in a mirror: rounds worked the other way, leaning stitches leaning the other way. */
export function mirrorPlan(plan: Plan): Plan {
  const kinds: StitchKind[] = [
    ...plan.kinds,
    { ...KINDS.find((k) => k.name === 's2kp')!, name: 's2kp mirrored', loops: [loop([1, 2, 0])] },
  ];
  const other = kinds.map((k) => kinds.findIndex((o) => o.name === (MIRRORED[k.name] ?? k.name)));
  const rounds = plan.rounds.map((r) => [...r.works].reverse().map((k) => other[k]));
  return makePlan(plan.castOn, rounds, { worked: plan.worked, ending: plan.ending }, kinds);
}

/** The same fabric worked flat: wrong-side rows turned over, one seam stitch added at either edge. */
export function flatten(plan: Plan, begin: number, end: number): Plan {
  const kinds = plan.kinds.flatMap((k) => [k, turnedOver(k)]);
  const rounds = plan.rounds.map((r, i) => {
    const seam = (n: number) => Array.from({ length: n }, () => 2 * KNIT);
    const row = [...seam(begin), ...[...r.works].map((k) => 2 * k), ...seam(end)];
    return i % 2 === 0 ? row : row.reverse().map((k) => k + 1);
  });
  const options: PlanOptions = { worked: 'flat', seam: { begin, end }, ending: plan.ending };
  return makePlan(plan.castOn + begin + end, rounds, options, kinds);
}

/** How a stitch is worked so that the other side shows it. */
function turnedOver(k: StitchKind): StitchKind {
  const flip = (i: number) => k.consumes - 1 - i;
  return {
    ...k,
    name: `${k.name} from behind`,
    crossing: k.crossing && { ...k.crossing, over: k.crossing.under, under: k.crossing.over },
    slipped: k.slipped === 0 ? 0 : k.slipped === 1 ? -1 : 1,
    // Seen from behind, back is front and the first stitch is the last.
    loops: k.loops.toReversed().map((l) => ({
      ...l,
      face: l.face === 1 ? -1 : 1,
      parents: l.parents.map(flip).reverse(),
    })),
  };
}

const KNIT = 0;

/** Rounds that fit a needle of `castOn` loops and never leave fewer than `least` (or more than 40). */
export function arbitraryRounds(castOn: number, least: number, most = 8) {
  return fc
    .array(fc.array(fc.nat({ max: 9999 }), { minLength: 64, maxLength: 64 }), {
      minLength: 1,
      maxLength: most,
    })
    .map((dice) => {
      let count = castOn;
      return dice.map((throws) => {
        const round: number[] = [];
        let left = count;
        let made = 0;
        let t = 0;
        while (left > 0) {
          const choices = KINDS.map((_, i) => i).filter((i) => {
            const k = KINDS[i];
            const after = made + k.loops.length + (left - k.consumes);
            return k.loops.length > 0 && k.consumes <= left && after >= least && after <= 40;
          });
          const next = throws[t++ % throws.length];
          // Half plain stitches, so that rounds resemble knitting.
          const pick = next % 2 === 0 ? KNIT : choices[(next >> 1) % choices.length];
          const k = t > 60 ? KNIT : pick;
          round.push(k);
          left -= KINDS[k].consumes;
          made += KINDS[k].loops.length;
        }
        count = made;
        return round;
      });
    });
}

export function arbitraryPlan(options: PlanOptions, least = 4): fc.Arbitrary<Plan> {
  return fc
    .integer({ min: Math.max(least, 4), max: 24 })
    .chain((castOn) =>
      arbitraryRounds(castOn, least).map((rounds) => makePlan(castOn, rounds, options)),
    );
}
