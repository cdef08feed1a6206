/** Gauge as knitters count it, in the page's units. */
import { type GaugeSpan, gaugeSpan as span } from '../../report/words/gauge.ts';
import { type Units, unitOf } from './units.ts';

export function gaugeSpan(units: Units): GaugeSpan {
  return span(unitOf(units));
}
