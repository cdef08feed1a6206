/**
 * How often two closed curves wind round each other: Gauss's linking integral, exact for polygons.
 * In: two closed polygons, [3·n] each, without their first point repeated. Out: a number that is whole up to
 * rounding wherever the curves do not touch; its sign is that of a right-handed link.
 * Source: each pair of sides contributes the solid angle of their parallelogram of directions, found by
 * A. Van Oosterom, J. Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125–126, eq. 8.
 */
export function linkingNumber(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length < 9 || b.length < 9 || a.length % 3 || b.length % 3) {
    throw new RangeError('a closed polygon needs at least three points of three coordinates');
  }
  let sum = 0;
  for (let i = 0; i < a.length; i += 3) {
    const nextI = i + 3 < a.length ? i + 3 : 0;
    for (let j = 0; j < b.length; j += 3) {
      const nextJ = j + 3 < b.length ? j + 3 : 0;
      sum += pairAngle(a, i, nextI, b, j, nextJ);
    }
  }
  return sum / (4 * Math.PI);
}

const v = new Float64Array(12);
const size = new Float64Array(4);

/** Solid angle of the directions from all points of one side to all of another, sr. */
function pairAngle(
  a: ArrayLike<number>,
  i0: number,
  i1: number,
  b: ArrayLike<number>,
  j0: number,
  j1: number,
): number {
  // Corners of the parallelogram b − a, in the order in which its edge goes round.
  for (let c = 0; c < 3; c++) {
    v[c] = b[j0 + c] - a[i0 + c];
    v[3 + c] = b[j0 + c] - a[i1 + c];
    v[6 + c] = b[j1 + c] - a[i1 + c];
    v[9 + c] = b[j1 + c] - a[i0 + c];
  }
  for (let k = 0; k < 4; k++) size[k] = Math.hypot(v[3 * k], v[3 * k + 1], v[3 * k + 2]);
  return triangle(0, 1, 2) + triangle(0, 2, 3);
}

function triangle(p: number, q: number, r: number): number {
  const [x, y, z] = [3 * p, 3 * q, 3 * r];
  const triple =
    v[x] * (v[y + 1] * v[z + 2] - v[y + 2] * v[z + 1]) +
    v[x + 1] * (v[y + 2] * v[z] - v[y] * v[z + 2]) +
    v[x + 2] * (v[y] * v[z + 1] - v[y + 1] * v[z]);
  const below =
    size[p] * size[q] * size[r] + dot(x, y) * size[r] + dot(x, z) * size[q] + dot(y, z) * size[p];
  return 2 * Math.atan2(triple, below);
}

function dot(x: number, y: number): number {
  return v[x] * v[y] + v[x + 1] * v[y + 1] + v[x + 2] * v[y + 2];
}
