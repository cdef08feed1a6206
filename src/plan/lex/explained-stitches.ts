/**
 * Stitches that a text explains where it uses them, or anywhere else: "1 overcast (= slip 1, knit 1, pass over)", "skewed dec
 * right: knit 2 together", "decrease 1 by knitting 2 together". In: the designer's text. Out: places, and the stitch that each is
 * read as; a name of the text's own is read so wherever it is used.
 *
 * A way is a list of moves (slip, knit, lift over, …) in whatever words; `STITCHES` tells which stitch the moves make.
 */
import { raw, regex } from '../lexicon/expression.ts';
import { type Replacement, valueOfWords } from './numbers.ts';
import { COUNT, STS } from './wording.ts';

const ONE = '(?:1|one|an?|(?:the )?(?:next|following|first|1st|second|2nd|last))';
const TWO = '(?:(?:the )?(?:next |following |first |last )?(?:2|two)|both|them|these|those)';
const THREE = '(?:(?:the )?(?:next |following |first |last )?(?:3|three))';
const ST = `(?: (?:of (?:the )?)?(?:${STS}|one))?`;
const TOG = raw`(?: (?:tog(?:ether)?\b\.?|at once|as (?:1|one)|at (?:the same|1|one) time|in (?:1|one)))`;
const LIKE =
  '(?:,? (?:as if (?:to (?:knit|k|purl)|knitting|purling)(?: (?:2 |two )?(?:it|them|tog(?:ether)?|2tog))?(?: (?:them|tog(?:ether)?))?|as if one (?:wanted|were going) to knit (?:it|them)(?: tog(?:ether)?)?|as (?:for )?to knit|knit(?:ting)?[ -]?wise|(?:with )?(?:the )?yarn (?:in|at) (?:the )?(?:back|front)|without (?:working|knitting)(?: (?:it|them))?|unworked|unknitted|loose(?:ly)?|in knit|purl[ -]?wise)){0,3}';
const SINGLY =
  '(?:,? (?:(?:one|1) (?:by|at) (?:one|1|a time)|(?:one|1) after (?:the other|another)|singly|separately|each (?:on its own|separately|singly)|individually))';
const BEHIND =
  '(?: (?:(?:tbl|through (?:the )?(?:backs?|rear)(?: (?:of the )?(?:loops?|legs?|threads?|strands?|sts?|stitches|mesh(?:es)?))?|from (?:behind|the back|the rear)|in(?:to)? the (?:back|rear)(?: (?:of the )?(?:loops?|legs?|threads?|strands?|sts?|stitches))?|(?:taking|taken|grasping|by) (?:them |the )?(?:from behind|the back (?:loops?|threads?|strands?))|twisted|crossed|by the back (?:loops?|threads?|strands?))))';
const SLIPS = raw`(?:slip|sl\.?|lift(?: off)?|take(?: off)?|pass|transfer|move|put|leave|remove|draw off)`;
const OFF =
  '(?: (?:off|loose|over|across|onto the right(?: (?:hand )?needle)?|to the right(?:[ -](?:hand )?needle)?)){0,3}';
const KNITS = '(?:knit|k\\.?|work)';
const THROWS =
  '(?:pass|p|draw|lift|pull|bring|put|lay|cast|leap|slip|take|throw|let|hoist|haul|drag|jump|flip|turn)';
const SLIPPED =
  '(?:slipped|slip|sl|lifted|loose|passed|taken(?: off)?|transferred|first|1st|unknitted|unworked|unknit|moved|taken-off|lifted-off|slipped off)';
const ONTO = `(?:(?: (?:the )?(?:(?:one )?(?:just )?(?:knitted|knit|worked|k|second|2nd|next|new|following|other|one)(?: (?:just )?(?:knitted|knit|worked))?)(?: (?:${STS}|ones?))?)|(?: (?:it|this|that|them)))?`;

/** No more of the word or number stands behind. */
const WHOLE = '(?![a-z0-9])';
const PASSIVE_ONE = `${ONE}(?: of| ${STS}| one| is| knit)`;
const PASSIVE_TWO = `${TWO}(?: ${STS})? are`;
/** What a move of slipping, of lifting over may begin with. */
const SLIPS_BEGIN = `${SLIPS}${OFF} (?:${ONE}|${TWO})${WHOLE}`;
const OVER_BEGIN = `psso|p2sso|pass over|cover (?:it|them|this|the|with)|${THROWS} (?:over|the|both|these|this|that|2|two|${SLIPPED}|it|them|those|${STS}|ones?)${WHOLE}|(?:the |both )?(?:${SLIPPED} )?(?:${STS}|ones?|it|both|they) (?:is|are)`;

/** Letter of a move among those of a way, what it may begin with, the whole of it. */
const MOVES: readonly (readonly [letter: string, begins: string, whole: string])[] = [
  // Lifted over: what was slipped, or all of it at once.
  [
    'o',
    OVER_BEGIN,
    `(?:psso|p2sso|pass over|cover (?:(?:it|them|this|the (?:k|knit|knitted) (?:${STS})) )?with (?:it|them|(?:the |both )?(?:${SLIPPED}[ -]?){1,3}(?:(?:2|two) )?(?: ?(?:${STS}|ones?))?)|${THROWS} (?:over )?(?:the |both |these |this |that )*(?:(?:2|two|both) )?(?:(?:${SLIPPED}[ -]?){1,3}(?: (?:${STS}|ones?))?|it|this|that|them|both|those|(?:2|two)(?: ${STS})?)(?: ${STS})?(?: (?:jump|leap|fall|slide|pass))?(?: (?:up )?over)${ONTO}|${THROWS} over (?:the )?${SLIPPED}(?: ${STS})?|${THROWS} (?:the |both )?(?:${STS}|one|ones|2|two|both) ${SLIPPED} over${ONTO}|(?:(?:the |both )?(?:${SLIPPED} )?(?:${STS}|one|ones)|it|both|they) (?:is|are)(?: then)? (?:passed|lifted|drawn|pulled|slipped|laid|put|taken) over${ONTO})`,
  ],
  // Back on the left needle: nothing is worked.
  [
    '',
    'put|return|slip|replace',
    '(?:put|return|slip|replace) (?:them|both|these)(?: (?:sts|stitches))? back(?: (?:on|onto|to)(?: the)? left(?:[ -]hand)? needle)?',
  ],
  ['ss', `${SLIPS},? ${SLIPS}${WHOLE}`, `${SLIPS},? ${SLIPS}${WHOLE}`],
  ['ss', SLIPS_BEGIN, `${SLIPS}${OFF} ${TWO}${ST}${OFF}${LIKE}${SINGLY}${LIKE}`],
  [
    't',
    `${PASSIVE_TWO}|${SLIPS_BEGIN}`,
    `${TWO}(?: ${STS})? are(?: then)? (?:slipped|lifted(?: off)?|taken(?: off)?)${TOG}${LIKE}|${SLIPS}${OFF} ${TWO}${ST}${OFF}${TOG}${LIKE}|${SLIPS} ${TWO}${ST}${OFF}${LIKE}${TOG}${LIKE}|${SLIPS}${OFF} ${TWO}${ST}${OFF}${LIKE}`,
  ],
  [
    's',
    `${PASSIVE_ONE}|${SLIPS_BEGIN}`,
    `${ONE}${ST} is(?: then)? (?:slipped|lifted(?: off)?|taken off)${LIKE}|${SLIPS}${OFF} ${ONE}${ST}${OFF}${LIKE}`,
  ],
  [
    'b',
    `(?:return|replace|slip|put) (?:them|both|the)|${KNITS}(?: ${TWO}${WHOLE}| slipped| of| ${STS}| one|${TOG})|k2tog`,
    `(?:(?:(?:return|replace|slip|put) (?:them|both|the 2 sts|the stitches) (?:back )?(?:to|on|onto) the left(?:[ -]hand)? needle),? (?:and |then )*)?${KNITS}(?: ${TWO})?(?: slipped)?${ST}${TOG}${BEHIND}|${KNITS}${TOG} ${TWO}${ST}${BEHIND}|${KNITS} ${TWO}${ST}${TOG}?${BEHIND}(?:${TOG})?|k2tog(?: ?tbl|${BEHIND})`,
  ],
  ['c', `${KNITS} ${THREE}${WHOLE}|k3tog`, `${KNITS} ${THREE}${ST}${TOG}|k3tog`],
  [
    'd',
    `${PASSIVE_TWO}|${KNITS}(?: ${TWO}${WHOLE}|${TOG})|k2tog|(?:2|two)(?: ${KNITS}|(?: ${STS})?${TOG})`,
    `${TWO}(?: ${STS})? are(?: then)? knit(?:ted)?${TOG}|${KNITS} ${TWO}${ST}${TOG}|${KNITS}${TOG} ${TWO}${ST}|k2tog|(?:2|two) ${KNITS}${TOG}|(?:2|two)(?: ${STS})?${TOG}(?: knit)?`,
  ],
  [
    'w',
    `${KNITS} (?:it|this|that|the st)`,
    `${KNITS} (?:it|this|that|the st(?:itch)?)(?: (?:(?:tbl|twisted|crossed)|through (?:the )?back(?: loop)?|in(?:to)? the back(?: of it)?|from behind))`,
  ],
  [
    'k',
    `${PASSIVE_ONE}|${KNITS} ?${ONE}${WHOLE}|${KNITS} (?:it|this)|(?:1|one)(?: ${STS})? knit|k1${WHOLE}`,
    `${ONE}${ST} is(?: then)? knit(?:ted)?|${KNITS} ?${ONE}${ST}|(?:1|one)(?: ${STS})? knit|k1|${KNITS} (?:it|this)`,
  ],
  [
    'y',
    'bring|put|lay|wrap|take|throw|wind',
    '(?:(?:bring|put|lay|wrap|take|throw|wind) the (?:yarn|thread|wool) (?:once )?(?:over|round|around)(?: the)?(?: right)?(?:[ -]hand)?(?: needle)?)',
  ],
  [
    'l',
    'lift|pick|raise|take',
    '(?:(?:lift|pick up|raise|take up|take)(?: up)? (?:the |a )?(?:cross|horizontal|connecting|running|transverse|intermediate)?[ -]?(?:thread|strand|bar)(?: (?:lying )?(?:between|before)(?: (?:the )?(?:next )?(?:(?:2|two) )?(?:sts|stitches|st|stitch|needles))?)?(?: (?:with|onto|on) the (?:left|right)(?:[ -]hand)? needle)?)',
  ],
];
/** Ways, by the letters of their moves, and the stitch each makes. Source: common practice. */
const STITCHES: Readonly<Record<string, string>> = {
  sko: 'skp',
  sdo: 'sk2p',
  tko: 's2kp',
  ssb: 'ssk',
  ssd: 'ssk',
  tb: 'ssk',
  d: 'k2tog',
  c: 'k3tog',
  b: 'k2tog tbl',
  y: 'yo',
  lw: 'm1',
};
const JOINT = '(?:[ ]?[,;][ ]?(?:(?:and|then|now|next)[ ])*|[ ](?:(?:and|then|now)[ ]){0,3})';
const DONE = `(?=$|${JOINT}|[ ]?[.;)*])`;

interface Move {
  readonly letter: string;
  readonly begins: RegExp;
  readonly source: string;
  /** Made at its first use: the engine takes longer for it than for a whole plan. */
  whole?: RegExp;
}

const ALL_MOVES: readonly Move[] = [
  // Words of the trade that stand in every plan.
  { letter: 'd', begins: /k2tog(?=$|[ ]?[,;.)*])/imy, source: 'k2tog' },
  { letter: 'k', begins: /k1(?=$|[ ]?[,;.)*])/imy, source: 'k1' },
  ...MOVES.map(([letter, begins, source]) => ({
    letter,
    begins: new RegExp(`(?:${begins})`, 'imy'),
    source,
  })),
];

/** The first move that stands at a place, and where it ends. */
function moveAt(text: string, at: number): { readonly letter: string; readonly to: number } | null {
  for (const move of ALL_MOVES) {
    move.begins.lastIndex = at;
    if (!move.begins.test(text)) continue;
    move.whole ??= new RegExp(`(?:${move.source})${DONE}`, 'imy');
    move.whole.lastIndex = at;
    if (move.whole.test(text)) return { letter: move.letter, to: move.whole.lastIndex };
  }
  return null;
}

const GAP = new RegExp(JOINT, 'giy');

/** Most moves of a way. */
const MOST_MOVES = 4;

interface Way {
  readonly stitch: string;
  readonly to: number;
}

/**
 * The stitch worked by the moves that stand at a place, at least so many, up to where `closed` finds their end: as many of
 * them as can be. Null where the moves are others, or words stand among them that are no move. One move after the other:
 * an expression of four would be compiled as four times all moves.
 */
function wayAt(text: string, from: number, closed: RegExp, least = 1): Way | null {
  let letters = '';
  let at = from;
  let found: Way | null = null;
  for (let n = 1; n <= MOST_MOVES; n++) {
    const move = moveAt(text, at);
    if (!move) break;
    letters += move.letter;
    at = move.to;
    const stitch = STITCHES[letters];
    const ends = text[at] === '.' ? [at + 1, at] : [at];
    const to = ends.find((end) => {
      closed.lastIndex = end;
      return closed.test(text);
    });
    // The longest list of moves is meant, whatever it makes.
    if (to !== undefined && n >= least) found = stitch ? { stitch, to } : null;
    GAP.lastIndex = at;
    if (!GAP.test(text)) break;
    at = GAP.lastIndex;
  }
  return found;
}

/** The stitch that is worked so, all of the text being its way; null where it is none. */
export function stitchWorked(way: string): string | null {
  return wayAt(way, 0, /[\s.]*$/y)?.stitch ?? null;
}

const LETTER = 'a-zåäöøæéèêç';
/** Words of the sentence, none of a name. */
const NO_NAME = raw`(?!(?:on|each|every|needles?|sides?|to|of|from|in|at|all|the|and|then|with|until|before|after|knit|purl|slip|work|make|do|by|for|rounds?|rows?|repeat|together|tog)\b(?!-))`;
const PART = `[${LETTER}]{2,14}(?:-[${LETTER}]{1,10}){0,3}`;
const NAME = `(?:(?:${NO_NAME}${PART} ){1,3}${NO_NAME}${PART}|${NO_NAME}(?=[${LETTER}-]{3})${PART})`;
const THAT_IS = raw`(?:[= ]{0,3}(?:(?:i\. ?e\.|ie|that is(?: to say)?|that means|thus|so|namely|viz\.?|worked(?: as follows| so| thus)?|as follows)[:,]? ?)?)`;
const LISTED = raw`(?<=^[ \t]{0,8}|[,;:*([|=] ?|\b(?:and|then|needle|side|section|make|work|do|with|by|as) )`;
/** Behind its first use, in brackets, between dashes or commas. */
const IN_PLACE = regex.gim`${LISTED}(?:the (?:next|first|last) (?:2|two|3|three)(?: ${STS})? (?:become|are made into|turn into) (?:1|one)(?: (?:by|with|through))? )?(?:(?:(?:make|work|do) )?(?:(?<many>1|one|an?|the|${COUNT}) )?(?<name>${NAME})|(?<n>[23])(?: ${STS})? (?:become (?:1|one)|tog(?:ether)?\.?(?<lean>(?: [a-z-]{4,8}){0,2})))(?:(?<in> ?\(${THAT_IS})|(?<col>: )|,? (?:i\. ?e\.|ie|that is(?: to say)?|namely|viz\.?|that means)[:,]? )`;
/** In a glossary, wherever it stands. */
const GLOSSARY = regex.gim`(?<=^[ \t•*-]{0,6}|[.;:] |, )["“]?(?<name>${NAME}|[a-z]{2}|[23] (?:${STS} )?tog(?:ether)?\.?(?: [a-z]+){0,2})["”]?(?: ?\((?<short>[a-z0-9.]{1,8})\))?(?:(?<sign> ?[:=–—-] ?)| (?:is worked|means|stands for|is)[:,]? (?:(?:so|thus|as follows|to)[:,]? )?)`;
/** What a glossary says of a stitch before its way. */
const SORT =
  /(?:(?:[a-z]+[ -]){0,4}(?:dec|inc)[a-z]*(?:[ -][a-z]+){0,3}[:,] ?|(?:[a-z]+[ -]){0,3}[a-z]+,? (?:i\. ?e\.|that is)[:,]? ?)/iy;
const IN_BRACKETS = /\)/y;
const BEHIND_COLON = /(?=[ ]?[.;)]|$)/my;
const BEHIND_THAT_IS = /(?=[ ]?[,;.)]|$)/my;
const IN_GLOSSARY = /(?=[ ]?(?:[.;]|,(?! (?:k|p|knit|purl|slip)\b)|$))/imy;
const BARE_END = /(?=[ ]?[,;.)*]|$)/my;
const KNOWN =
  /^(?:.*\b(?:rounds?|rows?|rnds?|rds?|needles?|times|sides?|corners?|edges?|markers?|st|sts|stitch|stitches|end|ends|beginning|start|repeat|note|next|last|first|then|here|until|before|after|each|every|set|rest|knit|purl|slip|wise)|right|left|.*\b(?:knit|purl|slip|repeat|until|before|after|next|last|first|rows?|rounds?|rnds?|to|of|from)\b.*|dec|inc|decreases?|increases?|together|cable|cross|dd|cdd|ssk|skp|skpo|sk2p|k2tog|k3tog|s2kp|sl|yo|psso|tog|abbreviations|work|with|and|the|on)$/i;
/** Stitches of one move: what follows any label, unless its name says that it shapes. */
const ONE_MOVE: ReadonlySet<string> = new Set(['k2tog', 'k3tog', 'k2tog tbl', 'yo']);
const SHAPES = /(?:dec|inc|over|lean|slant|slop|skew|tog|narrow)/i;
/** Names that anything else is called too are read in the place where they are explained alone. */
const ANY = /^(?:(?:to )?(?:dec|inc|decreases?|increases?))$/i;

/** "new st (lift the strand, …)" is a name, "edge st (knit 2 together)" none. */
function isKnown(name: string, stitch: string): boolean {
  return KNOWN.test(ONE_MOVE.has(stitch) ? name : name.replace(/ (?:st|stitch)$/i, ''));
}

/** The stitch, so often as its number says. */
function times(stitch: string, many: string | undefined): string {
  const n = /^\d/.test(many ?? '') ? Number(many) : valueOfWords(many ?? '');
  return n > 1 ? `${stitch} ${n} times` : stitch;
}

interface Explained {
  readonly m: RegExpExecArray;
  readonly way: Way;
}

type Ways = (text: string, head: RegExpExecArray, at: number) => Way | null;

/** Every head that a way follows, none within another. */
function explained(text: string, heads: RegExp, wayBehind: Ways): Explained[] {
  const out: Explained[] = [];
  heads.lastIndex = 0;
  for (let m = heads.exec(text); m; m = heads.exec(text)) {
    const way = wayBehind(text, m, m.index + m[0].length);
    if (way) out.push({ m, way });
    heads.lastIndex = way ? Math.max(way.to, m.index + 1) : m.index + 1;
  }
  return out;
}

/** Up to behind the closing bracket. */
function wayInBrackets(text: string, at: number): Way | null {
  const way = wayAt(text, at, IN_BRACKETS);
  return way && { ...way, to: way.to + 1 };
}

function wayInPlace(text: string, { groups }: RegExpExecArray, at: number): Way | null {
  if (groups?.in !== undefined) return wayInBrackets(text, at);
  return groups?.col ? wayAt(text, at, BEHIND_COLON, 2) : wayAt(text, at, BEHIND_THAT_IS);
}

function wayInGlossary(text: string, { groups }: RegExpExecArray, at: number): Way | null {
  if (groups?.sign !== undefined) {
    SORT.lastIndex = at;
    const sorted = SORT.test(text) ? wayAt(text, SORT.lastIndex, IN_GLOSSARY) : null;
    if (sorted) return sorted;
  }
  return wayAt(text, at, IN_GLOSSARY);
}

export function explainedStitches(text: string): Replacement[] {
  const out: Replacement[] = [];
  const names = new Map<string, { stitch: string; from: number }>();
  const kept: { from: number; to: number }[] = [];
  for (const { m, way } of explained(text, IN_PLACE, wayInPlace)) {
    const { name, many, n, lean, col } = m.groups ?? {};
    const { stitch, to } = way;
    if ((col && !many) || (name && isKnown(name, stitch) && !ANY.test(name))) continue;
    out.push({ from: m.index, to, text: times(stitch, many) });
    if (name && ANY.test(name)) continue;
    const called =
      name?.replace(/(?<=[^s])s$/, '') ?? `${n} (?:(?:${STS}) )?tog(?:ether)?\\.?${lean ?? ''}`;
    if (name || stitch !== `k${n}tog`) names.set(called.toLowerCase(), { stitch, from: to });
  }
  for (const { m, way } of explained(text, GLOSSARY, wayInGlossary)) {
    const { name, short } = m.groups ?? {};
    const { stitch, to } = way;
    if (
      isKnown(name, stitch) ||
      (ONE_MOVE.has(stitch) && !/[=]/.test(text.slice(m.index, to)) && !SHAPES.test(name))
    )
      continue;
    for (const called of [name, short?.includes('.') ? short : undefined])
      if (called) names.set(called.toLowerCase(), { stitch, from: 0 });
    // Its short name may stand anywhere, and is read with the other abbreviations.
    if (short) {
      kept.push({ from: m.index, to });
      continue;
    }
    const stop = /^[ ]?[.;][ ]*/.exec(text.slice(to, to + 6))?.[0].length ?? 0;
    out.push({ from: m.index, to: to + stop, text: '' });
  }
  for (const [name, { stitch, from }] of names) {
    const used = regex.gim`(?<=^[ \t]{0,8}|[,;:*([|=] ?|\b(?:and|then|needle|side|section|make|work|do|with|by|1|one|an?|the) )(?:(?:make|work|do) )?(?:(?<many>1|one|an?|the|${COUNT}) )?${name.replace(/\.$/, '\\.?').replace(/(?<=[a-z])\.(?=[a-z])/g, '\\.?')}s?(?=[ ]?(?:[,;.*)\]=(]|$)| (?:and|then|on|at|to|until|over|in)\b)`;
    for (const m of text.matchAll(used))
      if (m.index >= from && !kept.some((k) => m.index >= k.from && m.index < k.to))
        out.push({ from: m.index, to: m.index + m[0].length, text: times(stitch, m.groups?.many) });
  }
  return out;
}

const STITCH = '(?:skpo?|sk2p|ssk|s2kp|k2tog(?: tbl)?|k3tog|yo|m1[lr]?|cdd)';
const BEHIND_A_NAME = regex.gi`\b${STITCH} ?\(${THAT_IS}`;
const BARE = regex.gim`${LISTED}(?<!= ?)(?=[a-z0-9])`;

/** Ways behind the trade's own names, and ways without a name. */
export function knownStitches(text: string): Replacement[] {
  const named = explained(text, BEHIND_A_NAME, (t, _, at) => wayInBrackets(t, at));
  const bare = explained(text, BARE, (t, _, at) => wayAt(t, at, BARE_END, 2));
  return [...named, ...bare].map(({ m, way: { stitch, to } }) => ({
    from: m.index,
    to,
    text: stitch,
  }));
}
