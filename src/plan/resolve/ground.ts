/**
 * What a piece, a clause or one round is said to be worked in ("garter stitch throughout", "continue in moss stitch", "Round 5
 * (moss stitch): …"), against the rounds as they come out. In: the fabric, where it is said, its rounds. Out: an error where they
 * are of another. Edge stitches that are told apart belong to no fabric.
 */
import type { Fabric } from '../grammar/steps/patterns.ts';
import { type Place, trimmed } from '../lex/source.ts';
import type { PlanRound } from '../plan.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';

/** Fewer rounds than these show no fabric of all the piece. Chosen: a border of three rounds is none of the whole. */
const FEWEST = 4;
/** Part of the rounds that has to be of a fabric told for many of them: borders and shaping are of others. Chosen. */
const MOST_PART = 0.5;
/** Part of the rounds of garter stitch that are knitted, and purled, at least. Chosen. */
const LEAST_PART = 0.25;
/** Plain stitches of a round that show its fabric. Chosen: what is left beside the shaping of a centre shows none. */
const FEWEST_PLAIN = 4;

const NAMES: Readonly<Record<string, string>> = {
  garter: 'garter stitch',
  stockinette: 'stocking stitch',
  reverse: 'reverse stocking stitch',
  seed: 'moss stitch',
  rib: 'rib',
};

/** What a sentence says that the rounds behind it are worked in. */
export interface ToldGround extends Place {
  readonly fabric: Fabric;
  /** All of the piece, not only the next rounds. */
  readonly all: boolean;
  /** Rounds worked before it. */
  readonly before: number;
}

/** Stitches of a round that are knitted or purled, without the edges of a row that are told apart. */
function plainOf(round: PlanRound, piece: WorkedPiece): string[] {
  const names = piece.namesOf(round);
  const [first, last] = piece.inRound ? [0, 0] : piece.edges.counts;
  return names.slice(first, names.length - last).filter((name) => /^[kp](?:tbl)?$/.test(name));
}

/** The rounds that are not of the fabric. */
function outOfFabric(
  { rule }: Fabric,
  rounds: readonly PlanRound[],
  piece: WorkedPiece,
): readonly PlanRound[] {
  const sort = (r: PlanRound): 'knit' | 'purl' | 'both' | null => {
    const plain = plainOf(r, piece);
    const purled = plain.filter((name) => name[0] === 'p').length;
    if (plain.length < FEWEST_PLAIN) return null;
    return purled === 0 ? 'knit' : purled === plain.length ? 'purl' : 'both';
  };
  const sorts = rounds.map(sort);
  // In the round garter stitch takes rounds of both sorts, those before among them.
  const parts = (['knit', 'purl'] as const).map((one) =>
    piece.rounds.reduce((n, r) => n + (sort(r) === one ? 1 : 0), 0),
  );
  const lone =
    rule === 'garter' &&
    piece.inRound &&
    rounds.length > 1 &&
    Math.min(...parts) < LEAST_PART * piece.rounds.length;
  return rounds.filter((r, i) => {
    const said = sorts[i];
    if (said === null) return false;
    switch (rule) {
      case 'garter':
        return said === 'both' || lone;
      case 'stockinette':
        return said !== (r.wrongSide ? 'purl' : 'knit');
      case 'reverse':
        return said !== (r.wrongSide ? 'knit' : 'purl');
      case 'seed':
      case 'rib':
        return said !== 'both';
      default:
        return false;
    }
  });
}

/** `next`: rounds worked before another fabric is told; null where none is. */
export function checkGround(told: ToldGround, next: number | null, piece: WorkedPiece): void {
  const { fabric, all, before } = told;
  const made = piece.rounds.slice(before, all ? undefined : (next ?? undefined));
  if (made.length === 0 && !all) piece.sayNotFollowed(told);
  if (made.length < (all ? FEWEST : 1) || piece.counts.believed.active) return;
  const wrong = outOfFabric(fabric, made, piece);
  if (wrong.length <= MOST_PART * made.length) return;
  sayOther(told, fabric, all ? 'all is worked' : 'what follows is worked', piece);
}

/** Rounds that a clause or a label says are of a fabric: each of them. */
export function checkFabric(
  fabric: Fabric,
  rounds: readonly PlanRound[],
  at: Place,
  piece: WorkedPiece,
): void {
  if (piece.counts.believed.active) return;
  const [wrong] = outOfFabric(fabric, rounds, piece);
  if (wrong) sayOther(at, fabric, `${piece.inRound ? 'round' : 'row'} ${wrong.n} is worked`, piece);
}

/** Rounds whose labels name a fabric; those that shape show less of it. */
export function checkLabelled(piece: WorkedPiece): void {
  const seen = new Set<number>();
  piece.history.forEach((def, i) => {
    const { fabric, from } = def;
    const round = piece.rounds[i];
    if (!fabric || !round || seen.has(from) || round.before !== round.after) return;
    seen.add(from);
    checkFabric(fabric, [round], def, piece);
  });
}

function sayOther(at: Place, { rule }: Fabric, what: string, piece: WorkedPiece): void {
  piece.found.error(
    'told-otherwise',
    trimmed(piece.source, at),
    `this says that ${what} in ${NAMES[rule] ?? rule}, but the ${piece.inRound ? 'rounds' : 'rows'} told are not`,
    piece.inRound && rule === 'garter'
      ? 'In the round garter stitch is one round knitted, one round purled.'
      : 'Change the one or the other.',
  );
}
