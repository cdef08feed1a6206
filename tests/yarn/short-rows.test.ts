/** Yarn laid round the turns of short rows: every loop is drawn through its parents as the graph says. */
import { expect, it } from 'vitest';
import { prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';

const PIECES: Readonly<Record<string, string>> = {
  'in rows':
    'Worked: flat\nCast on 16 sts\nRow 1: knit\nRow 2: purl\nRow 3: k12, w&t\nRow 4: purl\nRow 5: k8, w&t\nRow 6: purl\nRow 7: knit\nRow 8: purl\nBind off.\n',
  'in the round, over where rounds begin':
    'Cast on 24 sts and join in the round\nRound 1: knit\nRound 2: knit\nRound 3: k6, w&t\nRound 4: p12, w&t\nRound 5: k10, w&t\nRound 6: p8, w&t\nRound 7: k4\nRound 8: knit\nBind off.\n',
};

it.each(Object.entries(PIECES))('is linked right: %s', (_, text) => {
  const { graph, cells, sheet } = relax(prepare(parsePlan(text)), { advise: false, load: null });
  const { check } = layYarn(graph, cells, sheet.positions);
  expect(check.linksChecked).toBeGreaterThan(graph.loops / 2);
  expect(check.linksWrong).toBe(0);
});
