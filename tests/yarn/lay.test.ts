/** Yarn laid on small pieces: continuous, and every loop drawn through its parents as the graph says. */
import { describe, expect, it } from 'vitest';
import { knit, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import { HEAD_SHARE, NARROW_SHARE, type PointOf, signedPiercings } from '../../src/rod/linking.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { type SmallPiece, smallPiece } from './small-piece.ts';

const PIECES: Readonly<Record<string, SmallPiece>> = {
  'stockinette in the round': { castOn: 16, rounds: ['k*16', 'k*16', 'k*16'], worked: 'round' },
  'stockinette in rows': { castOn: 8, rounds: ['k*8', 'p*8', 'k*8', 'p*8'], worked: 'flat' },
  'garter in rows': { castOn: 8, rounds: ['k*8', 'k*8', 'k*8', 'k*8'], worked: 'flat' },
  'garter in the round': { castOn: 16, rounds: ['k*16', 'p*16', 'k*16'], worked: 'round' },
  'rib in rows': {
    castOn: 6,
    rounds: ['k,p,k,p,k,p', 'k,p,k,p,k,p', 'k,p,k,p,k,p'],
    worked: 'flat',
  },
  'seed in rows': { castOn: 5, rounds: ['k,p,k,p,k', 'k,p,k,p,k', 'k,p,k,p,k'], worked: 'flat' },
  k2tog: { castOn: 8, rounds: ['k*8', 'p*8', 'k*3,k2tog,k*3', 'p*7', 'k*7'], worked: 'flat' },
  ssk: { castOn: 8, rounds: ['k*8', 'p*8', 'k*3,ssk,k*3', 'p*7', 'k*7'], worked: 'flat' },
  p2tog: { castOn: 8, rounds: ['p*8', 'k*8', 'p*3,p2tog,p*3', 'k*7', 'p*7'], worked: 'flat' },
  'centred double decrease': {
    castOn: 9,
    rounds: ['k*9', 'p*9', 'k*3,s2kp,k*3', 'p*7', 'k*7'],
    worked: 'flat',
  },
  'yarn over': { castOn: 8, rounds: ['k*8', 'p*8', 'k*4,yo,k*4', 'p*9', 'k*9'], worked: 'flat' },
  'make one': { castOn: 8, rounds: ['k*8', 'p*8', 'k*4,m1l,k*4', 'p*9', 'k*9'], worked: 'flat' },
  kfb: { castOn: 8, rounds: ['k*8', 'p*8', 'k*3,kfb,k*4', 'p*9', 'k*9'], worked: 'flat' },
  'knit through the back': {
    castOn: 8,
    rounds: ['k*8', 'p*8', 'k*3,ktbl*2,k*3', 'p*8'],
    worked: 'flat',
  },
  slipped: { castOn: 8, rounds: ['k*8', 'p*8', 'k*3,sl1 wyib,k*4', 'p*8', 'k*8'], worked: 'flat' },
  'slipped twice': {
    castOn: 8,
    rounds: ['k*8', 'p*8', 'k*3,sl1 wyib,k*4', 'p*4,sl1 wyif,p*3', 'k*8', 'p*8'],
    worked: 'flat',
  },
  'cable to the left': {
    castOn: 10,
    rounds: ['k*10', 'p*10', 'k*3,2/2 LC,k*3', 'p*10', 'k*10'],
    worked: 'flat',
  },
  'cable to the right': {
    castOn: 10,
    rounds: ['k*10', 'p*10', 'k*3,2/2 RC,k*3', 'p*10', 'k*10'],
    worked: 'flat',
  },
  'cable of six': {
    castOn: 12,
    rounds: ['k*12', 'p*12', 'k*3,3/3 LC,k*3', 'p*12', 'k*12'],
    worked: 'flat',
  },
  'one over one': {
    castOn: 8,
    rounds: ['k*8', 'p*8', 'k*3,1/1 RC,k*3', 'p*8', 'k*8'],
    worked: 'flat',
  },
  'bound off': { castOn: 8, rounds: ['k*8', 'p*8', 'k*8'], worked: 'flat', ending: 'bound-off' },
};

describe.each(Object.entries(PIECES))('yarn of %s', (_name, piece) => {
  const { graph, cells, positions } = smallPiece(piece);
  const yarn = layYarn(graph, cells, positions);

  it('links every loop with its parents as the graph says', () => {
    expect(yarn.check.linksChecked).toBeGreaterThan(0);
    expect(yarn.check.linksWrong).toBe(0);
  });

  it('runs through no other yarn: centre lines keep a quarter of its thickness apart', () => {
    expect(yarn.check.minCentreDistanceMm).toBeGreaterThan(0.25 * 2 * yarn.radiusMm);
  });

  it('is one strand without jumps or sharp corners', () => {
    expect(yarn.strandStart).toHaveLength(2);
    const { points } = yarn;
    let jump = 0;
    let corner = 1;
    for (let i = 3; i + 5 < points.length; i += 3) {
      const u = [0, 1, 2].map((c) => points[i + c] - points[i - 3 + c]);
      const v = [0, 1, 2].map((c) => points[i + 3 + c] - points[i + c]);
      jump = Math.max(jump, Math.hypot(...u));
      const cos = (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / (Math.hypot(...u) * Math.hypot(...v));
      corner = Math.min(corner, cos);
    }
    expect(Number.isFinite(jump)).toBe(true);
    // A stitch is 5 mm wide; the longest segment is that of a travelling leg or the way to the edge.
    expect(jump).toBeLessThan(6);
    // No segment turns back on the one before.
    expect(corner).toBeGreaterThan(-0.9);
  });

  it('gives every loop its own span of points', () => {
    for (let i = 0; i < graph.loops; i++) {
      expect(yarn.loopStart[i + 1] - yarn.loopStart[i]).toBe(yarn.segmentsPerStitch);
      expect(yarn.loop[yarn.loopStart[i]]).toBe(i);
    }
  });
});

describe('a cable’s strands', () => {
  it.each([
    ['cable to the left', -1],
    ['cable to the right', 1],
  ] as const)('of the %s: the one in front leans that way', (name, direction) => {
    const { graph, cells, positions } = smallPiece(PIECES[name]);
    const yarn = layYarn(graph, cells, positions);
    const middle = (loop: number, from: number, to: number, axis: number) => {
      let sum = 0;
      const first = yarn.loopStart[loop];
      for (let k = from; k < to; k++) sum += yarn.points[3 * (first + k) + axis];
      return sum / (to - from);
    };
    const quarter = yarn.segmentsPerStitch / 4;
    let front = 0;
    let back = 0;
    for (let i = 0; i < graph.loops; i++) {
      if (graph.crossing[i] < 0) continue;
      const parent = graph.parents[graph.parentStart[i]];
      // The parent's legs travel in their upper half.
      const z = middle(parent, quarter, 3 * quarter, 2);
      const moved = positions[3 * i] - positions[3 * parent];
      expect(Math.sign(moved)).toBe(graph.layer[i] * direction);
      if (graph.layer[i] > 0) front += z;
      else back += z;
    }
    expect(front).toBeGreaterThan(back + 2 * yarn.radiusMm);
  });
});

describe('a decrease', () => {
  it.each(['k2tog', 'ssk', 'p2tog'])('%s has its front loop in front', (name) => {
    const { graph, cells, positions } = smallPiece(PIECES[name]);
    const yarn = layYarn(graph, cells, positions);
    const child = Array.from({ length: graph.loops }, (_, i) => i).find(
      (i) => graph.parentStart[i + 1] - graph.parentStart[i] === 2,
    ) as number;
    const [front, back] = [0, 1].map((k) => graph.parents[graph.parentStart[child] + k]);
    const head = (loop: number) =>
      yarn.points[3 * (yarn.loopStart[loop] + yarn.segmentsPerStitch / 2) + 2];
    expect(head(front)).toBeGreaterThan(head(back));
  });
});

describe('the tail of work begun at its centre', () => {
  const begun = (castOn: number) => {
    const lines = [
      `Cast on ${castOn} sts. Join in the round.`,
      'Round 1: *k1, m1; rep from * to end.',
    ];
    for (let r = 2; r < 8; r += 2) {
      lines.push(`Round ${r}: knit.`, `Round ${r + 1}: *k${r / 2 + 1}, m1; rep from * to end.`);
    }
    const text = `Gauge: 22 sts and 30 rounds = 10 cm\n${lines.join('\n')}\nBind off.\n`;
    const { knitted } = knit(text, { maxIterations: 200, advise: false });
    if (!knitted) throw new Error('the plan has errors');
    return { knitted, yarn: layYarn(knitted.graph, knitted.cells, knitted.sheet.positions) };
  };

  it.each([6, 8, 12])('draws %i first loops together', (castOn) => {
    const { knitted, yarn } = begun(castOn);
    const { cells, sheet } = knitted;
    const apex = 3 * cells.apex;
    const d = 2 * yarn.radiusMm;
    const away = (at: number) =>
      Math.hypot(...[0, 1, 2].map((c) => yarn.points[3 * at + c] - sheet.positions[apex + c]));
    const tail = Array.from({ length: yarn.loopStart[0] }, (_, k) => k);
    expect(tail.length).toBe((castOn * yarn.segmentsPerStitch) / 2);
    // The circle that two legs a loop leave it, as wide again at most by its bends round them.
    const room = (castOn * 2 * d) / (2 * Math.PI);
    for (const k of tail) expect(away(k)).toBeLessThan(2 * room + d);
    // It holds the sinkers between them: they lie nearer to the centre than it does there.
    for (let i = 1; i < castOn; i++) {
      const over = (i * yarn.segmentsPerStitch) / 2;
      expect(away(yarn.loopStart[i])).toBeLessThan(away(over));
    }
    // One yarn, without a leap from the tail to the first loop.
    expect(yarn.strandStart).toHaveLength(2);
    for (let k = 1; k <= yarn.loopStart[1]; k++) {
      const step = [0, 1, 2].map((c) => yarn.points[3 * k + c] - yarn.points[3 * (k - 1) + c]);
      expect(Math.hypot(...step)).toBeLessThan(4 * d);
    }
    expect(yarn.check.linksWrong).toBe(0);
  });

  it('is none where a square is begun at its rim', () => {
    const { graph, cells, positions } = smallPiece(PIECES['stockinette in the round']);
    expect(layYarn(graph, cells, positions).loopStart[0]).toBe(0);
  });
});

describe('yarn of a whole square', () => {
  const text = `Gauge: 20 sts and 28 rounds = 10 cm
Cast on 72 sts. Join in the round.
Round 1: knit.
Round 2: *ssk, k14, k2tog; rep from * 3 times more.
Round 3: *ssk, k12, k2tog; rep from * 3 times more.
Round 4: *ssk, k10, k2tog; rep from * 3 times more.
Round 5: knit.
Round 6: *ssk, k8, k2tog; rep from * 3 times more.
Round 7: *ssk, k6, k2tog; rep from * 3 times more.
Round 8: *ssk, k4, k2tog; rep from * 3 times more.
Round 9: knit.
Round 10: *ssk, k2, k2tog; rep from * 3 times more.
Cut the yarn and draw it through the remaining sts.
`;
  const { knitted } = knit(text, { maxIterations: 200, advise: false });
  if (!knitted) throw new Error('the plan has errors');
  const yarn = layYarn(knitted.graph, knitted.cells, knitted.sheet.positions);

  it('is drawn through all its loops, crowded corners included', () => {
    expect(yarn.check.linksChecked).toBe(knitted.graph.parents.length);
    expect(yarn.check.linksWrong).toBe(0);
  });

  it('keeps apart where it is drawn up and where rounds begin', () => {
    expect(yarn.check.minCentreDistanceMm).toBeGreaterThan(0.25 * 2 * yarn.radiusMm);
  });

  it('takes about the yarn that plain knitting is published to take: 4.1 stitch widths a stitch', () => {
    const perStitch = yarn.lengthMm / knitted.graph.loops / 5;
    // 15 %: laid, not relaxed, and the square is small, so its corners and rim weigh much.
    expect(Math.abs(perStitch / 4.1 - 1)).toBeLessThan(0.15);
  });

  it('refuses yarn without thickness and odd segment counts', () => {
    const { graph, cells, sheet } = knitted;
    expect(() => layYarn(graph, cells, sheet.positions, { yarnMm: 0 })).toThrow(/thickness/);
    expect(() => layYarn(graph, cells, sheet.positions, { segmentsPerStitch: 10 })).toThrow(
      /multiple/,
    );
  });
});

describe('the yarn’s end drawn through the last loops', () => {
  const closing = (castOn: number, rounds: string) =>
    `Gauge: 20 sts and 27 rounds to 10 cm\nCast on ${castOn} sts and join in the round.\n${rounds}\nDraw yarn through remaining sts.`;
  it.each([
    [
      '8 of a square',
      closing(24, 'Round 1: (ssk, k2, k2tog) 4 times.\nRound 2: (ssk, k2tog) 4 times.'),
    ],
    [
      '16 of a square',
      closing(32, 'Round 1: (ssk, k4, k2tog) 4 times.\nRound 2: (ssk, k2, k2tog) 4 times.'),
    ],
    ['the 24 loops of a disc', closing(32, 'Knit 2 rounds.\nRound 3: (k2, k2tog) 8 times.')],
    ['the 24 loops of a tube', closing(24, 'Knit 3 rounds.')],
    ['the 36 loops of a tube', closing(36, 'Knit 3 rounds.')],
  ])('passes once through %s, and runs through no other yarn', (_name, text) => {
    const { graph, cells, measured } = prepare(parsePlan(text));
    const yarn = layYarn(graph, cells, relaxSheet(measured.metric).positions);
    expect(yarn.check.linksWrong).toBe(0);
    // Crowded, but apart: measured 0.2–0.5 of its thickness.
    expect(yarn.check.minCentreDistanceMm).toBeGreaterThan(0.15 * 2 * yarn.radiusMm);
    const segments = yarn.segmentsPerStitch;
    const at =
      (first: number): PointOf =>
      (k, out) => {
        for (let c = 0; c < 3; c++) out[c] = yarn.points[3 * (first + k) + c];
      };
    const thread = graph.loops * segments;
    const length = yarn.points.length / 3 - thread;
    for (let i = graph.start[graph.courses - 1]; i < graph.loops; i++) {
      const piercings = [HEAD_SHARE, NARROW_SHARE].map((share) => {
        const reach = Math.round(share * segments);
        const head = at(yarn.loopStart[i] + segments / 2 - reach);
        return signedPiercings(head, 2 * reach + 1, at(thread), length);
      });
      expect(piercings).toEqual([1, 1]);
    }
  });
});

describe('yarn of a centre that closes by double decreases', () => {
  // The last rounds gather sixteen stitches into eight away from the corners, beside where rounds begin.
  const { knitted } = knit(
    `Gauge: 21 sts and 28 rounds = 10 cm
Cast on 64 sts. Join in the round.
Round 1: *p1, k1, p1, k1, p1, k4, s2kp, k4; rep from * 3 times more. (56 sts)
Round 2: *p1, k1, p1, k1, p1, k3, s2kp, k3; rep from * 3 times more. (48 sts)
Round 3: *p1, k1, p1, k1, p1, k2, s2kp, k2; rep from * 3 times more. (40 sts)
Round 4: *[p1, k1] 3 times, s2kp, k1; rep from * 3 times more. (32 sts)
Round 5: *p1, k1, p1, k1, p1, s2kp; rep from * 3 times more. (24 sts)
Round 6: *ssk, p1, k2tog, k1; rep from * 3 times more. (16 sts)
Round 7: *s2kp, k1; rep from * 3 times more. (8 sts)
Cut the yarn and draw it through the remaining sts.
`,
    { advise: false },
  );

  it('is drawn through all its loops', () => {
    if (!knitted) throw new Error('the plan has errors');
    const yarn = layYarn(knitted.graph, knitted.cells, knitted.sheet.positions);
    expect(yarn.check.linksWrong).toBe(0);
    expect(yarn.check.minCentreDistanceMm).toBeGreaterThan(0.25 * 2 * yarn.radiusMm);
  });
});
