/**
 * Stated counts: `(120 sts)`, `- 120 sts`, `[30 sts each side, 120 in all]`, `= 120`. A text is one only
 * if every word of it belongs to such a statement, so that remarks in brackets are not taken for counts.
 */
export interface StatedCount {
  readonly total: number | null;
  readonly perSide: number | null;
  /** Stitches gained (positive) or lost by the round. */
  readonly change: number | null;
  /** "104 sts after round 3": the number of the round that it is told of, where the words name one. */
  readonly round?: number;
  /** Counts of rounds before that one, told with it. */
  readonly before?: readonly StatedCount[];
  /** "64, 56, 48 sts": of the rounds of one label, in order. */
  readonly inTurn?: readonly number[];
  /** … and those of each side. */
  readonly eachInTurn?: readonly number[];
}

const OF_ROUND =
  /(?:^\s*|[\s,;]*\b)(?:after|at\s+the\s+end\s+of|by\s+the\s+end\s+of|on\s+(?:completion\s+of|completing)|when)\s+(?:working\s+|you\s+have\s+(?:done|worked|finished)\s+)?(?:the\s+)?(?:(?:round|rnd|row|r)\s*(\d{1,4})|(\d{1,4})(?:st|nd|rd|th)\s+(?:round|rnd|row))(?:\s+is\s+(?:done|worked|finished|complete))?(?![a-z0-9])[\s,:]*/;

/** The count of the round with number `n`, the last of its label where `last`; null where none is told of it. */
export function statedOf(
  stated: StatedCount | null,
  n: number,
  numbers: readonly number[],
): StatedCount | null {
  if (!stated) return null;
  const nth = (list: readonly number[] | undefined): number | null =>
    list?.length === numbers.length ? list[numbers.indexOf(n)] : null;
  const [total, perSide] = [nth(stated.inTurn), nth(stated.eachInTurn)];
  if ((total ?? perSide) !== null) return { total, perSide, change: null };
  const told = [stated, ...(stated.before ?? [])].find((s) => s.round === n);
  const named = stated.round !== undefined && numbers.includes(stated.round);
  return told ?? (n === numbers.at(-1) && !named ? stated : null);
}

const NEUTRAL = new Set(
  `st sts stitch stitches loop loops total totals in all altogether remain remains remaining rem left on the your
  needle needles dpn dpns ndl ndls pin pins now have you should there are is be and or of with at end a for to this round rnd row leaving
  leaves makes making giving gives so that makes = : ; , . ( ) [ ] - + approx about still live after before both by
  worked only they stay stays count tot gets get here ' " ea evenly divided distributed over across these work working total. check tally will brings bring bringing you down up back comes come got gotten point stage far counts one obtain obtains obtained over rest which it means they're that's it's there's
 takes take taking me us am i'm when where
  you'll you've just exactly has we i i've we've so again now, ie i.e namely correct checked fine`.split(
    /\s+/,
  ),
);
const PER_SIDE = new Set(
  '/ each side sides per section sections edge wedge quarter segment between markers marker repeat panel every'.split(
    ' ',
  ),
);
const CHANGE = new Set(
  `dec decs decd dec'd decreased decrease decreases inc incs incd inc'd increased increase increases fewer less more
  bound off lost gained cast extra new minus plus gone lose loses losing gain gains gaining`.split(
    /\s+/,
  ),
);
/** "72 sts, cast off": no stitches that were cast off, but what is to be done with them. */
const ENDS_PIECE = /(?:^|[-,;:.]|\b(?:and|then))\s*(?:then\s+)?(?:cast|bind)\s+off\b/;
const GAINS = /^(?:inc|more|gain|extra|new|plus)/;
const LOSES = /^(?:dec|fewer|less|los|bound|minus|gone)/;
/** Largest count worth reading: the limit on stitches. */
const MOST = 1_000_000;

/** "88 sts: 4 x 22" tells the share of a side. */
function productLast(text: string): string {
  return text.replace(
    /^([^x]*\b(\d{1,6})\b[^x\d]*[:;,(=-]\s*)(\d{1,3})\s*x\s*(\d{1,4})(?=\D*$)/,
    (all: string, lead: string, total: string, parts: string, each: string): string =>
      Number(total) === Number(parts) * Number(each) ? `${lead}${each} per side` : all,
  );
}

/** "(22 + 22 + 22 + 22)" as the sum that it is; not "+ 8 sts". */
function sumsTold(text: string): string {
  return text.replace(/\b\d{1,5}(?:\s*\+\s*\d{1,5})+(?!\s*=|\d)/g, (sum: string) =>
    String(sum.split('+').reduce((all, n) => all + Number(n), 0)),
  );
}

/** "(4 sides, 24 sts)": how many sides share the count; null where they do not. */
function sidesCounted(text: string): string | null {
  const m =
    /(?<![\d.]\s*[x/]\s*|\b(?:of|the|each|every|these|all|your)\s+)\b(\d{1,2})\s+(?:equal\s+)?(?:sides|needles|sections|quarters|wedges)\b(?=\s*(?:[,;:=]|$))/.exec(
      text,
    );
  if (!m) return text;
  const rest = text.slice(0, m.index) + text.slice(m.index + m[0].length);
  const all = /\d+(?=\s*(?:sts?\b|stitch|loops))/.exec(rest) ?? /\d+/.exec(rest);
  if (!all) return text;
  return Number(all[0]) % Number(m[1]) === 0 ? rest : null;
}

/** "9 on each of 4 needles" tells the count of all as well; null where another is told with it. */
function eachOfSides(text: string): string | null {
  const m =
    /\b(\d{1,4})(\s*(?:sts?|stitch(?:es)?)?\s*(?:(?:on|to|per|for|at|along|in)\s+)?each\s+)of\s+(?:the\s+|your\s+)?(\d{1,2})\s+(?:equal\s+)?(sides|needles|sections|quarters|wedges|dpns)\b/.exec(
      text,
    );
  if (!m) return text;
  const rest = text.slice(0, m.index) + text.slice(m.index + m[0].length);
  const all = /\d+(?=\s*(?:sts?\b|stitch|loops))/.exec(rest) ?? /\d+/.exec(rest);
  if (all && Number(all[0]) !== Number(m[1]) * Number(m[3])) return null;
  return text.replace(m[0], `${m[1]}${m[2]}${m[4].replace(/s$/, '')}`);
}

/** "36 + 36", "88 - 5 x 8" */
function sumOf(text: string): number {
  let sum = 0;
  for (const [, sign, product] of text.matchAll(/([-+−]?)\s*(\d+(?:\s*[x*·•×]\s*\d+)*)/g)) {
    const value = product.split(/[^\d]+/).reduce((n, part) => n * Number(part), 1);
    sum += sign === '-' || sign === '−' ? -value : value;
  }
  return sum;
}

/** "takes off 8 stitches", "a loss of 8 sts" */
const TAKES_AWAY =
  /\b(?:(?:takes?|taking|taken|took)\s+(?:away|off|out)|(?:uses?|using|eats?|eating)\s+up|(?:gets?|getting|got)\s+rid\s+of|(?:costs?|drops?|dropping|removes?|removing)|a\s+loss\s+of)\b/g;
/** "8 stitches go", "8 sts are taken off" */
const GO_AWAY =
  /\b(\d+\s+(?:sts?|stitches))\s+(?:go(?:\s+away)?|disappear|vanish|(?:are|have\s+been)\s+taken\s+(?:off|away|out)|are\s+gone|have\s+gone)\b/g;

/** "-1 st" in a bracket; "- 88 sts" states what there is. */
const GLUED_MINUS = /^\s*-\d{1,2}(?!\d)/;

/** "after the 1st decrease round": a count of neither this round nor one with a number. */
const OF_NTH =
  /\bafter (?:the )?(?:\d{1,3}(?:st|nd|rd|th)|first|second|third) (?:decrease|dec|increase|inc|shaping|narrowing|widening) (?:round|rnd|row)\b/;

/** Reads a count statement without its brackets or dash; null where the text says anything else. */
export function readStatedCount(text: string): StatedCount | null {
  if (OF_NTH.test(text)) return null;
  const of = text.length > 120 ? null : OF_ROUND.exec(text);
  if (!of) return readCount(text);
  const rest = `${text.slice(0, of.index)} ${text.slice(of.index + of[0].length)}`;
  const after = text.slice(of.index + of[0].length);
  const round = Number(of[1] ?? of[2]);
  // "112 sts after round 2, 104 after round 3"
  const first = readCount(text.slice(0, of.index));
  const next =
    first && /\d/.test(after) ? readStatedCount(after.replace(/^(?:and|then)\b/, '')) : null;
  if (first && next?.round !== undefined)
    return { ...next, before: [{ ...first, round }, ...(next.before ?? [])] };
  const count = readCount(rest);
  return count && { ...count, round };
}

/** "4 sts", "which leaves 4", "you are down to 4": not a number alone, which may count anything. */
/** "Now increase in every stitch (8 sts)": an order, whatever count it comes to. */
export function ordersStitches(text: string): boolean {
  return /^\W*(?:(?:now|then|next|first|and|you|we|i|please)\W+)*(?:inc|dec|increase|decrease|kfb|knit|purl|make|slip)\b[^([=:]*\b(?:each|every|all|to the end|to end|around|round)\b/.test(
    text,
  );
}

export function tellsCount(text: string): boolean {
  return (
    /\b(?:sts?|stitch(?:es)?|loops|sides?|rem|remain|remaining|left|more|fewer|less|lose|loses|needles?|total|tally|count|check)\b/.test(
      text,
    ) ||
    /(?:which|that|this)\s+(?:now\s+)?(?:gives|leaves|makes|is)\s+\d+\s*$/.test(text) ||
    /^(?:(?:which|that|this|it)\s+)?(?:brings|takes|gets|leaves|gives|puts)\s+(?:(?:you|us|it|the count|down|up|back|with|to|at)\s+)+\d+\s*$/.test(
      text,
    ) ||
    /\b(?:leav|giv|mak|bring)ing\s+(?:you\s+|us\s+|with\s+|to\s+|down\s+)*\d+\s*$/.test(text) ||
    /\b(?:down|up|back)\s+to\s+(?:just\s+|only\s+)?\d+(?:\s+(?:now|again|altogether|in\s+all|(?:on|per)\s+each))*\s*$/.test(
      text,
    ) ||
    /^(?:you|we)\s+(?:(?:will|should|now|then)\s+)*(?:have|get)\s+(?:got\s+)?(?:now\s+)?\d+(?:\s+(?:now|left|altogether|in\s+all))*\s*$/.test(
      text,
    )
  );
}

/** Counts one after the other, each less than the one before, or each more. */
const IN_TURN =
  /^\s*=?\s*(?:each\s+side\s+)?\d{1,5}(?:\s*(?:,|\/|;|-|,?\s*(?:then|and))\s*(?:then\s+)?\d{1,5}){1,60}\s*(?:sts?\.?|stitches)?(?:\s+(?:left|remain|remaining|in\s+turn|respectively))*\s*$/;

function countsInTurn(text: string): StatedCount | null {
  // "each side 16, 14 = 64, 56"
  const at = text.indexOf('=', text.search(/\d/));
  if (at > 0 && /^\s*=?\s*each\b/.test(text)) {
    const [each, all] = [countsInTurn(text.slice(0, at)), countsInTurn(text.slice(at))];
    return each && all && { ...each, ...all, perSide: each.perSide };
  }
  if (!IN_TURN.test(text)) return null;
  const inTurn = (text.match(/\d+/g) ?? []).map(Number);
  const down = inTurn[1] < inTurn[0];
  const steady = inTurn.every((n, i) => i === 0 || (down ? n < inTurn[i - 1] : n > inTurn[i - 1]));
  // "18 / 72" may tell a share and the whole.
  if (!steady || (inTurn.length === 2 && !down)) return null;
  const last = inTurn[inTurn.length - 1];
  return /each/.test(text)
    ? { total: null, perSide: last, change: null, eachInTurn: inTurn }
    : { total: last, perSide: null, change: null, inTurn };
}

function readCount(text: string): StatedCount | null {
  const inTurn = countsInTurn(text);
  if (inTurn) return inTurn;
  if (
    text.length > 120 ||
    /\b(?:at|on|in|to|reach|reached)\s+(?:the\s+)?(?:round|rnd|row)\s+\d+\.?\s*$/.test(text) ||
    /^\D*\d+\s*markers?\D*$/.test(text) ||
    /\d\s+of\s+the\s+\d+\s+(?:sts|stitches)\b/.test(text) ||
    // "each of the 4 sides counts 16 sts", "2 sts down per side", "14-14-14-14": told in words (`narration/`)
    /\b(?:each|every)\s+(?:one\s+)?of\s+(?:the\s+|your\s+|these\s+)?\d+\s+[a-z]+\s+(?!in\b|of\b)[a-z]+/.test(
      text,
    ) ||
    /\b\d+\s+(?:sts?\s+|stitch(?:es)?\s+)?down\b(?!\s+to)/.test(text) ||
    /\d(?:-\d+){2}/.test(text) ||
    // "Work 1 more decrease round" asks for a round.
    /(?:^|[\s(])\d+\s*(?:(?:more|further|extra|additional|last|final|other|such|full|complete|plain|knit|purl|(?:de|in)c(?:rease)?)\s+)*(?:rounds?|rows?|rnds?)\b/.test(
      text,
    ) ||
    /^\s*(?:rounds?|rnds?|rows?|r)\s*\d+\s*$/.test(text)
  )
    return null;
  if (ENDS_PIECE.test(text)) return null;
  // "decreased to 104"
  const each = eachOfSides(productLast(text));
  const shared = each === null ? null : sidesCounted(each);
  if (shared === null) return null;
  const plain = sumsTold(shared)
    .replace(
      /^\s*(?:and\s+)?(?:at|by)\s+the\s+end\s+of\s+(?:this\s+|the\s+)?(?:round|rnd|row)(?:\s+\d+)?,?/,
      '',
    )
    .replace(
      /(?:\b(?:to|on|in|for)|(?<=\d|sts|stitches))\s+an?(?=\s+(?:needle|dpn|side|section|edge|quarter))/g,
      ' each',
    )
    .replace(TAKES_AWAY, 'minus')
    .replace(GO_AWAY, '$1 fewer')
    .replace(/\bfrom\s+\d+\s+(?:down\s+|up\s+)?(?=to\s+\d)/, '')
    .replace(/\b(?:de|in)creas(?:ed|ing|e|es)\.?\s+to(?=\s+\d)/, 'to');
  const tokens = plain.match(/\d+|[a-z'.]+|[^\sa-z0-9'.]/g);
  if (!tokens?.some((t) => /^\d/.test(t))) return null;

  // "4 sides of 23 sts"
  const sides =
    /^\s*(?:(?:each|of|on|the|your|all)\s+)*(\d+)\s*(?:sides|needles|sections)\s*(?:(?:of|with|x|are|is|have|has|holds?|carry|carries|now|each|should|be|there)\s+)+(\d+)\s*(?:sts?\.?|stitches)?\s*(?:each|long)?\s*$/.exec(
      text,
    );
  if (sides)
    return { total: Number(sides[1]) * Number(sides[2]), perSide: Number(sides[2]), change: null };

  // "4 x 30 = 120 sts"
  const product = /^\D*?\d+\s*x\s*\d+(?:\s*sts?)?\s*=\s*(\d{1,6})\s*(?:sts?\.?|stitches)?\s*$/.exec(
    text,
  );
  if (product) {
    const [a, b] = (text.match(/\d+/g) ?? []).map(Number);
    return a * b === Number(product[1]) ? { total: a * b, perSide: null, change: null } : null;
  }

  // "88 - 5 x 8 = 48 st"
  const sum =
    /^\s*\d{1,6}(?:\s*[-+x*·•×−]\s*\d{1,5}){1,4}\s*=\s*(\d{1,6})\s*(?:sts?\.?|stitches)\s*$/.exec(
      text,
    );
  if (sum) {
    const right = sumOf(text.slice(0, text.indexOf('='))) === Number(sum[1]);
    return right ? { total: Number(sum[1]), perSide: null, change: null } : null;
  }

  // "4 x 18 sts"
  const times = /^\s*(\d{1,3})\s*x\s*(\d{1,4})\s*(?:sts?\.?|stitches)\s*$/.exec(text);
  if (times) return { total: Number(times[1]) * Number(times[2]), perSide: null, change: null };

  let total: number | null = null;
  let perSide: number | null = null;
  let change: number | null = null;
  let gains = 0;
  // Words between two numbers belong to the number before, up to the comma, then to the one after.
  let before = '';
  let current: number | null = null;
  let after = '';
  let signed = false;
  /** "minus 2 sts per needle, 8 in the round, leaves 88": the change goes on to the next number. */
  let carried = 0;
  /** "each needle loses 2" and no count behind it. */
  let eachLoses = false;
  /** Two counts of all the stitches are told that are not the same. */
  let disagree = false;
  const settle = (): void => {
    if (current === null) return;
    const role = before || after;
    if (before === 'change' && after === 'side') {
      carried = gains;
      if (eachLoses) change ??= gains * current;
    } else if (role === 'side') perSide ??= current;
    else if (role === '' && carried !== 0) {
      change = carried * current;
      carried = 0;
    } else if (role === 'change') change ??= gains * current;
    else if (total !== null && total !== current) disagree = true;
    else total = current;
    gains = 0;
    current = null;
    before = '';
    after = '';
  };
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i].replace(/^[.']+|[.']+$/g, '');
    if (token === '') continue;
    if (/^\d/.test(token)) {
      settle();
      current = Number(token);
      if (current > MOST) return null;
      if (signed && i > 0 && tokens[i - 1] === '+') {
        before = 'change';
        gains = 1;
      }
      signed = false;
      continue;
    }
    if (token === '+') {
      signed = true;
      continue;
    }
    // "(-8 = 72 sts)"
    if (token === '=' && before === 'change') settle();
    if (
      token === '-' &&
      current === null &&
      /^\d/.test(tokens[i + 1] ?? '') &&
      ((total === null && tokens.includes('=')) ||
        /^[([]$/.test(tokens[i - 1] ?? '') ||
        GLUED_MINUS.test(plain))
    ) {
      before = 'change';
      gains = -1;
      continue;
    }
    const role = CHANGE.has(token) ? 'change' : PER_SIDE.has(token) ? 'side' : '';
    if (role === '' && !NEUTRAL.has(token)) return null;
    if (/^(?:leav|remain|rem$|left|total|now|have)/.test(token)) carried = 0;
    if (role === 'change') gains ||= GAINS.test(token) ? 1 : LOSES.test(token) ? -1 : 0;
    if (token === ',' || token === ';' || token === 'and' || token === '(' || token === '[') {
      settle();
      continue;
    }
    if (role === '') continue;
    // "each needle loses 2"
    const loses = role === 'change' && before === 'side' && /^(?:los|gain)/.test(token);
    if (current === null && loses) {
      [before, after] = ['change', 'side'];
      eachLoses = /\b(?:needle|side|section|quarter)\b/.test(plain);
    } else if (current === null) before ||= role;
    else if (before === 'change' && role === 'side') after = role;
    else after ||= role;
  }
  settle();
  if (disagree) return null;
  return total === null && perSide === null && change === null ? null : { total, perSide, change };
}
