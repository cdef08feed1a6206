/**
 * Words among the stitches of a round that ask for no stitch, as rules of `grammar/steps/wording.ts`; the first that
 * holds counts. Data alone.
 */
import { COLOUR_SHADES, COLOUR_WORDS } from './colour-words.ts';
import { raw } from './expression.ts';

const AS_YOU_COME =
  'as you|they come|go|get|reach|are { to|across|along|around|them|it|on|each|every|one|marker|up|reached|met }*';
const COLOUR = raw`{ mc|cc | ~cc\d | main|contrast|contrasting|second|first color|colour|yarn|shade | contrast ~(?=\s*[,:.]) | color|colour|yarn ~[a-h](?![a-z0-9]) }`;

/** "dark green wool", where nothing else of its clause follows. */
const PLAIN_COLOUR = raw`${[...COLOUR_SHADES].join('|')}? ${[...COLOUR_WORDS].join('|')} colour|color|yarn|shade|wool? ~(?=\s*(?:[.,;:)(=]|$))`;

const EACH = 'all|both|the|each|every|of|your|those|these*';
const YOS = "{ yo|yos|yarnover|yarnovers|eyelets ~(?:'s)?(?![a-z]) | yarn over|overs }";

export const IDLE_PHRASES: readonly string[] = [
  'dec|inc|decrease|increase { thus|so | as follows | in this way|manner | like this|so | at|for the|each|every? corner|corners }',
  // "treating each double stitch as one", "treat each yo as a stitch", "working the yarn overs like any other stitch"
  `working|knitting|treating|counting|taking|purling|treat|count|take? ${EACH} { { double|wrapped|new @sts } | ${YOS} | { ds } } { as|like { # | a|an|any|every|each|the|all|usual|normal }* other|others|ordinary|normal|usual|single|plain|regular|separate* @sts? }`,
  // "yarn overs too", "yos and all", "and the yarn overs as well", "yo's included", "the yarn overs like any other stitch"
  `and|with? ${EACH} ${YOS} ,? { too|included|inclusive|also | as well | and all | like|as|same as? a|an|any|every|each|the|all* other|ordinary|normal|usual|plain|regular* @sts|others }`,
  // "don't twist them", "but never twisted", "not through the back loop": a yarn over is worked open anyhow
  `and|but|just|please? { { do|does not } | ~don'?t(?![a-z]) | not|never | be|being|taking careful|care not to } { twist|twisting|twisted|drop|dropping|lose|losing|forget|forgetting|miss|missing|cross|crossing | { knit|work|knitting|working them|these|those|it? twisted|crossed } | { { knit|work|knitting|working them|these|those|it? }? through|into|in the? back loop|loops? } } { ${EACH} { ${YOS} | them|these|those|it|any|ones|one|holes } }?`,
  'dec|inc|decrease|increase ~:(?!\\s*\\d)',
  `{ removing|dropping | taking out|off|away | lifting|slipping off|out } all? of? the|your? marker|markers|m|ms { on|in the? first|last|next|second { of these|those|them|the | # of these|those|them|the }? row|rows|round|rounds|rnd|rnds? | ${AS_YOU_COME} }?`,
  'decrease|decreasing|increase|increasing|cable|plain|crossing|dec|dec.|inc|inc. round|rnd|row ~(?=\\s*[:.,-])',
  'with? { rs|ws | right|wrong side } facing',
  `while? slipping|carrying|keeping|moving|passing all? the|your? marker|markers { ${AS_YOU_COME} | up }?`,
  // "keeping moss st correct": what "work" goes on with
  'keep|keeping|maintain|maintaining to? the? cable|lace|established|est|panel? { pat|patt|patt.|pattern|patterns | moss|seed|garter|rib|ribbing|cable|cables|panel|panels st|st.|stitch? pat|patt|pattern? } { correct|correctly|going|intact|continuous | as set|established|before }?',
  'and then',
  'and|then|&|now|also',
  `including in|into|of* ${EACH} { ${YOS} | increase|increases | corner|new sts|stitch|stitches }`,
  'ending|end|finishing|finish with',
  'ending|end',
  'across the? row|round',
  'once|loosely|tightly|evenly|carefully|too',
  'as well',
  'work ~(?=\\s+(?:[\\d(*[]|k\\d|p\\d|ssk|as\\s+follows))',
  'as follows',
  'thus',
  'join in|to|for|into|the|a|an|work|working|knit|knitting|form|make|circle|ring* round|rnd|circle|ring?',
  'inclusive|please',
  `{ with|using|in|join|rejoin | change|switch to }? color|colour? the? ${COLOUR}`,
  'with|using|in yarn? ~[a-h](?![a-z0-9])',
  `with|using|in the|your? ${PLAIN_COLOUR}`,
  'afterwards|afterward|finally|lastly|again|here|first|next|so|still',
  'you|we ~(?=\\s+(?:work|knit|purl|k|p|ssk|just|simply)\\b)',
  'just|simply|initially',
  'for? the? last|final|first|next side',
  '(? rs|ws facing? )?',
];

/** Words around a stitch: "then work an ssk", "begin with k1", "the corner (sl 2, …)". */
export const AROUND_STITCHES: readonly string[] = [
  'begin|beginning|start|starting with a|an?',
  'work|working a|an',
  'then? do|work|repeat ~(?=\\s*[[(*])',
  'to finish|close|end { off | the? row|round|rnd }? ~(?<=[0-9a-z])(?=\\s*(?:[.;)=(-]|$))',
  'work|working|make ~(?=\\s+1\\s+(?:ssk|skp|cdd|s2kp|sk2p|k\\dtog|cent|yo|yarn))',
  'make ~(?=\\s+an?\\s+(?:y|cdd|cent|double))',
  'a|an ~(?=\\s+(?:ssk|k2tog|skp|y|m1|cdd|s2kp|cent|double))',
  'and? at the same time',
  'rep|repeat ~(?=\\s*[[(])',
  'the double|central|centred|left|right? { corner|centre|center|middle|decrease|increase|cable|crossing } st|stitch|decrease|increase? ~\\s*(?=\\()',
];
