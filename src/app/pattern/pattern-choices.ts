/** How the pattern is shown and printed; lasts as long as the page. */
import { create } from 'zustand';
import type { SeamStitches } from '../../draft/motif/seam-rows.ts';
import type { NeedleWay } from '../../draft/needles.ts';
import type { Paper } from '../../paper/chart/chart.ts';

export type Sheet = 'written' | 'chart' | 'schematic' | 'needles' | 'yarn';
export type WayName =
  | 'whatever suits'
  | 'set of five'
  | 'set of four'
  | 'magic loop'
  | 'one circular';

export interface PatternChoices {
  readonly sheet: Sheet;
  /** Null: as the plan stands. */
  readonly worked: 'round' | 'flat' | null;
  /** Stitches added for the seam when the plan is turned flat. */
  readonly seam: SeamStitches;
  readonly hand: 'right' | 'left';
  readonly largePrint: boolean;
  readonly part: 'side' | 'whole';
  /** Squares of the chart as high as a stitch of the fabric, rather than square. */
  readonly trueShape: boolean;
  /** On the page: the chart as small as its whole width takes, rather than to be read. */
  readonly fitted: boolean;
  readonly paper: Paper;
  readonly way: WayName;
  readonly allowancePercent: string;
  readonly ballGrams: string;
  readonly ballMetres: string;
  readonly printed: {
    readonly chart: boolean;
    readonly chartText: boolean;
    readonly schematic: boolean;
    readonly needles: boolean;
  };
}

export const usePattern = create<PatternChoices>(() => ({
  sheet: 'written',
  worked: null,
  seam: 1,
  hand: 'right',
  largePrint: false,
  part: 'side',
  trueShape: false,
  fitted: false,
  paper: 'A4',
  way: 'whatever suits',
  allowancePercent: '10',
  ballGrams: '',
  ballMetres: '',
  printed: { chart: true, chartText: false, schematic: true, needles: true },
}));

export const choosePattern = usePattern.setState;

export const WAYS: Readonly<Record<WayName, NeedleWay | null>> = {
  'whatever suits': null,
  'set of five': { kind: 'double-pointed', hold: 4 },
  'set of four': { kind: 'double-pointed', hold: 3 },
  'magic loop': { kind: 'magic loop' },
  'one circular': { kind: 'one circular' },
};

export const PAPERS: readonly Paper[] = ['A4', 'Letter'];
