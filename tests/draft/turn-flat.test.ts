import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { SINGLE } from '../../src/draft/motif/seam-rows.ts';
import { retimedText } from '../../src/draft/rework/redraft.ts';
import { rightSideRounds, turnFlat, turnRound } from '../../src/draft/rework/turn-flat.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { courseCount, loopAt, type StitchGraph } from '../../src/fabric/stitch-graph.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';
import { spec } from './wishes-arbitrary.ts';

function faultless(text: string): Plan {
  const plan = parsePlan(text);
  expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  return plan;
}

/** Every loop inside the seam, told by place: face, twist, parents by place, crossing layer. */
function inside(graph: StitchGraph, begin: number, end: number): string[][] {
  return Array.from({ length: graph.courses }, (_, course) => {
    const told: string[] = [];
    for (let p = begin; p < courseCount(graph, course) - end; p++) {
      const loop = loopAt(graph, course, p);
      const parents = Array.from(
        graph.parents.subarray(graph.parentStart[loop], graph.parentStart[loop + 1]),
        (parent) => graph.position[parent] - begin,
      );
      told.push(
        [graph.face[loop], graph.flags[loop] & 0b1111, graph.layer[loop], ...parents].join(' '),
      );
    }
    return told;
  });
}

const CABLE = `CO 32 sts. Join in the round.
Round 1: *k1, p1, k4, p1, k1; rep from * 3 times more.
Round 2: *k1, p1, k4, p1, k1; rep from * 3 times more.
Round 3: *k1, p1, 2/2 LC, p1, k1; rep from * 3 times more.
Round 4: *ssk, k4, k2tog; rep from * 3 times more. (24 sts)
Round 5: knit.
Bind off all sts.
`;

describe('round work turned flat', () => {
  it('purls the wrong-side rows back and works decreases in their wrong-side forms', () => {
    const flat = turnFlat(faultless(CABLE));
    // Both ends are shaped in round 4: no edge would be left to sew with one stitch.
    expect(flat.text).toContain('Cast on 34 sts.');
    expect(flat.text).toMatch(/Row 2 \(WS\): \[p2, k1, p4, k1\] 4 times, p2/);
    expect(flat.text).toMatch(/Row 4 \(WS\): p1, \[p2tog, p4, ssp\] 4 times, p1\. \(26 sts\)/);
    expect(flat.notes).toEqual([expect.stringMatching(/Both ends of the round are shaped/)]);
  });

  it('gives the same loops inside the seam', () => {
    const round = faultless(CABLE);
    const flat = faultless(turnFlat(round).text);
    expect(flat.seam).toEqual({ begin: 1, end: 1 });
    expect(inside(buildStitchGraph(flat), 1, 1)).toEqual(inside(buildStitchGraph(round), 0, 0));
  });

  it('casts on one stitch more for the seam, and its edges mirror each other', () => {
    const round = faultless(
      `CO 132 sts. Join in the round.
Round 1: knit.
Round 2: *k1, ssk, k to last 2 sts of side, k2tog; rep from * 3 times more. (124 sts)
Bind off all sts.
`,
    );
    const { text, notes } = turnFlat(round);
    expect(notes).toEqual([]);
    expect(text).toContain('Cast on 133 sts.');
    expect(text).toContain('Row 2 (WS): [p1, p2tog, p28, ssp] 4 times, p1. (125 sts)');
    expect(turnFlat(round, 2).text).toContain('Cast on 134 sts.');
    expect(inside(buildStitchGraph(faultless(text)), 0, 1)).toEqual(
      inside(buildStitchGraph(round), 0, 0),
    );
  });

  it('works the extra stitch like the one it becomes a column with', () => {
    const reverse = faultless(
      'CO 40 sts. Join in the round.\nRound 1: purl.\nRound 2: *p4, p2tog, p4; rep from * 3 times more. (36 sts)\nBind off all sts.\n',
    );
    expect(turnFlat(reverse).text).toContain('Row 1 (RS): purl. (41 sts)');
  });

  it('leaves plain edges that mirror each other, whatever the corner, for random drafts', () => {
    fc.assert(
      fc.property(spec, (asked) => {
        const flat = faultless(
          turnFlat(faultless(draftPlan({ ...asked, worked: 'round' }).text)).text,
        );
        const { begin, end } = flat.seam ?? { begin: 0, end: 0 };
        expect(begin + end === 1 || begin + end === 2).toBe(true);
        let gathered = 0;
        for (const names of rightSideRounds(flat)) {
          const edges = [names[0], names.at(-1) ?? ''];
          if (begin + end === 1 && edges.some((edge) => !SINGLE.has(edge))) {
            // One round that gathers at the centre is drawn in with the seam.
            const shaped = names.filter((name) => !SINGLE.has(name)).length;
            expect(2 * shaped).toBeGreaterThanOrEqual(names.length - 1);
            expect(++gathered).toBe(1);
            continue;
          }
          for (const edge of edges) expect(SINGLE).toContain(edge);
          // The extra stitch and the other edge make one column.
          if (begin + end === 1) expect(edges[0]).toBe(edges[1]);
        }
      }),
      { seed: 29, numRuns: runs(60) },
    );
  });

  it('moves crossings from wrong-side rows to the next right-side row and says so', () => {
    const plain = 'k1, p1, k4, p1, k1';
    const crossed = 'k1, p1, 2/2 LC, p1, k1';
    const rounds = [plain, crossed, plain].map(
      (block, i) => `Round ${i + 1}: *${block}; rep from * 3 times more.\n`,
    );
    const shifted = faultless(
      `CO 32 sts. Join in the round.\n${rounds.join('')}Bind off all sts.\n`,
    );
    const flat = turnFlat(shifted);
    expect(flat.text).toMatch(/Row 3 \(RS\): .*2\/2 LC/);
    expect(flat.notes.join()).toMatch(
      /Cables are crossed with the right side facing.*round \d+ in row \d+/,
    );
    faultless(flat.text);
  });

  it('says once which cable cannot wait for a right-side row, and what to do', () => {
    const rounds = [
      'knit.',
      '*2/2 LC, k8; rep from * 3 times more.',
      '*ssk, k8, k2tog; rep from * 3 times more.',
    ];
    const text = rounds.map((words, i) => `Round ${i + 1}: ${words}\n`).join('');
    const { notes } = turnFlat(
      parsePlan(`CO 48 sts. Join in the round.\n${text}Bind off all sts.\n`),
      2,
    );
    expect(notes).toEqual([
      expect.stringMatching(/cable 2\/2 LC of round 2 .* row 3 has no room .* odd round/),
    ]);
  });

  it('refuses to drop a seam stitch that is worked into the fabric', () => {
    const plan = parsePlan(
      'Worked: flat, seam stitches 1 + 1\nCO 10 sts.\nRow 1 (RS): k2tog, k8.\n',
    );
    expect(() => turnRound(plan)).toThrow(/Row 1/);
  });

  it('picks up what is picked up, whichever way it is worked, and however it is timed', () => {
    const border =
      'Pick up and knit 44 sts round the edge. Join in the round.\nRound 1: purl.\nRound 2: [k1, m1l, k10, m1r] 4 times.\nBind off all sts.\n';
    const round = parsePlan(border);
    const flat = turnFlat(round).text;
    expect(flat).toContain('Pick up and knit 45 sts along the edge.');
    expect(flat).not.toMatch(/cast on/i);
    const back = turnRound(parsePlan(flat)).text;
    for (const text of [back, retimedText(round)]) {
      expect(text).toContain('Pick up and knit 44 sts round the edge. Join in the round.');
      expect(parsePlan(text).rounds.map(({ after }) => after)).toEqual([44, 52]);
    }
  });

  it('joins no piece that is left open, and says how a seam is told', () => {
    const rows = 'CO 9 sts.\nRow 1 (RS): k3, s2kp, k3.\nRow 2: knit.\nBind off.\n';
    expect(() => turnRound(parsePlan(`Worked: flat, no seam\n${rows}`))).toThrow(
      /leaves its piece open.*"Seam: 1 \+ 0"/,
    );
    expect(turnRound(parsePlan(`Worked: flat\nSeam: 1 + 0\n${rows}`)).text).toContain('Cast on 8');
  });

  it('is undone by turning back, for random drafts whose crossings lie on odd rounds', () => {
    let exact = 0;
    fc.assert(
      fc.property(spec, fc.constantFrom([1, 1], [1, 0], [0, 1]), (asked, [begin, end]) => {
        const draft = draftPlan({ ...asked, worked: 'round' });
        const round = faultless(draft.text);
        const turned = turnFlat(round, { begin, end });
        const flat = faultless(turned.text);
        const back = faultless(turnRound(flat).text);
        expect(back.rounds.map((r) => r.after)).toEqual(round.rounds.map((r) => r.after));
        if (turned.notes.length > 0) return;
        exact++;
        const told = inside(buildStitchGraph(round), 0, 0);
        expect(inside(buildStitchGraph(flat), begin, end)).toEqual(told);
        expect(inside(buildStitchGraph(back), 0, 0)).toEqual(told);
      }),
      { seed: 21, numRuns: runs(120) },
    );
    expect(exact).toBeGreaterThan(0.5 * runs(120));
  }, 60_000);
});
