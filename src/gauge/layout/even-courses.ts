/**
 * Courses counted by depth: short rows are courses of a part of a round's height, and smoothing over courses must
 * not take them for whole rounds. In: heights of the courses. Out: values a course ↔ values a round's height apart.
 */
export class EvenCourses {
  /** [courses] rounds from the first course to each. */
  readonly #at: Float64Array;
  readonly #step: number;
  /** Number of even courses. */
  readonly count: number;

  /** `heightMm` [courses] mean height of each course above the one below; `roundMm` [courses] of a whole one there. */
  constructor(heightMm: Float64Array, roundMm: Float64Array) {
    const courses = heightMm.length;
    this.#at = new Float64Array(courses);
    for (let c = 1; c < courses; c++) this.#at[c] = this.#at[c - 1] + heightMm[c] / roundMm[c];
    const all = this.#at[courses - 1];
    this.count = Math.max(2, Math.round(all) + 1);
    this.#step = all / (this.count - 1);
  }

  /** Value of the last course that is reached. */
  thin(values: Float64Array): Float64Array {
    const out = new Float64Array(this.count);
    let c = 0;
    for (let k = 0; k < this.count; k++) {
      while (c + 1 < values.length && this.#at[c + 1] <= k * this.#step + 1e-6) c++;
      out[k] = values[c];
    }
    return out;
  }

  /** Back to the courses, straight from one even course to the next. */
  spread(values: Float64Array): Float64Array {
    return this.#at.map((at) => {
      const place = Math.min(at / this.#step, this.count - 1);
      const low = Math.min(Math.floor(place), this.count - 2);
      return values[low] + (place - low) * (values[low + 1] - values[low]);
    });
  }
}
