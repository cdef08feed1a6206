/**
 * Segment states → the stitches of each round of one segment, as the right side shows them.
 *
 * Input: the states of `scheduleCourses` in working order and the patterns of side and corner.
 * Output: stitch names, right to left. A segment is worked `[side][corner]`; with centred double
 * decreases `[side from wale q][corner][side up to q]`, so that no decrease straddles its ends.
 */
import { type SegmentState, segmentStitches, wholeStrip } from './decrease-schedule.ts';
import {
  type CableColumns,
  type CrossedRounds,
  type CrossingRounds,
  cableName,
  crossesIn,
  groundPurls,
  orphanWales,
  type SidePattern,
  stitchOn,
} from './side-pattern.ts';

export interface SegmentPatterns {
  readonly side: SidePattern;
  readonly corner: SidePattern;
  /** Wale at which a segment begins with centred doubles; null with paired decreases. */
  readonly centredFrom: number | null;
  readonly crossing: CrossingRounds;
}

/** Plain rounds that a cable keeps straight before it is eaten or after it is born: chosen. */
const REST_ROUNDS = 2;

type Strip = Extract<SegmentState, { kind: 'strip' }>;
type Side = Extract<SegmentState, { kind: 'side' }>;

/**
 * `states[r]` is the segment after round r (states[0] the cast-on). Returns the rounds' stitches, item r − 1 is
 * round r, and how often each cable is crossed in them.
 */
export function segmentRounds(
  states: readonly SegmentState[],
  patterns: SegmentPatterns,
): CrossedRounds {
  const crossable = cableWindows(states, patterns);
  const rounds: string[][] = [];
  const crossed = new Map<CableColumns, number>();
  for (let round = 1; round < states.length; round++) {
    const worker = new RoundWorker(patterns, crossable, round, crossed);
    rounds.push(worker.work(states[round - 1], states[round]));
  }
  return { rounds, crossed };
}

/** Columns of a segment right to left: those of the side, then the corner's counted on from them. */
export function blockColumns(state: SegmentState, patterns: SegmentPatterns): number[] | null {
  if (state.kind !== 'side') return null;
  const { first, end } = state;
  const side = patterns.side.columns.length;
  const corner = patterns.corner.columns.map((_, i) => side + i);
  const from = patterns.centredFrom;
  const run = (a: number, b: number) => Array.from({ length: b - a }, (_, i) => a + i);
  if (from === null || first >= from) return [...run(first, end), ...corner];
  return [...run(from, end), ...corner, ...run(first, from)];
}

/** First and last round in which each cable may cross: whole, untouched and with rest rounds. */
function cableWindows(
  states: readonly SegmentState[],
  patterns: SegmentPatterns,
): Map<CableColumns, { first: number; last: number }> {
  const windows = new Map<CableColumns, { first: number; last: number }>();
  const last = states.length - 1;
  for (const [pattern, isCorner] of [
    [patterns.side, false],
    [patterns.corner, true],
  ] as const)
    for (const cable of pattern.cables) {
      const whole = (s: SegmentState) => {
        if (isCorner && s.kind === 'side') return true;
        if (s.kind !== (isCorner ? 'strip' : 'side')) return false;
        const { first, end } = s as Side | Strip;
        const last = cable.first + cable.width;
        if (s.kind === 'strip' && s.from === 'middle')
          return first === end || last < first || cable.first > end;
        return first < cable.first && end > last;
      };
      let from = 0;
      while (from <= last && !whole(states[from])) from++;
      let to = from;
      while (to <= last && whole(states[to])) to++;
      windows.set(cable, {
        first: from === 0 ? 2 : from + REST_ROUNDS,
        last: to > last ? last - 1 : to - 1 - REST_ROUNDS,
      });
    }
  return windows;
}

class RoundWorker {
  private orphans: { side: ReadonlySet<number>; corner: ReadonlySet<number> } = {
    side: new Set(),
    corner: new Set(),
  };

  constructor(
    private readonly patterns: SegmentPatterns,
    private readonly windows: ReadonlyMap<CableColumns, { first: number; last: number }>,
    private readonly round: number,
    private readonly crossed: Map<CableColumns, number>,
  ) {}

  work(before: SegmentState, after: SegmentState): string[] {
    this.findOrphans(before);
    if (before.kind === 'gathered' || after.kind === 'gathered') return this.gather(before, after);
    if (before.kind === 'strip' || after.kind === 'strip')
      return this.workStrip(this.asStrip(before, after), this.asStrip(after, before));
    const grow = before.first - after.first;
    if (grow > 0) return this.growSide(before, grow);
    return this.shrinkSide(before, -grow);
  }

  private findOrphans(live: SegmentState): void {
    const { side, corner } = this.patterns;
    if (live.kind === 'gathered') return;
    const middle = side.columns.length >> 1;
    const [from, to] = live.kind === 'side' ? [live.first, live.end] : [middle, middle + live.rest];
    const between = (wale: number) => live.first <= wale && wale < live.end;
    this.orphans = {
      side: orphanWales(side, (wale) => from <= wale && wale < to),
      corner:
        live.kind === 'side'
          ? new Set()
          : orphanWales(corner, (wale) => between(wale) === (live.from === 'ends')),
    };
  }

  private shrinkSide(before: Side, pairs: number): string[] {
    const { side, centredFrom } = this.patterns;
    const corner = this.cornerStitches();
    if (centredFrom === null || before.first >= centredFrom)
      return [...this.shrinkEnds(side, before.first, before.end, pairs), ...corner];
    const { first, end } = before;
    const plain = (a: number, b: number) => this.plain(side, a, b);
    if (pairs === 0) return [...plain(centredFrom, end), ...corner, ...plain(first, centredFrom)];
    const centre = this.purls() ? 's2pp' : 's2kp';
    if (pairs === 1)
      return [...plain(centredFrom, end - 1), centre, ...plain(first + 1, centredFrom)];
    return [
      ...plain(centredFrom, end - 3),
      this.leftDecrease(1),
      centre,
      this.rightDecrease(1),
      ...plain(first + 3, centredFrom),
    ];
  }

  /** Decreases at both ends of columns [first, end). */
  private shrinkEnds(pattern: SidePattern, first: number, end: number, pairs: number): string[] {
    if (pairs === 0) return this.plain(pattern, first, end);
    if (end - first === 3) return [this.purlsOn(pattern, first + 1) ? 's2pp' : 's2kp'];
    return [
      this.rightDecrease(pairs, this.purlsOn(pattern, first + pairs)),
      ...this.plain(pattern, first + pairs + 1, end - pairs - 1),
      this.leftDecrease(pairs, this.purlsOn(pattern, end - pairs - 1)),
    ];
  }

  private growSide(before: Side, pairs: number): string[] {
    const { side, corner } = this.patterns;
    const { first, end } = before;
    if (corner.columns.length > 0)
      return [...this.growEnds(side, first, end, pairs), ...this.cornerStitches()];
    // Without corner stitches the increases are made in the side's own end stitches.
    const bar = this.purls() ? 'pfb' : 'kfb';
    const bars = Array.from({ length: pairs }, () => bar);
    const last = end - first === 2 * pairs ? [] : [this.stitch(side, end - 1)];
    return [
      ...bars,
      ...this.plain(side, first + pairs, end - pairs - last.length),
      ...bars,
      ...last,
    ];
  }

  private growEnds(pattern: SidePattern, first: number, end: number, pairs: number): string[] {
    if (pairs === 0) return this.plain(pattern, first, end);
    if (pairs === 1) return [this.makeLeft(), ...this.plain(pattern, first, end), this.makeRight()];
    return [
      this.makeLeft(),
      this.movedStitch(pattern, first, first - 1),
      this.makeLeft(),
      ...this.plain(pattern, first + 1, end - 1),
      this.makeRight(),
      this.movedStitch(pattern, end - 1, end),
      this.makeRight(),
    ];
  }

  /** A stitch between two that are made: it goes on as the wale `to`. */
  private movedStitch(pattern: SidePattern, from: number, to: number): string {
    return this.orphansOn(pattern).has(from)
      ? this.stitch(pattern, from)
      : this.stitch(pattern, to);
  }

  /** A side state seen as the strip state next to it: the strip still whole. */
  private asStrip(state: SegmentState, other: SegmentState): Strip {
    if (state.kind === 'strip') return state;
    return wholeStrip((other as Strip).rest, this.patterns.corner.columns.length);
  }

  private workStrip(before: Strip, after: Strip): string[] {
    const { side, corner } = this.patterns;
    const middle = side.columns.length >> 1;
    const rest = this.plain(side, middle, middle + before.rest);
    const grow = before.first - after.first;
    if (before.from === 'middle') return [...rest, ...this.workMiddle(before, -grow)];
    return grow > 0
      ? [...rest, ...this.growEnds(corner, before.first, before.end, grow)]
      : [...rest, ...this.shrinkEnds(corner, before.first, before.end, -grow)];
  }

  /** The strip's two halves, with `grow` stitches made (taken, where negative) at the inner end of each. */
  private workMiddle({ first, end }: Strip, grow: number): string[] {
    const { corner } = this.patterns;
    const all = corner.columns.length;
    const plain = (a: number, b: number) => this.plain(corner, a, b);
    if (grow === 0) return first === end ? plain(0, all) : [...plain(0, first), ...plain(end, all)];
    if (grow < 0)
      return [
        ...plain(0, first + grow - 1),
        this.leftDecrease(-grow, this.purlsOn(corner, first + grow - 1)),
        this.rightDecrease(-grow, this.purlsOn(corner, end - grow)),
        ...plain(end - grow + 1, all),
      ];
    // Two at a time stand on either side of the half's last stitch.
    const last = this.movedStitch(corner, first - 1, first);
    const next = this.movedStitch(corner, end, end - 1);
    return grow === 1
      ? [...plain(0, first), this.makeRight(), this.makeLeft(), ...plain(end, all)]
      : [
          ...plain(0, first - 1),
          this.makeRight(),
          last,
          this.makeRight(),
          this.makeLeft(),
          next,
          this.makeLeft(),
          ...plain(end + 1, all),
        ];
  }

  private gather(before: SegmentState, after: SegmentState): string[] {
    const cornerCount = this.patterns.corner.columns.length;
    const count = (s: SegmentState) => segmentStitches(s, cornerCount);
    const from = count(before);
    const to = count(after);
    const purl = this.purls();
    const single = purl ? 'p' : 'k';
    const fewer = Array.from({ length: Math.max(0, from - to) }, () => (purl ? 'p2tog' : 'k2tog'));
    const more = Array.from({ length: Math.max(0, to - from) }, () => (purl ? 'pfb' : 'kfb'));
    const singles = from - 2 * fewer.length - more.length;
    return [...fewer, ...more, ...Array.from({ length: singles }, () => single)];
  }

  private cornerStitches(): string[] {
    const { corner } = this.patterns;
    return this.plain(corner, 0, corner.columns.length);
  }

  /** Columns [first, end) as set, with the crossings that fall due in them. */
  private plain(pattern: SidePattern, first: number, end: number): string[] {
    const names: string[] = [];
    for (let wale = first; wale < end; ) {
      const cable = pattern.cables.find((c) => c.first === wale);
      if (cable && wale + cable.width <= end && this.crosses(cable)) {
        names.push(cableName(cable));
        this.crossed.set(cable, (this.crossed.get(cable) ?? 0) + 1);
        wale += cable.width;
      } else names.push(this.stitch(pattern, wale++));
    }
    return names;
  }

  private stitch(pattern: SidePattern, wale: number): string {
    return stitchOn(pattern, wale, this.round, this.orphansOn(pattern));
  }

  private orphansOn(pattern: SidePattern): ReadonlySet<number> {
    return pattern === this.patterns.side ? this.orphans.side : this.orphans.corner;
  }

  private crosses(cable: CableColumns): boolean {
    const window = this.windows.get(cable);
    return (
      window !== undefined &&
      this.round >= window.first &&
      this.round <= window.last &&
      crossesIn(cable, this.round, this.patterns.crossing)
    );
  }

  /** Whether a decrease of this round is purled: the ground shows purl all along the round. */
  private purls(): boolean {
    return groundPurls(this.patterns.side, this.round);
  }

  /** The same of a decrease that leaves this wale: on the corner, where there is nothing but the panel, a knit one is knitted. */
  private purlsOn(pattern: SidePattern, wale: number): boolean {
    const fabric = pattern.columns[wale];
    const isKnit = fabric === 'k' || fabric === 'ktbl';
    const onCorner = pattern === this.patterns.corner && !this.orphans.corner.has(wale);
    return this.purls() && !(onCorner && isKnit);
  }

  /** Made purlwise in a purled round, as decreases are there. */
  private makeLeft(): string {
    return this.purls() ? 'm1lp' : 'm1l';
  }

  private makeRight(): string {
    return this.purls() ? 'm1rp' : 'm1r';
  }

  /** At the right end (worked first), leaning left, away from the corner line. */
  private rightDecrease(stitches: number, purl = this.purls()): string {
    if (purl) return stitches === 1 ? 'ssp' : 'sssp';
    return stitches === 1 ? 'ssk' : 'sssk';
  }

  /** At the left end (worked last), leaning right. */
  private leftDecrease(stitches: number, purl = this.purls()): string {
    if (purl) return stitches === 1 ? 'p2tog' : 'p3tog';
    return stitches === 1 ? 'k2tog' : 'k3tog';
  }
}
