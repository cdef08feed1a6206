/**
 * Counts and fabrics that a remark tells in passing, which must be as the text works them: "you have worked 10 rounds so
 * far", "there should be 16 sts", "the wrong-side rows are purled". In: the words of a remark where it stands in the piece.
 * Out: diagnostics where they are not so, some of them once all is worked.
 */
import { type Place, trimmed } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { sayRounds } from './clause-checks.ts';
import { leavesToYou } from './left-to-you.ts';

/** Somebody else's piece, a size that is not this one, a time that is not now. */
const ELSEWHERE =
  /\b(?:if|when|whenever|until|till|once|unless|before|would|were|was|had|other|another|larger|bigger|smaller|wider|version|sizes?|sample|mine|i|my|people|some|readers?|knitters?|testers?|book|printing|leaflet|edition)\b/;
const STITCHES =
  /(?:^|[,;:(-] ?|\b(?:and|so|but|now|that|which) )(?:there (?:are|should be|must be|will be)|(?:you|we) (?:should |must |will |ought to )?(?:now |just )?(?:have|be down to|be left with)|(?:you|we) are (?:now )?(?:left with|down to)|(?:that|it|this|which) (?:now )?(?:leaves|makes)(?: you)?(?: with)?|still)(?: now| still| only| exactly| just| all| altogether)* (\d+) (?:sts?|stitches)?(?: (?:left|remaining|now|in all|altogether|on the needles?|in total|still))*(?=\s*(?:[.,;:!)]|$|as\b|since\b|because\b|and\b|so\b))/;
const ROUNDS =
  /(?:\b(?:you|we) (?:have )?(?:now |just |already )*(?:worked|knitted|done|finished|completed) |^\W*)(\d+) (decrease |increase |decreasing |increasing )?(?:rounds|rows|rnds)(?:(?: (?:are|have been) (?:now |already )?(?:done|finished|worked|completed?|knitted|behind (?:you|us))|(?: (?:in all|altogether|so far|already|up to here|by now|in total))+)|(?<=\b(?:you|we)\b.{0,60})(?=\s*(?:[,;.:!)]|$)))/;
const NEXT =
  /\b(?:the )?(?:next|coming|following) (?:round|row|rnd) (?:is|will be|gets) (?:all |just |simply )*(purled|knitted|plain|a (?:purl|knit|plain) one)\b|\b(?:now|next|first|here) comes (?:a|the) (purl|knit|plain) (?:round|row|rnd)\b/;
const SORT =
  /\b(?:(wrong[ -]side|ws|right[ -]side|rs)|(?:the |all |every )(?:other|plain|even|odd|in-between|intervening)|(?:the )(?=rounds? between|rows? between)) ?(?:rounds?|rows?|rnds?)(?: between| in between)? (?:are|is) (?:all |always |just |simply |now |then )*(purled|knitted)\b/;

interface Expected {
  readonly at: Place;
  /** Rounds that were worked before it. */
  readonly from: number;
  readonly fabric: 'knit' | 'purl' | 'plain';
  /** It is said of the next round, or of the first plain one of a side. */
  readonly of: 'next' | 'any' | 'ws' | 'rs';
}

export class ToldInPassing {
  readonly #piece: WorkedPiece;
  readonly #expected: Expected[] = [];

  readonly #settle: () => void;

  /** `settle`: works what the text has told up to here. */
  constructor(piece: WorkedPiece, settle: () => void) {
    this.#piece = piece;
    this.#settle = settle;
  }

  /** A remark at place `at`: what it counts is checked, what it says of rounds to come is kept. `behindWork`: right behind an instruction. */
  note(at: Place, behindWork: boolean): void {
    const piece = this.#piece;
    if (piece.ended) return;
    const words = piece.source.norm.slice(at.from, at.to);
    const left = leavesToYou(words);
    if (left === 'without' || (left === 'done' && behindWork)) this.#noteLeft(at, left);
    if (!/\d|purled|knitted|comes/.test(words)) return;
    if (ELSEWHERE.test(words.split(/\b(?:because|since|so that|as)\b/)[0])) return;
    const sts = STITCHES.exec(words);
    const total = sts ? Number(sts[1]) : null;
    const rounds = ROUNDS.exec(words);
    if (total !== null || rounds) this.#settle();
    if (total !== null) piece.checkStated({ total, perSide: null, change: null }, at);
    if (rounds) this.#checkRounds(Number(rounds[1]), rounds[2] ?? '', at);
    const next = NEXT.exec(words);
    if (next) this.#expect(at, next[1] ?? next[2], 'next');
    const sort = next ? null : SORT.exec(words);
    if (sort) this.#expect(at, sort[2], sort[1] ? (/^w/.test(sort[1]) ? 'ws' : 'rs') : 'any');
  }

  /** Work that the text leaves to the knitter is told, whether or not it is done here. */
  #noteLeft(at: Place, left: 'without' | 'done'): void {
    this.#piece.found.note(
      'left-to-you',
      trimmed(this.#piece.source, at),
      `this is left to you; the piece here is worked ${left === 'done' ? 'with' : 'without'} it`,
      left === 'done'
        ? 'Take it out to see the piece without it.'
        : 'Write it without a condition to see it worked.',
    );
  }

  #expect(at: Place, how: string, of: Expected['of']): void {
    const fabric = /purl/.test(how) ? 'purl' : /knit/.test(how) ? 'knit' : 'plain';
    this.#expected.push({ at, from: this.#piece.rounds.length, fabric, of });
  }

  #checkRounds(told: number, shaping: string, at: Place): void {
    const { rounds } = this.#piece;
    const down = shaping.startsWith('dec');
    const made = rounds.filter(
      (r) => shaping === '' || (down ? r.after < r.before : r.after > r.before),
    ).length;
    if (told !== made) sayRounds(told, `there are ${made} up to here`, at, this.#piece);
  }

  /** All is worked: what was said of rounds to come against them. */
  check(): void {
    const { rounds, found, source } = this.#piece;
    for (const { at, from, fabric, of } of this.#expected) {
      const behind = rounds.slice(from);
      const sided = behind
        .filter((r) => of !== 'ws' || r.wrongSide)
        .filter((r) => of !== 'rs' || !r.wrongSide);
      const is = (r: PlanRound): 'knit' | 'purl' | null => {
        const [knit, purl] = [this.#piece.isLike(r, 'knit'), this.#piece.isLike(r, 'purl')];
        return knit === purl ? null : knit ? 'knit' : 'purl';
      };
      const round = of === 'next' ? behind[0] : sided.find((r) => is(r));
      if (!round) continue;
      const made = is(round);
      if (made === fabric || (made && fabric === 'plain')) continue;
      const what = made ? `${made}${made === 'knit' ? 't' : ''}ed` : 'not plain';
      found.error(
        'told-otherwise',
        trimmed(source, at),
        `this says otherwise than ${round.label || `round ${round.n}`}, which is ${what}`,
        'Change the one or the other.',
      );
    }
  }
}
