/**
 * A panel as it is written in an option: `p1 k4 p1`, `p2 2/2RC p2`, `p1 C6F p1`, columns from right to left.
 *
 * In: the words. Out: its parts, each so many columns of one fabric or one cable. The words are those of the
 * trade: a/b RC lies a stitches over b, leaning right (C4B is 2/2 RC, C4F 2/2 LC).
 */

export type PanelFabric = 'k' | 'p' | 'ktbl' | 'seed' | 'garter';

export interface PanelPart {
  readonly fabric: PanelFabric;
  readonly width: number;
  /** A cable told by name: stitches in front, and its lean. */
  readonly cable: { readonly over: number; readonly lean: 'LC' | 'RC' } | null;
}

/** Widest cable: twelve stitches cross six over six. */
export const MAX_CABLE = 12;

/** Throws a RangeError that says which part is not understood. */
export function readPanelWords(stitches: string): PanelPart[] {
  return stitches
    .trim()
    .toLowerCase()
    .replace(/(\d)\s+([rl]c)\b/g, '$1$2')
    .split(/[\s,]+/)
    .map((word) => {
      const part = readCable(word) ?? readFabric(word);
      if (!part)
        throw new RangeError(
          `Panel "${stitches}": "${word}" is not understood. Write columns like p1 k4 p1 or p2 2/2RC p2; ` +
            'k, p, ktbl, seed and garter are known, and cables such as 2/2RC, 3/3LC, C4F or C6B.',
        );
      if (part.cable && part.width > MAX_CABLE)
        throw new RangeError(
          `Panel "${stitches}": "${word}" crosses ${part.width} stitches; at most ${MAX_CABLE} can be crossed.`,
        );
      if (part.width < 1 || part.width > 200)
        throw new RangeError(`Panel "${stitches}": "${word}" must be 1 to 200 stitches wide.`);
      return part;
    });
}

function readFabric(word: string): PanelPart | null {
  const match = /^(k|p|ktbl|seed|garter)(\d*)$/.exec(word);
  if (!match) return null;
  const width = match[2] === '' ? 1 : Number(match[2]);
  return { fabric: match[1] as PanelFabric, width, cable: null };
}

function readCable(word: string): PanelPart | null {
  const crossed = /^(\d+)\/(\d+)([rl])c$/.exec(word);
  if (crossed) {
    const [over, under] = [Number(crossed[1]), Number(crossed[2])];
    if (over < 1 || under < 1) return null;
    const lean = crossed[3] === 'r' ? 'RC' : 'LC';
    return { fabric: 'k', width: over + under, cable: { over, lean } };
  }
  const counted = /^c(\d+)([fb])$/.exec(word);
  const width = Number(counted?.[1]);
  if (!counted || width < 2 || width % 2 === 1) return null;
  return {
    fabric: 'k',
    width,
    cable: { over: width / 2, lean: counted[2] === 'b' ? 'RC' : 'LC' },
  };
}

/**
 * Rounds between crossings where a cable is told by name and no interval: as many as it is wide, and four at
 * least (a 4-stitch cable every 4th round, a 6-stitch one every 6th: zanotowane.pl/793/6417). Null: no cable.
 */
export function usualInterval(stitches: string): number | null {
  let widest = 0;
  for (const part of readPanelWords(stitches))
    if (part.cable) widest = Math.max(widest, part.width);
  return widest === 0 ? null : Math.max(4, widest + (widest % 2));
}
