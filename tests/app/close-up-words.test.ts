/** What is told of a cable's close-up agrees with its widths, whichever way crossings change them. */
import { describe, expect, it } from 'vitest';
import { expectedWords, measureWords } from '../../src/app/close-up/measure-words.ts';

const panel = (crossedMm: number, uncrossedMm: number) => ({
  crossedMm,
  uncrossedMm,
  percent: 100 * (1 - crossedMm / uncrossedMm),
  cablePercent: 300 * (1 - crossedMm / uncrossedMm),
  stitches: 6,
});

const closeUp = (crossedMm: number, uncrossedMm: number) =>
  ({ place: 'cable', width: panel(crossedMm, uncrossedMm), opening: null }) as never;

const asked = { place: 'cable', over: 1, under: 1, everyRounds: 2, besides: [-1] } as never;

describe('a close-up of a cable', () => {
  it('is pulled in where it is narrower than uncrossed, and set apart where it is wider', () => {
    expect(measureWords(closeUp(27, 30), asked, 'cm')).toMatch(/: pulled in by 3\.0 mm, 10 %\.$/);
    expect(measureWords(closeUp(33, 30), asked, 'cm')).toMatch(/: set apart by 3\.0 mm, 10 %\.$/);
  });

  it('tells on its way what it has lost, or how much wider it stands, beside what one like it loses', () => {
    const lost = expectedWords(asked, { closeUp: closeUp(27, 30) });
    expect(lost).toMatch(/^ the cable has lost 30 % of its width; a like one loses roughly \d+ %$/);
    const wider = expectedWords(asked, { closeUp: closeUp(33, 30) });
    expect(wider).toMatch(/^ the cable stands 30 % wider; a like one loses roughly \d+ %$/);
  });
});
