/**
 * Header lines in any order: `Title: Yarn: Gauge: Needles: Worked: Join: Seam: Sides: Abbreviation:`.
 * Lines that belong to other headings of a pattern (`Materials:`, `Notes:`) are left to the reader.
 */

import type { DiagnosticList } from './diagnostics.ts';
import { readGauge } from './gauge-lines.ts';
import { NUM, toNumber } from './lex/numbers.ts';
import { positionAt, type Source } from './lex/source.ts';
import type { Abbreviations } from './lexicon/abbreviations.ts';
import { needleMm, yarnWeightNamed } from './lexicon/yarn-names.ts';
import type { GaugeStatement, JoinMethod, YarnStatement } from './plan.ts';

/** Longest header value that is looked into. Chosen: more is prose. */
const LONGEST_VALUE = 500;

export interface Line {
  readonly from: number;
  readonly to: number;
  /** The line is a header or belongs to one. */
  taken: boolean;
}

export interface Headers {
  title: string | null;
  yarn: YarnStatement | null;
  gauges: GaugeStatement[];
  needles: { text: string; mm: number | null } | null;
  worked: 'round' | 'flat' | null;
  join: { method: JoinMethod; halfTurns: number } | null;
  seam: { begin: number; end: number } | null;
  sides: number | null;
}

const HEADER =
  /^[\s•*#>-]*(title|name|pattern|yarns?|wool|gauge|tension|needles?|worked|working|construction|join(?:ing)?|seams?|sides|abbreviations?|abbrev\.?|abbr\.?|special\s+(?:stitch(?:es)?|abbreviations?)|stitch\s+glossary|materials?|notes?|pattern\s+notes?|designer|author|(?:finished\s+)?(?:size|measurements?|dimensions?)|difficulty|skill\s+level|colou?rs?|notions|finishing|blocking|making\s+up|supplies|equipment|techniques?)\**\s*(?:\([^)\n]{0,40}\)\s*)?(?::|=)\**/;
const DEFINITION =
  /^[\s•*-]*([a-z0-9][a-z0-9/&+.-]*(?:\s[a-z0-9/]{1,6})?)\s*(?:=|:|\s-+\s)\s*(\S.*)$/;
const PROSE_HEADERS =
  /^(?:materials|notes?|pattern notes?|designer|author|(?:finished )?(?:size|measurement|dimension)|difficulty|skill level|colou?rs?|notions|finishing|blocking|making up|supplies|equipment|technique|pattern$)/;

/** Half turns named in a join: `twisted by 1 half turn`, `a full twist`. */
export function readJoin(text: string): { method: JoinMethod; halfTurns: number } | null {
  let halfTurns = 0;
  // "being careful not to twist" is the opposite of a twist.
  const clean = text.replace(
    /(?:not\s+(?:to\s+(?:be\s+|get\s+)?|be\s+)?|without\s+|no\s+|un|isn't\s+|aren't\s+|(?:is|are)\s+not\s+|avoid(?:ing)?\s+(?:any\s+)?)(?:twist\w*)/g,
    ' ',
  );
  if (/\btwist|half[\s-]*turns?|m[oö]bius|moebius/.test(clean)) {
    const half = new RegExp(`(${NUM})\\s*(?:x\\s*)?half[\\s-]*(?:turns?|twists?)`).exec(clean);
    const full = new RegExp(`(?:(${NUM})|a)\\s*full\\s*(?:turns?|twists?)`).exec(clean);
    if (half) halfTurns = toNumber(half[1]);
    else if (full) halfTurns = 2 * (full[1] ? toNumber(full[1]) : 1);
    else halfTurns = 1;
    if (!(halfTurns <= 100)) halfTurns = 1;
  }
  if (
    /\bcross(?:ed|ing)?\b|swap|(?:exchange|trade|switch)\b.*(?:first|last)|(?:first|last)\b.*\bover\b.*(?:first|last)/.test(
      clean,
    )
  ) {
    return { method: 'crossed', halfTurns };
  }
  if (/\bextra\b|one\s+more\s+st/.test(clean)) return { method: 'extra', halfTurns };
  if (halfTurns > 0 || /plain|simple|normal|usual|not\s+to|careful|careful|join/.test(text)) {
    return { method: 'plain', halfTurns };
  }
  return null;
}

/** `flat with 2 seam stitches, then seamed`: the edge stitches that the seam takes. */
function readSeam(text: string): { begin: number; end: number } | null {
  if (/\b(?:no|without|not)\b[^.]{0,12}\bseam|\bnone\b|unseamed|not\s+(?:sewn|seamed)/.test(text)) {
    return null;
  }
  const n = new RegExp(
    `(${NUM})\\s*(?:seam|selvedge|selvage|edge)?\\s*(?:sts?|stitch(?:es)?)(\\s*(?:at|on|in|from|per|for|along)?\\s*(?:each|either|every|both)|\\s+per)?`,
  ).exec(text);
  const pair = /(\d+)\s*(?:\+|and|\/)\s*(\d+)/.exec(text);
  if (pair) return { begin: Math.min(9, Number(pair[1])), end: Math.min(9, Number(pair[2])) };
  if (!n) return { begin: 1, end: 1 };
  const count = Math.min(18, toNumber(n[1]));
  if (n[2]) return { begin: count, end: count };
  return { begin: Math.floor(count / 2), end: Math.ceil(count / 2) };
}

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
  #seamSaid = false;

  constructor(source: Source, abbreviations: Abbreviations, found: DiagnosticList) {
    this.#source = source;
    this.#abbreviations = abbreviations;
    this.#found = found;
  }

  /** True where a `Seam:` or `Worked:` line decides about the seam. */
  get seamSaid(): boolean {
    return this.#seamSaid;
  }

  /** Reads all header lines and marks them as taken. */
  read(lines: Line[]): void {
    const { norm } = this.#source;
    const gaugeParts: { from: number; to: number }[] = [];
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i];
      const text = norm.slice(line.from, line.to);
      const m = HEADER.exec(text);
      if (!m) {
        const own = /^[\s•*-]*([a-z0-9][a-z0-9/&+.]*)\s*=\s*(\S.*)$/.exec(text);
        if (own && !/^\d+$/.test(own[1])) {
          this.#define(line, text, own);
          line.taken = true;
        }
        continue;
      }
      const key = m[1].replace(/\s+/g, ' ');
      const from = line.from + m[0].length;
      const value = norm.slice(from, Math.min(line.to, from + LONGEST_VALUE)).trim();
      if (PROSE_HEADERS.test(key)) {
        line.taken = key !== 'pattern' || value !== '';
        if (key === 'pattern' && value !== '') this.headers.title ??= this.#original(from, line.to);
        continue;
      }
      line.taken = true;
      if (/^(?:abbr|special|stitch gl)/.test(key)) {
        if (value !== '') {
          const own = DEFINITION.exec(` ${norm.slice(from, line.to)}`);
          if (own)
            this.#define({ from: from - 1, to: line.to }, ` ${norm.slice(from, line.to)}`, own);
          else this.#notDefined(from, line.to);
        }
        while (i + 1 < lines.length) {
          const next = lines[i + 1];
          const body = norm.slice(next.from, next.to);
          const own = DEFINITION.exec(body);
          if (
            !own ||
            HEADER.test(body) ||
            /^[\s•*-]*(?:round|rnd|row|r\s*\d|next|cast|co\s|set|\d+\s*[:.)])/.test(body)
          )
            break;
          this.#define(next, body, own);
          next.taken = true;
          i++;
        }
        continue;
      }
      this.#header(key, value, from, line, gaugeParts);
      // A gauge may go on in the next line.
      if (/^(?:gauge|tension)/.test(key)) {
        while (
          value === '' &&
          i + 1 < lines.length &&
          /\d\s*(?:st|row|r)/.test(norm.slice(lines[i + 1].from, lines[i + 1].to)) &&
          !HEADER.test(norm.slice(lines[i + 1].from, lines[i + 1].to)) &&
          !/cast|^\s*(?:round|rnd|row)/.test(norm.slice(lines[i + 1].from, lines[i + 1].to))
        ) {
          i++;
          lines[i].taken = true;
          this.#gauge(lines[i].from, lines[i].to);
        }
      }
    }
  }

  #original(from: number, to: number): string {
    const { text, map } = this.#source;
    return text.slice(map[from], map[to]).trim();
  }

  #header(
    key: string,
    value: string,
    from: number,
    line: Line,
    _gauges: { from: number; to: number }[],
  ): void {
    const h = this.headers;
    if (key === 'title' || key === 'name') h.title = this.#original(from, line.to);
    else if (/^(?:yarn|wool)/.test(key)) h.yarn ??= this.#yarn(value, from, line.to);
    else if (/^(?:gauge|tension)/.test(key)) {
      if (value !== '') this.#gauge(from, line.to);
    } else if (/^needle/.test(key)) {
      h.needles ??= { text: this.#original(from, line.to), mm: needleMm(value) };
    } else if (/^(?:work|construction)/.test(key)) this.#worked(value, from, line.to);
    else if (/^join/.test(key)) {
      h.join = readJoin(value);
      if (!h.join) {
        this.#found.add(
          'warning',
          'join-not-read',
          from,
          line.to,
          'this way of joining is not known here; read as a plain join',
          'Write plain, crossed, extra stitch, or twisted by 1 half turn.',
        );
      }
    } else if (/^seam/.test(key)) {
      h.seam = readSeam(value);
      this.#seamSaid = true;
    } else if (key === 'sides') {
      const n = new RegExp(NUM).exec(value);
      const sides = n ? toNumber(n[0]) : Number.NaN;
      if (sides >= 1 && sides <= 1000) h.sides = sides;
    }
  }

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
    else {
      this.#found.add(
        'warning',
        'worked-not-read',
        from,
        to,
        'it is not clear from this whether the piece is worked flat or in the round',
        'Write: in the round, flat, or flat with 2 seam stitches, then seamed.',
      );
    }
  }

  #gauge(from: number, to: number): void {
    const read = readGauge(this.#source.norm.slice(from, Math.min(to, from + LONGEST_VALUE)));
    if (!read) {
      this.#found.add(
        'error',
        'gauge-not-read',
        from,
        to,
        'no stitch count can be read from this gauge',
        'For example: 22 sts and 30 rounds = 10 cm in stockinette.',
      );
      return;
    }
    const { gauges } = this.headers;
    if (read.stitchMm === null || read.roundMm === null) {
      // Stitches on one line and rows on another.
      const i = gauges.findIndex(
        (g) =>
          (g.fabric === read.fabric || read.fabric === null || g.fabric === null) &&
          (read.stitchMm === null ? g.roundMm === null : false),
      );
      if (i >= 0 && read.roundMm !== null) {
        gauges[i] = {
          ...gauges[i],
          roundMm: read.roundMm,
          fabric: gauges[i].fabric ?? read.fabric,
        };
        return;
      }
    }
    if (read.stitchMm === null) {
      this.#found.add(
        'error',
        'gauge-not-read',
        from,
        to,
        'this gauge gives rounds but no stitches',
        'For example: 22 sts and 30 rounds = 10 cm.',
      );
      return;
    }
    gauges.push({
      fabric: read.fabric,
      stitchMm: read.stitchMm,
      roundMm: read.roundMm,
      at: positionAt(this.#source, from + leadingSpace(this.#source.norm, from, to)),
    });
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

  #define(line: { from: number; to: number }, text: string, m: RegExpExecArray): void {
    const nameAt = line.from + text.indexOf(m[1]);
    const from = line.from + text.lastIndexOf(m[2]);
    this.#abbreviations.define(m[1].trim(), m[2].trim(), nameAt, from, this.#found);
  }

  #notDefined(from: number, to: number): void {
    this.#found.add(
      'warning',
      'abbreviation-not-read',
      from,
      to,
      'this abbreviation could not be read',
      'For example: Abbreviation: dd = s2kp',
    );
  }
}

function leadingSpace(text: string, from: number, to: number): number {
  let n = 0;
  while (from + n < to && text[from + n] === ' ') n++;
  return n;
}
