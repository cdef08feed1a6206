import { expect, it } from 'vitest';
import { placeWords } from '../../src/view/marks/place-words.ts';

const ROOM = { halfWidth: 20, halfHeight: 10, cornerMm: 6 };
const SIZE = [12, 2] as const;

it('keeps the words of a measure in the picture and from under the control in its corner', () => {
  expect(placeWords([0, 9], SIZE, ROOM)).toEqual([0, 9]);
  // Half of them beyond the edge: brought in, and below the corner.
  expect(placeWords([18, 8], SIZE, ROOM)).toEqual([14, 3]);
  expect(placeWords([18, 8], SIZE, { ...ROOM, cornerMm: 0 })).toEqual([14, 8]);
  expect(placeWords([18, -5], SIZE, ROOM)).toEqual([14, -5]);
  // Wider than the picture.
  expect(placeWords([-18, 0], [50, 2], ROOM)[0]).toBeCloseTo(0, 12);
});
