/**
 * What the picture draws between a round and the one below: the lower half of a stitch's own loop and the
 * upper half of the loop it is drawn through, at rest, by the faces of the stitch and of its four neighbours.
 *
 * Input: the settled loops of four regular fabrics. Output: centre lines in the stitch's own frame: u stitch
 * widths along the yarn of right-side work, v rounds from the foot, z yarn diameters towards the right side.
 * Where neighbours differ on one side only, both fabrics are blended across the stitch. Purl is knit from behind.
 */
import { SETTLED_LOOPS } from './settled-loops.ts';

export interface SettledLoop {
  /** Stitch width and round height, yarn diameters. */
  readonly width: number;
  readonly height: number;
  /** [3·9] sinker to leg of a knit loop: widths, rounds from its own level, diameters. */
  readonly entering: readonly number[];
  /** [3·9] leg to head of the loop that a knit loop is drawn through: widths, rounds, diameters. */
  readonly head: readonly number[];
}

/** Bits of a neighbourhood: which neighbours show the other face. Right and left as seen from the RS. */
export const DIFFERS_RIGHT = 1;
export const DIFFERS_LEFT = 2;
export const DIFFERS_ABOVE = 4;
export const DIFFERS_BELOW = 8;
export const NEIGHBOURHOODS = 16;

export interface LoopTemplate {
  /** [3·9] own loop from the sinker on the right up to the leg at v = 1. */
  readonly entering: Float32Array;
  /** [3·9] from the other leg down to the sinker on the left. */
  readonly leaving: Float32Array;
  /** [3·17] the loop below: from leg over head to leg. */
  readonly head: Float32Array;
}

/** Ribs on the sheet are seldom drawn in as far as free ones: their loops spread by this share of theirs. Chosen. */
const RIB_SPREAD = 0.4;

/** Yarn of one loop, diameters: that of the settled ones. */
export const LOOP_DIAMETERS = 17;

/** Area of a stitch of regular fabric, square yarn diameters, by whether neighbours in the round and column differ. */
export function settledArea(inRound: boolean, inColumn: boolean): number {
  const loop =
    SETTLED_LOOPS[inRound && inColumn ? 'both' : inRound ? 'wale' : inColumn ? 'course' : 'plain'];
  // Ribs as above: between plain fabric and free rib.
  return inRound && !inColumn
    ? Math.sqrt(loop.width * loop.height * settledArea(false, false))
    : loop.width * loop.height;
}

const templates = new Map<number, LoopTemplate>();

/** Template of a stitch of face +1 or −1. */
export function loopTemplate(face: number, neighbourhood: number): LoopTemplate {
  const key = (face > 0 ? NEIGHBOURHOODS : 0) + neighbourhood;
  let found = templates.get(key);
  if (!found) {
    found = blendTemplate(face > 0 ? 1 : -1, neighbourhood);
    templates.set(key, found);
  }
  return found;
}

function blendTemplate(sign: number, bits: number): LoopTemplate {
  const smooth = (x: number) => {
    const t = Math.max(0, Math.min(1, x));
    return t * t * (3 - 2 * t);
  };
  const blend = (
    list: 'entering' | 'head',
    k: number,
    mirrored: boolean,
    out: Float32Array,
    at: number,
  ) => {
    const { plain } = SETTLED_LOOPS;
    const flip = (u: number) => (mirrored ? 1 - u : u);
    const lift = list === 'entering' ? 1 : 0;
    const u0 = flip(plain[list][3 * k]);
    const v0 = plain[list][3 * k + 1] + lift;
    // How much each side of the neighbourhood counts here.
    const left = smooth(u0);
    const above = smooth(v0);
    const across = (bits & DIFFERS_RIGHT ? 1 - left : 0) + (bits & DIFFERS_LEFT ? left : 0);
    const along = (bits & DIFFERS_BELOW ? 1 - above : 0) + (bits & DIFFERS_ABOVE ? above : 0);
    const shares = [
      [plain, (1 - across) * (1 - along)],
      [SETTLED_LOOPS.course, (1 - across) * along],
      [SETTLED_LOOPS.wale, across * (1 - along)],
      [SETTLED_LOOPS.both, across * along],
    ] as const;
    for (const [loop, share] of shares) {
      const spread = loop === SETTLED_LOOPS.wale ? RIB_SPREAD : 1;
      const mixed = (c: number) =>
        spread * loop[list][3 * k + c] + (1 - spread) * plain[list][3 * k + c];
      out[at] += share * flip(mixed(0));
      out[at + 1] += share * (mixed(1) + lift);
      out[at + 2] += share * sign * loop[list][3 * k + 2];
    }
  };
  const entering = new Float32Array(27);
  const leaving = new Float32Array(27);
  const head = new Float32Array(51);
  for (let k = 0; k < 9; k++) {
    blend('entering', k, false, entering, 3 * k);
    blend('entering', 8 - k, true, leaving, 3 * k);
    blend('head', k, false, head, 3 * k);
    if (k < 8) blend('head', k, true, head, 3 * (16 - k));
  }
  return { entering, leaving, head };
}
