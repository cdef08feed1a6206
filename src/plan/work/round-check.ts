/**
 * Which mistakes of a worked round are news and which only follow from one reported before. Input: the
 * round as asked and as it came out, and what the text believes to be on the needles. Output:
 * diagnostics, the belief afterwards, and whether the count can be trusted.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { Place } from '../lex/source.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import type { CountCheck } from './count-check.ts';
import { needleOf } from './error-suppression.ts';
import { fits, type RoundExpander, type WorkedRound } from './expand.ts';
import { reportRound, type Surroundings } from './miscounts.ts';
import type { Needle } from './needle.ts';
import type { RoundSetting } from './round-context.ts';
import { stitches } from './round-problems.ts';

/** A round that has just been worked. */
export interface RoundCase {
  readonly def: RoundDef;
  /** As it has been read: of two readings of `def` the one that fits. */
  readonly steps: readonly Step[];
  readonly worked: WorkedRound;
  /** The stitches before it. */
  readonly needle: Needle;
  readonly setting: RoundSetting;
}

export class RoundCheck {
  readonly #found: DiagnosticList;
  readonly #expander: RoundExpander;
  readonly #counts: CountCheck;

  constructor(found: DiagnosticList, expander: RoundExpander, counts: CountCheck) {
    this.#found = found;
    this.#expander = expander;
    this.#counts = counts;
  }

  /**
   * Reports what doesn't come out in a round, unless it only follows from a mistake reported before.
   * True where the count afterwards can be trusted so far that a stated count is worth comparing.
   */
  judge(round: RoundCase, around: Surroundings): boolean {
    const { def, steps, worked, needle, setting } = round;
    const { believed } = this.#counts;
    const stated = this.#counts.total(def.stated);
    const ok = fits(worked, needle.count) && !def.failed;
    if (believed.active && believed.needle?.count === needle.count) believed.end();
    if (!believed.active) {
      reportRound(this.#found, def, needle.count, worked.claimed, worked.problems, around);
      if (ok) return true;
      believed.begin(this.#believedAfter(round, stated));
      return false;
    }
    for (const p of worked.problems) {
      if (p.severity === 'note') this.#found.add(p);
    }
    const agrees = ok && (stated === null || stated === worked.after);
    if (agrees && stated !== null) {
      believed.end();
      return true;
    }
    const other = believed.needle;
    if (other && !def.failed) {
      const second = this.#expander.work(steps, other, setting);
      if (fits(second, other.count)) {
        if (stated !== null && stated !== second.after) this.#believeStated(stated, worked);
        else believed.begin(this.#expander.needleAfter(second, other, setting));
        return false;
      }
      if (agrees) {
        believed.end();
        return true;
      }
      if (!ok) {
        // Fits neither count: a mistake of its own.
        reportRound(this.#found, def, other.count, second.claimed, second.problems, around);
        believed.begin(this.#believedAfter(round, stated));
      }
      return false;
    }
    if (stated !== null) this.#believeStated(stated, worked);
    else believed.begin(null);
    return false;
  }

  #believeStated(stated: number, worked: WorkedRound): void {
    const { after: count, markers, roundMarker } = worked;
    const like = { count, faces: new Uint8Array(0), markers, roundMarker };
    this.#counts.believed.begin(stated === count ? null : needleOf(stated, like));
  }

  /** The needles as the text counts them after a round that didn't come out; null if nothing tells. */
  #believedAfter(round: RoundCase, stated: number | null): Needle | null {
    const { def, steps, worked, needle, setting } = round;
    if (stated !== null) {
      if (stated === worked.after) return this.#expander.needleAfter(worked, needle, setting);
      return needleOf(stated, { ...needle, count: worked.after, markers: worked.markers });
    }
    if (def.failed) return null;
    if (this.#expander.fixedOfAll(steps) === null) {
      const plain = worked.after === needle.count;
      return plain ? this.#expander.needleAfter(worked, needle, setting) : null;
    }
    const meant = needleOf(worked.claimed, needle);
    if (!meant || meant.count === needle.count) return null;
    return this.#expander.needleAfter(this.#expander.work(steps, meant, setting), meant, setting);
  }
}

/** What goes wrong only when a round comes again is said where that is asked for. */
export function saidWhereAsked(round: RoundCase, { from, to }: Place): RoundCase {
  const problems = round.worked.problems.map((p) =>
    p.severity === 'error' ? { ...p, message: `worked again, ${p.message}`, from, to } : p,
  );
  return { ...round, def: { ...round.def, from, to }, worked: { ...round.worked, problems } };
}

/** The side that a row's label names, against the one that faces. */
export function checkSide(def: RoundDef, wrongSide: boolean, found: DiagnosticList): void {
  if (def.side === null || (def.side === 'WS') === wrongSide) return;
  found.warn(
    'side-mismatch',
    def,
    `this is called a ${def.side} row, but the ${wrongSide ? 'wrong' : 'right'} side faces here`,
    'A row seems to be missing, or one too many is worked before it.',
  );
}

/** "K8, k2tog around" may also mean its last stitch alone: said where no count tells which. */
export function sayOverAgain(
  found: DiagnosticList,
  at: Place,
  after: number,
  otherwise: number,
): void {
  found.warn(
    'over-again-or-the-last',
    at,
    `this is read as all of it over and over, which leaves ${stitches(after)}; if only its last stitch is meant, ${otherwise} are left`,
    'Put a * before what is repeated, or state the count.',
  );
}
