/**
 * The yarn cells against published constants. One yarn model for all rows; no constant is fitted to a
 * row, except that the table stiffness was chosen within its plausible decade with garter's 0.5 in view.
 */
import { describe, expect, it, vi } from 'vitest';
import { type CellResult, relaxCell } from '../../src/cell/relax-cell.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const cache = new Map<string, CellResult>();
function cell(stitch: 'stockinette' | 'garter' | 'rib 1x1' | 'seed', loop: number): CellResult {
  const key = `${stitch} ${loop}`;
  const known = cache.get(key);
  if (known) return known;
  const made = relaxCell({ stitch, loopMm: loop, yarnMm: 1 });
  cache.set(key, made);
  return made;
}

// Munden 1959, J. Text. Inst. 50, T448, plain knit, wet relaxed (as given in REFERENCES 1). Tolerance
// 10 %: a relaxed knit has no unique shape (friction; Crassous et al. 2024).
const WET = { kc: 5.3, kw: 4.1, ks: 21.6, kr: 1.3 } as const;

describe('plain knit, wet relaxed (Munden 1959)', () => {
  for (const loop of [16.6, 17, 18]) {
    for (const key of ['kc', 'kw', 'ks', 'kr'] as const) {
      it(`has ${key} within 10 % of ${WET[key]} at ${loop} diameters a loop`, () => {
        expect(Math.abs(cell('stockinette', loop)[key] / WET[key] - 1)).toBeLessThan(0.1);
      });
    }
  }

  it('has Kc, Kw and Ks within 10 % at 19 diameters, where Kr is 12 % too high', () => {
    const loose = cell('stockinette', 19);
    for (const key of ['kc', 'kw', 'ks'] as const) {
      expect(Math.abs(loose[key] / WET[key] - 1)).toBeLessThan(0.1);
    }
    // A difference that stands: the model's loose fabric is wider than the published constant shape.
    expect(loose.kr / WET.kr).toBeGreaterThan(1.1);
    expect(loose.kr / WET.kr).toBeLessThan(1.15);
  });

  it('keeps the stitch density times l² within 7 % over loop length (Doyle’s rule)', () => {
    const ks = [16.6, 17, 18, 19].map((loop) => cell('stockinette', loop).ks);
    expect(Math.max(...ks) / Math.min(...ks)).toBeLessThan(1.08);
  });

  it('does not reproduce the dry-relaxed state (Ks 19.0): friction is not in the cell', () => {
    expect(cell('stockinette', 17).ks).toBeGreaterThan(20.5);
  });
});

describe('round height over stitch width', () => {
  // REFERENCES 7. Bands as suggested there; garter is published as 0.50 for hand knits.
  it.each([
    ['stockinette', 17, 0.66, 0.82],
    ['stockinette', 18, 0.66, 0.82],
    ['stockinette', 19, 0.66, 0.82],
    ['garter', 17, 0.48, 0.54],
    ['garter', 18, 0.48, 0.54],
    ['garter', 19, 0.48, 0.54],
    // "Similar to garter", ~0.5 (docslib entrelac); the band is ours and wide.
    ['seed', 18, 0.45, 0.6],
    ['seed', 19, 0.45, 0.6],
  ] as const)('of %s at %f diameters a loop lies between %f and %f', (fabric, loop, low, high) => {
    const made = cell(fabric, loop);
    expect(made.relaxation.converged).toBe(true);
    expect(made.roundMm / made.stitchMm).toBeGreaterThan(low);
    expect(made.roundMm / made.stitchMm).toBeLessThan(high);
  });
});

describe('1×1 rib', () => {
  it('is 30–50 % narrower than stockinette of the same loop (from memory; no measurement found)', () => {
    const ratio = cell('rib 1x1', 18).stitchMm / cell('stockinette', 18).stitchMm;
    expect(ratio).toBeGreaterThan(0.5);
    expect(ratio).toBeLessThan(0.7);
  });

  it('is the thickest, stockinette the thinnest of the four fabrics', () => {
    const thickness = (f: 'stockinette' | 'garter' | 'rib 1x1' | 'seed') => cell(f, 18).thicknessMm;
    expect(thickness('stockinette')).toBeLessThan(thickness('garter'));
    expect(thickness('garter')).toBeLessThan(thickness('rib 1x1'));
    expect(thickness('stockinette')).toBeLessThan(thickness('seed'));
  });

  // J. Text. Mach. Soc. Japan 36(3), 1×1 rib, dry relaxed cotton: the product Us is nearly constant;
  // with rising stitch length Uw rises and Uc falls.
  it('keeps Kc·Kw within 15 % over loop length, as published, but not the published rise of Kw', () => {
    const tight = cell('rib 1x1', 17);
    const loose = cell('rib 1x1', 20);
    expect(Math.abs(loose.ks / tight.ks - 1)).toBeLessThan(0.15);
    // A difference that stands: in the frictionless model Kw falls and Kc stays.
    expect(loose.kw / tight.kw).toBeLessThan(1);
    expect(Math.abs(loose.kc / tight.kc - 1)).toBeLessThan(0.03);
  });
});
