/**
 * How far from flat is still flat: bands of the misfit, as a share of the full turn. An assumption, to
 * be adjusted with what blocking shows.
 */
export interface VerdictBands {
  /** Up to here it lies flat. */
  readonly flat: number;
  /** Up to here it can be blocked flat. */
  readonly blocking: number;
}

export const DEFAULT_BANDS: VerdictBands = { flat: 0.01, blocking: 0.03 };
