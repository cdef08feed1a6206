/**
 * Bands of different fabrics that a panel is made of (a garter border round a stockinette middle), each by its
 * own stitch size, and the panel's width with them: what shaping takes from it apart from what a change of size
 * does. In: [courses] counts and raw widths in mm. Out: mm a course.
 */

/** Neighbouring bands whose stitches differ by more than this share are two fabrics. Chosen: garter is a tenth wider
 * than stockinette. */
const APART = 0.03;
/** A band's courses keep to its size within this share. Chosen: panels that weigh more the fewer stitches are left
 * change it slowly, and are no bands. */
const STEADY = 0.005;
/** A band has at least so many courses; fewer between two bands are where one passes into the other. Chosen. */
const MIN_BAND = 5;
const MAX_BETWEEN = 3;

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

/** The bands from first course to last, or none where sizes change but slowly or all the time. */
function findBands(raw: Float64Array): Band[] {
  const bands: Band[] = [];
  for (let from = 0; from < raw.length; ) {
    let to = from + 1;
    let sum = raw[from];
    const steady = () => Math.abs(raw[to] / (sum / (to - from)) - 1) < STEADY;
    while (to < raw.length && steady()) sum += raw[to++];
    if (to - from >= MIN_BAND) bands.push({ from, to, sizeMm: sum / (to - from) });
    from = to;
  }
  const fabrics = bands.slice(0, 1);
  for (const band of bands.slice(1)) {
    const last = fabrics[fabrics.length - 1];
    if (band.from - last.to > MAX_BETWEEN) return [];
    if (Math.abs(band.sizeMm / last.sizeMm - 1) < APART) return [];
    fabrics.push(band);
  }
  const end = fabrics.length - 1;
  if (end < 1 || fabrics[0].from > MAX_BETWEEN) return [];
  if (raw.length - fabrics[end].to > MAX_BETWEEN) return [];
  fabrics[0] = { ...fabrics[0], from: 0 };
  fabrics[end] = { ...fabrics[end], to: raw.length };
  return fabrics;
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
