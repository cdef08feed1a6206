import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { restAreas } from '../../src/relax/energy/unfolded.ts';
import { pressRings } from '../../src/relax/flatness/press-rings.ts';
import { misfitOf, pressSheet } from '../../src/relax/flatness/press-sheet.ts';
import { relaxInAir, relaxSheet } from '../../src/relax/relax-sheet.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { motifText } from '../gauge/motif-texts.ts';
import { closely } from '../runs.ts';

/** A garter square that loses a stitch at both ends of a side on every second round. */
function square(aspect: number) {
  const text = motifText({
    sides: 4,
    side: 40,
    every: [2],
    corner: 'paired',
    garter: true,
    stitchMm: 4,
    roundMm: 4 * aspect,
  });
  return prepare(parsePlan(text));
}

/** Closed form: Θ = 2 s·atan(d w / 2h) with s = 4 corners and d = 1 stitch a side and round. */
const misfitAt = (aspect: number) =>
  Math.abs((8 * Math.atan(1 / (2 * aspect))) / (2 * Math.PI) - 1);

describe('a square pressed flat', () => {
  it('stays in its plane', () => {
    const { positions, converged } = pressSheet(square(0.52).measured.metric);
    expect(converged).toBe(true);
    for (let z = 2; z < positions.length; z += 3) expect(positions[z]).toBe(0);
  });

  it('is pressed the same by the solver that brought it to rest standing up', () => {
    const plan = `Gauge: 19.63 sts and 39.25 rounds = 10 cm
Cast on 25 sts.
Round 1: k1, k2tog, k4, k2tog, k5, k2tog, k4, k2tog, k3.
Round 2: k2tog, k3, k2tog, k4, k2tog, k3, k2tog, k3.
Round 3: k2tog, k2, k2tog, k3, k2tog, k2, k2tog, k2.
Round 4: k2tog, k1, k2tog, k2, k2tog, k1, k2tog, k1.
Round 5: k2tog, k1, k2tog, k2tog, k2tog.
Draw the yarn through the remaining sts.`;
    for (const text of [plan, plan.replace('39.25', '46')]) {
      const { metric } = prepare(parsePlan(text)).measured;
      const rest = relaxInAir(metric);
      const anew = pressSheet(metric);
      const again = pressSheet(metric, rest.solver ?? undefined);
      expect(anew.energy).toBeGreaterThan(1.005 * rest.sheet.relaxation.energy);
      expect(again.energy / anew.energy).toBeCloseTo(1, 6);
      for (let z = 2; z < again.positions.length; z += 3) expect(again.positions[z]).toBe(0);
    }
  });

  it.runIf(closely)('does not fold over its middle, however deep a cup it is', () => {
    // Loses a stitch where two would lie flat: by its springs alone triangles lie turned over.
    const { graph, cells, measured } = square(1.05);
    const { metric } = measured;
    const least = ({ positions: x, converged }: ReturnType<typeof pressSheet>) => {
      expect(converged).toBe(true);
      const areas = restAreas(metric);
      const shares = Array.from(areas, (rest, t) => {
        const [a, b, c] = metric.triangles.subarray(3 * t, 3 * t + 3).map((vertex) => 3 * vertex);
        const area =
          ((x[b] - x[a]) * (x[c + 1] - x[a + 1]) - (x[c] - x[a]) * (x[b + 1] - x[a + 1])) / 2;
        return area / Math.max(rest, 1e-9);
      });
      return Math.min(...shares);
    };
    const slipped = pressSheet(metric);
    const open = pressSheet(metric, undefined, true);
    expect(least(slipped)).toBeLessThan(0);
    expect(least(open)).toBeGreaterThan(0.02);
    // Then its yarn runs through its loops.
    const wrong = ({ positions }: typeof open) => layYarn(graph, cells, positions).check.linksWrong;
    expect(wrong(slipped)).toBeGreaterThan(10);
    expect(wrong(open)).toBe(0);
  });

  it('takes nothing where it is flat anyway', () => {
    const { metric, turning } = square(0.5).measured;
    expect(misfitOf(pressSheet(metric).energy, metric)).toBeLessThan(0.001);
    expect(pressRings(turning)).toBeLessThan(0.001);
  });

  it('rests as from its own flat start, in no more steps', () => {
    for (const aspect of [0.505, 0.51]) {
      const { metric } = square(aspect).measured;
      const afresh = relaxSheet(metric).relaxation;
      const again = relaxSheet(metric, { inPlane: pressSheet(metric).positions }).relaxation;
      expect(again.converged).toBe(true);
      expect(again.start).toBe(afresh.start);
      expect(Math.abs(again.energy - afresh.energy)).toBeLessThan(1e-4 * afresh.energy);
      expect(again.iterations).toBeLessThanOrEqual(afresh.iterations);
    }
  });

  it.each([0.485, 0.495, 0.51, 0.53])('takes what a plain cone takes, at h/w = %f', (aspect) => {
    const { metric, turning } = square(aspect).measured;
    // The closed form is that of an isotropic disc; this is a square of a net twice as wide as high: 12 % off.
    const wanted = misfitAt(aspect);
    const found = misfitOf(pressSheet(metric).energy, metric);
    expect(found / wanted).toBeGreaterThan(0.87);
    expect(found / wanted).toBeLessThan(1.15);
    expect(pressRings(turning) / wanted).toBeGreaterThan(0.87);
    expect(pressRings(turning) / wanted).toBeLessThan(1.15);
  });
});

describe('rings that lose too fast and then too slowly', () => {
  it('do not lie flat although their mean angle does', () => {
    const rings = 60;
    const fromCentreMm = Float64Array.from({ length: rings }, (_, k) => 100 - 1.6 * k);
    const wavy = (share: number) =>
      pressRings({
        coneAngleRad: Float64Array.from(
          { length: rings },
          (_, k) => 2 * Math.PI * (1 + share * Math.sin((4 * Math.PI * k) / rings)),
        ),
        fromCentreMm,
        perimeterMm: fromCentreMm,
        outsideIn: true,
        meanConeAngleRad: 2 * Math.PI,
      });
    expect(wavy(0)).toBeLessThan(1e-6);
    expect(wavy(0.2)).toBeGreaterThan(0.02);
    // Energy goes with the square of the strain, so the misfit is proportional.
    expect(wavy(0.2) / wavy(0.1)).toBeCloseTo(2, 1);
  });
});
