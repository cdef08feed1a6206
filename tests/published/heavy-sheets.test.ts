/**
 * Sheets under their own weight against the heavy elastica: a strip clamped at one end sags as
 * B θ″ = −q (L − s) cos θ, θ(0) = 0, θ′(L) = 0 says (textbook; small deflection q L⁴ / 8B), and a strip on end
 * stands until q L³ / B = 7.83735 (A. G. Greenhill, 1881). Lengths over ℓ = (B/q)^⅓.
 * Tolerance: twenty rounds a strip, its clamp between two of them: 3 % on the drop, 10 % on the load.
 */
import { describe, expect, it } from 'vitest';
import type { Metric } from '../../src/gauge/metric.ts';
import { planTopology } from '../../src/relax/energy/stiffness.ts';
import { SheetPreconditioner } from '../../src/relax/solver/preconditioner.ts';
import { settleSheet } from '../../src/relax/table/settle-sheet.ts';
import { swatchMetric } from '../relax/metric-fixtures.ts';

const STITCH = 5;
const ROUND = 4;
const ROWS = 22;
/** From midway between the held rows, where the first bend begins, to the free end. */
const LENGTH = (ROWS - 1.5) * ROUND;

const strip = swatchMetric({ stitches: 5, rows: ROWS, stitchMm: STITCH, roundMm: ROUND });

/** Depth of each vertex along the strip, mm. */
const along = (metric: Metric, v: number) => metric.ring.depthMm[v];

/** Tip drop over length of the heavy elastica, by shooting with fourth-order Runge–Kutta. */
function heavyElastica(ratio: number): number {
  // Unknown: curvature at the clamp. In units of the length, q L³ / B = ratio³.
  const shoot = (curvature: number): { end: number; drop: number } => {
    const steps = 400;
    const h = 1 / steps;
    let [theta, kappa, drop] = [0, curvature, 0];
    const slope = (s: number, t: number): number => -(ratio ** 3) * (1 - s) * Math.cos(t);
    for (let k = 0; k < steps; k++) {
      const s = k * h;
      const k1 = [kappa, slope(s, theta), Math.sin(theta)];
      const k2 = [
        kappa + (h / 2) * k1[1],
        slope(s + h / 2, theta + (h / 2) * k1[0]),
        Math.sin(theta + (h / 2) * k1[0]),
      ];
      const k3 = [
        kappa + (h / 2) * k2[1],
        slope(s + h / 2, theta + (h / 2) * k2[0]),
        Math.sin(theta + (h / 2) * k2[0]),
      ];
      const k4 = [kappa + h * k3[1], slope(s + h, theta + h * k3[0]), Math.sin(theta + h * k3[0])];
      theta += (h / 6) * (k1[0] + 2 * k2[0] + 2 * k3[0] + k4[0]);
      kappa += (h / 6) * (k1[1] + 2 * k2[1] + 2 * k3[1] + k4[1]);
      drop += (h / 6) * (k1[2] + 2 * k2[2] + 2 * k3[2] + k4[2]);
    }
    return { end: kappa, drop };
  };
  let [low, high] = [0, 10 * ratio ** 3 + 10];
  for (let k = 0; k < 80; k++) {
    const mid = (low + high) / 2;
    if (shoot(mid).end < 0) low = mid;
    else high = mid;
  }
  return shoot((low + high) / 2).drop;
}

/** The strip with its first two rows held, under q = ratio³ B / L³; `upright` stands it on end. */
function settled(ratio: number, upright: boolean) {
  const bending = strip.bendingMm ** 2;
  const q = (ratio ** 3 * bending) / LENGTH ** 3;
  const held = Uint8Array.from({ length: strip.vertices }, (_, v) =>
    along(strip, v) <= ROUND * 1.01 ? 1 : 0,
  );
  const from = new Float64Array(3 * strip.vertices);
  for (let v = 0; v < strip.vertices; v++) {
    const s = along(strip, v) - ROUND;
    from[3 * v] = (strip.ring.turn[v] - 0.5) * 5 * STITCH;
    // On end it leans a little, so that it may fall.
    from[3 * v + 1] = upright ? (0.02 * Math.max(0, s) ** 2) / LENGTH : s;
    from[3 * v + 2] = upright ? s : 0;
  }
  const preconditioner = new SheetPreconditioner(strip, planTopology(strip));
  const found = settleSheet(
    strip,
    preconditioner,
    from,
    { loadMm: strip.areaMm2.map((area) => q * area), friction: 0 },
    { table: false, held, tolerance: 1e-7, maxIterations: 3000 },
  );
  let tip = 0;
  for (let v = 1; v < strip.vertices; v++) if (along(strip, v) > along(strip, tip)) tip = v;
  return { found, tip: [...found.positions.subarray(3 * tip, 3 * tip + 3)] };
}

describe('a strip clamped at one end', () => {
  it('of the closed form itself sags by q L⁴ / 8B where it sags little', () => {
    expect(heavyElastica(0.3) / (0.3 ** 3 / 8)).toBeCloseTo(1, 2);
  });

  it.each([1, 1.5, 2, 3, 4])('sags like the heavy elastica at L/ℓ = %f', (ratio) => {
    const { found, tip } = settled(ratio, false);
    expect(found.converged).toBe(true);
    const drop = -tip[2] / LENGTH;
    expect(Math.abs(drop / heavyElastica(ratio) - 1)).toBeLessThan(0.03);
  });
});

describe('a strip stood on end', () => {
  it('stands below the load of Greenhill and falls above it', () => {
    const stands = settled(Math.cbrt(0.9 * 7.83735), true);
    const falls = settled(Math.cbrt(1.1 * 7.83735), true);
    expect(Math.abs(stands.tip[1])).toBeLessThan(0.01 * LENGTH);
    expect(Math.abs(falls.tip[1])).toBeGreaterThan(0.2 * LENGTH);
  });
});
