/**
 * Which loops are drawn through each: `parents` turned round. In: CSR lists of the StitchGraph. Out: CSR lists, each
 * loop's children in ascending position.
 */
export function childrenOf(
  loops: number,
  courses: number,
  start: Int32Array,
  wrongSide: Uint8Array,
  parentStart: Int32Array,
  parents: Int32Array,
) {
  const childStart = new Int32Array(loops + 1);
  for (let i = 0; i < parents.length; i++) childStart[parents[i] + 1]++;
  for (let i = 0; i < loops; i++) childStart[i + 1] += childStart[i];
  const at = childStart.slice(0, loops);
  const children = new Int32Array(parents.length);
  for (let c = 1; c < courses; c++) {
    const count = start[c + 1] - start[c];
    for (let p = 0; p < count; p++) {
      const loop = wrongSide[c] ? start[c + 1] - 1 - p : start[c] + p;
      for (let i = parentStart[loop]; i < parentStart[loop + 1]; i++) {
        children[at[parents[i]]++] = loop;
      }
    }
  }
  return { childStart, children };
}
