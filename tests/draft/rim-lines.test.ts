import { describe, expect, it } from 'vitest';
import { keepsPanels } from '../../src/draft/rework/rim-lines.ts';

/** `.` knit, `-` purl, `t` twisted, on a ground of knit. */
const line = (round: string) => [
  {
    names: Array.from(round, (c) => ({ '-': 'p', t: 'ktbl' })[c] ?? 'k'),
    ground: ['k', 'k'] as const,
  },
];
const kept = (plan: string, graded: string, sides = 1) =>
  keepsPanels(line(plan), line(graded), sides);

describe('panels at the rim of a grading', () => {
  it('stand as wide, however far apart', () => {
    expect(kept('...ttt....tt....', '....ttt......tt...')).toBe(true);
    expect(kept('...ttt....tt....', '...ttt....ttt...')).toBe(false);
    expect(kept('...ttt....tt....', '................')).toBe(true);
  });

  it('keep what lies between the edges of a rope that is not crossed there', () => {
    const rope = '..............-...-..............-...-';
    expect(kept(rope, '.................-...-.................-...-')).toBe(true);
    expect(kept(rope, '..............-..-..............-..-')).toBe(false);
    // Two lines farther apart than a cable is wide, and twisted ones, are no rope.
    expect(kept('-...............-...............', '-..............-..............')).toBe(true);
    expect(kept('t....t....', 't...t...')).toBe(true);
  });

  it('stand alike on as many sides', () => {
    const side = '...t.';
    expect(kept(side.repeat(4), '....t..'.repeat(4), 4)).toBe(true);
    expect(kept(side.repeat(4), `${'...t.'.repeat(3)}....t.`, 4)).toBe(false);
    // A disc tells its parts by its round.
    expect(kept(side.repeat(8), `${'...t.'.repeat(7)}....t.`)).toBe(false);
  });
});
