import { describe, expect, it } from 'vitest';
import { asFace, otherSideName, turnNames } from '../../src/draft/rework/facing.ts';
import type { StitchKind } from '../../src/plan/stitches/stitch-kind.ts';
import { NAMED_STITCHES, stitchKind } from '../../src/plan/stitches/table.ts';

/** What the stitch looks like from the other side: order and depth reversed, faces exchanged. */
function mirrored(kind: StitchKind) {
  return [...kind.loops].reverse().map((loop) => ({
    parents: [...loop.parents].reverse().map((i) => kind.consumes - 1 - i),
    face: loop.origin === 'slipped' || loop.origin === 'yarn-over' ? loop.face : -loop.face,
    twisted: loop.twisted,
    origin: loop.origin,
  }));
}

describe('the same stitch from the other side', () => {
  const named = NAMED_STITCHES.filter((kind) => otherSideName(kind.name) !== null);

  it('knows the stitches of ordinary patterns', () => {
    expect(named.length).toBeGreaterThan(20);
  });

  for (const kind of named) {
    it(`${kind.name} shows as ${otherSideName(kind.name)}`, () => {
      const other = stitchKind(otherSideName(kind.name) as string);
      expect(other).not.toBeNull();
      if (!other) return;
      expect(other.consumes).toBe(kind.consumes);
      expect(other.slipped).toBe(kind.slipped === 0 ? 0 : -kind.slipped);
      expect(other.loops).toEqual(mirrored(kind));
    });
  }

  it('turning a row twice gives the row, with stitches that have no other form too', () => {
    const row = ['k', 'p', 'ssk', '2/2 LC', 'k2tog', 'yo', 'sk2p'];
    expect(turnNames(turnNames(row))).toEqual(row);
  });

  it('a decrease that lands on the other face is the one that the plan makes there, where it leans alike', () => {
    const own = new Set(['skp', 'k2tog', 'p2tog tbl', 'p2tog']);
    expect(asFace('p2tog tbl', 'k', own)).toBe('skp');
    expect(asFace('skp', 'p', own)).toBe('p2tog tbl');
    expect(asFace('k2tog', 'p', own)).toBe('p2tog');
    expect(asFace('skp', 'p', new Set(['skp', 'k2tog']))).toBe('ssp');
  });
});
