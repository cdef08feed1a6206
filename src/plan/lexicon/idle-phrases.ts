/**
 * Words among the stitches of a round that ask for no stitch, as rules of `grammar/steps/wording.ts`; the first that
 * holds counts. Data alone.
 */
const AS_YOU_COME =
  'as you|they come|go|get|reach|are { to|across|along|around|them|it|on|each|every|one|marker|up|reached|met }*';
const COLOUR =
  '{ mc|cc | ~cc\\d | main|contrast|contrasting|second|first color|colour|yarn|shade | contrast ~(?=\\s*[,:.]) | color|colour|yarn ~[a-d](?![a-z0-9]) }';

export const IDLE_PHRASES: readonly string[] = [
  'dec|inc|decrease|increase { thus|so | as follows | in this way|manner | like this|so | at|for the|each|every? corner|corners }',
  // "treating each double stitch as one"
  'working|knitting|treating|counting|taking|purling? each|every|the|all { of the }? double|wrapped|new? { @sts | yo|yos|yarnover|yarnovers|ds | yarn over|overs } as { # | a|an|usual|normal } ordinary|normal|usual|single|plain|regular|separate? @sts?',
  'dec|inc|decrease|increase ~:(?!\\s*\\d)',
  `{ removing|dropping | taking out|off|away | lifting|slipping off|out } all? of? the|your? marker|markers { on|in the? first|last|next|second { of these|those|them|the | # of these|those|them|the }? row|rows|round|rounds|rnd|rnds? | ${AS_YOU_COME} }?`,
  'decrease|decreasing|increase|increasing|cable|plain|crossing|dec|dec.|inc|inc. round|rnd|row ~(?=\\s*[:.,-])',
  'with? { rs|ws | right|wrong side } facing',
  `while? slipping|carrying|keeping|moving|passing all? the|your? marker|markers { ${AS_YOU_COME} | up }?`,
  // "keeping moss st correct": what "work" goes on with
  'keep|keeping|maintain|maintaining to? the? cable|lace|established|est|panel? { pat|patt|patt.|pattern|patterns | moss|seed|garter|rib|ribbing|cable|cables|panel|panels st|st.|stitch? pat|patt|pattern? } { correct|correctly|going|intact|continuous | as set|established|before }?',
  'and then',
  'and|then|&|now|also',
  'including in|into|all|both|the|each|every|of|your* { yo|yos|yarnover|yarnovers|increase|increases | yarn over|overs | corner|new sts|stitch|stitches }',
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
  'with|using|in yarn? ~[a-d](?![a-z0-9])',
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
  'work|working|make ~(?=\\s+1\\s+(?:ssk|skp|cdd|s2kp|sk2p|k\\dtog|cent|yo|yarn))',
  'make ~(?=\\s+an?\\s+(?:y|cdd|cent|double))',
  'a|an ~(?=\\s+(?:ssk|k2tog|skp|y|m1|cdd|s2kp|cent|double))',
  'and? at the same time',
  'rep|repeat ~(?=\\s*[[(])',
  'the double|central|centred|left|right? { corner|centre|center|middle|decrease|increase|cable|crossing } st|stitch|decrease|increase? ~\\s*(?=\\()',
];
