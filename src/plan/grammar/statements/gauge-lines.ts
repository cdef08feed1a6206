/**
 * The gauges of a text: under a heading, over several lines, or told in a sentence. In: the lines, the one where a
 * gauge may begin. Out: what it says, kept with the others, and how many lines it takes.
 */
import type { DiagnosticList } from '../../diagnostics.ts';
import { positionAt, type Source } from '../../lex/source.ts';
import type { GaugeStatement } from '../../plan.ts';
import type { Line } from '../lines.ts';
import {
  fabricNamed,
  gaugeParts,
  isGaugeSentence,
  isPartOfGauge,
  measuresGauge,
  plainFigures,
  readGauge,
  withoutNeedles,
} from './gauge.ts';
import type { GaugeAside } from './gauge-asides.ts';

/** Longest gauge that is looked into. Chosen: more is prose. */
const LONGEST = 500;
/** Widths of a stitch that are one gauge. Chosen: far below what can be told. */
const SAME_MM = 1e-6;

/** A full stop that ends a sentence, and none behind a unit that goes on ("4 in. (10 cm) in St st"). */
const SENTENCE_END =
  /(?<=[a-z)"])(?<!(?<![a-z])(?:nos?|nr|n)(?=\.\s*\d))(?<!(?<![a-z])(?:ins?|cms?|mm|sts?|rn?ds?|approx)\.?(?=\.\s+(?:[(x=]|(?:across|down|up|wide|high|deep|in|over|of|each|square|and|with|per|to|by)\b)))[.!]\s+(?!=)|\n/;

const FIGURES = /\d\s*-?\s*(?:sts?\b|stitch|rows?\b|rounds?\b|rn?ds?\b|ridges?\b|r\b)/;
/** Figures that are said to be a gauge. */
const FIGURES_OF_GAUGE = /\b(?:gauge|tension)\b[^.]{0,60}?(?:\d\s*(?:sts?\b|stitch)|\d\D{1,12}\d)/;
/** "20 sts …", "Measured after washing: 10 cm = …": a line of nothing but figures. */
const LED_FIGURES =
  /^[\s(•*-]*(?:(?:measured?|blocked|washed|wet|dry|final|finished|my|the|own|gauge|tension|swatch|sample|after|before|when|once|blocking|washing|a|bath|it|is|was|in|use|reached|got)[\s,]*)*[:=-]?[\s(]*\d/;
const CASTS_ON = /\b(?:cast(?:ing)?[\s-]*on|co)\b/;
/** "Tension: 20 sts to 10 cm. Cast on 81 sts." */
const SENTENCE_THAT_CASTS_ON =
  /(?<=[.;])\s+(?=[^.;\n]{0,60}?\b(?:cast[\s-]*on|co)(?:\s|:)+[a-z\s]*\d)/;
const OTHER_LINE =
  /^[\s•*#>-]*(?:round|rnd|row)s?\s*\d|^[^\n]{0,30}\b(?:needles?|yarns?|wool|size|materials?)\s*:/;

function isSame(a: number | null, b: number | null | undefined): boolean {
  return a !== null && b != null && Math.abs(a - b) < SAME_MM;
}

export class GaugeLines {
  readonly #source: Source;
  readonly #found: DiagnosticList;
  readonly #gauges: GaugeStatement[];

  constructor(source: Source, found: DiagnosticList, gauges: GaugeStatement[]) {
    this.#source = source;
    this.#found = found;
    this.#gauges = gauges;
  }

  /** A gauge under a heading that ends at `from`, with the lines below that belong to it; gives the last of them. */
  headed(lines: Line[], i: number, from: number): number {
    let at = i;
    let figures = FIGURES.test(this.#text(lines[i], from)) || /\d/.test(this.#text(lines[i], from));
    while (at + 1 < lines.length) {
      const text = this.#text(lines[at + 1]);
      if (!figures && text.trim() === '' && at === i) at++;
      else if (this.#goesOn(text, figures)) {
        figures = true;
        at++;
      } else break;
    }
    const last = this.#text(lines[at], at === i ? from : undefined);
    const castsOn = SENTENCE_THAT_CASTS_ON.exec(last);
    for (let k = i; k <= at; k++) lines[k].taken = k < at || castsOn === null;
    const end = lines[at].to - (castsOn ? last.length - castsOn.index : 0);
    const whole = this.#text(lines[i], lines[i].from, end);
    const own = whole.slice(from - lines[i].from);
    if (own.trim() === '') return at;
    const parts = gaugeParts(own);
    for (const part of parts)
      this.#take(
        from + part.from,
        from + part.to,
        parts.length > 1 ? part.text : whole.slice(0, from - lines[i].from).concat(part.text),
        true,
      );
    return at;
  }

  /**
   * "You should get 22 sts and 30 rounds to 10 cm": a gauge without a heading; gives the last of its lines, -1 where
   * none stands here. `late`: something has been cast on before.
   */
  loose(lines: Line[], i: number, late: boolean): number {
    const line = lines[i];
    const text = this.#text(line);
    if (text.length > 2 * LONGEST || CASTS_ON.test(text)) return -1;
    const sentences = text.split(SENTENCE_END);
    const says = (s: string): boolean => isGaugeSentence(s) || isPartOfGauge(s);
    if (!sentences.some(says)) {
      if (
        !late &&
        FIGURES_OF_GAUGE.test(text) &&
        !/\b(?:cast|co|until|rnds?|rounds?|rows?)\b/.test(text)
      )
        this.#problem('warning', line.from, line.to, 'no gauge can be read from this');
      return -1;
    }
    const whole = LED_FIGURES.test(text) && sentences.every(says);
    if (late && !whole) return -1;
    let at = i;
    const told = sentences.filter((s) => says(s) || measuresGauge(s));
    const above = i > 0 ? this.#text(lines[i - 1]) : '';
    if (measuresGauge(above)) told.unshift(above);
    while (at + 1 < lines.length) {
      const next = this.#text(lines[at + 1]);
      if (CASTS_ON.test(next) || OTHER_LINE.test(next)) break;
      if (!isPartOfGauge(next) && !measuresGauge(next)) break;
      told.push(next);
      lines[++at].taken = true;
    }
    const read = this.#take(line.from, lines[at].to, told.join('; ').slice(0, LONGEST), false);
    if (read && late) line.taken = true;
    return read ? at : -1;
  }

  /** Gauges within other lines; one that has been read with its line counts once. */
  aside(asides: readonly GaugeAside[]): void {
    for (const { text, from, to } of asides) {
      const read = readGauge(plainFigures(text));
      const known = this.#gauges.some((g) =>
        read?.stitchMm == null
          ? isSame(g.roundMm, read?.roundMm)
          : isSame(g.stitchMm, read.stitchMm),
      );
      if (!known) this.#take(from, to, text, false);
    }
  }

  /** The line below a heading or figures goes on with them. */
  #goesOn(text: string, figures: boolean): boolean {
    const plain = plainFigures(text);
    if (CASTS_ON.test(text) || OTHER_LINE.test(text)) return false;
    if (/^[\s•*#>-]*(?:gauge|tension)\b/.test(text)) return false;
    if (!figures) return FIGURES.test(plain);
    return (
      isPartOfGauge(plain) ||
      isGaugeSentence(plain) ||
      measuresGauge(text) ||
      /^[\s(•*-]*(?:and\s+)?\d+(?:\.\d+)?\s*(?:rows?|rounds?|rn?ds?|ridges?)\b/.test(plain)
    );
  }

  #text(line: Line, from = line.from, to = line.to): string {
    return this.#source.norm.slice(from, to);
  }

  #problem(severity: 'error' | 'warning', from: number, to: number, message: string): void {
    const hint = 'For example: 22 sts and 30 rounds = 10 cm in stockinette.';
    this.#found.add({ severity, code: 'gauge-not-read', from, to, message, hint });
  }

  /** True where a gauge was read. `headed`: the text says that one stands here. */
  #take(from: number, to: number, text: string, headed: boolean): boolean {
    const read = readGauge(plainFigures(text).slice(0, LONGEST));
    if (!read) {
      // "Gauge: not important" gives no figures that could be meant.
      const figures = FIGURES.test(text) || /\d\D{1,6}\d/.test(withoutNeedles(text));
      if (headed && figures)
        this.#problem('error', from, to, 'no stitch count can be read from this gauge');
      else if (headed) this.#problem('warning', from, to, 'this gauge gives no figures');
      return false;
    }
    const gauges = this.#gauges;
    if (read.stitchMm === null) {
      // Stitches on one line and rows on another.
      const i = gauges.findIndex(
        (g) =>
          (g.fabric === read.fabric || read.fabric === null || g.fabric === null) &&
          g.roundMm === null,
      );
      if (i < 0) {
        this.#problem('error', from, to, 'this gauge gives rounds but no stitches');
        return false;
      }
      const { roundMm } = read;
      gauges[i] = { ...gauges[i], roundMm, fabric: gauges[i].fabric ?? read.fabric };
      return true;
    }
    const { norm } = this.#source;
    let start = from;
    while (start < to && norm[start] === ' ') start++;
    gauges.push({
      fabric: read.fabric ?? fabricNamed(text),
      stitchMm: read.stitchMm,
      roundMm: read.roundMm,
      at: positionAt(this.#source, start),
    });
    return true;
  }
}
