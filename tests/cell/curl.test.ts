/** Curl from the yarn: the moment of a flat cell, its directions and symmetries, and tubes bent either way. */
import { describe, expect, it } from 'vitest';
import { curlMoment } from '../../src/cell/bending-moment.ts';
import { MODEL_CURL, stockinetteCurl } from '../../src/cell/curl-shape.ts';
import { startLoops } from '../../src/cell/loop-start.ts';
import { CELL_FACES, type CellFabric, relaxCell } from '../../src/cell/relax-cell.ts';
import { buildRodSystem } from '../../src/rod/rod-system.ts';
import { fibreSmooth, YARN } from '../../src/rod/yarn-material.ts';
import { bentTube } from '../golden/curl-of-tubes.ts';

const LOOP = 20;
const SEGMENTS = 24;

function momentOf(stitch: CellFabric) {
  const cell = relaxCell({ stitch, loopMm: LOOP, yarnMm: 1, segments: SEGMENTS, plane: 0 });
  const { system } = buildRodSystem(startLoops(CELL_FACES[stitch], LOOP, SEGMENTS).strands);
  const period = Float64Array.from(cell.shape.periodMm);
  return curlMoment(system, YARN, fibreSmooth(LOOP / SEGMENTS), cell.shape.points, period);
}

describe('the bending moment of fabric held flat', () => {
  const plain = momentOf('stockinette');

  // Published for top and bottom edges (overtherainbowyarn.com); of the sides from memory (REFERENCES 7).
  it('rolls top and bottom of stockinette to the knit side and its sides to the purl side', () => {
    // Energy falls where the wale bends towards the knit side, and rises where the course does.
    expect(plain.wale).toBeLessThan(-0.05);
    expect(plain.course).toBeGreaterThan(0.05);
    expect(Math.sign(MODEL_CURL.wale)).toBe(1);
    expect(Math.sign(MODEL_CURL.course)).toBe(-1);
  });

  it('is opposite for reverse stockinette', () => {
    const reverse = momentOf('reverse');
    expect(reverse.course).toBeCloseTo(-plain.course, 4);
    expect(reverse.wale).toBeCloseTo(-plain.wale, 4);
  });

  it.each(['garter', 'rib 1x1', 'seed'] as const)(
    'vanishes for %s, which is balanced',
    (stitch) => {
      const { course, wale } = momentOf(stitch);
      expect(Math.abs(course)).toBeLessThan(1e-3);
      expect(Math.abs(wale)).toBeLessThan(1e-3);
    },
  );

  it.each(['course', 'wale'] as const)(
    'along the %s is what tubes bent either way differ by, within a twentieth',
    (along) => {
      const out = bentTube(along, 10, 1, LOOP, SEGMENTS);
      const inside = bentTube(along, 10, -1, LOOP, SEGMENTS);
      const curvature = (1 / out.radius + 1 / inside.radius) / 2;
      const moment = (inside.energy - out.energy) / (2 * curvature * out.area);
      expect(Math.abs(moment / plain[along] - 1)).toBeLessThan(0.05);
    },
  );
});

describe('the curl that the sheet is given', () => {
  it('has the model’s directions and no roll tighter than a stitch width', () => {
    const { course, wale } = stockinetteCurl();
    expect(course).toBeLessThan(0);
    expect(wale).toBeGreaterThan(0);
    expect(Math.max(Math.abs(course), Math.abs(wale))).toBeLessThanOrEqual(1);
  });
});
