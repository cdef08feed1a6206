/**
 * One strip of cells in the making: takes stitches right to left as seen from the RS, fills each
 * stitch (loops consumed below, loops made above) and closes the gap between it and the one before.
 *
 * Loops made from nothing (yarn over, lifted strand) wait in the gap until a stitch comes that
 * stands on something; so they lie over the edge between their neighbours' parents. A gap in which
 * loops were bound off stays a hole. In a ring the gap that stands open at the beginning is closed
 * together with the one at the end, so neither side is favoured.
 */
import { FLAG_SEAM, type StitchGraph } from './stitch-graph.ts';
import { type CellSink, zipPaths } from './zip-paths.ts';

export class CellStrip {
  /** The gap: from the last loop below and above to whatever waits. */
  private low: number[] = [];
  private up: number[] = [];
  private torn = false;
  /** What stood before the first stitch of a ring, that stitch's first loops included. */
  private leadLow: number[] = [];
  private leadUp: number[] = [];
  private leadTorn = false;
  private ring = false;
  private anchored = false;
  /** Scratch for one stitch. */
  private readonly below: number[] = [];
  private readonly above: number[] = [];

  constructor(
    private readonly graph: StitchGraph,
    private readonly sink: CellSink,
  ) {}

  begin(ring: boolean): void {
    this.ring = ring;
    this.anchored = false;
    this.torn = false;
    this.low.length = 0;
    this.up.length = 0;
    this.leadLow.length = 0;
    this.leadUp.length = 0;
    this.leadTorn = false;
  }

  add(stitch: number, reversed: boolean): void {
    const { graph, below, above, low, up } = this;
    below.length = 0;
    above.length = 0;
    const c0 = graph.consumedStart[stitch];
    const c1 = graph.consumedStart[stitch + 1];
    for (let i = c0; i < c1; i++) {
      const loop = graph.consumed[reversed ? c0 + c1 - 1 - i : i];
      if (!(graph.flags[loop] & FLAG_SEAM)) below.push(loop);
    }
    const m0 = graph.madeStart[stitch];
    const m1 = graph.madeStart[stitch + 1];
    for (let i = m0; i < m1; i++) {
      const loop = reversed ? m0 + m1 - 1 - i : i;
      if (!(graph.flags[loop] & FLAG_SEAM)) above.push(loop);
    }
    if (m0 === m1 && below.length > 0) this.torn = true;
    if (below.length === 0 || above.length === 0) {
      for (let i = 0; i < below.length; i++) low.push(below[i]);
      for (let i = 0; i < above.length; i++) up.push(above[i]);
      return;
    }
    low.push(below[0]);
    up.push(above[0]);
    if (this.ring && !this.anchored) {
      this.leadLow = low.slice();
      this.leadUp = up.slice();
      this.leadTorn = this.torn;
      this.torn = false;
    } else {
      this.closeGap();
    }
    this.anchored = true;
    zipPaths(this.sink, below, below.length - 1, above, above.length - 1);
    low.length = 1;
    up.length = 1;
    low[0] = below[below.length - 1];
    up[0] = above[above.length - 1];
  }

  /** A loop that waits beside a short row: above and below it lie the same. */
  pass(loop: number): void {
    this.low.push(loop);
    this.up.push(loop);
    if (this.anchored) this.closeGap();
    this.anchored = true;
    this.low = [loop];
    this.up = [loop];
  }

  /** Closes the last gap; in a ring it reaches to the first stitch, if `sewn`. */
  end(sewn: boolean): void {
    if (!this.anchored) return;
    if (this.ring && sewn) {
      for (const loop of this.leadLow) this.low.push(loop);
      for (const loop of this.leadUp) this.up.push(loop);
      this.torn ||= this.leadTorn;
    }
    this.closeGap();
  }

  private closeGap(): void {
    if (!this.torn) {
      zipPaths(this.sink, this.low, this.low.length - 1, this.up, this.up.length - 1);
    }
    this.torn = false;
  }
}
