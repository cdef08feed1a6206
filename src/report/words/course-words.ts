/** What a course is called and what shaping does to it: rounds or rows, lost or gained. In: plan facts. Out: words. */

/** Words for the courses of a piece, and for its stitches from one to the next. */
export interface CourseWords {
  readonly one: 'round' | 'row';
  readonly many: 'rounds' | 'rows';
  /** At the beginning of a sentence. */
  readonly Many: 'Rounds' | 'Rows';
  readonly shape: 'decrease' | 'increase';
  readonly change: 'lose' | 'gain';
  readonly changed: 'lost' | 'gained';
}

export interface Worked {
  readonly worked: 'round' | 'flat';
  readonly castOn: number;
  /** Stitches at the end. */
  readonly last: number;
}

export function courseWords({ worked, castOn, last }: Worked): CourseWords {
  const course =
    worked === 'round'
      ? ({ one: 'round', many: 'rounds', Many: 'Rounds' } as const)
      : ({ one: 'row', many: 'rows', Many: 'Rows' } as const);
  return castOn >= last
    ? { ...course, shape: 'decrease', change: 'lose', changed: 'lost' }
    : { ...course, shape: 'increase', change: 'gain', changed: 'gained' };
}
