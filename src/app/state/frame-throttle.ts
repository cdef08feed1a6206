/**
 * Lets pictures of a running relaxation through only as fast as this machine draws them.
 *
 * Where drawing is slow (no graphics card) every frame takes time from the worker; the gate keeps
 * the drawing to about a third of the time. The newest picture always gets through in the end.
 */

export class PictureGate<T> {
  private waiting: T | null = null;
  private busy = false;

  /** `afterFrame` calls back once what was shown has been painted; `clock` counts ms. */
  constructor(
    private readonly show: (picture: T) => void,
    private readonly afterFrame: (painted: () => void) => void = afterNextFrame,
    private readonly clock: () => number = () => performance.now(),
    private readonly later: (work: () => void, ms: number) => void = (work, ms) => {
      setTimeout(work, ms);
    },
  ) {}

  offer(picture: T): void {
    this.waiting = picture;
    if (!this.busy) this.next();
  }

  /** Forgets what waits: the run is over, its last state is shown otherwise. */
  clear(): void {
    this.waiting = null;
  }

  private next(): void {
    const picture = this.waiting;
    if (picture === null) {
      this.busy = false;
      return;
    }
    this.waiting = null;
    this.busy = true;
    const from = this.clock();
    this.show(picture);
    this.afterFrame(() => {
      const took = this.clock() - from;
      this.later(() => this.next(), Math.min(2000, 2 * took - 32));
    });
  }
}

/** Two frames on: the first one paints, the second one starts when that is done. */
function afterNextFrame(painted: () => void): void {
  requestAnimationFrame(() => requestAnimationFrame(painted));
}
