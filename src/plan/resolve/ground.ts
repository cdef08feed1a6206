/**
 * What a piece, or what follows, is said to be worked in ("garter stitch throughout"), against the rounds that are told with
 * their own stitches. In: the fabric, where it is said, the rounds worked before that. Out: an error where they are another.
 */
import type { Fabric } from '../grammar/steps/patterns.ts';
import { type Place, trimmed } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';

/** Fewer rounds than these show no fabric of all the piece. Chosen: a border of three rounds is none of the whole. */
const FEWEST = 4;

const NAMES: Readonly<Record<string, string>> = {
  garter: 'garter stitch',
  stockinette: 'stocking stitch',
  reverse: 'reverse stocking stitch',
  seed: 'moss stitch',
  rib: 'rib',
};

/** Which part of the plain stitches of a round are purled. */
function purledPart(round: PlanRound, piece: WorkedPiece): number {
  const plain = piece.namesOf(round).filter((name) => name === 'k' || name === 'p');
  return plain.filter((name) => name === 'p').length / Math.max(1, plain.length);
}

/** What a sentence says that the rounds behind it are worked in. */
export interface ToldGround extends Place {
  readonly fabric: Fabric;
  /** All of the piece, not only the next rounds. */
  readonly all: boolean;
  /** Rounds worked before it. */
  readonly before: number;
}

/** `next`: rounds worked before another fabric is told; null where none is. */
export function checkGround(told: ToldGround, next: number | null, piece: WorkedPiece): void {
  const { fabric, all, before } = told;
  const { rule } = fabric;
  const made = piece.rounds.slice(before, all ? undefined : (next ?? undefined));
  if (made.length === 0 && !all) piece.sayNotFollowed(told);
  if (made.length < (all ? FEWEST : 1) || piece.counts.believed.active) return;
  const part = (rounds: readonly PlanRound[], holds: (purled: number) => boolean): number =>
    rounds.filter((r) => holds(purledPart(r, piece))).length / Math.max(1, rounds.length);
  const knit = part(made, (p) => p === 0);
  const purl = part(made, (p) => p === 1);
  // In rows the wrong side tells: knitted there it is garter stitch, purled stocking stitch.
  const back = made.filter((r) => r.wrongSide);
  const backKnit = part(back, (p) => p === 0);
  const holds: Readonly<Record<string, boolean>> = piece.inRound
    ? {
        garter: knit >= 0.25 && purl >= 0.25,
        stockinette: knit > 0.6,
        reverse: purl >= 0.4,
        seed: knit + purl <= 0.5,
        rib: knit + purl <= 0.5,
      }
    : {
        garter: back.length === 0 || backKnit >= 0.5,
        stockinette: back.length === 0 || backKnit < 0.5,
        reverse: true,
        seed: knit + purl <= 0.5,
        rib: knit + purl <= 0.5,
      };
  if (holds[rule] ?? true) return;
  piece.found.error(
    'told-otherwise',
    trimmed(piece.source, told),
    `this says that ${all ? 'all' : 'what follows'} is worked in ${NAMES[rule]}, but the ${piece.inRound ? 'rounds' : 'rows'} told are not`,
    piece.inRound && rule === 'garter'
      ? 'In the round garter stitch is one round knitted, one round purled.'
      : 'Change the one or the other.',
  );
}
