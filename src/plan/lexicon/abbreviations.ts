/**
 * The plan's own abbreviations: another name for a stitch (`dd = s2kp`), a short sequence
 * (`c6x = p1, 3/3 LC, p1`), or a stitch known by its counts (`bob = works 1 makes 1`). A sequence with
 * turns in it (a bobble) counts as one stitch that works what its first part takes and leaves what its
 * last part makes.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { DeclaredRepeats } from '../grammar/steps/declared-repeats.ts';
import { readSteps } from '../grammar/steps/step-reader.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { readStitch } from '../grammar/steps/stitch-words.ts';
import { NUM } from '../lex/numbers.ts';
import type { StitchKind } from '../stitches/stitch-kind.ts';
import { countedKind, stitchKind, WIDEST_STITCH } from '../stitches/table.ts';
import { COLOUR_WORDS } from './colour-words.ts';
import { regex } from './expression.ts';

export interface OwnStitch {
  readonly name: string;
  /** Canonical name of the stitch it stands for, or null where it is a sequence; without steps two stitches are called so. */
  readonly kind: string | null;
  readonly steps: readonly Step[];
}

const COUNTED = regex.plain`(?:works?|uses?|takes?|consumes?|over)\s+(${NUM})\s*(?:sts?|stitch(?:es)?)?\s*(?:,|;|and)?\s*(?:makes?|leaves?|produces?|gives?|into|to)\s+(${NUM}|no(?:ne)?|0)`;
/** Most abbreviations of one plan. Chosen: a pattern has a few dozen. */
const MOST_OWN = 500;
/** Most instructions that one abbreviation stands for, those within it counted. Chosen: a pattern's stand for a few dozen. */
const MOST_MEANT = 1000;
/** Words of standard abbreviation lists that name no stitch. */
const NO_STITCH =
  /^(?:rs|ws|sts?|st st|stst|rnds?|rds?|rem|rep|beg|cont|foll|patt?|m|pm|sm|rm|bor|mc|cc|cn|dpns?|tbl|wyif|wyib|psso|p2sso|alt|approx|cm|mm|in|ins|g|oz|tog|est|dec|inc|lh|rh|co|bo|st\(s\)|rnd\(s\)|k|p|sl|yb|yf|yfwd|garter st|g st|rev st st|w\s*[&+]\s*t|wt)$/;

const SHORTER = /^[a-z]+ (double (?:de|in)crease)$/;

/** Another word for a stitch or a round. */
const UNIT =
  /^(?:an?\s+)?(?:stitch(?:es)?|sts?|rounds?|rnds?|rows?|loops?)(?:\([es]+\))?(?=\s*(?:[,;.]|$))/;

/** Abbreviations within abbreviations double with every line: what follows a round looks at all that it stands for. */
function instructionsIn(steps: readonly Step[]): number {
  let sum = 0;
  for (const step of steps) sum += step.kind === 'group' ? 1 + instructionsIn(step.steps) : 1;
  return sum;
}

export class Abbreviations {
  readonly #own = new Map<string, OwnStitch>();
  readonly #kinds = new Map<string, StitchKind>();
  #byStart = new Map<string, OwnStitch[]>();
  #shadowsPlain = false;
  #said = '';
  #roundNames: ReadonlySet<string> = new Set();
  #repeats: DeclaredRepeats = { stars: null, brackets: null, rounds: null };

  /** How often the parts between asterisks or in brackets are worked, where the text says it once for all. */
  get repeats(): DeclaredRepeats {
    return this.#repeats;
  }

  /** Names that the text gives to rounds of its own. */
  get roundNames(): ReadonlySet<string> {
    return this.#roundNames;
  }

  callRounds(names: ReadonlySet<string>): void {
    this.#roundNames = names;
    if (names.size > 0) this.#said += `rounds ${[...names].join(', ')}\n`;
  }

  declare(repeats: DeclaredRepeats): void {
    this.#repeats = repeats;
    const { stars, brackets, rounds } = repeats;
    if (stars !== null || brackets !== null || rounds !== null)
      this.#said += `* ${stars} ( ${brackets} all ${rounds}\n`;
  }

  /** All that was explained, with its places. */
  get said(): string {
    return this.#said;
  }

  /** Some own abbreviation begins like a plain run, such as `k2x`. */
  get shadowsPlain(): boolean {
    return this.#shadowsPlain;
  }

  names(): Iterable<string> {
    return this.#own.keys();
  }

  /** The longest own abbreviation that stands at `at` as a word of its own. */
  matchAt(text: string, at: number): OwnStitch | null {
    for (const own of this.#byStart.get(text[at]) ?? []) {
      if (!text.startsWith(own.name, at)) continue;
      const end = at + own.name.length;
      // "4 double overcasts"
      const many =
        text[end] === 's' &&
        own.name.length > 3 &&
        /\d\s+$/.test(text.slice(Math.max(0, at - 5), at));
      const after = text[many ? end + 1 : end];
      if (after === undefined || !/[a-z0-9]/.test(after)) return own;
    }
    return null;
  }

  /** The kind of this name: the trade's, or one of the plan's own. */
  kindNamed(name: string): StitchKind | null {
    return this.#kinds.get(name) ?? stitchKind(name);
  }

  /** Defines `name` by the text `definition`, both from the normalised source. */
  define(
    name: string,
    definition: string,
    nameFrom: number,
    from: number,
    found: DiagnosticList,
  ): void {
    this.#said += `${nameFrom} ${from} ${name} = ${definition}\n`;
    const known = readStitch(name, 0);
    const standard = known !== null && known.end === name.length;
    const counted = COUNTED.exec(definition);
    if (counted) {
      const consumes = Number(counted[1]);
      const makes = /^(?:no|0)/.test(counted[2]) ? 0 : Number(counted[2]);
      if (consumes > WIDEST_STITCH || makes > WIDEST_STITCH) {
        found.error(
          'own-stitch-too-wide',
          { from, to: from + definition.length },
          `one stitch can work or make at most ${WIDEST_STITCH} loops`,
        );
        return;
      }
      this.#addCounted(name, consumes, makes);
      return;
    }
    if (NO_STITCH.test(name) || UNIT.test(definition) || isYarn(name, definition)) return;

    // "DD = double decrease: slip 2 together, …"
    const trimmed = definition
      .replace(/[\s.;]+$/, '')
      .replace(/^(?:[a-z-]+ ){0,2}(?:de|in)crease\s*[:,=]\s*/, '');
    const stitch = readStitch(trimmed, 0);
    if (stitch && stitch.end === trimmed.length && this.#isSingle(stitch.amount)) {
      this.#addShort(name, stitch.name);
      if (standard && known.name === stitch.name) return;
      this.#add({ name, kind: stitch.name, steps: [] });
      return;
    }
    if (/\bturn\b/.test(trimmed)) {
      this.#defineTurned(name, trimmed, from, found);
      return;
    }
    const read = readSteps(trimmed, from, this);
    // "slm = slip marker": a step already, or another name for one
    const marks = read.steps.length === 1 && read.steps[0].kind === 'marker';
    if (marks && read.unread === 0) {
      const [so] = readSteps(name, nameFrom, this).steps;
      if (so?.kind !== 'marker') this.#add({ name, kind: null, steps: read.steps });
      return;
    }
    if (read.unread > 0 || !read.hasStitches) {
      // An explanation in words of a stitch that everybody knows needs no reading.
      if (standard) return;
      found.warn(
        'abbreviation-not-read',
        { from: nameFrom, to: from + definition.length },
        `the explanation of "${name}" could not be read`,
        `Give the stitches it works, or its counts: ${name} = works 2 makes 1`,
      );
      return;
    }
    if (standard && known.amount === null && read.steps.length > 1) {
      // A list that explains k2tog in several words defines nothing new; a cable's may.
      const kind = this.kindNamed(known.name);
      if (kind && !kind.crossing) return;
    }
    if (instructionsIn(read.steps) > MOST_MEANT) {
      found.error(
        'abbreviation-too-long',
        { from: nameFrom, to: from + definition.length },
        `"${name}" stands for more than ${MOST_MEANT.toLocaleString('en-US')} instructions`,
        'Give what is repeated once, with its number: (k2, p2) 40 times',
      );
      return;
    }
    const [only] = read.steps;
    // "slip 2 together, k1, pass them over (2 sts decreased)": one stitch, with a remark
    const one = read.steps.length === 1 && only.kind === 'stitch' && this.#isSingle(only.amount);
    this.#add(one ? { name, kind: only.name, steps: [] } : { name, kind: null, steps: read.steps });
  }

  #isSingle(amount: unknown): boolean {
    return (
      amount === null ||
      (typeof amount === 'object' && 'times' in amount && (amount as { times: number }).times === 1)
    );
  }

  #add(own: OwnStitch): void {
    if (this.#own.size >= MOST_OWN && !this.#own.has(own.name)) return;
    this.#own.set(own.name, own);
    if (/^[kp]\d/.test(own.name)) this.#shadowsPlain = true;
    const start = own.name[0];
    const list = (this.#byStart.get(start) ?? []).filter((o) => o.name !== own.name);
    list.push(own);
    // The longest name that stands there is the one meant.
    list.sort((a, b) => b.name.length - a.name.length);
    this.#byStart.set(start, list);
  }

  /** "Simple double decrease: …", and then "1 double decrease"; two sorts of them leave open which is meant. */
  #addShort(long: string, kind: string): void {
    const name = SHORTER.exec(long)?.[1];
    if (!name) return;
    const known = this.#own.get(name);
    if (!known) this.#add({ name, kind, steps: [] });
    else if (known.kind !== kind) this.#add({ name, kind: null, steps: [] });
  }

  #addCounted(name: string, consumes: number, makes: number): void {
    this.#kinds.set(name, countedKind(name, consumes, makes));
    this.#add({ name, kind: name, steps: [] });
  }

  #defineTurned(name: string, text: string, from: number, found: DiagnosticList): void {
    const parts = text.split(/[,;.\s]*\bturn\b(?:\s+work)?[,;.\s]*/).filter((p) => p !== '');
    const first = this.#countsOf(parts[0] ?? '', from);
    const last = this.#countsOf(parts[parts.length - 1] ?? '', from);
    if (!first || !last || first.consumes > WIDEST_STITCH || last.makes > WIDEST_STITCH) {
      found.warn(
        'abbreviation-not-read',
        { from, to: from + text.length },
        `the explanation of "${name}" could not be read`,
        `Give its counts: ${name} = works 1 makes 1`,
      );
      return;
    }
    this.#addCounted(name, first.consumes, last.makes);
  }

  #countsOf(text: string, from: number): { consumes: number; makes: number } | null {
    const read = readSteps(text, from, this);
    if (read.unread > 0) return null;
    let consumes = 0;
    let makes = 0;
    for (const step of read.steps) {
      if (step.kind !== 'stitch' || !('times' in step.amount)) return null;
      const kind = this.kindNamed(step.name);
      if (!kind) return null;
      consumes += kind.consumes * step.amount.times;
      makes += kind.loops.length * step.amount.times;
    }
    return { consumes, makes };
  }
}

/** "A = cream", "B = dark blue wool": a letter for a yarn, told by what it looks like. */
function isYarn(name: string, definition: string): boolean {
  const last = /([a-z]+)(?:\s+(?:yarn|wool|colou?r))?[\s.;]*$/.exec(definition)?.[1];
  return /^[a-h]$/.test(name) && last !== undefined && COLOUR_WORDS.has(last);
}
