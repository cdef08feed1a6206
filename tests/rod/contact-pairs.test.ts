/** The lists of pairs that may touch, along a relaxation: none that is near may be missing, whatever moved how far. */
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/math/random.ts';
import { shortestWay } from '../../src/rod/contact.ts';
import { ContactPairs } from '../../src/rod/contact-pairs.ts';
import { emptyPairList, findPairs, type PairList } from '../../src/rod/pair-list.ts';
import { buildRodSystem } from '../../src/rod/rod-system.ts';
import { runs } from '../runs.ts';

const DIAMETER = 1;
const SKIN = 0.9;
const NONE = new Float64Array(2);

const keysOf = ({ first, second, count }: PairList) =>
  Array.from({ length: count }, (_, k) => `${first[k]} ${second[k]}`);

/** Some open strands that wander about in a flat box, a few of their segments several times as long as the others. */
function strandsOf(random: () => number) {
  return Array.from({ length: 12 }, () => {
    const points = new Float64Array(3 * 60);
    let step = 0.9;
    for (let i = 0; i < points.length; i++) {
      if (i % 3 === 0) step = random() < 0.03 ? 5 : 0.9;
      const before = i >= 3 ? points[i - 3] : [14, 14, 3][i] * random();
      points[i] = before + step * (random() - 0.5);
    }
    return { points, closed: false };
  });
}

describe('pairs that may touch', () => {
  it('are all there while a few places move far, the rest a little, and sometimes everything', () => {
    for (let seed = 1; seed <= runs(30); seed++) {
      const random = createRandom(seed);
      const { system, positions } = buildRodSystem(strandsOf(random));
      const held = Uint8Array.from({ length: system.nodes }, () => (random() < 0.1 ? 7 : 0));
      const pairs = new ContactPairs(system, held, DIAMETER, SKIN, 0);
      const all = emptyPairList();
      const way = new Float64Array(3);
      const reach = { reach: DIAMETER, exclusion: 1.25 * DIAMETER, held };
      let found = 0;
      for (let step = 0; step < 60; step++) {
        pairs.update(positions, NONE);
        findPairs(system, positions, NONE, reach, all);
        const near = keysOf(pairs.near);
        const has = new Set(near);
        expect(has.size).toBe(near.length);
        // findPairs tells those whose middles and half lengths allow it; what counts is the distance itself.
        const touching = keysOf(all).filter((_, k) => {
          shortestWay(system, positions, all.first[k], all.second[k], way);
          return Math.hypot(...way) < DIAMETER;
        });
        expect(touching.filter((key) => !has.has(key))).toEqual([]);
        found += touching.length;
        const share = step % 15 === 14 ? 1 : 0.04;
        for (let node = 0; node < system.nodes; node++) {
          const size = random() < share ? 0.25 : 0.01;
          if (held[node]) continue;
          for (let i = 3 * node; i < 3 * node + 3; i++) positions[i] += size * (random() - 0.5);
        }
      }
      expect(found).toBeGreaterThan(1000);
    }
  });
});
