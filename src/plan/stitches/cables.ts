/**
 * Cable crossings of any size, made from their name: `a/b LC`, `a/b RC` and the purl forms `LPC`,
 * `RPC` (a stitches pass over b; L leans left: held in front, R leans right: held at the back), and
 * three groups `a/c/b` whose middle group keeps its place behind.
 * Convention: a/b names the result, a over b; C<n>F = LC and C<n>B = RC (sources in `cable-words.ts`).
 */
import type { MadeLoop, StitchKind } from './stitch-kind.ts';

/** Most stitches in one strand of a crossing. Chosen: wider than any hand-knit cable. */
const WIDEST_STRAND = 24;

const NAME = /^(\d{1,2})\/(\d{1,2})(?:\/(\d{1,2}))? ([LR])(P?)C$/;

export function cableName(
  over: number,
  under: number,
  left: boolean,
  purl: boolean,
  middle = 0,
): string {
  const sizes = middle > 0 ? `${over}/${middle}/${under}` : `${over}/${under}`;
  return `${sizes} ${left ? 'L' : 'R'}${purl ? 'P' : ''}C`;
}

/** The crossing with this canonical name, or null where the name is none or a strand is too wide. */
export function cableKind(name: string): StitchKind | null {
  const m = NAME.exec(name);
  if (!m) return null;
  const over = Number(m[1]);
  const middle = m[3] ? Number(m[2]) : 0;
  const under = Number(m[3] ?? m[2]);
  if (over < 1 || under < 1 || Math.max(over, middle, under) > WIDEST_STRAND) return null;
  const left = m[4] === 'L';
  const purl = m[5] === 'P';

  // With two groups the strand behind is purled; with three it is the middle one.
  const overFace = 1;
  const underFace: 1 | -1 = purl && middle === 0 ? -1 : 1;
  const middleFace: 1 | -1 = purl ? -1 : 1;
  const first = left ? over : under;
  const strand = (from: number, count: number, face: 1 | -1): MadeLoop[] =>
    Array.from({ length: count }, (_, i) => ({
      parents: [from + i],
      face,
      twisted: false,
      origin: 'drawn' as const,
    }));
  const centre = strand(first, middle, middleFace);
  const loops = left
    ? [...strand(over + middle, under, underFace), ...centre, ...strand(0, over, overFace)]
    : [...strand(under + middle, over, overFace), ...centre, ...strand(0, under, underFace)];

  const held = left ? 'front' : 'back';
  const verb = underFace < 0 ? 'p' : 'k';
  const steps = left
    ? `${over} to cable needle, hold in ${held}, ${verb}${under}, k${over} from cable needle`
    : `${under} to cable needle, hold at ${held}, k${over}, ${verb}${under} from cable needle`;
  const threeSteps = `${over} over ${under} with ${middle} ${purl ? 'purled' : 'knitted'} between, held in ${held}`;
  return {
    name,
    words: `${middle ? threeSteps : steps}: leans ${left ? 'left' : 'right'}`,
    consumes: over + middle + under,
    loops,
    crossing: { lean: left ? 1 : -1, over, under: under + middle },
    slipped: 0,
  };
}
