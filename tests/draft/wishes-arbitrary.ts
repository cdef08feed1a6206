/** Random wishes for property tests. */
import fc from 'fast-check';
import {
  type MotifShape,
  type PanelSpec,
  SEGMENTS,
  type SpecInput,
} from '../../src/draft/spec/draft-spec.ts';

const panel: fc.Arbitrary<PanelSpec> = fc
  .record({
    stitches: fc.constantFrom(
      'p1 k4 p1',
      'k6',
      'p2 k2 p2 k2 p2',
      'ktbl1',
      'seed5',
      'p1 k3 p1',
      'p2 k12 p2',
    ),
    crossEvery: fc.constantFrom(null, 4, 5, 6, 8, 10),
    place: fc.oneof(
      fc.constantFrom('middle' as const, 'corner' as const),
      fc.integer({ min: 0, max: 30 }),
    ),
  })
  .map((p) => ({ ...p, crossEvery: /k([2-9]|1\d)/.test(p.stitches) ? p.crossEvery : null }));

const wish = fc.record({
  shape: fc.constantFrom('square', 'triangle', 'pentagon', 'hexagon', 'octagon', 'disc'),
  stitchMm: fc.double({ min: 3, max: 6, noNaN: true }),
  aspect: fc.double({ min: 0.45, max: 1, noNaN: true }),
  direction: fc.constantFrom('in', 'out'),
  corner: fc.constantFrom('paired 0', 'paired 1', 'paired 2', 'centred'),
  ground: fc.constantFrom('stockinette', 'garter', 'reverse', 'seed'),
  worked: fc.constantFrom('round', 'flat'),
  seamStitches: fc.constantFrom(1, 2),
  panels: fc.array(panel, { maxLength: 2 }),
});

/** Wishes that the drafter may refuse only because the piece has too few stitches. */
export const spec: fc.Arbitrary<SpecInput> = fc
  .tuple(wish, fc.integer({ min: 80, max: 200 }))
  .map(
    ([{ aspect, ...asked }, sizeMm]) =>
      ({ ...asked, sizeMm, roundMm: asked.stitchMm * aspect }) as SpecInput,
  );

/** The same as motifs of about a hundred stitches round the rim, a dozen a side at least: they relax quickly. */
export const smallSpecs: fc.Arbitrary<SpecInput> = fc
  .tuple(wish, fc.integer({ min: 64, max: 104 }))
  .map(([{ aspect, ...asked }, rim]) => {
    const sides = asked.shape === 'disc' ? Math.PI : SEGMENTS[asked.shape as MotifShape];
    const sizeMm = Math.round(asked.stitchMm * Math.max(rim / sides, 12));
    return { ...asked, sizeMm, roundMm: asked.stitchMm * aspect } as SpecInput;
  });
