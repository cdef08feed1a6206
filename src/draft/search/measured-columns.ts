/**
 * What the metric says of a first draft: how wide each column of a side really is, so that the second
 * draft meets the size and loses width, not just stitches, at the flat rate.
 *
 * The measuring itself is handed in (`knit.ts` does it): a draft calls no other stage.
 */

/** Fabric of a plan as measured; courses from the cast-on, stitches right to left, no seam stitches. */
export interface MeasuredFabric {
  /** [courses][stitches] stitch width, mm. */
  readonly stitchMm: readonly ArrayLike<number>[];
  /** [courses] height of the course above the one before, mm. */
  readonly courseMm: ArrayLike<number>;
  /** [courses] angle that the rounds make round the centre, rad; 2π lies flat. */
  readonly turningRad: ArrayLike<number>;
  /** Total angle round the centre, rad. NaN where there is none. */
  readonly coneAngleRad: number;
  /** How far from flat as a whole, share of a full turn; see `pressRings`. */
  readonly flatnessError: number;
}

/** Widths as multiples of the ground's stitch. Columns of a side, then those of its corner. */
export interface ColumnWidths {
  readonly side: readonly number[];
  readonly corner: readonly number[];
  /** Width that a segment lacks at the rim against plain ground, in ground stitches. */
  readonly stitchDeficit: number;
  /** Mean height of a round, mm. */
  readonly roundMm: number;
  /** Where the panels stood on the side that was measured. */
  readonly panels: readonly { readonly first: number; readonly width: number }[];
}

/**
 * `blocks[c]` lists the columns of one segment on course c, right to left: 0 … side − 1 for the side,
 * then the corner's; null for a course without columns. The rim is course 0 or the last one.
 */
export function columnWidths(
  fabric: MeasuredFabric,
  blocks: readonly (readonly number[] | null)[],
  segments: number,
  size: { readonly side: number; readonly corner: number },
  stitchMm: number,
  rimFirst: boolean,
  panels: ColumnWidths['panels'],
): ColumnWidths | null {
  const columns = size.side + size.corner;
  const sum = new Float64Array(columns);
  const seen = new Float64Array(columns);
  let stitchDeficit = 0;
  let height = 0;
  const rim = rimFirst ? 0 : blocks.length - 1;
  for (let c = 0; c < blocks.length; c++) {
    const block = blocks[c];
    const widths = fabric.stitchMm[c];
    if (!block) continue;
    if (!widths || widths.length !== block.length * segments) return null;
    height += c > 0 ? fabric.courseMm[c] : fabric.courseMm[1];
    for (let i = 0; i < widths.length; i++) {
      const column = block[i % block.length];
      sum[column] += widths[i] / stitchMm;
      seen[column]++;
      if (c === rim) stitchDeficit += (1 - widths[i] / stitchMm) / segments;
    }
  }
  const width = Array.from(sum, (total, i) => (seen[i] > 0 ? total / seen[i] : 1));
  const courses = blocks.filter((block) => block !== null).length;
  return {
    side: width.slice(0, size.side),
    corner: width.slice(size.side),
    stitchDeficit,
    roundMm: height / Math.max(1, courses),
    panels,
  };
}

/** The measured widths on a side of another length: panels keep theirs wherever they now stand. */
export function shiftWidths(
  widths: ColumnWidths,
  side: number,
  panels: ColumnWidths['panels'],
): number[] {
  return Array.from({ length: side }, (_, column) => {
    let nearest = Number.POSITIVE_INFINITY;
    let shift = 0;
    panels.forEach((panel, i) => {
      const away = Math.max(panel.first - column, column - (panel.first + panel.width - 1), 0);
      if (away < nearest && widths.panels[i]) {
        nearest = away;
        shift = panel.first - widths.panels[i].first;
      }
    });
    return widths.side[column - shift] ?? 1;
  });
}
