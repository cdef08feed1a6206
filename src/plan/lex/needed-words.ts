/**
 * Which words a text must have before an expression can match anywhere in it, read from the expression itself: hundreds of
 * wordings are asked of every text, and the engine takes longer to make each ready than to find that it is not there.
 * In: a RegExp without the v flag. Out: NeededWords; the letter runs of a text to hold them against.
 */

/** Of each list at least one is part of some run of letters of every text that matches; lower case. */
export type NeededWords = readonly (readonly string[])[];

/** All runs of letters in a text, each once, lower case, with blanks between. */
export function letterRuns(text: string): string {
  return [...new Set(text.toLowerCase().match(/[a-z]+/g) ?? [])].join(' ');
}

/** Whether a text of these letter runs has what is needed. */
export function mayMatch(needed: NeededWords, runs: string): boolean {
  return needed.every((words) => words.some((word) => runs.includes(word)));
}

/** Shorter pieces of words are in every text. */
const SHORTEST = 2;
/** Longer lists of words rule hardly any text out. Chosen. */
const MOST_WORDS = 40;

/** What must be there for `re` to match, whatever the capitals. */
export function neededWords(re: RegExp): NeededWords {
  return new SourceReader(re.source).alternatives();
}

/** A class of all but some characters, line ends among those. */
const NO_LINE_END = /\[\^(?:[^\]\\]|\\.)*?\\n(?:[^\]\\]|\\.)*\]/g;

/** Whether what `re` matches or looks at may lie in more than one line. */
export function crossesLines({ source }: RegExp): boolean {
  return /\\[nsWD]|\[\^/.test(source.replace(NO_LINE_END, ''));
}

/** An expression's source, read once from left to right; what it does not know asks for nothing. */
class SourceReader {
  private at = 0;

  constructor(private readonly source: string) {}

  /** Up to the closing bracket or the end: of a choice only what every branch needs. */
  alternatives(): NeededWords {
    const branches = [this.sequence()];
    while (this.source[this.at] === '|') {
      this.at++;
      branches.push(this.sequence());
    }
    if (branches.length === 1) return branches[0];
    // Any one list of each branch, joined: the shortest, which rule out most.
    const words = new Set(branches.flatMap(fewest));
    const isNeeded = branches.every((branch) => branch.length > 0) && words.size <= MOST_WORDS;
    return isNeeded ? [[...words]] : [];
  }

  private sequence(): NeededWords {
    const { source } = this;
    const needed: (readonly string[])[] = [];
    let run = '';
    const endRun = () => {
      if (run.length >= SHORTEST) needed.push([run]);
      run = '';
    };
    while (this.at < source.length && source[this.at] !== '|' && source[this.at] !== ')') {
      const letter = /[a-z]/i.test(source[this.at]) ? source[this.at++].toLowerCase() : '';
      const inner = letter ? [] : this.part();
      const least = this.leastTimes();
      if (letter && least !== 0) run += letter;
      // What is repeated ends a run: how often is not known.
      if (!letter || least !== 'once') endRun();
      if (least !== 0) needed.push(...inner);
    }
    endRun();
    return needed;
  }

  /** A group, a class, an escape or a sign; what it needs. */
  private part(): NeededWords {
    const { source } = this;
    const first = source[this.at++];
    if (first === '(') return this.group();
    if (first === '[') this.skipClass();
    if (first === '\\') this.skipEscape();
    return [];
  }

  private group(): NeededWords {
    const opens = /\?(?:[:=]|<=|!|<!|<[a-z]\w*>)/iy;
    opens.lastIndex = this.at;
    const kind = opens.exec(this.source)?.[0] ?? '';
    this.at += kind.length;
    const inner = this.alternatives();
    this.at++;
    return kind.endsWith('!') ? [] : inner;
  }

  private skipClass(): void {
    for (; this.source[this.at] !== ']'; this.at++) if (this.source[this.at] === '\\') this.at++;
    this.at++;
  }

  private skipEscape(): void {
    const long = /c[a-z]|x[\da-f]{2}|u[\da-f]{4}|k<\w+>|\d+|[\s\S]/iy;
    long.lastIndex = this.at;
    this.at += long.exec(this.source)?.[0].length ?? 1;
  }

  /** How often what stands before must occur: at least so often, or just once. */
  private leastTimes(): number | 'once' {
    const often = /(?:([?*])|\+|\{(\d+)(?:,\d*)?\})\??/y;
    often.lastIndex = this.at;
    const told = often.exec(this.source);
    if (!told) return 'once';
    this.at += told[0].length;
    return told[1] ? 0 : Number(told[2] ?? 1);
  }
}

/** The shortest of the lists, [] where there is none. */
function fewest(needed: NeededWords): readonly string[] {
  return needed.reduce((a, b) => (b.length < a.length ? b : a), needed[0] ?? []);
}
