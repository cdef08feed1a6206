/** Rods against closed forms (REFERENCES section 10), and the laws every energy must keep. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { closestPoints, contactEnergy, emptyContactState } from '../../src/rod/contact.ts';
import type { ContactLaw } from '../../src/rod/contact-law.ts';
import { arcGap, emptyPairList, findPairs } from '../../src/rod/pair-list.ts';
import { type RodMaterial, relaxRods } from '../../src/rod/relax-rods.ts';
import { elasticEnergy } from '../../src/rod/rod-elasticity.ts';
import { buildRodSystem } from '../../src/rod/rod-system.ts';

const BARE: RodMaterial = { stretch: 2e4, bending: 1, contact: 0, diameter: 1, plane: 0 };

/** Rod of unit length along x, clamped at x = 0: the first segment lies half inside the wall. */
function cantilever(segments: number, force: [number, number], kick = 0, tolerance = 1e-6) {
  const h = 1 / (segments - 0.5);
  const points: number[] = [];
  for (let k = 0; k <= segments; k++) {
    const x = (k - 0.5) * h;
    points.push(x, kick * Math.max(x, 0) ** 2, 0);
  }
  const rest = new Float64Array(segments).fill(h);
  const { system, positions } = buildRodSystem([{ points, closed: false, rest }]);
  const held = new Uint8Array(system.nodes);
  held[0] = held[1] = 7;
  positions[4] = 0;
  const load = new Float64Array(3 * system.nodes);
  load[3 * segments] = force[0];
  load[3 * segments + 1] = force[1];
  const run = relaxRods(
    {
      system,
      positions,
      period: new Float64Array(2),
      freePeriod: [false, false],
      held,
      load,
      extra: null,
    },
    { material: BARE, tolerance, maxIterations: 60000, maxMove: 0.1 },
  );
  return { x: positions[3 * segments], y: positions[3 * segments + 1], run };
}

describe('a rod without contact', () => {
  // P L²/B, tip deflection, tip shortening: Bisshopp & Drucker 1945, recomputed in REFERENCES 10.
  it.each([
    [0.5, 0.16214, 0.01592],
    [2, 0.49346, 0.16064],
    [10, 0.81061, 0.555],
  ])('bends under an end load of %f as the large-deflection cantilever', (load, down, back) => {
    const tip = cantilever(40, [0, load]);
    expect(tip.run.converged).toBe(true);
    // 0.4 %: second order in 1/40, and stretch 10/2e4.
    expect(tip.y).toBeGreaterThan(down * 0.996);
    expect(tip.y).toBeLessThan(down * 1.004);
    expect(1 - tip.x).toBeCloseTo(back, 2);
  });

  it('converges to the cantilever with the second order of the segment length', () => {
    const error = [10, 20].map((n) => Math.abs(cantilever(n, [0, 2], 0, 1e-6).y - 0.49346));
    expect(error[0] / error[1]).toBeGreaterThan(3);
    expect(error[0] / error[1]).toBeLessThan(5.5);
  });

  it('stays straight below the Euler load and buckles above it', () => {
    const critical = Math.PI ** 2 / 4;
    expect(Math.abs(cantilever(24, [-0.95 * critical, 0], 0.02).y)).toBeLessThan(1e-3);
    expect(Math.abs(cantilever(24, [-1.05 * critical, 0], 0.02).y)).toBeGreaterThan(0.3);
  });

  // P/Pcr, x/L, y/L of the clamped elastica at tip angles 60°, 100°.
  it.each([
    [1.1517, 0.741, 0.5932],
    [1.5184, 0.349, 0.7915],
  ])('follows the elastica at %f times the Euler load', (ratio, x, y) => {
    const tip = cantilever(48, [(-ratio * Math.PI ** 2) / 4, 0], 0.05);
    expect(tip.x).toBeCloseTo(x, 2);
    expect(tip.y).toBeCloseTo(y, 2);
  });

  it('closes to a ring of energy 2π²B/L', () => {
    const n = 60;
    const points: number[] = [];
    for (let k = 0; k < n; k++) {
      const a = (2 * Math.PI * k) / n;
      // Starts as an ellipse.
      points.push(0.2 * Math.cos(a), 0.1 * Math.sin(a), 0);
    }
    const rest = new Float64Array(n).fill(1 / n);
    const { system, positions } = buildRodSystem([{ points, closed: true, rest }]);
    const run = relaxRods(
      {
        system,
        positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held: null,
        load: null,
        extra: null,
      },
      { material: BARE, tolerance: 1e-5, maxIterations: 20000, maxMove: 0.02 },
    );
    expect(run.converged).toBe(true);
    expect(run.energy / (2 * Math.PI ** 2)).toBeCloseTo(1, 2);
  });
});

describe('a string without bending', () => {
  // Length over span, sag, end tension over weight: the catenary.
  it.each([
    [1.25, 0.331797, 0.603639],
    [1.5, 0.502633, 0.54058],
  ])('of %f times its span hangs as the catenary', (length, sag, tension) => {
    const n = 60;
    const points: number[] = [];
    for (let k = 0; k <= n; k++) points.push(k / n, -Math.sin((Math.PI * k) / n) * 0.3, 0);
    const rest = new Float64Array(n).fill(length / n);
    const { system, positions } = buildRodSystem([{ points, closed: false, rest }]);
    const held = new Uint8Array(n + 1);
    held[0] = held[n] = 7;
    const load = new Float64Array(3 * n + 3);
    for (let k = 0; k <= n; k++) load[3 * k + 1] = -system.share[k];
    const run = relaxRods(
      {
        system,
        positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held,
        load,
        extra: null,
      },
      {
        material: { ...BARE, bending: 0, stretch: 2000 },
        tolerance: 1e-6,
        maxIterations: 60000,
        maxMove: 0.05,
      },
    );
    expect(run.converged).toBe(true);
    expect(-positions[3 * (n / 2) + 1]).toBeCloseTo(sag, 2);
    const end = Math.hypot(positions[3] - positions[0], positions[4] - positions[1]);
    const pull = (2000 * (end - rest[0])) / rest[0];
    // The end segment hangs half a segment below the pin.
    expect(pull / length).toBeCloseTo(tension, 1);
    expect(Math.abs(pull / length / tension - 1)).toBeLessThan(0.02);
  });
});

/** Two wavy periodic strands, one over the other, near contact. */
function tangle(seed: readonly number[], law: ContactLaw = 'shell', smooth = 0) {
  const n = 14;
  const strand = (shift: number) => {
    const points: number[] = [];
    for (let k = 0; k < n; k++) {
      const noise = seed[(k + 7 * shift) % seed.length] * 0.15;
      points.push(
        (3 * k) / n + noise,
        shift + 0.6 * Math.sin((2 * Math.PI * k) / n) + noise,
        0.4 * Math.cos((6 * Math.PI * k) / n) - noise,
      );
    }
    return { points, closed: true, image: [1, 0] as const, rest: new Float64Array(n).fill(0.3) };
  };
  const { system, positions } = buildRodSystem([strand(0), strand(1)]);
  const period = Float64Array.from([3, 2]);
  const pairs = emptyPairList();
  const D = 0.9;
  const tangents = new Float64Array(4 * system.segments);
  const energy = (x: Float64Array, p: Float64Array, g: Float64Array, pg: Float64Array) => {
    g.fill(0);
    pg.fill(0);
    findPairs(system, x, p, { reach: D + 0.2, exclusion: 1.25 * D }, pairs);
    const place = { positions: x, period: p, gradient: g, periodGradient: pg, tangents };
    const contact = { contact: 3, diameter: D, law, smooth };
    return (
      elasticEnergy(system, { stretch: 50, bending: 1 }, place) +
      contactEnergy(system, pairs, contact, place, emptyContactState())
    );
  };
  return { system, positions, period, pairs, energy };
}

const seeds = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
  minLength: 14,
  maxLength: 14,
});

describe('the energy of touching yarns', () => {
  it.each([
    ['shell', 'shell', 0],
    ['springs', 'springs', 0],
    ['fibres', 'fibres', 0],
    ['smoothed shell', 'shell', 0.04],
  ] as const)(
    'has the gradient that finite differences give, periods included: %s contact',
    (_name, law, smooth) => {
      fc.assert(
        fc.property(seeds, fc.nat(1e6), (seed, pick) => {
          const t = tangle(seed, law, smooth);
          const g = new Float64Array(t.positions.length);
          const pg = new Float64Array(2);
          const scrap = new Float64Array(g.length);
          const scrapP = new Float64Array(2);
          const base = t.energy(t.positions, t.period, g, pg);
          const step = 1e-6;
          const i = pick % g.length;
          const x = t.positions.slice();
          x[i] += step;
          const up = t.energy(x, t.period, scrap, scrapP);
          x[i] -= 2 * step;
          const down = t.energy(x, t.period, scrap, scrapP);
          const slope = (up - down) / (2 * step);
          const scale = 1e-4 * (1 + Math.abs(g[i]) + base * 0.01);
          // Where closest points jump (parallel segments) the one-sided slopes differ.
          const kink = Math.abs(up - 2 * base + down) / step;
          expect(Math.abs(slope - g[i])).toBeLessThan(scale + kink);
          const p = t.period.slice();
          p[pick % 2] += step;
          const wide = t.energy(t.positions, p, scrap, scrapP);
          p[pick % 2] -= 2 * step;
          const narrow = t.energy(t.positions, p, scrap, scrapP);
          expect(Math.abs((wide - narrow) / (2 * step) - pg[pick % 2])).toBeLessThan(
            1e-4 * (1 + Math.abs(pg[pick % 2])) +
              base * 1e-6 +
              Math.abs(wide - 2 * base + narrow) / step,
          );
        }),
        { seed: 7, numRuns: 60 },
      );
    },
  );

  // φ = k (D/r)⁴ over two long crossing lines: ∫∫ dx dy k D⁴/(r² + x² + y²)² = π k D⁴/r², force 2π k D⁴/r³.
  it('of fibres presses crossing yarns apart as the inverse cube of their distance (van Wyk)', () => {
    const reach = 40;
    const n = 240;
    const force = (apart: number) => {
      const line = (axis: 0 | 1, z: number) => {
        const points = new Float64Array(3 * n + 3);
        for (let k = 0; k <= n; k++) {
          points[3 * k + axis] = 16 * (k / n - 0.5);
          points[3 * k + 2] = z;
        }
        return { points, closed: false };
      };
      const { system, positions } = buildRodSystem([line(0, 0), line(1, apart)]);
      const g = new Float64Array(positions.length);
      const tangents = new Float64Array(4 * system.segments);
      const p = new Float64Array(2);
      const place = { positions, period: p, gradient: g, periodGradient: p.slice(), tangents };
      elasticEnergy(system, { stretch: 0, bending: 0 }, place);
      g.fill(0);
      const pairs = emptyPairList();
      findPairs(system, positions, p, { reach, exclusion: 1e9 }, pairs);
      const contact = { contact: 1, diameter: reach, law: 'fibres', smooth: 1 } as const;
      contactEnergy(system, pairs, contact, place, emptyContactState());
      let sum = 0;
      for (let i = 3 * (n + 1) + 2; i < g.length; i += 3) sum -= g[i];
      return sum / reach ** 4;
    };
    // Segments reach a little nearer than their middles, which presses harder: by 2δ/r for δ = 0.05.
    for (const apart of [0.8, 1, 1.4]) {
      const excess = (force(apart) * apart ** 3) / (2 * Math.PI) - 1;
      expect(excess).toBeGreaterThan(-0.02);
      expect(excess).toBeLessThan(0.1 / apart);
    }
  });

  it('gives forces and torques that cancel (Newton’s third law)', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const t = tangle(seed);
        const g = new Float64Array(t.positions.length);
        t.energy(t.positions, t.period, g, new Float64Array(2));
        let size = 0;
        const sum = [0, 0, 0];
        for (let i = 0; i < g.length; i++) {
          sum[i % 3] += g[i];
          size += Math.abs(g[i]);
        }
        for (const s of sum) expect(Math.abs(s)).toBeLessThan(1e-12 * size + 1e-12);
      }),
      { seed: 8, numRuns: 40 },
    );
  });

  it('finds by cells exactly the pairs that looking at all pairs finds', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { system, positions, period, pairs } = tangle(seed);
        findPairs(system, positions, period, { reach: 0.7, exclusion: 0.8 }, pairs);
        const found = new Set<string>();
        for (let k = 0; k < pairs.count; k++) {
          const key = [pairs.first[k], pairs.second[k], pairs.imageX[k], pairs.imageY[k]].join();
          expect(found.has(key)).toBe(false);
          found.add(key);
        }
        const at = (s: number, end: boolean, ix: number, iy: number) => {
          const i = 3 * (end ? system.head[s] : system.tail[s]);
          const wrapX = end ? system.imageX[s] : 0;
          return [
            positions[i] + (ix + wrapX) * period[0],
            positions[i + 1] + iy * period[1],
            positions[i + 2],
          ];
        };
        for (let s = 0; s < system.segments; s++) {
          for (let q = s; q < system.segments; q++) {
            for (let ix = -3; ix <= 3; ix++) {
              for (let iy = -3; iy <= 3; iy++) {
                if (q === s && (ix < 0 || (ix === 0 && iy <= 0))) continue;
                const p0 = at(s, false, 0, 0);
                const p1 = at(s, true, 0, 0);
                const q0 = at(q, false, ix, iy);
                const q1 = at(q, true, ix, iy);
                const u = p1.map((v, c) => v - p0[c]);
                const v = q1.map((w, c) => w - q0[c]);
                const w = q0.map((z, c) => z - p0[c]);
                const near = { s: 0, t: 0 };
                closestPoints(u[0], u[1], u[2], v[0], v[1], v[2], w[0], w[1], w[2], near);
                const r = Math.hypot(...w.map((z, c) => z + near.t * v[c] - near.s * u[c]));
                if (r < 0.7 && arcGap(system, s, q, ix, iy) >= 0.8) {
                  expect(found.has([s, q, ix, iy].join())).toBe(true);
                }
              }
            }
          }
        }
      }),
      { seed: 9, numRuns: 6 },
    );
  });
});

describe('two crossed yarns', () => {
  const pressed = () => {
    const line = (y: boolean, z: number) => {
      const points: number[] = [];
      for (let k = -10; k <= 10; k++) points.push(y ? 0 : k / 4, y ? k / 4 : 0, z);
      return { points, closed: false };
    };
    const { system, positions } = buildRodSystem([line(false, 0), line(true, 1.05)]);
    const load = new Float64Array(3 * system.nodes);
    load[3 * 10 + 2] = 6;
    load[3 * 31 + 2] = -6;
    const held = new Uint8Array(system.nodes);
    held[0] = held[20] = held[21] = held[41] = 7;
    const run = relaxRods(
      {
        system,
        positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held,
        load,
        extra: null,
      },
      {
        material: { stretch: 400, bending: 1, contact: 10, diameter: 1, plane: 0 },
        tolerance: 1e-4,
        maxIterations: 5000,
        maxMove: 0.12,
      },
    );
    return { run, positions };
  };

  it('pressed hard against each other do not pass through each other', () => {
    const { run, positions } = pressed();
    expect(run.converged).toBe(true);
    expect(run.tunnelFree).toBe(true);
    expect(positions[3 * 31 + 2] - positions[3 * 10 + 2]).toBeGreaterThan(0.6);
    expect(run.closest).toBeGreaterThan(0.6);
  });
});
