/**
 * Sizes of other fabrics relative to stockinette, at the same yarn and loop length: for every fabric
 * whose gauge the user did not give. In: the shape of the user's stockinette, and how tight it is if known.
 * Out: width and height ratios and yarn a stitch, with where each comes from: `model` is the table's
 * (fabric-ratio-table.ts), `use` what the metric takes: the published shape (REFERENCES 7) where there is
 * one, with the model's area; ribs between relaxed and pressed flat.
 */

import { FABRIC_RATIO_TABLE } from './fabric-ratio-table.ts';
import type { CellFabric } from './relax-cell.ts';

export type RatioFabric = Exclude<CellFabric, 'reverse'>;

/** One cell of the computed table; lengths in yarn diameters. */
export interface FabricRatioRow {
  /** Yarn a stitch, l/d. */
  readonly loop: number;
  readonly fabric: RatioFabric;
  /** Stitch width, round height and thickness, in yarn diameters. */
  readonly width: number;
  readonly height: number;
  readonly thickness: number;
  /** Width when pressed flat, as blocking and the fabric around hold it (`FLAT_STIFFNESS`). */
  readonly flatWidth: number;
  /** Other states in which the same yarn rests: their width, and how much more energy they hold. */
  readonly others: readonly { readonly width: number; readonly energyPercent: number }[];
}

export interface FabricRatio {
  readonly fabric: RatioFabric;
  /** Stitch width and round height over those of stockinette. */
  readonly widthRatio: number;
  readonly heightRatio: number;
  /** Yarn a stitch over the stitch's own width, l/w. */
  readonly loopOverWidth: number;
  /** In a knitter's words, where the numbers come from. */
  readonly origin: string;
}

export interface FabricRatios {
  /** Loop length over yarn diameter that the ratios are for, within the table. */
  readonly loop: number;
  readonly model: Readonly<Record<RatioFabric, FabricRatio>>;
  readonly use: Readonly<Record<RatioFabric, FabricRatio>>;
}

/** Published round height over stitch width, and what is published about width. */
export interface PublishedShape {
  readonly heightOverWidth: readonly [number, number] | null;
  /** The value to prefer, or null for a band that only checks. */
  readonly prefer: number | null;
  readonly widthRatio: readonly [number, number] | null;
  readonly source: string;
}

export const PUBLISHED_SHAPES: Readonly<Record<RatioFabric, PublishedShape>> = {
  stockinette: {
    heightOverWidth: [0.66, 0.82],
    prefer: null,
    widthRatio: null,
    source: 'Munden 1959: 1/1.3; hand knits 0.70–0.80 (overtherainbowyarn.com, docslib entrelac)',
  },
  garter: {
    heightOverWidth: [0.48, 0.54],
    prefer: 0.5,
    widthRatio: null,
    source:
      'two rows as high as a stitch is wide (overtherainbowyarn.com; gettinghookedagain.blogspot.com 2010)',
  },
  seed: {
    heightOverWidth: [0.45, 0.6],
    prefer: null,
    widthRatio: null,
    source: 'about 0.5, similar to garter (docslib entrelac); the band is ours',
  },
  'rib 1x1': {
    heightOverWidth: null,
    prefer: null,
    widthRatio: [0.5, 0.7],
    source:
      'half the width of plain fabric, or 30 % less than as knitted (leartex.com/rib-fabric); no measurement found',
  },
  'rib 2x2': {
    heightOverWidth: null,
    prefer: null,
    widthRatio: [0.5, 0.7],
    source: 'relaxed rib 30–50 % narrower than stockinette: from memory, no measurement found',
  },
};

/** Where nothing is known of the user's stockinette: Munden's wet-relaxed shape, 1/1.3. */
const USUAL_HEIGHT_OVER_WIDTH = 1 / 1.3;

/**
 * Yarn of a stitch of hand knitting over the pressed yarn's diameter. Hand knits have tightness factors of
 * 1.0–1.1 √tex/mm (REFERENCES 2, from standard gauges); with d = 0.0387 √tex mm that is 23.5–25.8.
 */
export const HAND_LOOP = 24;

const FABRICS: readonly RatioFabric[] = ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'];

/**
 * `heightOverWidth`: round height over stitch width of the user's stockinette, null if not known. `loop`: yarn a
 * stitch over the yarn's diameter; it cannot be told from the shape, which is the same at every tightness.
 */
export function fabricRatios(
  heightOverWidth: number | null = null,
  loop = HAND_LOOP,
): FabricRatios {
  const plainShape = heightOverWidth ?? USUAL_HEIGHT_OVER_WIDTH;
  if (!(plainShape > 0) || !Number.isFinite(plainShape)) {
    throw new RangeError(
      `round height over stitch width must be a positive number, got ${plainShape}`,
    );
  }
  const plain = rowAt('stockinette', loop);
  const model = {} as Record<RatioFabric, FabricRatio>;
  const use = {} as Record<RatioFabric, FabricRatio>;
  for (const fabric of FABRICS) {
    const row = rowAt(fabric, loop);
    model[fabric] = {
      fabric,
      widthRatio: row.width / plain.width,
      heightRatio: row.height / plain.height,
      loopOverWidth: row.loop / row.width,
      origin: `yarn model at a loop of ${row.loop.toFixed(1)} yarn diameters`,
    };
    use[fabric] = fabric.startsWith('rib')
      ? heldOpen(model[fabric], row, plain)
      : preferPublished(model[fabric], plainShape);
  }
  return { loop: plain.loop, model, use };
}

/**
 * Rib in a piece lies neither drawn together as by itself nor pressed flat: blocking and the fabric around
 * hold it open, and it gives way many times more easily than stockinette. Chosen: the geometric mean of
 * the two widths that the model gives, and stockinette's round height.
 */
function heldOpen(model: FabricRatio, row: FabricRatioRow, plain: FabricRatioRow): FabricRatio {
  const flat = row.flatWidth / plain.flatWidth;
  const widthRatio = Math.sqrt(model.widthRatio * flat);
  const percent = (ratio: number) => `${Math.round(100 * ratio)} %`;
  return {
    ...model,
    widthRatio,
    heightRatio: 1,
    loopOverWidth: (model.loopOverWidth * model.widthRatio) / widthRatio,
    origin: `${percent(widthRatio)} of stockinette's width, between ${percent(model.widthRatio)} relaxed and ${percent(flat)} pressed flat (yarn model)`,
  };
}

/** The model's area a stitch with the published shape, where one is published. */
function preferPublished(model: FabricRatio, plainShape: number): FabricRatio {
  const prefer = PUBLISHED_SHAPES[model.fabric].prefer;
  if (prefer === null || model.fabric === 'stockinette') return model;
  // Ratios are applied to the user's own stockinette of height over width `plainShape`.
  const area = model.widthRatio * model.heightRatio;
  const widthRatio = Math.sqrt((area * plainShape) / prefer);
  return {
    ...model,
    widthRatio,
    heightRatio: area / widthRatio,
    loopOverWidth: (model.loopOverWidth * model.widthRatio) / widthRatio,
    origin: `published shape ${prefer} (${PUBLISHED_SHAPES[model.fabric].source}), area from the yarn model`,
  };
}

function rowsOf(fabric: RatioFabric): FabricRatioRow[] {
  return FABRIC_RATIO_TABLE.filter((row) => row.fabric === fabric).sort((a, b) => a.loop - b.loop);
}

/** Linear between rows, held at the ends. */
function rowAt(fabric: RatioFabric, loop: number): FabricRatioRow {
  const rows = rowsOf(fabric);
  const next = rows.findIndex((row) => row.loop >= loop);
  if (next === 0) return rows[0];
  if (next < 0) return rows[rows.length - 1];
  const a = rows[next - 1];
  const b = rows[next];
  const f = (loop - a.loop) / (b.loop - a.loop);
  const mix = (x: number, y: number) => x + f * (y - x);
  return {
    ...a,
    loop,
    width: mix(a.width, b.width),
    height: mix(a.height, b.height),
    thickness: mix(a.thickness, b.thickness),
    flatWidth: mix(a.flatWidth, b.flatWidth),
  };
}

/** The differences from published values as a table for the documentation (Markdown). */
export function fabricRatioReport(): string {
  const lines = [
    '| fabric | l/d | width/d | height/d | height/width | published | width over stockinette | published | within | pressed flat | other states: width, energy |',
    '|---|---|---|---|---|---|---|---|---|---|---|',
  ];
  for (const row of FABRIC_RATIO_TABLE) {
    const published = PUBLISHED_SHAPES[row.fabric];
    const plain = rowAt('stockinette', row.loop);
    const shape = row.height / row.width;
    const ratio = row.width / plain.width;
    const band = (b: readonly [number, number] | null) => (b ? `${b[0]}–${b[1]}` : '–');
    const inside = (v: number, b: readonly [number, number] | null) =>
      !b || (v >= b[0] && v <= b[1]);
    const within =
      inside(shape, published.heightOverWidth) && inside(ratio, published.widthRatio)
        ? 'yes'
        : 'no';
    const others = row.others.map(
      (o) => `${(o.width / plain.width).toFixed(2)}, +${o.energyPercent.toFixed(1)} %`,
    );
    lines.push(
      `| ${row.fabric} | ${row.loop} | ${row.width.toFixed(2)} | ${row.height.toFixed(2)} | ${shape.toFixed(3)} | ` +
        `${band(published.heightOverWidth)} | ${ratio.toFixed(3)} | ${band(published.widthRatio)} | ${within} | ` +
        `${(row.flatWidth / plain.flatWidth).toFixed(2)} | ${others.join('; ') || '–'} |`,
    );
  }
  return lines.join('\n');
}

/** Munden 1959, plain knit (REFERENCES 1): dry relaxed, wet relaxed. Values from memory there. */
const MUNDEN = {
  kc: [5.0, 5.3],
  kw: [3.8, 4.1],
  ks: [19.0, 21.6],
  kr: [1.3, 1.3],
} as const;

/** Stockinette's constants beside the published ones, as a table for the documentation (Markdown). */
export function plainConstantsReport(): string {
  const lines = [
    '| l/d | Kc | Kw | Ks | Kr | off wet relaxed (5.3, 4.1, 21.6, 1.3) | off dry relaxed (5.0, 3.8, 19.0, 1.3) |',
    '|---|---|---|---|---|---|---|',
  ];
  for (const row of rowsOf('stockinette')) {
    const kc = row.loop / row.height;
    const kw = row.loop / row.width;
    const values = { kc, kw, ks: kc * kw, kr: kc / kw };
    const off = (state: 0 | 1) =>
      (['kc', 'kw', 'ks', 'kr'] as const)
        .map((key) => {
          const percent = Math.round(100 * (values[key] / MUNDEN[key][state] - 1));
          return `${percent > 0 ? '+' : percent < 0 ? '−' : ''}${Math.abs(percent)} %`;
        })
        .join(', ');
    lines.push(
      `| ${row.loop} | ${kc.toFixed(2)} | ${kw.toFixed(2)} | ${values.ks.toFixed(2)} | ${values.kr.toFixed(2)} | ${off(1)} | ${off(0)} |`,
    );
  }
  return lines.join('\n');
}
