import { describe, expect, it } from 'vitest';
import {
  backOf,
  TILE_CHAIN,
  TILE_CORD,
  TILE_HOLE,
  TILES,
  tileOf,
} from '../../src/view/fabric/stitch-tiles.ts';
import {
  DIFFERS_ABOVE,
  DIFFERS_BELOW,
  DIFFERS_LEFT,
  DIFFERS_RIGHT,
  loopTemplate,
} from '../../src/view/yarn/loop-template.ts';
import { SETTLED_LOOPS } from '../../src/view/yarn/settled-loops.ts';
import {
  ATLAS_MARGIN,
  ATLAS_SIZE,
  bakeTiles,
  HEIGHT_SPAN,
  SHELTER_SPAN,
  SHELTER_SUM,
} from '../../src/view/yarn/stitch-atlas.ts';
import { tileRise } from '../../src/view/yarn/tile-rise.ts';
import { tileShelter } from '../../src/view/yarn/tile-shelter.ts';
import { settledRow } from '../golden/settled-row.ts';

const RIDGE = DIFFERS_ABOVE | DIFFERS_BELOW;

/** A baked value of a tile, 0 … 1: relief 0–3, yarn 4–7, shelter 8–11. */
function reader(tile: number) {
  const { atlas } = bakeTiles([tile]);
  return (x: number, y: number, channel: number) =>
    [atlas.relief, atlas.yarn, atlas.shelter][channel >> 2][
      4 * ((tile * ATLAS_SIZE + y) * ATLAS_SIZE + x) + (channel % 4)
    ] / 255;
}

function meanOf(tile: number, channel: number): number {
  const read = reader(tile);
  let sum = 0;
  for (let y = ATLAS_MARGIN; y < ATLAS_SIZE - ATLAS_MARGIN; y++) {
    for (let x = ATLAS_MARGIN; x < ATLAS_SIZE - ATLAS_MARGIN; x++) sum += read(x, y, channel);
  }
  return sum / (ATLAS_SIZE - 2 * ATLAS_MARGIN) ** 2;
}

const meanHeight = (tile: number) => (meanOf(tile, 2) - 0.5) * 2 * HEIGHT_SPAN;

describe('settled loops', () => {
  it('are what the yarn model gives', () => {
    const row = settledRow('plain');
    const known = SETTLED_LOOPS.plain;
    // Tolerance: the table's three digits, and the solver's stop on another machine.
    expect(row.width).toBeCloseTo(known.width, 2);
    expect(row.height).toBeCloseTo(known.height, 2);
    // Nothing holds the fabric's height: a settled row may lie higher or lower as a whole.
    const higher = row.entering[2] - known.entering[2];
    for (const list of ['entering', 'head'] as const) {
      const off = row[list].map((value, i) =>
        Math.abs(value - known[list][i] - (i % 3 === 2 ? higher : 0)),
      );
      expect(Math.max(...off)).toBeLessThan(0.01);
    }
  });

  it('meet leg to head where one stitch stands on another, whatever lies around', () => {
    for (let bits = 0; bits < 16; bits++) {
      for (const face of [1, -1]) {
        const own = loopTemplate(face, bits);
        const aboveFace = bits & DIFFERS_ABOVE ? -face : face;
        const sides = bits & (DIFFERS_LEFT | DIFFERS_RIGHT);
        const above = loopTemplate(aboveFace, sides | (bits & DIFFERS_ABOVE ? DIFFERS_BELOW : 0));
        for (const [lower, upper] of [
          [own.entering.slice(24), above.head.slice(0, 3)],
          [own.leaving.slice(0, 3), above.head.slice(48)],
        ]) {
          expect(Math.abs(lower[0] - upper[0])).toBeLessThan(0.02);
          expect(Math.abs(lower[1] - 1 - upper[1])).toBeLessThan(0.05);
          // Half a yarn: between rib and plain the legs lean differently.
          expect(Math.abs(lower[2] - upper[2])).toBeLessThan(0.5);
        }
      }
    }
  });
});

describe('baked stitches', () => {
  it('go on into themselves: what lies beyond one edge is what lies inside the other', () => {
    const read = reader(tileOf(1, 0));
    const inner = ATLAS_SIZE - 2 * ATLAS_MARGIN;
    for (let k = 4; k < ATLAS_SIZE - 4; k += 5) {
      for (const channel of [0, 1, 2]) {
        // Tolerance: edges of yarn fall between texels.
        expect(Math.abs(read(2, k, channel) - read(2 + inner, k, channel))).toBeLessThan(0.25);
        expect(Math.abs(read(k, 2, channel) - read(k, 2 + inner, channel))).toBeLessThan(0.25);
      }
    }
  });

  it('stand out in ridges of garter and lie back between them', () => {
    const purl = meanHeight(tileOf(-1, RIDGE));
    const knit = meanHeight(tileOf(1, RIDGE));
    // Means of what is seen: ridges reach over into the rows between.
    expect(purl - knit).toBeGreaterThan(0.55);
  });

  it('stand out in the knit columns of rib', () => {
    const sides = DIFFERS_LEFT | DIFFERS_RIGHT;
    expect(meanHeight(tileOf(1, sides)) - meanHeight(tileOf(-1, sides))).toBeGreaterThan(0.5);
  });

  it('show hardly any gap in plain fabric, and a hole at a yarn over', () => {
    expect(meanOf(tileOf(1, 0), 5)).toBeGreaterThan(0.9);
    expect(meanOf(TILE_HOLE, 5)).toBeLessThan(0.75);
    expect(meanOf(TILE_CORD, 5)).toBeGreaterThan(0.7);
    expect(meanOf(TILE_CHAIN, 5)).toBeGreaterThan(0.7);
  });

  it('have more yarn over them in hollows than on ridges', () => {
    const read = reader(tileOf(1, 0));
    const high: number[] = [];
    const low: number[] = [];
    for (let y = ATLAS_MARGIN; y < ATLAS_SIZE - ATLAS_MARGIN; y++) {
      for (let x = ATLAS_MARGIN; x < ATLAS_SIZE - ATLAS_MARGIN; x++) {
        // How much of it lies towards the eye.
        const towardsEye = (read(x, y, 10) - 0.5) * 2 * SHELTER_SPAN;
        (read(x, y, 2) > 0.65 ? high : low).push(towardsEye);
      }
    }
    const mean = (list: number[]) => list.reduce((sum, v) => sum + v, 0) / list.length;
    expect(high.length).toBeGreaterThan(100);
    expect(mean(low)).toBeGreaterThan(mean(high) + 1);
  });

  it('hold what shelters them within the span of a byte', () => {
    for (let tile = 0; tile < TILES - 4; tile++) {
      const { entering, head, leaving } = tileShelter(tile);
      for (const values of [entering, head, leaving]) {
        for (let i = 0; i < values.length; i += 4) {
          for (let c = 0; c < 3; c++) expect(Math.abs(values[i + c])).toBeLessThan(SHELTER_SPAN);
          expect(values[i + 3]).toBeLessThan(SHELTER_SUM);
        }
      }
    }
  });

  it('are laid where their yarn is seen: ridges high on both sides, purl between knit columns low', () => {
    const sides = DIFFERS_LEFT | DIFFERS_RIGHT;
    expect(tileRise(tileOf(-1, RIDGE))).toBeGreaterThan(tileRise(tileOf(1, 0)));
    expect(tileRise(tileOf(1, sides))).toBeGreaterThan(tileRise(tileOf(-1, sides)) + 0.5);
    for (const tile of [tileOf(1, 0), tileOf(-1, 0), tileOf(-1, RIDGE)]) {
      expect(tileRise(tile)).toBeCloseTo(meanHeight(tile), 0);
    }
  });

  it('show their other face from behind, with left and right changed over', () => {
    for (let tile = 0; tile < TILES; tile++) expect(backOf(backOf(tile))).toBeLessThan(TILES);
    expect(backOf(tileOf(1, DIFFERS_LEFT))).toBe(tileOf(-1, DIFFERS_RIGHT));
    expect(backOf(tileOf(-1, RIDGE))).toBe(tileOf(1, RIDGE));
  });
});
