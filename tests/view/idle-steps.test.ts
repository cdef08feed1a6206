import { describe, expect, it } from 'vitest';
import { idleSteps } from '../../src/view/fabric/idle-steps.ts';

const later = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe('work in idle moments', () => {
  const counting = (done: number[]) =>
    (function* count() {
      for (let k = 0; k < 3; k++) {
        done.push(k);
        yield;
      }
    })();

  it('lets the page go on between its steps, and comes to its end', async () => {
    const done: number[] = [];
    idleSteps(counting(done));
    expect(done).toEqual([]);
    for (let k = 0; k < 500 && done.length === 0; k++) await later(2);
    expect(done).toEqual([0]);
    for (let k = 0; k < 500 && done.length < 3; k++) await later(2);
    expect(done).toEqual([0, 1, 2]);
  });

  it('does nothing more once it is ended', async () => {
    const done: number[] = [];
    idleSteps(counting(done))();
    await later(80);
    expect(done).toEqual([]);
  });
});
