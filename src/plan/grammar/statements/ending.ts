/**
 * How the piece ends: bound off, drawn up, or left live on a holder. In: a cursor at such a sentence
 * (`ending-head.ts`). Out: what all of it says, and the words that no rule follows.
 */
import type { EndWords } from '../ast.ts';
import { followAll, type Rule, type Stretch } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { drawsByThings, drawsUp } from './drawing-up.ts';
import { AFTER_ROUND, FOR_GRAFTING, JOINED_OFF, NOT_OFF, OFF_PARTED, TAIL } from './ending-head.ts';
import { restOfClause } from './opening/opening.ts';

type EndRule = Rule<EndWords>;
type EndFlag = Exclude<keyof EndWords, 'count' | 'after'>;

/** The words say these of the end, and perhaps how many stitches it takes (`#count`). */
const sets =
  (...flags: readonly EndFlag[]): EndRule['means'] =>
  (e, _n, _c, named) => {
    for (const flag of flags) e[flag] = true;
    e.count ??= named().count?.[0] ?? null;
  };

const YARN = 'yarn|wool|thread|tail|end|ends|cotton|it|string|working';
const STAY =
  'centre|center|middle|the|all|of|those|these|them|your|which|remaining|rem|last|final|live|left|open|resulting';
const TAKES = `length|piece|strand|onto|over|sewn|sew|by|the|your|a|an|of|with|up|back|once|twice|double|doubled|long|darning|tapestry|wool|sewing|needle|then|,|and|${YARN}`;
const DRAWS =
  'draw|drawing|fish|hook|tug|ease|thread|threading|threaded|slip|fastened|led|taken|run|running|pull|pulling|pass|passing|take|taking|lead|leading|bring|bringing|slide|sliding|weave|weaving|draw|put|putting|feed|feeding|drawn|pulled|threaded|passed|run';

/** "… and sew the seam": what is done with the piece afterwards. */
const AFTERWARDS: EndRule = {
  says: [
    'sew|seam|graft|weave|stitch|fold|press|block|wash|steam|darn|crochet|attach|mattress|leave|let|turn ~',
    'sew|seam|block|press|wash',
    'with|using the|that|same|remaining|rest|tail|end|long|yarn|of|it* sew|seam|stitch|close|graft the|up|your|#* ~',
    'make|knit|repeat|do # more|others|another',
    'make|knit|repeat|do as many ~* as',
    'repeat|do for|with|as ~* many|all|each|every|other ~* squares|pieces|blocks|motifs|ones',
    'gather|gathering|draw|pull the|your? cast on edge',
    'go|use|change|swap a|up|down|to|size|bigger|larger|one|needle|two* if',
    'ta da',
    'done|finished|hooray|voila',
  ],
  means: (_, _n, c) => {
    while (
      !c.done &&
      !c.mark('.;!') &&
      !(c.isNumber() && /^(?:rounds?|rnds?|rows?|times)$/.test(c.word(1))) &&
      !/^(?:knit|purl|repeat|rep|work|then)$/.test(c.word())
    )
      c.i++;
  },
};

const PIECES = 'squares|pieces|blocks|patches|motifs|tiles|neighbours|neighbors|ones';
const BE =
  'is|are|be|being|get|gets|will|can|then|to|they|you|these|it|them|later|afterwards|finally|only|all';
/** "the squares are later bound off together": what becomes of stitches that wait. */
const LATER: EndRule = {
  says: [
    `,|and|then|when* the|these|your|all* ${PIECES} ${BE}* joined|bound|cast|grafted|knitted|sewn`,
    `${BE}* bind|bound|cast ${BE}* off ${BE}* together|later|with|when`,
    'later|afterwards the|these|your|all* ~ are|is|get|will',
  ],
  means: (e, _n, c) => {
    if (!e.holds && !e.keeps && !e.thread) return false;
    while (!c.done && !c.mark('.;!')) c.i++;
  },
};

const SPARE =
  'spare|waste|scrap|contrast|contrasting|other|another|different|coloured|colored|smooth|cotton|extra|separate';

const NEEDLE =
  'a|an|the|your|darning|tapestry|sewing|yarn|wool|blunt|larger|bigger|smaller|thicker|spare|size|sizes|us|uk|crochet|of';
const SIZES =
  'size|sizes|larger|bigger|smaller|up|thicker|than|for|the|before|knitting|used|main|one|or|two';

const TAIL_WORDS = /\b(?:tail|end|yarn|length|wool|thread)\b/;

const drawsThrough: NonNullable<EndRule['means']> = (...said) => {
  sets('draws', 'through')?.(...said);
  return true;
};

const END_RULES: readonly EndRule[] = [
  LATER,
  {
    says: [AFTER_ROUND],
    means: (e, _n, _c, named) => {
      e.after = named().after?.[0] ?? null;
    },
  },
  // "Thread the 8 sts and close up the centre"
  {
    says: [`thread|string|collect ${STAY}* #count? remaining|rem|live|left? @sts`],
    means: (e, n, c, named) => !/^(?:on|onto|to)$/.test(c.word()) && drawsThrough(e, n, c, named),
  },
  // "Yarn through, pull."
  {
    says: [`the|your* ${YARN} through|thru`],
    means: (e, n, c, named) =>
      (c.done || c.mark('.,;!&') || c.word() === 'and') && drawsThrough(e, n, c, named),
  },
  {
    says: [
      'as|while|when you|they|it? slip|slide|drop|take|come|are|go|pull|work them|it|the|each|stitch|sts|stitches|off|from|out|onto|your|of|needle|needles*',
      'slip|slipping|slide|sliding|drop|dropping|take|taking|pull|pulling|draw|remove|removing the|your|them|it|all|sts|stitches|loops|each|of|as|you|go* off|from|out|onto|on the|your|each|it|them|of? needle|needles|dpns|dpn?',
      'take|slip|pull|draw|remove|drop|slide the|your|all|these* needle|needles|dpns|dpn|markers|marker out|off|away?',
      'off|from|out the|of|your|their* needle|needles|dpns|dpn',
      'to|until|for wait|waiting|later|needed|use',
    ],
  },
  {
    says: [
      'taking|take|with great|special? care',
      'make|making|be|being sure|certain|careful',
      'so that',
      'as you go|work|like|wish|need',
      'marking|noting the|all|each|your|of* #? corners|corner|sides|places',
      'keep|keeping|ensure|ensuring',
    ],
    means: (_, _n, c) => restOfClause(c),
  },
  {
    says: NOT_OFF,
    means: (e, _n, c) => {
      // "Do not bind off too tightly" binds off.
      if (/^(?:too|so|very|tightly|firmly|tight)$/.test(c.word())) e.binds = true;
      else e.keeps = true;
    },
  },
  {
    says: [
      'bo',
      OFF_PARTED,
      'b / o',
      JOINED_OFF,
      'close|closing off? all',
      'work|use|make|do|working|making|doing a|an|the|any|your* ~* bind|cast off',
    ],
    means: sets('binds'),
  },
  // "Using a stretchy method, …", "Finished with a knitwise bind-off"
  {
    says: [
      'finished|ended? using|with|by the|a|an|any|your* ~* method|bind|bo|cast|technique off?',
      'with|using|by|the|a|an* # - needle method|bind|cast|off*',
    ],
    means: (e, _n, c) => {
      e.binds ||= !e.keeps && !e.holds && /^(?:bo|off)$/.test(c.word(-1));
    },
  },
  // "…: *k2tog tbl, slip the st back; repeat from * until all sts are bound off"
  {
    says: ['as follows :|-', ': (|*', 'thus :|-', '*'],
    means: (e, _n, c) => e.binds && howBound(c),
  },
  {
    says: [
      `${DRAWS} ${TAKES}* ${SPARE} yarn|thread|wool|cotton|string|colour|color? through|thru ${STAY}|#* @sts?`,
      'a|the|on* hold',
      'a|the|on a?|the? string',
      'set|lay|put the|piece|square|work|it|this|them* aside|by|away',
    ],
    means: (e, _n, c) => {
      if (!/^(?:aside|by|away)$/.test(c.word(-1))) e.holds = true;
    },
  },
  {
    says: [`b & t the? ${YARN}?`, `break|cut & t|thread|draw ${YARN}?`],
    means: sets('draws', 'breaks'),
  },
  {
    says: [
      `break|breaking|cut|cutting|snip|trim|broken off? the|your|all|working* ${YARN}|a|b|c|d|mc|cc off?`,
      'break|breaking|cut|cutting|snip off?',
    ],
    means: sets('breaks'),
  },
  {
    says: [
      `${DRAWS}|sew? ${TAKES}* through|thru|by ${STAY}* #count remaining|rem|live|left? @sts? twice|once?`,
      `${DRAWS} ${TAKES}* into|in|onto|on ${STAY}* #count remaining|rem|live|left? @sts? twice|once?`,
      `${DRAWS}|sew? ${TAKES}* through|thru ${STAY}* @sts? twice|once?`,
      `${DRAWS} ${TAKES}* into|in|onto|on ${STAY}* @sts`,
    ],
    means: sets('draws', 'through'),
  },
  // "Place all sts on a thread": they wait there, unless it is drawn up.
  {
    says: [
      `slip|place|put|leave|transfer|move|keep|thread|run ${STAY}|#* @sts onto|on|to a|an|another|some length|piece|strand|bit|of|new|thin|strong|long|fresh* yarn|thread|wool|cotton|string`,
      `slip|place|put|leave|transfer|move|keep|thread them|it|everything|all all? onto|on|to a|an|another|some length|piece|strand|bit|of|new|thin|strong|long|fresh* yarn|thread|wool|cotton|string`,
    ],
    means: (e, _n, c) => {
      if (drawsUp(c)) {
        e.draws = true;
        e.through = true;
      } else e.thread = true;
    },
  },
  {
    says: [
      `${DRAWS} it|them|the|this|up|${YARN}|tight|tightly|together|in|down|snug|snugly|closed|shut|firmly|gently|well|hole|gap|opening|middle|centre|center|circle|loop*`,
      'fasten|fastening|finish|finishing|tie|tying|close|closing|secure|securing|tighten|tightening|squeeze|cinch|cinching|gather|gathering|knot off|up|it|them|the|all|hole|gap|centre|center|well|firmly|securely|together|end|middle*',
    ],
    means: sets('draws'),
  },
  {
    says: [
      `slip|place|put ${STAY}|#* @sts onto|on|to the|a|tail|end|of|working* yarn|thread|wool|tail|end`,
    ],
    means: sets('draws', 'through'),
  },
  {
    says: [
      `leave|leaving|slip|slipping|place|placing|put|putting|transfer|transferring|move|moving|keep|keeping|hold|holding|rest ${STAY}|#* @sts #? live|on|onto|to|over|there|for|now|later*`,
      'leave|leaving|slip|place|put|transfer|move them|it|everything all? on|onto|to|over',
      '@sts holder|holders',
      'leave|leaving them|it|live|resting|unworked there|live|resting|unworked|as|they|are*',
      'on|onto|to|a|an|the* holder|holders',
      'a|an|the|another|on|onto|or* spare|stitch|safety|waste|scrap|extra circular|stitch|long|double|pointed|st* holder|holders|needle|needles|cable|pin|pins',
      `a|an|the|length|piece|some|of|on|to|onto|or|strand* ${SPARE} yarn|thread|wool|cotton|needle|string`,
    ],
    means: sets('holds'),
  },
  {
    says: [
      `leaving|leave|with|keeping|keep? ${TAIL} #? @length|"? long|short? tail|end|yarn|length of? about|around|approx|at|least* #? @length|m|"? or|so|long|for|to|sew|weave|weaving|in|up|later|sewing|seaming|seam* #? times? as|the|long|length|of|edge|round|square|width|piece*`,
      `leaving|leave|with|keeping ${TAIL} # @length|metre|meter|m|yard|yards|" or|so|long|of|yarn|to|spare|for|weaving|in|sewing|up|tail|end*`,
      `leaving|leave|with|keeping ${TAIL} metre|meter|yard`,
      `tail|end|length :|of? about|around* # @length|" or|so|long*`,
      'about|as|some|at|least* # times as|the long|length as|of the|your edge|round|square|piece|width|side',
      'at|after|to|with about|some? # @length|"',
      '# @length|m|" tail|end|long|of|yarn*',
    ],
  },
  // "leaving a long tail for joining to the next hexie"
  {
    says: ['for|to? join|joining|attach|attaching|connect|connecting|stitching|seaming'],
    means: (_, _n, c) => {
      if (!TAIL_WORDS.test(c.slice(c.i - c.behind, c.i))) return false;
      while (!c.done && !c.mark(',.;!')) c.i++;
      return true;
    },
  },
  AFTERWARDS,
  {
    says: [
      'remaining|rem|last|all|these|the|those|final|both #count live|remaining|rem|left* @sts',
      '#count live|remaining|rem|left* @sts remain|left?',
      'gather|take|up|in* #count @sts',
    ],
    means: sets(),
  },
  // "Bind off those 4", "BO 4"
  {
    says: [
      'remaining|rem|last|all|these|the|those|final|both|your* #count that|which* are|is|remain|remains|remaining|rem|left*',
      'what|whatever|the is|are? left|remaining|lot|rest',
    ],
    means: (e, _n, c, named) => {
      if (
        !e.binds ||
        !(c.done || c.mark('.,;(!') || /^(?:and|in|on|[a-z]+ly|[a-z]+wise|off)$/.test(c.word()))
      )
        return false;
      e.count ??= named().count?.[0] ?? null;
    },
  },
  // "going round a second time for strength", "twice for security"
  {
    says: [
      'go|going|pass|passing|run|running|do|doing|work|working it? all|right? round|around|through|this|so again|twice|once|more|a|second|time|the|them|all|for|strength|security|safety|hold|good|measure*',
      'and|again|a second|2nd|% time|round',
      'for extra|more? strength|security|safety',
      '# times|x',
      '2x',
    ],
  },
  {
    says: [
      FOR_GRAFTING,
      'in|with|using the? colour|color|yarn|shade #',
      'all? in|on|from|over|with|as the|a? rib|ribbing|patt|pattern|pat|purl|knit|k|p|garter|reverse|rs|ws|set|established|moss|seed st|sts|stitch|stitches?',
      'on|in|from|to the|this|next|following|right|wrong|outer|inner* side|edge|rs|ws|round|rnd|row',
      'with? the? right|wrong|rs|ws side? facing|out you?',
      'remove|removing|drop|dropping|discard|discarding|take|taking the|all|any|your|each|every|stitch* @marker out|off|away|as|you|go|come|to|them|when|reach*',
      'knitwise|purlwise|knitways|purlways|kwise|pwise|@ly|very|not|too|tight|loose|quite|rather|fairly|bit|little|enough|together|elastic|stretchy',
      'all of? the? @sts',
      'every|each|of|the st|stitch',
      '@sts',
      'knit|purl|k|p wise|ways',
      'that|which|you|still|are|is|have|remain|remains|now* left|live|there|remaining|remain|remains',
      'that|which are|is|remain|remains|left|still|you|have',
      'both|two sides|edges together?',
      'the|your|working* yarn|wool|thread|end|tail is|are|then|now|should|be*',
      'is|are|was|were|should|be|then|now',
      '# - needle',
      `with|using|on|change|changing|switch|go|take to|up|onto|over* ${NEEDLE}* # -? mm|cm? ${NEEDLE}* needle|needles|hook ${SIZES}*`,
      `with|using|on|change|changing|switch to|up|onto|over* ${NEEDLE}* needle|needles|hook #? ${SIZES}*`,
      `# ${SIZES} ${SIZES}*`,
      'knitting|purling|working every|each|all|the|them|these|in|st|stitch|sts|stitches|pattern*',
      'that|which|are|is|still|left|remaining|on|from|over|the|your|all* needle|needles|dpns',
      'over|across|around|for the|all|of* @sts',
      'everything|them|it all? in knit|purl|rib|pattern|garter',
      'twice|once round|around',
      'pick|picking up each|all|every|the of? the? #? @sts on|onto|with a|an|the|your ~? needle',
      'inside|outside|invisibly',
      'in 1|one|#? go',
      'finish|end by|with',
      'if you tend to',
      'that is|was all|it',
      'with|in|using @yarn @yarn?',
      '@yarn',
      'wise',
      'as you go|work',
      '@filler',
      'to|for|from|into|round|rem|remaining|last|off|up|hole|end|ends',
    ],
  },
  { says: [',', '-', ':', '(', ')', '[', ']', '.', ';', '!', '&', '"', "'", '*'] },
];

/** All that the sentence says, and the words that no rule follows. */
export function readEnding(c: TokenCursor): { words: EndWords; unread: Stretch[] } {
  const words: EndWords = {
    binds: false,
    draws: false,
    breaks: false,
    through: false,
    holds: false,
    keeps: false,
    thread: false,
    count: null,
    after: null,
  };
  const { i } = c;
  const unread = followAll(c, END_RULES, words);
  if (!words.binds && !words.holds && !words.keeps && !(words.draws && words.through)) {
    const drawn = c.ahead(() => {
      c.i = i;
      return drawsByThings(c);
    });
    if (drawn) {
      words.draws = true;
      words.through = true;
      words.count ??= drawn.count;
    }
  }
  return { words, unread };
}

/** How each stitch is bound off, up to "repeat … until all sts are bound off"; false where it does not say so. */
function howBound(c: TokenCursor): boolean {
  let repeats = false;
  for (let n = 0; n < 60 && !c.done; n++) {
    if (c.phrase('rep|repeat')) repeats = true;
    else if (repeats && c.phrase('end|off|around|left|across')) return true;
    else c.i++;
  }
  return false;
}
