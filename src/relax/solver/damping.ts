/**
 * Damping of a sheet's softest bends: their stiffness in the Hessian is so little that a step would carry them metres,
 * and all else could go but a thousandth of its way. In: the share of each step that could be gone. Out: a number for
 * the Hessian's diagonal, raised after steps that fell short and lowered after whole ones.
 * Source: J. J. Moré, "The Levenberg–Marquardt algorithm", Lecture Notes in Mathematics 630 (1978).
 */

/** Share of a step below which it fell short. Chosen by timing: at 0.3 ruffles took a fifth more steps. */
const FELL_SHORT = 0.1;
/** Least damping and most, of a spring's stiffness (K = 1), and the factor between two. Chosen by timing. */
const LEAST = 3e-5;
const MOST = 1;
const FACTOR = 4;
/** Whole steps in a row after which it is lowered. Chosen by timing: 2 fell short again each time. */
const WHOLE_STEPS = 3;

export class Damping {
  value = 0;
  private whole = 0;

  /** Hears what share of the last step was gone; true if the damping is another now. */
  hear(share: number): boolean {
    const before = this.value;
    this.whole = share < 1 ? 0 : this.whole + 1;
    if (share < FELL_SHORT) this.value = Math.min(MOST, Math.max(LEAST, FACTOR * before));
    else if (this.whole >= WHOLE_STEPS && before > 0) {
      this.value = before < FACTOR * LEAST ? 0 : before / FACTOR;
      this.whole = 0;
    }
    return this.value !== before;
  }

  reset(): void {
    this.value = 0;
    this.whole = 0;
  }
}
