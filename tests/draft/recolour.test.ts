import { describe, expect, it } from 'vitest';
import { recolouredWords } from '../../src/draft/rework/recolour.ts';
import { redraft } from '../../src/draft/rework/redraft.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { colourRuns } from '../../src/paper/pattern/colour-lines.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

const square = (colours: (round: number) => string) => {
  const lines = Array.from({ length: 40 }, (_, i) => {
    const n = i + 1;
    const sts = 88 - 8 * Math.floor(n / 4);
    const text =
      n % 4 === 0
        ? `*k2tog, k${(sts + 8) / 4 - 4}, ssk; rep from * to end`
        : n % 4 === 2
          ? 'knit'
          : 'purl';
    return `Round ${n}, ${colours(n)}: ${text}. (${sts} sts)`;
  });
  return parsePlan(
    `Gauge: 20 sts and 40 rounds = 10 cm\nCast on 88 sts. Join in the round.\n${lines.join('\n')}\nBind off.\n`,
  );
};

const runs = ({ rounds }: Pick<Plan, 'rounds'>) =>
  colourRuns(rounds).map(({ colour, first, last }) => `${colour} ${last - first + 1}`);

const graded = (plan: Plan, sizeMm: number) => {
  const to = { sizeMm, stitchMm: 5, roundMm: 2.5, corners: 4 };
  const { text, notes } = gradePlan(plan, to, { measure: () => null, relax: () => null });
  return { plan: parsePlan(text), notes };
};

describe('colours of a plan at another size or timing', () => {
  const striped = square((n) => (n <= 2 ? 'CC2' : Math.floor((n - 3) / 4) % 2 === 0 ? 'MC' : 'CC'));
  const parted = square((n) => (n <= 4 ? 'CC' : n <= 22 ? 'MC' : 'colour C'));

  it('stripes keep their rounds and go on', () => {
    for (const sizeMm of [80, 150]) {
      const { plan, notes } = graded(striped, sizeMm);
      expect(plan.rounds.length).not.toBe(40);
      const [head, ...stripes] = runs(plan);
      expect(head).toBe('CC2 2');
      expect(new Set(stripes.slice(0, -1))).toEqual(new Set(['MC 4', 'CC 4']));
      expect(notes.join()).toContain(
        'The stripes keep their rounds (4 rounds in MC, 4 rounds in CC) and go on so, behind the first 2 rounds.',
      );
    }
  });

  it('a border keeps its rounds, other colours their share of the depth', () => {
    const { plan, notes } = graded(parted, 220);
    const [border, outer, inner] = colourRuns(plan.rounds).map((r) => r.last - r.first + 1);
    expect(border).toBe(4);
    expect(outer / inner).toBeCloseTo(1, 1);
    expect(notes.join()).toContain(`${outer} rounds in MC, ${inner} rounds in colour C`);
  });

  it('no colour is lost in fewer rounds', () => {
    const { plan } = graded(parted, 60);
    expect(new Set(plan.rounds.map((r) => r.colour))).toEqual(new Set(['CC', 'MC', 'colour C']));
  });

  it('another timing says so too, and as many rounds say nothing', () => {
    const { text, notes } = redraft(striped, 5);
    expect(new Set(parsePlan(text).rounds.map((r) => r.colour))).toEqual(
      new Set(['CC2', 'MC', 'CC']),
    );
    expect(notes.join()).toContain('stripes keep');
    expect(recolouredWords(striped, 40)).toBeNull();
  });
});
