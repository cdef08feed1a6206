/** Work in steps, each in a moment when the page has nothing else to do. Out: ends what is left of it. */

/** A busy page must not put it off for ever, ms. Chosen. */
const LATEST_MS = 250;

export function idleSteps(steps: Iterator<unknown>): () => void {
  let ended = false;
  const next = () => {
    if (ended || steps.next().done) return;
    whenIdle(next);
  };
  whenIdle(next);
  return () => {
    ended = true;
  };
}

function whenIdle(work: () => void): void {
  // Some browsers know no idle moments.
  if (typeof requestIdleCallback === 'function') {
    requestIdleCallback(work, { timeout: LATEST_MS });
  } else {
    setTimeout(work, 30);
  }
}
