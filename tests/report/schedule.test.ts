import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestSchedule, scheduleWithGaps, scheduleWords } from '../../src/report/schedule.ts';

describe('nearest whole-round schedule', () => {
  it('prefers the simplest within one per cent', () => {
    expect(nearestSchedule(2)).toEqual({ shaping: 1, rounds: 2 });
    expect(nearestSchedule(4 / 3)).toEqual({ shaping: 3, rounds: 4 });
    expect(nearestSchedule(1.497)).toEqual({ shaping: 2, rounds: 3 });
  });

  it('is within a tenth of any mean from 1 to 8 rounds', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 8, noNaN: true }), (every) => {
        const { shaping, rounds } = nearestSchedule(every);
        expect(shaping).toBeLessThanOrEqual(rounds);
        expect(Math.abs(rounds / shaping / every - 1)).toBeLessThan(0.1);
      }),
      { seed: 7 },
    );
  });

  it('is read off the gaps between shaping rounds, wherever they begin', () => {
    expect(scheduleWithGaps([1, 1, 2, 1, 1, 2, 1])).toEqual({ shaping: 3, rounds: 4 });
    expect(scheduleWithGaps([2, 1, 1, 2, 1])).toEqual({ shaping: 3, rounds: 4 });
    expect(scheduleWithGaps([12, 12])).toEqual({ shaping: 1, rounds: 12 });
    expect(scheduleWithGaps([1, 4, 1])).toBeNull();
  });

  it('is said as a knitter says it', () => {
    expect(scheduleWords({ shaping: 1, rounds: 1 })).toBe('every round');
    expect(scheduleWords({ shaping: 1, rounds: 2 })).toBe('every 2nd round');
    expect(scheduleWords({ shaping: 1, rounds: 3 })).toBe('every 3rd round');
    expect(scheduleWords({ shaping: 3, rounds: 4 })).toBe('on 3 rounds of every 4');
  });
});
