import { describe, expect, it } from 'vitest';
import { PictureGate } from '../../src/app/state/frame-throttle.ts';

/** A machine that takes `frameMs` for every picture, on a clock of its own. */
function machine(frameMs: number) {
  let now = 0;
  const due: { at: number; work: () => void }[] = [];
  const later = (work: () => void, ms: number) => due.push({ at: now + Math.max(0, ms), work });
  const shown: { at: number; picture: number }[] = [];
  const gate = new PictureGate<number>(
    (picture) => shown.push({ at: now, picture }),
    (painted) => later(painted, frameMs),
    () => now,
    later,
  );
  const runUntil = (end: number) => {
    for (;;) {
      due.sort((a, b) => a.at - b.at);
      const next = due[0];
      if (!next || next.at > end) break;
      due.shift();
      now = next.at;
      next.work();
    }
    now = end;
  };
  return { gate, shown, runUntil };
}

describe('the gate for pictures', () => {
  it('lets every picture through where drawing is quick', () => {
    const { gate, shown, runUntil } = machine(10);
    for (let k = 0; k < 10; k++) {
      gate.offer(k);
      runUntil((k + 1) * 66);
    }
    expect(shown.length).toBe(10);
  });

  it('draws at most a third of the time where drawing is slow, and ends with the newest', () => {
    const { gate, shown, runUntil } = machine(300);
    for (let k = 0; k < 100; k++) {
      gate.offer(k);
      runUntil((k + 1) * 66);
    }
    runUntil(10_000);
    expect(shown.length).toBeLessThanOrEqual(Math.ceil(6600 / 868) + 1);
    expect(shown.length).toBeGreaterThan(5);
    expect(shown.at(-1)?.picture).toBe(99);
  });

  it('shows nothing that was offered before it was cleared', () => {
    const { gate, shown, runUntil } = machine(300);
    gate.offer(1);
    gate.offer(2);
    gate.clear();
    runUntil(5000);
    expect(shown.map(({ picture }) => picture)).toEqual([1]);
  });
});
