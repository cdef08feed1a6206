/**
 * Header lines in any order: `Title: Yarn: Gauge: Needles: Worked: Join: Seam: Sides: Abbreviation:`.
 * Lines that belong to other headings of a pattern (`Materials:`, `Notes:`) are left to the reader.
 */
import type { DiagnosticList } from '../../diagnostics.ts';
import { NUM } from '../../lex/numbers.ts';
import type { Source } from '../../lex/source.ts';
import type { Abbreviations } from '../../lexicon/abbreviations.ts';
import { regex } from '../../lexicon/expression.ts';
import { needleMm, needlesNamed, yarnWeightNamed } from '../../lexicon/yarn-names.ts';
import type { GaugeStatement, YarnStatement } from '../../plan.ts';
import type { Join } from '../ast.ts';
import type { Line } from '../lines.ts';
import { readStitch } from '../steps/stitch-words.ts';
import { definitionsIn, sequenceTold } from './definitions.ts';
import { isGaugeSentence, isPartOfGauge } from './gauge.ts';
import type { GaugeAside } from './gauge-asides.ts';
import { GaugeLines } from './gauge-lines.ts';
import { readJoin } from './join.ts';

/** Longest header value that is looked into. Chosen: more is prose. */
const LONGEST_VALUE = 500;

export interface Headers {
  title: string | null;
  yarn: YarnStatement | null;
  gauges: GaugeStatement[];
  needles: { text: string; mm: number | null } | null;
  worked: 'round' | 'flat' | null;
  join: Join | null;
  /** `sewn`: it is sewn with stitches that the line does not count. */
  seam: { begin: number; end: number } | 'sewn' | null;
  sides: number | null;
}

/** A heading at the beginning of a line, in lower case. */
export const HEADING =
  /^[\s•*#>-]*(title|name|pattern|yarns?|wool|(?:(?:stitch|st|row|round|rnd|knitting|working|my|sample|required)\s+)?(?:gauge|tension)(?:\s+(?:after|before|when|once|over|in|for|blocked|blocking|washed|washing|finished|garter|stockinette|moss|stitch|square|swatch)){0,4}|needles?|worked|working|construction|join(?:ing)?|seams?|sides|abbreviations?|abbrev\.?|abbr\.?|special\s+(?:stitch(?:es)?|abbreviations?)|stitch\s+glossary|materials?|notes?|pattern\s+notes?|designer|author|(?:finished\s+)?(?:size|measurements?|dimensions?)|difficulty|skill\s+level|colou?rs?|notions|finishing|blocking|making\s+up|supplies|equipment|techniques?)\**\s*(?:\([^)\n]{0,40}\)\s*)?(?::|=)\**/;
/** "TENSION" and "Gauge" without a colon. */
const BARE_GAUGE = /^[\s•*#>-]*(?:gauge|tension)(?![a-z])[\s.*_-]*(?:square|swatch)?[\s.*_-]*/;
const CASTS_ON = /\b(?:cast(?:ing)?[\s-]*on|co)(?:\s|:)+[a-z\s]*\d/;
const GAUGE_HEAD = /^[^\n:]{0,20}\b(?:gauge|tension)\b/;
const MATERIALS = /^[\s•*#>-]*(?:materials?|equipment|supplies|notions|tools|you (?:will )?need)\b/;
const WEIGHT_HEAD = /^[\s•*-]*(?:[a-z0-9-]+ ){1,3}(?:yarns?|wool)[ \t]*:/;
/** "UK terms. DK wool, 20 g. Tension: …": a weight and an amount in a sentence of their own. */
const YARN_AMOUNT =
  /(^|[.;:]\s+)(?:(?!needles?|gauge|tension)[a-z0-9-]+ ){1,3}(?:yarns?|wool|cotton)\b[^.;:\n]{0,20}?\b\d+\s*(?:g|grams?|m|metres?|yds?|yards|balls?|skeins?|oz)\b/;
/** "…, B (navy). 4 mm needles, set of five." */
const BEGINS_SENTENCE = /(?:^|[.;:])[\s•*-]*(?:(?:a|an|one|your|set|pair|of) )*$/;
const DEFINITION =
  /^[\s•*-]*([a-z0-9][a-z0-9/&+.-]*(?:\s[a-z0-9/]{1,6})?)\s*(?:=|:|\s-+\s)\s*(\S.*)$/;
/** Names that are looked for in the whole text. Chosen: no text explains so many stitches, and reading stays linear. */
const MOST_NAMES = 200;
const PROSE_HEADERS =
  /^(?:materials|notes?|pattern notes?|designer|author|(?:finished )?(?:size|measurement|dimension)|difficulty|skill level|colou?rs?|notions|finishing|blocking|making up|supplies|equipment|technique|pattern$)/;

/** `flat with 2 seam stitches, then seamed`: the edge stitches that the seam takes. */
function readSeam(text: string): Headers['seam'] {
  if (/\b(?:no|without|not)\b[^.]{0,12}\bseam|\bnone\b|unseamed|not\s+(?:sewn|seamed)/.test(text)) {
    return null;
  }
  const n =
    regex.plain`(${NUM})\s*(?:seam|selvedge|selvage|edge)?\s*(?:sts?|stitch(?:es)?)(\s*(?:at|on|in|from|per|for|along)?\s*(?:each|either|every|both)|\s+per)?`.exec(
      text,
    );
  const pair = /(\d+)\s*(?:\+|and|\/)\s*(\d+)/.exec(text);
  if (pair) return { begin: Math.min(9, Number(pair[1])), end: Math.min(9, Number(pair[2])) };
  if (!n) return 'sewn';
  const count = Math.min(18, Number(n[1]));
  if (n[2]) return { begin: count, end: count };
  return { begin: Math.floor(count / 2), end: Math.ceil(count / 2) };
}

/** Words of which way a piece grows: `from the centre out`, `outside in`, `from the bottom up`. */
const DIRECTION =
  /\b(?:cent(?:re|er)|middle|edges?|rim|outside|inside|outwards?|inwards?|top|bottom|corner|side to side|sideways)\b/;

export class HeaderReader {
  readonly headers: Headers = {
    title: null,
    yarn: null,
    gauges: [],
    needles: null,
    worked: null,
    join: null,
    seam: null,
    sides: null,
  };
  readonly #source: Source;
  readonly #found: DiagnosticList;
  readonly #abbreviations: Abbreviations;
  readonly #gauges: GaugeLines;
  #seamSaid = false;
  #castOn = false;
  #namesSought = 0;

  constructor(source: Source, abbreviations: Abbreviations, found: DiagnosticList) {
    this.#source = source;
    this.#abbreviations = abbreviations;
    this.#found = found;
    this.#gauges = new GaugeLines(source, found, this.headers.gauges);
  }

  /** True where a `Seam:` or `Worked:` line decides about the seam. */
  get seamSaid(): boolean {
    return this.#seamSaid;
  }

  /** Reads all header lines and marks them as taken. */
  read(lines: Line[]): void {
    this.#readLines(lines);
    this.headers.needles ??= this.#needlesTold(lines);
    this.headers.yarn ??= this.#yarnTold(lines);
  }

  /** Gauges told within other lines. */
  addGauges(asides: readonly GaugeAside[]): void {
    this.#gauges.aside(asides);
  }

  /** Yarn under its weight: "Double knitting yarn: 60 g". */
  #yarnTold(lines: readonly Line[]): Headers['yarn'] {
    const { norm } = this.#source;
    for (const { from, to } of lines) {
      const text = norm.slice(from, Math.min(to, from + LONGEST_VALUE));
      if (CASTS_ON.test(text)) return null;
      const amount = YARN_AMOUNT.exec(text);
      const at = WEIGHT_HEAD.test(text) ? 0 : amount ? amount.index + amount[1].length : -1;
      if (at < 0) continue;
      const [sentence] = /^.*?(?=\.\s|\.?$)/.exec(text.slice(at)) ?? [text.slice(at)];
      if (!WEIGHT_HEAD.test(text) && yarnWeightNamed(sentence) === null) continue;
      return this.#yarn(sentence, from + at, from + at + sentence.length);
    }
    return null;
  }

  /** Needles without a heading: in the sentence of the gauge, else among the materials or where stitches are cast on. */
  #needlesTold(lines: readonly Line[]): Headers['needles'] {
    const { norm } = this.#source;
    let found: Headers['needles'] = null;
    for (const line of lines) {
      const text = norm.slice(line.from, Math.min(line.to, line.from + LONGEST_VALUE));
      const named = needlesNamed(text);
      const castsOn = CASTS_ON.test(text);
      if (named) {
        const from = line.from + named.from;
        const told = { text: this.#original(from, line.from + named.to), mm: named.mm };
        if (isGaugeSentence(text) || isPartOfGauge(text) || GAUGE_HEAD.test(text)) return told;
        const alone = BEGINS_SENTENCE.test(text.slice(0, named.from));
        if (castsOn || alone || MATERIALS.test(text)) found ??= told;
      }
      if (castsOn) break;
    }
    return found;
  }

  #readLines(lines: Line[]): void {
    const { norm } = this.#source;
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i];
      const text = norm.slice(line.from, line.to);
      const m = HEADING.exec(text);
      if (!m) {
        const bare = BARE_GAUGE.exec(text);
        if (
          bare &&
          (text.slice(bare[0].length).trim() === '' || /^[\s(]*\d/.test(text.slice(bare[0].length)))
        ) {
          i = this.#gauges.headed(lines, i, line.from + bare[0].length);
          continue;
        }
        const loose = this.#gauges.loose(lines, i, this.#castOn);
        if (loose >= 0) {
          i = loose;
          continue;
        }
        if (CASTS_ON.test(text)) this.#castOn = true;
        else if (this.#defineOwn(line, text) && this.#castOn) line.taken = true;
        const several = this.#castOn ? null : sequenceTold(text);
        if (several) {
          const at = line.from + several.at;
          this.#abbreviations.define(several.name, several.told, line.from, at, this.#found);
          line.taken = true;
          continue;
        }
        const own = /^[\s•*-]*([a-z0-9][a-z0-9/&+.]*)\s*=\s*(\S.*)$/.exec(text);
        if (own && !/^(?:(?:r|rnd|round|row)\.?)?\d+$/.test(own[1])) {
          this.#define(line, text, own);
          line.taken = true;
        }
        continue;
      }
      const key = m[1].replace(/\s+/g, ' ');
      const from = line.from + m[0].length;
      const value = norm.slice(from, Math.min(line.to, from + LONGEST_VALUE)).trim();
      // Among the instructions a note may order something, and is read like any line.
      if (this.#castOn && /^(?:pattern )?notes?$/.test(key) && value !== '') {
        line.taken = this.#defineOwn(line, text);
        continue;
      }
      if (PROSE_HEADERS.test(key)) {
        this.#defineOwn(line, text);
        line.taken = key !== 'pattern' || value !== '';
        if (key === 'pattern' && value !== '') this.headers.title ??= this.#original(from, line.to);
        continue;
      }
      // "Needles: 4 mm. Cast on 97 sts."
      line.taken = !/[.;]\s+(?:[a-z]+ ){0,3}(?:cast[\s-]*on|co)(?:\s|:)+[a-z\s]*\d/.test(value);
      if (/^(?:abbr|special|stitch gl)/.test(key)) {
        const own = this.#defineOwn(line, text);
        if (value !== '' && !own) this.#defineList(from, line.to);
        while (i + 1 < lines.length) {
          const next = lines[i + 1];
          const body = norm.slice(next.from, next.to);
          const own = DEFINITION.exec(body);
          if (
            !own ||
            HEADING.test(body) ||
            CASTS_ON.test(body) ||
            /^[\s•*-]*(?:round|rnd|row|r\s*\d|next|cast|co\s|set|\d+\s*[:.)])/.test(body)
          )
            break;
          this.#define(next, body, own);
          next.taken = true;
          i++;
        }
        continue;
      }
      if (/\b(?:gauge|tension)\b/.test(key)) i = this.#gauges.headed(lines, i, from);
      else this.#header(key, value, from, line);
    }
  }

  #original(from: number, to: number): string {
    const { text, map } = this.#source;
    return text.slice(map[from], map[to]).trim();
  }

  #header(key: string, value: string, from: number, line: Line): void {
    const h = this.headers;
    if (key === 'title' || key === 'name') h.title = this.#original(from, line.to);
    else if (/^(?:yarn|wool)/.test(key)) h.yarn ??= this.#yarn(value, from, line.to);
    else if (/^needle/.test(key)) {
      h.needles ??= { text: this.#original(from, line.to), mm: needleMm(value) };
    } else if (/^(?:work|construction)/.test(key)) this.#worked(value, from, line.to);
    else if (/^join/.test(key)) {
      h.join = readJoin(value);
      if (!h.join) {
        this.#found.warn(
          'join-not-read',
          { from, to: line.to },
          'this way of joining is not known here; read as a plain join',
          'Write plain, crossed, extra stitch, or twisted by 1 half turn.',
        );
      }
    } else if (/^seam/.test(key)) {
      h.seam = readSeam(value);
      this.#seamSaid = true;
    } else if (key === 'sides') {
      const n = new RegExp(NUM).exec(value);
      const sides = n ? Number(n[0]) : Number.NaN;
      if (sides >= 1 && sides <= 1000) h.sides = sides;
    }
  }

  /** Which way it grows says nothing of round or rows: those are found as in a text without this line. */
  #worked(value: string, from: number, to: number): void {
    const flat = /\bflat|back\s+and\s+forth|rows\b|straight\s+needles/.test(value);
    const round = /round|circular|tube|magic\s+loop/.test(value);
    if (flat) {
      this.headers.worked = 'flat';
      if (/seam|sewn|sew\b|mattress/.test(value)) {
        this.headers.seam = readSeam(value);
        this.#seamSaid = true;
      } else this.#seamSaid ||= false;
    } else if (round) this.headers.worked = 'round';
    else if (!DIRECTION.test(value)) {
      this.#found.warn(
        'worked-not-read',
        { from, to },
        'it is not clear from this whether the piece is worked flat or in the round',
        'Write: in the round, flat, or flat with 2 seam stitches, then seamed.',
      );
    }
  }

  #yarn(value: string, from: number, to: number): YarnStatement {
    const metres =
      /(\d+(?:[.,]\d+)?)\s*(m|metres?|meters?|yds?|yards?)(?![a-z])(?:\s*\/\s*\d+\s*(?:m|yds?|yards?|metres?|meters?)(?![a-z]))?/.exec(
        value,
      );
    const grams = /(\d+(?:[.,]\d+)?)\s*(g|gr|grams?|grammes?|oz|ounces?)(?![a-z])/.exec(value);
    const tex = /(\d+(?:[.,]\d+)?)\s*tex\b/.exec(value);
    const number = (text: string): number => Number(text.replace(',', '.'));
    // 1 yd = 0.9144 m and 1 oz = 28.3495 g, by definition.
    const ballMetres = metres ? number(metres[1]) * (metres[2].startsWith('y') ? 0.9144 : 1) : null;
    const ballGrams = grams ? number(grams[1]) * (grams[2].startsWith('o') ? 28.3495 : 1) : null;
    const given = tex ? number(tex[1]) : null;
    const derived = ballGrams && ballMetres ? (1000 * ballGrams) / ballMetres : null;
    return {
      text: this.#original(from, to),
      weight: yarnWeightNamed(value),
      tex: given ?? derived,
      ballGrams,
      ballMetres,
    };
  }

  /** "slm = slip marker; plm = place marker" */
  #defineList(from: number, to: number): void {
    let at = from;
    for (const part of this.#source.norm
      .slice(from, to)
      .split(/(?<=[;,.])(?= [a-z][a-z0-9/&+-]{0,8} ?=)/)) {
      const own = DEFINITION.exec(` ${part}`);
      if (own) this.#define({ from: at - 1, to: at + part.length }, ` ${part}`, own);
      else if (part.trim() !== '') this.#notDefined(at, at + part.length);
      at += part.length;
    }
  }

  #define(line: { from: number; to: number }, text: string, m: RegExpExecArray): void {
    const nameAt = line.from + text.indexOf(m[1]);
    const from = line.from + text.lastIndexOf(m[2]);
    // "k. = knit": the full stop of a shortened word is no part of it.
    const name = m[1].trim().replace(/\.$/, '');
    this.#abbreviations.define(name, m[2].trim().replace(/[;,]$/, ''), nameAt, from, this.#found);
  }

  /** Stitches that the line explains; true where it does nothing else. */
  #defineOwn(line: { from: number }, text: string): boolean {
    let alone = false;
    for (const { names, told, at, alone: only } of definitionsIn(text, this.#castOn)) {
      for (const { text: name, at: nameAt } of names)
        this.#abbreviations.define(name, told, line.from + nameAt, line.from + at, this.#found);
      alone ||= only && (!this.#castOn || names.some((n) => this.#isUsed(n.text, line.from)));
    }
    return alone;
  }

  /** The name stands elsewhere in the text, or is the trade's. */
  #isUsed(name: string, at: number): boolean {
    const { norm } = this.#source;
    if (readStitch(name, 0)?.end === name.length) return true;
    if (this.#namesSought++ >= MOST_NAMES) return false;
    return norm.indexOf(name) < at || norm.indexOf(name, norm.indexOf('\n', at)) > at;
  }

  #notDefined(from: number, to: number): void {
    this.#found.warn(
      'abbreviation-not-read',
      { from, to },
      'this abbreviation could not be read',
      'For example: Abbreviation: dd = s2kp',
    );
  }
}
