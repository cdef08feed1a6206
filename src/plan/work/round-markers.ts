/**
 * The markers while one round is worked: those ahead on the left needle and those behind on the right
 * one. Input: the markers before the round and the marker steps. Output: where the next one is, where
 * marked sections end, and the markers after the round; those not named in words stay in their gap.
 */
import { stitchesHung } from '../grammar/markers-hung.ts';
import type { MarkerStep } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import type { Needle } from './needle.ts';
import type { RoundBuffer } from './round-buffer.ts';
import { type RoundProblems, stitches } from './round-problems.ts';

interface LeftMarker {
  readonly at: number;
  state: 'on' | 'slipped' | 'removed';
  /** A run has been worked up to it. */
  reached: boolean;
}

export class RoundMarkers {
  /** A marker shows the beginning of the round. */
  roundMarker: boolean;
  readonly #left: LeftMarker[];
  readonly #right: number[] = [];
  /** Stitches marked before the round, and loops that are marked in it. */
  readonly #marked: readonly number[];
  readonly #newlyMarked: number[] = [];
  /** Markers told by the number of their stitch, which are hung when the round is done. */
  readonly #told = new Set<MarkerStep>();
  readonly #hadRoundMarker: boolean;
  readonly #inRound: boolean;
  readonly #tape: RoundBuffer;
  readonly #problems: RoundProblems;

  constructor(needle: Needle, inRound: boolean, tape: RoundBuffer, problems: RoundProblems) {
    this.#left = needle.markers.map((at) => ({ at, state: 'on', reached: false }));
    this.#marked = needle.marked ?? [];
    this.#hadRoundMarker = needle.roundMarker;
    this.roundMarker = needle.roundMarker;
    this.#inRound = inRound;
    this.#tape = tape;
    this.#problems = problems;
  }

  /** Place of the next marker that lies at least `count` stitches ahead; else the end of the round. */
  next(count: number, step: Place): number {
    const { at } = this.#tape;
    for (const marker of this.#left) {
      if (marker.state !== 'on' || marker.at < at) continue;
      if (marker.reached && marker.at === at) {
        // Named again without having been slipped in words: it is the one behind us now.
        marker.state = 'slipped';
        this.#right.push(this.#tape.made);
        continue;
      }
      if (marker.at - count < at) continue;
      return marker.at;
    }
    if (this.#left.length === 0 && !this.#hadRoundMarker && this.#right.length === 0) {
      this.#problems.error(
        step,
        'marker-missing',
        'there is no marker on the needles',
        'Place it in an earlier round (pm), or count from the end: k to last 2 sts.',
      );
    }
    return this.#tape.before;
  }

  /** A run has been worked up to the marker here. */
  reach(): void {
    const found = this.#here();
    if (found) found.reached = true;
  }

  #here(): LeftMarker | undefined {
    return this.#left.find((m) => m.state === 'on' && m.at === this.#tape.at);
  }

  work(step: MarkerStep): void {
    const { at, before, made, beyond } = this.#tape;
    if (beyond) return;
    if (step.at || step.every !== undefined) {
      this.#told.add(step);
      return;
    }
    if (step.action === 'mark') {
      if (step.ahead) this.#newlyMarked.push(made);
      else if (made > 0) this.#newlyMarked.push(made - 1);
      return;
    }
    if (step.action === 'place') {
      this.#right.push(made);
      return;
    }
    const found = this.#here();
    if (found) {
      found.state = step.action === 'slip' ? 'slipped' : 'removed';
      if (step.action === 'slip') this.#right.push(made);
      return;
    }
    const atTurn = at === 0 || at === before;
    if (atTurn && (this.#inRound || this.#hadRoundMarker)) {
      if (step.action === 'remove') this.roundMarker = false;
      return;
    }
    const verb = step.action === 'slip' ? 'slip' : 'remove';
    const next = this.#left.find((m) => m.state === 'on' && m.at > at);
    if (next) {
      this.#problems.warn(
        step,
        'marker-elsewhere',
        `there is no marker to ${verb} here: the next one is ${stitches(next.at - at)} further on`,
        'Check the stitches before it, or where the marker was placed.',
      );
    } else {
      this.#problems.warn(
        step,
        'marker-missing',
        `there is no marker to ${verb} here`,
        'Place it in an earlier round (pm).',
      );
    }
  }

  /** Stitches that hold a marker; null where none does. */
  get markedCount(): number | null {
    return this.#marked.length || null;
  }

  /** The next marked stitch at least so far ahead, be it the first of the next round; null where none is. */
  markedAhead(count: number): number | null {
    const ahead = this.#marked.find((at) => at - count >= this.#tape.at);
    return ahead ?? (this.#marked[0] === 0 ? this.#tape.before : null);
  }

  /** … the last of them where none is ahead. */
  nextMarked(count: number): number | null {
    return this.markedAhead(count) ?? this.#marked.at(-1) ?? null;
  }

  /** Marked stitches after the round: the markers move up with what their stitches were worked into. */
  settleMarked({ consumes, makes }: StitchRegistry): number[] {
    const kept = new Set(this.#newlyMarked);
    let [used, made, next] = [0, 0, 0];
    for (const id of this.#tape.works) {
      const end = used + consumes[id];
      for (; next < this.#marked.length && this.#marked[next] < end; next++)
        if (makes[id] > 0) kept.add(made + (makes[id] >> 1));
      used = end;
      made += makes[id];
    }
    return [...kept].sort((a, b) => a - b);
  }

  /** Where all of them lay before the round. */
  get places(): number[] {
    return this.#left.map((m) => m.at);
  }

  /** Ends of the marked sections from here to `stop`. */
  sectionEnds(stop: number): number[] {
    const ends: number[] = [];
    for (const m of this.#left) {
      if (m.state === 'on' && m.at > this.#tape.at && m.at < stop) ends.push(m.at);
    }
    ends.push(stop);
    return ends;
  }

  /** Hangs the markers that are told by the number of their stitch. */
  #hangTold(): void {
    const { made } = this.#tape;
    for (const step of this.#told) {
      const { every } = step;
      if (every && !step.at && made % every !== 0) {
        this.#problems.error(
          step,
          'repeat-does-not-fit',
          `${stitches(made)} can't be divided by ${every}: the last marker comes out ${stitches(every - (made % every))} short`,
          `It would fit over ${made - (made % every)} or ${made - (made % every) + every} stitches.`,
        );
      }
      const at = stitchesHung(step, made);
      const beyond = at.find((n) => n > made);
      if (beyond !== undefined) {
        this.#problems.error(
          step,
          'marker-elsewhere',
          `there is no stitch ${beyond} to mark: the round has ${stitches(made)}`,
          'Check the places of the markers, or the count of the round before.',
        );
      }
      for (const n of at) {
        if (n > made) break;
        if (step.action === 'mark') this.#newlyMarked.push(n - 1);
        else this.#right.push(n);
      }
    }
  }

  /** Places of the markers after the round, which stands at `round` in the text. */
  settle(list: StitchRegistry, round: Place): number[] {
    this.#hangTold();
    const places = [...this.#right, ...this.#carried(list, round)];
    const inside: number[] = [];
    for (const at of places.sort((a, b) => a - b)) {
      if (at === 0 || at === this.#tape.made) this.roundMarker ||= this.#inRound;
      else if (inside[inside.length - 1] !== at) inside.push(at);
    }
    return inside;
  }

  /**
   * New places of the markers that no step has named. Of yarn overs and the like that are made at one of them as many lie
   * behind it as at the beginning of the round, where its own marker lies before them: `*yo, k2tog*`.
   */
  #carried(list: StitchRegistry, round: Place): number[] {
    const carried = this.#left.filter((m) => m.state === 'on');
    const places: number[] = [];
    if (carried.length === 0) return places;
    const { consumes, makes } = list;
    const { works } = this.#tape;
    let used = 0;
    let made = 0;
    let next = 0;
    /** Loops made since the last stitch was worked, and at the beginning of the round. */
    let between = 0;
    let leading = -1;
    for (let i = 0; i < works.length && next < carried.length; i++) {
      const id = works[i];
      if (leading < 0 && consumes[id] > 0) leading = between;
      while (next < carried.length && consumes[id] > 0 && carried[next].at <= used) {
        places.push(made - (carried[next].reached ? 0 : Math.min(leading, between)));
        next++;
      }
      between = consumes[id] > 0 ? 0 : between + makes[id];
      used += consumes[id];
      made += makes[id];
      while (next < carried.length && carried[next].at < used) {
        this.#problems.warn(
          round,
          'marker-inside-stitch',
          'a stitch of this round works across a marker; the marker goes behind it',
          'Remove the marker first, or place it anew.',
        );
        places.push(made);
        next++;
      }
    }
    for (; next < carried.length; next++) places.push(this.#tape.made);
    return places;
  }
}
