/**
 * Words of care, of sharing out, of tools and yarn, and idle ones, which ask for no stitch, as rules of an opening.
 */
import { type OpeningRule, restOfClause } from './opening.ts';

export const CARE: readonly OpeningRule[] = [
  { says: ['as|while you|we? knit|knitting|work|working|go'] },
  {
    says: [
      'being|be|very|quite* careful|careful',
      'taking|take great|special? care',
      'make|making|be|being sure',
      'do|doing a|the|your|usual|quick|last|final|obligatory|little* twist|finger|last|final|count|check|dance|test|headcount',
      'check|checking|ensure|ensuring|see|mind|minding|watch|watching|avoid|avoiding|beware',
      'do|does not twist|turn|let|join',
      "don't join",
      'not joined|joining',
      "don't|never twist|let",
      'without|no|not|never any|the|a|to|being|getting|be|get* twist|twisting|twists|twisted',
      'not|untwisted|twisted|straight',
      'so that|nothing|none|no',
      'once|when|after you|it|they|everything|having|the',
      'leave|leaving a|an about|around? #? @length? ~* tail|end',
      'which|that|to you|we|it|will|can|may|later|then|be|is* use|used|need|needed|want|wanted|come|comes|useful|handy',
      'keep|keeping the|your|it|everything ~? free|flat|untwisted',
      'undo|unpick|untwist|straighten',
      'so? if|when|unless|as|because|since you|your|the|a|this|it',
      'to separate|close|shut|show|hold|divide|keep|help|mark',
      '@handle',
    ],
    means: (_, _n, c) => restOfClause(c),
  },
  // "between sts 48 and 49", "in the middle (after 48 sts)"
  {
    says: [
      'between the? @sts? #|% and|& #|% @sts?',
      '( ~ ~? ~? )',
      'with|using|on|from a|an|the? closing|adjustable|magic|sliding? loop|ring that|which can|may be tightened|closed|drawn|pulled up|in|shut|tight?',
      '@on|round|inside it|this|that|the|a|your|loose|magic|yarn* ring|loop|finger|hook',
      'round|around|into|onto|inside it',
    ],
    means: (_, _n, c) => !/\b(?:knit|purl|work|slip|repeat|dec|inc)\b/.test(c.slice(c.i - 3, c.i)),
  },
  {
    says: ['( after # @sts )', 'after|behind @sts # :|,?'],
    means: (o, [each]) => void o.shares.push({ parts: null, each: each ?? 0 }),
  },
];

export const DISTRIBUTES: readonly OpeningRule[] = [
  // "divide them" before "on 4 needles", which says over how many
  {
    says: [
      '@distribute all|them|these|the|your|@sts|evenly|equally|even|equal|out|up|now|then|so|that*',
    ],
    means: (_, _n, c) => /^(?:on|onto)$/.test(c.word()) && c.isNumber(1),
  },
  {
    says: [
      '@distribute all|them|these|the|your|@sts|evenly|equally|even|equal|work|so|that|as|follows|out|up|back|two|like|this|same|number|then|now|cast|on|about|around|round|along*',
      'evenly|equally|even|equal',
      'needles :?',
      'as follows :?',
      'same|equal number of? @sts?',
      'in|to front|back|middle|behind of? it|them|the|cable|work*',
      'to|on|onto the|a front|back|other|first|second|left|right needle? tip?',
    ],
  },
];

/** "with double yarn and continue with single": how thick the edge is, and no stitch of it. */
const STRANDS = 'strand|strands|end|ends|thread|threads|yarn|yarns';
const SINGLE: OpeningRule = {
  says: [
    `and|then|,|but|after|that|from|the|first|%|round|rnd|row|on|#* continue|carry|go|drop|break|use|knit|work|switch|change on|one|1|of|them|to|${STRANDS}* with? a|the|1|one|only|just|other|single|#* ${STRANDS}? only|alone?`,
    `and|then|,|but* drop|break off? #|one|the|second|other* ${STRANDS}?`,
  ],
  means: (_, _n, c) => {
    const told = /^(?:single|one|other|only|alone|strands?|ends?|threads?|yarn|1)$/.test(
      c.here(-1),
    );
    return told && (c.done || c.mark('.,;)') || /^(?:and|from|for)$/.test(c.word()));
  },
};

/** "using a disappearing loop": how it is begun, whatever it is called. */
const METHOD: OpeningRule = {
  says: [
    'use|using|with|by|in|via the|a|an|any|your|whichever|whatever* ~ ~? ~? loop|ring|start|beginning|way|trick|circle|knot|hook',
  ],
  means: (_, _n, c) =>
    !c.mark('-') &&
    !/\b(?:knit|purl|work|repeat|dec|inc|join|then|and|on|onto|slip)\b/.test(
      c.slice(Math.max(0, c.i - 6), c.i).replace(/^.*?\b(?:using|use|with|by|in|via)\b/, ''),
    ),
};

export const TOOLS: readonly OpeningRule[] = [
  SINGLE,
  METHOD,
  {
    says: [
      `with|using|from? the? both|two|2|# ${STRANDS} of? the|your? yarn|wool? held|taken? together|double?`,
      'with the? yarn|wool|thread|cotton held|taken? double|doubled',
    ],
  },
  {
    says: [
      '# -? @length|mm',
      'no|nos|size|us|uk|number|sizes # ( # mm )',
      'no|nos|size|us|uk|number|sizes # -? @length|mm?',
      '@tool',
      '# @tool',
    ],
  },
  {
    says: [
      'mark|marking|@place a|an|the|your|stitch|safety|locking|coloured* pin|marker|thread? on|in|at? the? @sts number|no? # as? a|the|centre|center|middle|corner|one*',
      'on|in|at the? @sts number|no #',
      'in|into|on the % @sts',
      'mark|marking|@place a|an|the|your? removable|stitch|safety|locking|coloured* pin|marker|thread? on|in|into|at the % @sts',
      'in? rounds? with|using the|a|your % needle as|follows|thus|:*',
      '# @length tail|end',
      'to|for sew|seam|weave|graft|seaming|sewing with|in|up|later*',
      '(|, the? % @sts? )|,',
      'the|this % is|being the? centre|center|middle|corner @sts?',
      'keep|keeping a|the|your @marker in|with it|there|place|them all? the? time?',
      'leave|leaving a|an|the|about|long* # @length tail|end to? sew|seam|weave|graft? with|in|up|later?',
      'use|using|with|by|in|via|such as? the|a|an|any|your|whichever|whatever* ~* method|technique|tail',
      'use|using|with|by|in|via|such as? the|a|an|any|your|whichever|whatever* ~* cast on',
      'eg|ie|for example|instance|example? ,? the|a|an|your? ~? ~? cast on',
      'take the|your? number|no|size? # -? mm? @tool',
      'over # needles',
      'of|from a|the|your set of #? needles|dpns?',
      'mark|marking the? centre|center|middle|corner|first (? %? )? @sts? with|by? a|an|the|safety|stitch|locking|coloured* pin|marker|thread',
      'move|moving|slip|carry|carrying|bring the|your|this|these|those|all? pin|pins|marker|markers|thread|threads|them up|along|with|it|as|you|go|the|work|every|row|few|rows|grows|progresses|knitting|piece*',
      'leaving|keeping|leave|keep|use|using|with the|a|your? % needle? free? to|for? knit|knitting|work|working with?',
      '(? a? multiple of # @sts? )?',
      'place|placing|add|with # more|further|other|extra markers',
      'make? a|the? slip|sliding|loose|adjustable? knot|ring of? yarn?',
      'knit|work|knitting|working with the|a|your % needle?',
      'knit|work|knitting|working with the|a|your spare|other|free|next needle',
    ],
    means: (_, _n, c) => !c.isNumber() && !(c.word() === 'of' && c.isNumber(1)),
  },
  {
    says: [
      'use|using|with|on|onto|in a|an|the|your|some|of|set* @yarn @yarn* #?',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* # -? @length|mm @tool*',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* # -? @length|mm # -? @length|mm @tool*',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* #? @tool @tool* #? mm?',
      'no|nr|nos|size .? # -? mm?',
      '@yarn',
    ],
  },
  {
    says: [
      'you|we|i like|prefer|please|know|need|want',
      'you should|will? now? have',
      'in|into which|whichever|whatever way',
    ],
  },
];

export const IDLE: readonly OpeningRule[] = [
  {
    says: [
      'and|then|,* work|knit|go|carry|continue|cont on? in the? round|rounds|rnd|rnds from? here|now|then|there? on|onwards?',
    ],
    means: (_, _n, c) => c.done || c.mark('.,;!)'),
  },
  {
    says: [
      'that|this|which|it|there|so|they|these is|are|makes|make|gives|will|should|be|equals*',
      'marked|parted|separated|shown off|out|so?',
      'first',
      'the|this|square|piece|work|it|is|to|we|you|always* begin|start|starting|begun|started|beginning|worked|work|working|knitted at|in|from the? centre|center|middle outwards|outward|out?',
      'from the centre|center|middle outwards|outward|out?',
      'the|this|your|it|square|work|piece|cloth|motif|tile|knitting|is|are|we|you* begins|starts|begin|start|begun|started|cast at|along|from|on|with|round|around #|both|the|its|one|a|of|an|outer|outside|lower|very* sides|side|edges|edge|outside|rim|border|corner|corners|middle|centre|center|bottom|top',
      'to start|begin with? :?',
      'at|in the centre|center|middle',
      'continue|working|work|knit with|using the|a magic loop|dpns|needles',
      'any|whichever|whatever|some|your|a|an ~? ~? ~? cast on',
      'any|whichever|whatever|some|your|a|an ~? ~? ~? edge',
      'at the same time',
      'with? the? @beginning of? the? @ring is|are|lies|being|falls|sits? between @shared # and|& @shared? #',
      'as you would|usual|normal|usually ~*',
      "that's|it's|there's|you'll|you've|they're",
      '@filler',
      'loosely|firmly|very|then|&|hence|thereby',
    ],
  },
  {
    says: [
      ',',
      '-',
      ':',
      '(',
      ')',
      '[',
      ']',
      '.',
      ';',
      '!',
      '=',
      '*',
      '"',
      "'",
      '/',
      '+',
      '?',
      '>',
    ],
  },
];
