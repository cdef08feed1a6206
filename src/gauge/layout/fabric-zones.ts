/**
 * Bands of different fabrics that a panel is made of (a garter border round a stockinette middle), each by its
 * own stitch size, and the panel's width with them: what shaping takes from it apart from what a change of size
 * does. In: [courses] counts and raw widths in mm. Out: mm a course.
 */

/** Stitch sizes that differ by more than this share belong to two fabrics. Chosen: cables and corner stitches move
 * a course's mean by less, garter beside stockinette by a tenth. */
const APART = 0.03;
/** A band of fewer courses is where one fabric passes into the next. Chosen. */
const MIN_BAND = 3;

export interface FabricZones {
  /** [courses] stitch size of the course's fabric, mm. */
  readonly sizeMm: Float64Array;
  /** [courses] the panel's width by its shaping alone, mm, from its first course on. */
  readonly shapedMm: Float64Array;
  /** [courses] what sizes that change, and stitches added where the piece loses them, put on top, mm. */
  readonly jumpMm: Float64Array;
}

/** Null where the panel is all of one fabric. */
export function findZones(count: Float64Array, widthMm: Float64Array): FabricZones | null {
  const courses = count.length;
  const raw = widthMm.map((mm, c) => mm / Math.max(count[c], 1e-9));
  const bands = findBands(raw);
  if (bands.length < 2) return null;
  const sizeMm = new Float64Array(courses);
  for (const band of bands) sizeMm.fill(band.sizeMm, band.from, band.to);
  const trend = Math.sign(count[courses - 1] - count[0]);
  for (let k = 1; k < bands.length; k++) {
    // A course between two fabrics goes with the one that makes less of a jump.
    let best = Number.POSITIVE_INFINITY;
    let cut = bands[k].from;
    for (let at = bands[k - 1].to; at <= bands[k].from; at++) {
      sizeMm.fill(bands[k - 1].sizeMm, bands[k - 1].to, at);
      sizeMm.fill(bands[k].sizeMm, at, bands[k].from);
      const { jumpMm } = part(count, sizeMm, trend);
      let size = 0;
      for (let c = 1; c < courses; c++) size += Math.abs(jumpMm[c] - jumpMm[c - 1]);
      if (size >= best - 1e-9) continue;
      best = size;
      cut = at;
    }
    sizeMm.fill(bands[k - 1].sizeMm, bands[k - 1].to, cut);
    sizeMm.fill(bands[k].sizeMm, cut, bands[k].from);
  }
  return { sizeMm, ...part(count, sizeMm, trend) };
}

interface Band {
  readonly from: number;
  readonly to: number;
  readonly sizeMm: number;
}

function findBands(raw: Float64Array): Band[] {
  const bands: Band[] = [];
  for (let from = 0; from < raw.length; ) {
    let to = from + 1;
    let sum = raw[from];
    while (to < raw.length && Math.abs(raw[to] / (sum / (to - from)) - 1) < APART) sum += raw[to++];
    const sizeMm = sum / (to - from);
    const last = bands[bands.length - 1];
    if (to - from >= MIN_BAND) {
      if (last && Math.abs(sizeMm / last.sizeMm - 1) < APART) {
        bands[bands.length - 1] = { ...last, to };
      } else bands.push({ from, to, sizeMm });
    }
    from = to;
  }
  if (bands.length === 0) return [];
  bands[0] = { ...bands[0], from: 0 };
  const end = bands.length - 1;
  bands[end] = { ...bands[end], to: raw.length };
  return bands;
}

/** Parts the width into what the prevailing shaping does and the rest. */
function part(count: Float64Array, sizeMm: Float64Array, trend: number) {
  const shapedMm = new Float64Array(count.length);
  const jumpMm = new Float64Array(count.length);
  shapedMm[0] = count[0] * sizeMm[0];
  for (let c = 1; c < count.length; c++) {
    const change = count[c] - count[c - 1];
    const shaped = change * trend > 0 ? change * sizeMm[c] : 0;
    shapedMm[c] = shapedMm[c - 1] + shaped;
    jumpMm[c] = count[c] * sizeMm[c] - shapedMm[c];
    if (Math.abs(jumpMm[c] - jumpMm[c - 1]) < 1e-9) jumpMm[c] = jumpMm[c - 1];
  }
  return { shapedMm, jumpMm };
}
