/**
 * What the designer wishes for, before there is a plan: input of `draftPlan`.
 *
 * Lengths mm. `resolveSpec` fills in what was left out and refuses what cannot be knitted, naming
 * the field in a knitter's words.
 */
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';
import { usualInterval } from './panel-words.ts';

export type MotifShape = 'square' | 'triangle' | 'pentagon' | 'hexagon' | 'octagon' | 'disc';

/** Straight sides of each shape; a disc has eight sectors. See also `segmentsOf`. */
export const SEGMENTS: Readonly<Record<MotifShape, number>> = {
  triangle: 3,
  square: 4,
  pentagon: 5,
  hexagon: 6,
  octagon: 8,
  disc: 8,
};

export type GroundName = 'stockinette' | 'garter' | 'reverse' | 'seed';

/** Paired decreases with 0, 1 or 2 stitches between them, or one centred double decrease. */
export type CornerName = 'paired 0' | 'paired 1' | 'paired 2' | 'centred';

/**
 * Whether the first round after the cast-on is a purl one, the row a wrong-side one: garter worked from its rim. The
 * cast-on looks knit, and shaping from the second round on stands in knit rounds, on the right side.
 */
export function beginsWithRidge(spec: {
  readonly ground: GroundName;
  readonly direction: 'in' | 'out';
}): boolean {
  return spec.ground === 'garter' && spec.direction === 'in';
}

export interface PanelSpec {
  /** Columns from right to left as the right side shows them, e.g. `p1 k4 p1` or `p2 2/2RC p2`. */
  readonly stitches: string;
  /** Cross its cables every so many rounds; null for a panel without crossings. */
  readonly crossEvery: number | null;
  /**
   * `middle` of the side, along the `corner` line, stitches from the right end of the side, or its middle at
   * a share of the side from there. Several in the `middle` stand spaced evenly.
   */
  readonly place: 'middle' | 'corner' | number | { readonly share: number };
  /** Worked as its mirror image: columns from left to right, cables leaning the other way. */
  readonly mirrored?: boolean;
  /** Asked together with its mirror image on the other half of the side. */
  readonly paired?: boolean;
}

/** A pair as its two panels, and cables told by name with the rounds that common practice crosses them in. */
export function resolvePanels(panels: readonly PanelSpec[]): PanelSpec[] {
  return panels.flatMap(({ paired, ...panel }): PanelSpec[] => {
    const own = { ...panel, crossEvery: panel.crossEvery ?? usualInterval(panel.stitches) };
    if (!paired) return [own];
    const { place } = panel;
    const share = place === 'middle' ? 1 / 4 : typeof place === 'object' ? place.share : Number.NaN;
    if (!(share > 0 && share < 1 && share !== 0.5))
      throw new RangeError(
        `Panel "${panel.stitches}": a mirrored pair stands at a share of the side, such as a quarter, a third or 20%.`,
      );
    return [
      { ...own, place: { share } },
      { ...own, place: { share: 1 - share }, mirrored: !panel.mirrored },
    ];
  });
}

export interface DraftSpec {
  readonly title: string;
  readonly shape: MotifShape;
  /** Side of the finished motif, diameter of a disc, mm. */
  readonly sizeMm: number;
  /** Width of one stitch and height of one round of the ground fabric, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
  /** `in`: cast on at the rim; `out`: cast on at the centre. */
  readonly direction: 'in' | 'out';
  readonly corner: CornerName;
  readonly ground: GroundName;
  readonly panels: readonly PanelSpec[];
  readonly worked: 'round' | 'flat';
  /** Stitches added for the seam when worked flat: one in all, or one at each end. */
  readonly seamStitches: 1 | 2;
  /** Share of its width that a crossed cable gives up; null takes the published figures. */
  readonly cablePullIn: number | null;
  /** `Yarn:` and `Needles:` header text, or empty. */
  readonly yarn: string;
  readonly needles: string;
  /** What the words of `compromises` and of refusals measure in. */
  readonly units: LengthUnit;
}

/**
 * Equal parts that a motif is drafted in. In seed stitch two columns of a disc go at a time, so four
 * sectors: with eight, sixteen stitches would go at once.
 */
export function segmentsOf(spec: {
  readonly shape: MotifShape;
  readonly ground: GroundName;
}): number {
  return spec.shape === 'disc' && spec.ground === 'seed' ? 4 : SEGMENTS[spec.shape];
}

/** Most stitches that can be drawn up neatly at the centre: chosen from common practice. */
export const MAX_DRAWN_UP = 12;

/** Largest rim that is drafted, stitches in all: chosen well above any square made by hand. */
const MAX_CAST_ON = 4000;

export type SpecInput = Partial<DraftSpec> & Pick<DraftSpec, 'sizeMm' | 'stitchMm' | 'roundMm'>;

/** Fills in defaults. Throws a RangeError that names the wish where it cannot be met at all. */
export function resolveSpec(asked: SpecInput): DraftSpec {
  const spec: DraftSpec = {
    title: oneLine(asked.title ?? ''),
    shape: asked.shape ?? 'square',
    sizeMm: asked.sizeMm,
    stitchMm: asked.stitchMm,
    roundMm: asked.roundMm,
    direction: asked.direction ?? 'in',
    corner: asked.corner ?? 'paired 1',
    ground: asked.ground ?? 'stockinette',
    panels: resolvePanels(asked.panels ?? []),
    worked: asked.worked ?? 'round',
    seamStitches: asked.seamStitches ?? 1,
    cablePullIn: asked.cablePullIn ?? null,
    yarn: oneLine(asked.yarn ?? ''),
    needles: oneLine(asked.needles ?? ''),
    units: asked.units ?? 'cm',
  };
  if (!Object.hasOwn(SEGMENTS, spec.shape))
    throw new RangeError(
      `Shape "${spec.shape}" is not known. Try ${Object.keys(SEGMENTS).join(', ')}.`,
    );
  oneOf('Direction', spec.direction, ['in', 'out']);
  oneOf('Corner', spec.corner, ['paired 0', 'paired 1', 'paired 2', 'centred']);
  oneOf('Ground', spec.ground, ['stockinette', 'garter', 'reverse', 'seed']);
  oneOf('Worked', spec.worked, ['round', 'flat']);
  inside('Stitch width', spec.stitchMm, 0.3, 60, 'mm');
  inside('Round height', spec.roundMm, 0.2, 60, 'mm');
  inside('Round height divided by stitch width', spec.roundMm / spec.stitchMm, 0.3, 1.5, '');
  if (spec.cablePullIn !== null) inside('Cable pull-in', spec.cablePullIn, 0, 0.6, '');
  const segments = segmentsOf(spec);
  const rim = (spec.shape === 'disc' ? Math.PI : segments) * spec.sizeMm;
  const stitches = rim / spec.stitchMm;
  if (!(stitches >= 4 * segments))
    throw new RangeError(
      `A ${spec.shape} of ${lengthWords(spec.sizeMm, spec.units)} has only ${round1(stitches)} stitches round ` +
        `its rim at this gauge; at least ${4 * segments} are needed.`,
    );
  if (stitches > MAX_CAST_ON)
    throw new RangeError(
      `A ${spec.shape} of ${lengthWords(spec.sizeMm, spec.units)} needs ${Math.round(stitches)} stitches round ` +
        `its rim at this gauge; at most ${MAX_CAST_ON} can be drafted.`,
    );
  return spec;
}

/** Header text must stay on its line. */
function oneLine(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

function oneOf(field: string, value: string, allowed: readonly string[]): void {
  if (!allowed.includes(value))
    throw new RangeError(`${field} "${value}" is not known. Try ${allowed.join(', ')}.`);
}

function inside(field: string, value: number, least: number, most: number, unit: string): void {
  if (!(value >= least && value <= most))
    throw new RangeError(
      `${field} is ${value}${unit && ' ' + unit}; it must lie between ${least} and ${most}${unit && ' ' + unit}.`,
    );
}

function round1(x: number): number {
  return Math.round(x * 10) / 10;
}
