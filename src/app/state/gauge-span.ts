/** Gauge as knitters count it: stitches and rounds in 10 cm, or in 4 in where inches are shown. */
import { MM_PER_INCH, type Units } from './units.ts';

export interface GaugeSpan {
  readonly mm: number;
  readonly words: string;
}

export function gaugeSpan(units: Units): GaugeSpan {
  return units === 'cm' ? { mm: 100, words: '10 cm' } : { mm: 4 * MM_PER_INCH, words: '4 in' };
}
