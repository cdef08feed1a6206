/**
 * Fills the gap between two neighbouring paths of loops, one above the other, with quads and
 * triangles, favouring neither side: the mirror image of the paths gives the mirror image of the cells.
 *
 * Input: lower and upper path, each ordered right to left as seen from the RS, with at least one
 * vertex. Output: cells with corners lower right, upper right, upper left, lower left.
 */

/** Grows a CSR list of cells in arrays big enough for the whole surface. */
export interface CellSink {
  cells: number;
  readonly cellStart: Int32Array;
  readonly corners: Int32Array;
}

/** Adds a quad, or the triangle left when two neighbouring corners coincide; less is no cell. */
export function addCell(sink: CellSink, a: number, b: number, c: number, d: number): void {
  // A quad whose opposite corners coincide is folded onto itself (a ring of one loop): no surface.
  if (a === c || b === d) return;
  const first = sink.cellStart[sink.cells];
  const corners = sink.corners;
  let at = first;
  corners[at++] = a;
  if (b !== a) corners[at++] = b;
  if (c !== b) corners[at++] = c;
  if (d !== c && d !== a) corners[at++] = d;
  if (at - first < 3) return;
  sink.cellStart[++sink.cells] = at;
}

/**
 * Lower path `low[0 … lowEdges]`, upper path `up[0 … upEdges]`. Quads pair the edges from both ends
 * inwards; what one path has more lies in the middle and fans out to the other path's middle.
 */
export function zipPaths(
  sink: CellSink,
  low: readonly number[],
  lowEdges: number,
  up: readonly number[],
  upEdges: number,
): void {
  const paired = Math.min(lowEdges, upEdges) >> 1;
  for (let i = 0; i < paired; i++) addCell(sink, low[i], up[i], up[i + 1], low[i + 1]);
  const lowRest = lowEdges - 2 * paired;
  const upRest = upEdges - 2 * paired;
  if (lowRest <= upRest) fanUp(sink, low, up, paired, lowRest, upRest);
  else fanDown(sink, low, up, paired, lowRest, upRest);
  for (let i = paired; i > 0; i--) {
    const l = lowEdges - i;
    const u = upEdges - i;
    addCell(sink, low[l], up[u], up[u + 1], low[l + 1]);
  }
}

/** Lower path has 0 or 1 edge left, the upper one at least as many. */
function fanUp(
  sink: CellSink,
  low: readonly number[],
  up: readonly number[],
  from: number,
  lowRest: number,
  upRest: number,
): void {
  const right = low[from];
  const left = low[from + lowRest];
  const side = lowRest === 0 ? upRest : upRest >> 1;
  for (let i = 0; i < side; i++) addCell(sink, right, up[from + i], up[from + i + 1], right);
  if (lowRest === 0) return;
  const resume = upRest - side;
  addCell(sink, right, up[from + side], up[from + resume], left);
  for (let i = resume; i < upRest; i++) addCell(sink, left, up[from + i], up[from + i + 1], left);
}

/** Upper path has 0 or 1 edge left, the lower one more. */
function fanDown(
  sink: CellSink,
  low: readonly number[],
  up: readonly number[],
  from: number,
  lowRest: number,
  upRest: number,
): void {
  const right = up[from];
  const left = up[from + upRest];
  const side = upRest === 0 ? lowRest : lowRest >> 1;
  for (let i = 0; i < side; i++) addCell(sink, low[from + i], right, right, low[from + i + 1]);
  if (upRest === 0) return;
  const resume = lowRest - side;
  addCell(sink, low[from + side], right, left, low[from + resume]);
  for (let i = resume; i < lowRest; i++)
    addCell(sink, low[from + i], left, left, low[from + i + 1]);
}
