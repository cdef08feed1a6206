import { expect, it } from 'vitest';
import { cutPatch, cutRepeat } from '../../src/cli/plan-patch.ts';
import { parsePlan } from '../../src/plan/parse.ts';

const CABLE = parsePlan(`Worked: in the round
Cast on 24 sts.
Round 1: *p2, k4, p2; rep from * to end.
Round 2: *p2, 2/2 LC, p2; rep from * to end.
Round 3: *p2, k4, p2; rep from * to end.
Round 4: *p2, k2, k2tog, p2; rep from * to end. (21 sts)
Bind off.
`);

it('a patch holds faces from the right and the crossings at their places', () => {
  expect(CABLE.diagnostics).toEqual([]);
  const { faces, crossings } = cutPatch(CABLE, { from: 1, to: 3 }, { from: 10, to: 15 });
  expect(faces).toEqual(Array(3).fill([-1, 1, 1, 1, 1, -1]));
  expect(crossings).toEqual([{ row: 1, wale: 1, over: 2, under: 2, lean: 1 }]);
});

it('rows from the wrong side are turned over, crossings keep their hand', () => {
  const flat = parsePlan(`Worked: flat
Cast on 5 sts.
Row 1 (RS): k1, p4.
Row 2 (WS): p1, k1, p3.
Bind off.
`);
  expect(flat.diagnostics).toEqual([]);
  expect(cutRepeat(flat).faces).toEqual([
    [1, -1, -1, -1, -1],
    [1, 1, 1, -1, 1],
  ]);
});

it('shaping and cut crossings are refused in words, and so are places outside the plan', () => {
  const cut = (a: number, b: number, c: number, d: number) => () =>
    cutPatch(CABLE, { from: a, to: b }, { from: c, to: d });
  expect(cut(1, 4, 3, 6)).toThrow(/Round 4 is shaped/);
  expect(cut(1, 3, 4, 9)).toThrow(/cuts through a crossing/);
  expect(cut(1, 3, 1, 5)).toThrow(/cuts through a crossing/);
  expect(cut(1, 9, 1, 2)).toThrow(/no round 9/);
  expect(cut(1, 2, 20, 25)).toThrow(/no stitch 25/);
});
