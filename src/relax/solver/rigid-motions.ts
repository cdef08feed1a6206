/**
 * The six rigid motions of a shape as orthonormal displacement fields, and taking them out of a field.
 * A sheet in no outside force is indifferent to them, so no solver should spend steps on them.
 */

export class RigidMotions {
  private readonly fields: Float64Array[] = [];
  private used = 0;

  constructor(size: number) {
    for (let k = 0; k < 6; k++) this.fields.push(new Float64Array(size));
  }

  /**
   * Takes the motions of the shape x; a shape on a line or point has fewer than six. `along`: only
   * those along a table (it minds being lifted or tilted), or none where the sheet is held.
   */
  refresh(x: Float64Array, along: 'all' | 'table' | 'none' = 'all'): void {
    const vertices = x.length / 3;
    const centre = [0, 0, 0];
    for (let k = 0; k < x.length; k++) centre[k % 3] += x[k] / vertices;
    this.used = 0;
    for (let m = 0; m < 6; m++) {
      if (along === 'none' || (along === 'table' && m > 1 && m < 5)) continue;
      const field = this.fields[this.used];
      const d = m % 3;
      if (m < 3) {
        for (let k = 0; k < x.length; k++) field[k] = k % 3 === d ? 1 : 0;
      } else {
        const e = (d + 1) % 3;
        const f = (d + 2) % 3;
        for (let v = 0; v < x.length; v += 3) {
          field[v + d] = 0;
          field[v + e] = -(x[v + f] - centre[f]);
          field[v + f] = x[v + e] - centre[e];
        }
      }
      const before = norm(field);
      for (let k = 0; k < this.used; k++) removeOne(this.fields[k], field);
      const after = norm(field);
      if (!(after > 1e-9 * before)) continue;
      for (let k = 0; k < field.length; k++) field[k] /= after;
      this.used++;
    }
  }

  /** Leaves in `field` only what is orthogonal to every rigid motion. */
  remove(field: Float64Array): void {
    const { used, fields } = this;
    if (used < 6) {
      for (let k = 0; k < used; k++) removeOne(fields[k], field);
      return;
    }
    // The fields are orthogonal: all six shares can be taken in one pass and removed in another.
    const [a, b, c, d, e, f] = fields;
    let [sa, sb, sc, sd, se, sf] = [0, 0, 0, 0, 0, 0];
    for (let k = 0; k < field.length; k++) {
      const value = field[k];
      sa += a[k] * value;
      sb += b[k] * value;
      sc += c[k] * value;
      sd += d[k] * value;
      se += e[k] * value;
      sf += f[k] * value;
    }
    for (let k = 0; k < field.length; k++) {
      field[k] -= sa * a[k] + sb * b[k] + sc * c[k] + sd * d[k] + se * e[k] + sf * f[k];
    }
  }
}

function removeOne(unit: Float64Array, field: Float64Array): void {
  let sum = 0;
  for (let k = 0; k < field.length; k++) sum += unit[k] * field[k];
  for (let k = 0; k < field.length; k++) field[k] -= sum * unit[k];
}

function norm(a: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * a[k];
  return Math.sqrt(sum);
}
