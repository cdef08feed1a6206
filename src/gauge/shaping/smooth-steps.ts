/**
 * Turns a staircase (stitch counts fall by whole stitches) into the smooth line that the fabric
 * follows: loops lend each other yarn over a decrease period, so a course has the length of its
 * place between the steps, not of its own count. Even staircases come out exactly straight.
 *
 * In: a value a course. Out: a value a course, [courses].
 */

/** Half-width of the averaging window for stitch sizes, in decrease periods. Chosen: a change of
 * fabric shows within a few rounds, a single round does not. */
const WINDOW_PERIODS = 2.5;
/** Treads that say how the slope runs on beyond the first and the last one. Chosen. */
const END_TREADS = 4;
/** Textures repeat within a few rounds: widths are averaged over at least ± this many. Chosen. */
const MIN_WINDOW = 4;
/** Loops lend each other yarn up to this share of a step. Chosen: whole-stitch schedules of an even
 * rate stay within half a step of their straight line, so these come out straight. */
const LENDING_STEPS = 0.5;
/** Stiffest smoothing tried, courses⁴: straight over any piece that can be knitted. */
const STIFFEST = 1e9;
/** Power of ten of the softest: hardly moves a value. */
const SOFTEST = -3;

/**
 * The least bent line that stays within half a step of the staircase. `at` [courses], ascending: where the
 * values stand, if not at equal steps; straight is then what is straight over it.
 */
export function smoothSteps(values: Float64Array, at?: Float64Array): Float64Array {
  const polyline = joinPlateaus(values);
  if (plateaus(values).length < 3) return polyline;
  return straightenWithin(polyline, coarseness(values), STIFFEST, at);
}

/**
 * How coarse a staircase is: the weighted median of its second differences. Of even treads it is the
 * step; of a smooth curve in whole stitches it is one stitch, however many a course loses. (Half of the
 * mean step, allowed all along, lets the rim of a hemisphere swell and its pole stand up.)
 */
export function coarseness(values: Float64Array): number {
  const bends: number[] = [];
  for (let c = 1; c + 1 < values.length; c++) {
    const bend = Math.abs(values[c + 1] - 2 * values[c] + values[c - 1]);
    if (bend > 1e-9) bends.push(bend);
  }
  bends.sort((a, b) => a - b);
  let rest = bends.reduce((sum, bend) => sum + bend, 0) / 2;
  for (const bend of bends) {
    rest -= bend;
    if (rest <= 0) return bend;
  }
  return 0;
}

/**
 * The least bent line within LENDING_STEPS of a step of `values`: minimises
 * Σ (x − v)² + μ Σ (second difference of x)² with the largest μ up to `stiffest` that keeps within it.
 */
export function straightenWithin(
  values: Float64Array,
  step: number,
  stiffest: number,
  at?: Float64Array,
): Float64Array {
  const allowed = LENDING_STEPS * step;
  const within = (x: Float64Array): boolean =>
    x.every((value, c) => Math.abs(value - values[c]) <= allowed);
  let best = straighten(values, stiffest, at);
  if (within(best)) return best;
  best = values;
  let low = SOFTEST;
  let high = Math.log10(stiffest);
  for (let k = 0; k < 16; k++) {
    const middle = (low + high) / 2;
    const tried = straighten(values, 10 ** middle, at);
    if (within(tried)) {
      best = tried;
      low = middle;
    } else high = middle;
  }
  return best;
}

/**
 * Solves (I + μ D₂ᵀD₂) x = v, D₂ the second differences over `at` (equal steps without it), in mean steps:
 * banded Cholesky (LDLᵀ), five diagonals.
 */
export function straighten(v: Float64Array, mu: number, at?: Float64Array): Float64Array {
  const n = v.length;
  if (n < 3) return v.slice();
  const mean = at ? (at[n - 1] - at[0]) / (n - 1) : 1;
  const place = at ? at.map((depth) => (depth - at[0]) / mean) : Float64Array.from(v, (_, c) => c);
  const diagonal = new Float64Array(n).fill(1);
  const first = new Float64Array(n);
  const second = new Float64Array(n);
  for (let c = 0; c + 2 < n; c++) {
    const p = 1 / (place[c + 1] - place[c]);
    const q = 1 / (place[c + 2] - place[c + 1]);
    diagonal[c] += mu * p * p;
    diagonal[c + 1] += mu * (p + q) ** 2;
    diagonal[c + 2] += mu * q * q;
    first[c] -= mu * p * (p + q);
    first[c + 1] -= mu * q * (p + q);
    second[c] += mu * p * q;
  }
  // The mean line is taken out first: it costs no bending, and rounding would spoil it at large μ.
  const line = meanLine(v, place);
  const x = v.map((value, c) => value - line.at0 - line.slope * place[c]);
  for (let c = 0; c < n; c++) {
    const l1 = first[c] / diagonal[c];
    const l2 = second[c] / diagonal[c];
    if (c + 1 < n) {
      diagonal[c + 1] -= l1 * first[c];
      first[c + 1] -= l1 * second[c];
      x[c + 1] -= l1 * x[c];
    }
    if (c + 2 < n) {
      diagonal[c + 2] -= l2 * second[c];
      x[c + 2] -= l2 * x[c];
    }
    first[c] = l1;
    second[c] = l2;
  }
  for (let c = n - 1; c >= 0; c--) {
    x[c] /= diagonal[c];
    if (c + 1 < n) x[c] -= first[c] * x[c + 1];
    if (c + 2 < n) x[c] -= second[c] * x[c + 2];
  }
  return x.map((value, c) => value + line.at0 + line.slope * place[c]);
}

function meanLine(v: Float64Array, place: Float64Array): { at0: number; slope: number } {
  const n = v.length;
  const centre = place.reduce((sum, p) => sum + p, 0) / n;
  let mean = 0;
  let slope = 0;
  let spread = 0;
  for (let c = 0; c < n; c++) {
    mean += v[c] / n;
    slope += (place[c] - centre) * v[c];
    spread += (place[c] - centre) ** 2;
  }
  slope /= spread;
  return { at0: mean - slope * centre, slope };
}

/** Smooths other values over the same windows as the steps of `steps`, without looking for treads. */
export function smoothAlike(values: Float64Array, steps: Float64Array): Float64Array {
  const width = plateauWidth(steps);
  return values.map((_, c) =>
    localLine(values, c, Math.max(MIN_WINDOW, WINDOW_PERIODS * width[c])),
  );
}

/** First and last index of each run of equal values. */
function plateaus(values: Float64Array): { from: number; to: number }[] {
  const found: { from: number; to: number }[] = [];
  for (let c = 0; c < values.length; ) {
    let end = c;
    while (end + 1 < values.length && Math.abs(values[end + 1] - values[c]) < 1e-9) end++;
    found.push({ from: c, to: end });
    c = end + 1;
  }
  return found;
}

/** Straight lines between the middles of the steps' treads; long treads keep a level middle. */
function joinPlateaus(values: Float64Array): Float64Array {
  const n = values.length;
  const flat = plateaus(values);
  if (flat.length < 2) return values.slice();
  const knotAt: number[] = [];
  const knotValue: number[] = [];
  flat.forEach((p, i) => {
    const own = p.to - p.from + 1;
    const left = neighbourWidth(flat, i, -1);
    const right = neighbourWidth(flat, i, 1);
    const value = values[p.from];
    if (i === 0) {
      // The first tread may be cut short by the cast-on: the slope runs on through it.
      if (own > right) pushKnot(knotAt, knotValue, p.from, value);
      pushKnot(knotAt, knotValue, p.to - (right - 1) / 2, value);
    } else if (i === flat.length - 1) {
      pushKnot(knotAt, knotValue, p.from + (left - 1) / 2, value);
      if (own > left) pushKnot(knotAt, knotValue, p.to, value);
    } else {
      pushKnot(knotAt, knotValue, p.from + (Math.min(own, left) - 1) / 2, value);
      pushKnot(knotAt, knotValue, p.to - (Math.min(own, right) - 1) / 2, value);
    }
  });
  const out = new Float64Array(n);
  let k = 0;
  for (let c = 0; c < n; c++) {
    while (k + 2 < knotAt.length && c > knotAt[k + 1]) k++;
    const slope = (knotValue[k + 1] - knotValue[k]) / (knotAt[k + 1] - knotAt[k]);
    out[c] = knotValue[k] + slope * (c - knotAt[k]);
  }
  return out;
}

/**
 * Width of the next tread. The outermost ones are cut short, so they count at least as this one;
 * looked at from there, the mean of the next few says where the slope would run on.
 */
function neighbourWidth(flat: { from: number; to: number }[], i: number, step: 1 | -1): number {
  const widthOf = (k: number): number => flat[k].to - flat[k].from + 1;
  const last = flat.length - 1;
  const k = i + step;
  if (k < 0 || k > last) return widthOf(i);
  if (k === 0 || k === last) return Math.max(widthOf(k), widthOf(i));
  if (i !== 0 && i !== last) return widthOf(k);
  let sum = 0;
  let count = 0;
  for (let q = k; q > 0 && q < last && count < END_TREADS; q += step) {
    sum += widthOf(q);
    count++;
  }
  return sum / count;
}

function pushKnot(at: number[], value: number[], where: number, what: number): void {
  if (at.length > 0 && where <= at[at.length - 1]) return;
  at.push(where);
  value.push(what);
}

/** [n] decrease period around each course: mean tread width over a few treads. */
function plateauWidth(values: Float64Array): Float64Array {
  const width = new Float64Array(values.length);
  const flat = plateaus(values);
  flat.forEach((p, i) => {
    const low = Math.max(0, i - 2);
    const high = Math.min(flat.length - 1, i + 2);
    const own = p.to - p.from + 1;
    const around = flat[high].to - flat[low].from + 1 - own;
    const others = around / Math.max(1, high - low);
    // A long level stretch is no period: the treads beside it are.
    const mean = own > 2 * others ? others : (around + own) / (high - low + 1);
    width.fill(flat.length < 2 ? 0 : mean, p.from, p.to + 1);
  });
  return width;
}

/** Value at `at` of the straight line fitted to the values around it, triangular weights. */
function localLine(values: Float64Array, at: number, halfWidth: number): number {
  const low = Math.max(0, Math.ceil(at - halfWidth));
  const high = Math.min(values.length - 1, Math.floor(at + halfWidth));
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let t0 = 0;
  let t1 = 0;
  for (let c = low; c <= high; c++) {
    const d = c - at;
    const w = 1 - Math.abs(d) / (halfWidth + 1);
    s0 += w;
    s1 += w * d;
    s2 += w * d * d;
    t0 += w * values[c];
    t1 += w * d * values[c];
  }
  const det = s0 * s2 - s1 * s1;
  return Math.abs(det) < 1e-9 ? values[at] : (s2 * t0 - s1 * t1) / det;
}
