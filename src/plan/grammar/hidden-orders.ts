/**
 * Orders that no verb of work shows: "go round in purl", "a purl round is inserted", "omission of the next round", "divide in two
 * halves", "no more plain rounds". In: the tokens of a sentence that no rule follows. Out: whether it is one of these.
 */
import type { Token } from '../lex/tokens.ts';
import { regex } from '../lexicon/expression.ts';
import { DESCRIBING, LEADS, MODALS, PRONOUNS } from '../lexicon/words.ts';
import { frontOf, placesElsewhere } from './adverbials.ts';
import { says, saysAny } from './rules.ts';
import { TokenCursor } from './token-cursor.ts';

const FABRIC = 'purl|purling|knit|garter|rib|ribbing|moss|seed|stockinette|stocking|reverse';
const SOON = 'now|then|here|first|next|again|also|just|simply|all|thus|further|only|both|each';

/** A set-up that waits, or that parts the piece: "close the round only after the 1st row", "divide in 2 halves". */
export function setsUpLater(list: readonly Token[], worked: boolean): boolean {
  const c = new TokenCursor(list, '', 0, list.length);
  c.skip(LEADS);
  if (worked && c.takes(() => reshapes(c))) return true;
  return list.some(
    (t, i) => /^(?:after|only|when|once|until)$/.test(t.text) && placesElsewhere(list.slice(i)),
  );
}

/** The sentence orders something without a verb of work. */
export function hidesOrder(list: readonly Token[]): boolean {
  const c = new TokenCursor(list, '', frontOf(list).next, list.length);
  c.skip(LEADS);
  return (
    goesRound(list.slice(c.i)) ||
    c.takes(() => reshapes(c)) ||
    c.takes(() => holdsYarn(c)) ||
    c.takes(() => isDone(c)) ||
    c.takes(() => isNamed(c)) ||
    c.takes(() => forbids(c))
  );
}

const ROUND = /^(?:round|around|rnd|rounds|rnds|lap|laps|row|rows|ridge|ridges)$/;
const IN_FABRIC = regex.plain`^(?:${FABRIC}|purlwise)$`;

/** "Go round in purl", "once around in garter": a fabric and a way round, and nothing that is told of them. */
function goesRound(list: readonly Token[]): boolean {
  const words = list.filter((t) => t.kind !== 'mark' && t.kind !== 'line');
  const [first] = words;
  if (
    !first ||
    words.length > 12 ||
    PRONOUNS.has(first.text) ||
    /^(?:the|my|our|a|an|no|each|every)$/.test(first.text)
  )
    return false;
  if (
    words.some(
      (t) =>
        TELLS.test(t.text) ||
        /[a-z]{3}ed$/.test(t.text) ||
        (DESCRIBING.has(t.text) && !NOUNS.test(t.text)),
    )
  )
    return false;
  const way = words.findIndex((t, i) => ROUND.test(t.text) && words[i - 1]?.text !== 'the');
  const fabric = words.findIndex(
    (t, i) =>
      IN_FABRIC.test(t.text) &&
      (/^(?:in|of|around|with|into|to)$/.test(words[i - 1]?.text ?? '') ||
        /^(?:purling|purlwise)$/.test(t.text)),
  );
  return (
    way >= 0 && fabric > 0 && !/^(?:garter|stockinette|stocking|moss|seed|rib)$/.test(first.text)
  );
}

const TELLS =
  /^(?:is|are|was|were|has|have|had|can|could|may|might|would|which|who|if|when|because|like|than|until|till|continue|cont|carry|keep)$/;
const NOUNS = /^(?:make|makes|take|takes|give|work|use|begin|start|form)$/;

/** What is divided, folded or turned over. */
const WHOLE =
  'the|your|this|that|all|of|it|both|each|our|these|those* work|piece|knitting|fabric|square|ring|tube|round|sts|stitches|loops|front|back|half|halves|sides|edges|edge|corner|corners|hem|opening|direction|seam';
const RESHAPE =
  'fold|seam|graft|twist|flip|reverse|gather|pleat|steek|double|open|rearrange|sew|cut|let|give|close|join|unravel|undo|rip|frog';

/** "Divide the work in half", "fold in two and seam the sides", "reverse direction" */
function reshapes(c: TokenCursor): boolean {
  if (says(c, 'from here|now on? work|go|knit|carry|continue on? flat|straight|back|to'))
    return true;
  if (says(c, 'do|does? not|never join|close|divide until|before|till')) return true;
  if (says(c, 'wait|hold|delay|postpone with|off|on|the* joining|closing')) return true;
  if (
    says(
      c,
      'joining|closing|dividing|division the|of|up|round|work|ring* is|comes|happens|takes|follows',
    )
  )
    return true;
  if (says(c, 'leave|keep the|your* ring|work|round|edge open|unjoined|flat')) return true;
  if (
    says(
      c,
      'the|your|this* round|ring|work|piece|fabric is|will|gets|must|should be|then|now|only* closed|joined|divided|folded|split|turned|opened|cut only|after|when|before|until|in|for|over|open|inside|at',
    )
  )
    return true;
  if (says(c, 'divide|split|separate'))
    return !c.tokens.slice(c.i, c.end).some((t) => HELD_BY.test(t.text)) && parted(c);
  const verb = c.word();
  if (!says(c, RESHAPE)) return false;
  if (verb === 'give')
    return (
      says(
        c,
        'the|it|your|this* ring|work|piece|tube|it? a|an|one|1|# half|full|whole? twist|turn',
      ) !== null
    );
  if (verb === 'let')
    return (
      says(
        c,
        'half|some|part|all|the|of|#|both* sts|stitches|loops|needles wait|rest|go|sleep|hang',
      ) !== null
    );
  const whole = says(c, WHOLE) !== null;
  if (verb === 'cut' || verb === 'sew') return whole;
  if (verb === 'close' || verb === 'join')
    return (
      (whole || c.phrase('only|again')) &&
      /^(?:only|after|until|before|when|again|once|later)$/.test(c.word())
    );
  return whole || parted(c);
}

/** What the stitches are merely shared over. */
const HELD_BY = /^(?:needles?|dpns?|markers?|sections|quarters|4|5)$/;

/** "in half", "for the opening" */
function parted(c: TokenCursor): boolean {
  if (says(c, 'the? front|back|upper|left|right and|from the? front|back|lower|right|left'))
    return true;
  says(c, WHOLE);
  const into = says(c, 'in|into|at|along|over* half|halves|thirds|parts|#');
  return (into ?? says(c, 'for|at|over the|an|a* opening|slit|armhole|neck|front|back')) !== null;
}

/** "Hold the yarn double for the first 2 rounds", "use 2 strands for the border" */
function holdsYarn(c: TokenCursor): boolean {
  if (
    !says(
      c,
      'hold|use|take|carry|work|add|knit|join up|in|the|a|an|2|#|both|your|second|another|%*',
    )
  )
    return false;
  if (
    !says(
      c,
      'double|thin|thick|waste|scrap|both|main|second* yarn|yarns|wool|strand|strands|thread',
    )
  )
    return false;
  says(c, 'double|doubled|together|of|yarn|wool|mohair|held|along|too|only|as|well*');
  return (
    says(
      c,
      'for|on|in|during|over all|the|every|each|both|these|this|first|last|next|even|odd|#|%|edge|border* @unit',
    ) !== null
  );
}

/** "with double yarn", "with waste yarn": another yarn than the piece is measured by. */
export function otherYarn(list: readonly Token[]): boolean {
  const c = new TokenCursor(list, '', 0, list.length);
  says(c, ',|(|and|but|all*');
  return (
    says(
      c,
      'with|using|in|holding|taking the|a|some|your|this* double|doubled|waste|scrap|thinner|thicker|finer|elastic yarn|wool|thread|strand|cotton',
    ) !== null ||
    says(
      c,
      'with|using|in|holding|taking the|your|both|#* yarn|yarns|strand|strands|ends|threads of? yarn? held? double|doubled|together',
    ) !== null ||
    says(c, 'with|using #|both|several yarns|strands|threads|ends') !== null
  );
}

const MADE =
  'worked|made|added|inserted|knitted|knit|purled|repeated|omitted|skipped|undone|required|placed|put|dropped|missed|set|introduced|given';
const A_ROUND = `the|a|an|another|one|1|#|next|last|following|first|second|further|extra|more|final|%* ${FABRIC}|plain|further|extra|more|eyelet|decrease|increase* @unit|ridge|ridges of|in? ${FABRIC}?`;

/** "A purl round is inserted here", "the next round is left out" */
function isDone(c: TokenCursor): boolean {
  const determined = /^(?:the)$/.test(c.word());
  if (!says(c, A_ROUND)) return false;
  if (!says(c, `is|are|be|being|gets|get to|be|${SOON}* not|never? left|taken?`)) return false;
  const out = /^(?:left|taken|not|never)$/.test(c.word(-1));
  if (!says(c, `${MADE}|out|off|away|back`)) return false;
  const undone = /^(?:omitted|skipped|undone|dropped|missed|out|off)$/.test(c.word(-1));
  // "The last round is knitted" tells what it is.
  // "4 rounds are worked" tells how far it is.
  if (determined && !out && !undone && !/^(?:repeated|added|inserted)$/.test(c.word(-1)))
    return false;
  return (
    c.done ||
    c.mark('.,;!)') ||
    says(c, `${SOON}|once|twice|before|after|in|for|between|anew|over`) !== null
  );
}

const NOUN =
  'omission|repetition|repeat|addition|insertion|working|knitting|purling|decrease|increase|decreasing|increasing|division|removal|casting|binding|dropping|skipping|leaving';

/** "Omission of the next round", "addition of a purl round" */
function isNamed(c: TokenCursor): boolean {
  if (!says(c, `the|a|an|another|one|now|then? ${NOUN} out|off|on? of`)) return false;
  return (
    says(
      c,
      `the|a|an|another|all|these|those|last|next|first|#|more|further|purl|knit|plain|%* @unit|sts|stitches|decreases|decrease`,
    ) !== null &&
    (c.done ||
      c.mark('.,;!:') ||
      says(c, 'evenly|here|now|of|in|from|before|after|once|twice|at') !== null)
  );
}

/** "Avoid knitting the plain round" */
const AVOIDS =
  'avoid|refrain|desist|abstain from? knitting|purling|working|decreasing|increasing|repeating the|this|that|these|those|any|on|in|next|last|first';

const VERBS =
  'knit|purl|work|repeat|rep|decrease|dec|increase|inc|join|close|turn|skip|omit|slip|cast|bind|shape|rib|do|make';
const NOT = [
  'do|does not',
  "don't|never|needn't|mustn't",
  'no need|reason to',
  'you|we must|should|need|may|do not',
];
/** It is only how it is done, or not yet. */
const MANNER =
  'too|so|very|tightly|loosely|tight|loose|yet|yarn|markers|marker|hard|firmly|slack|fast|quickly|anything|worry|any|it|them|wrong|between|twisted|gaps|gap|holes|hole|further';

/** "Do not knit the plain rounds", "no more decreases", "without the purl round" */
function forbids(c: TokenCursor): boolean {
  if (says(c, AVOIDS)) return true;
  const { i } = c;
  if (saysAny(c, NOT)) {
    const shape = /^(?:decrease|dec|increase|inc|shape)$/.test(c.word());
    if (!says(c, VERBS)) return goesOnWithout(c);
    if (c.done || c.mark('.!')) return true;
    if (/^(?:join|close|turn|cast|bind|slip|make|do)$/.test(c.word(-1))) return false;
    if (says(c, MANNER)) return false;
    // "on the plain rounds" none is done anyway.
    if (shape)
      return (
        says(
          c,
          'on|in|at|over|along* the|any|this|that* next|following|coming|last|first|% @unit|needle',
        ) !== null
      );
    return (
      says(
        c,
        `the|this|that|these|those|any|last|next|first|#|%|every|each|other|plain|purl|knit|even|odd|corner|edge* @unit|sts|stitches|decreases`,
      ) !== null
    );
  }
  c.i = i;
  const noun = `more|further|plain|purl|knit|even|extra|other|decrease|increase|the|a|any* @unit|decreases|increases|decreasing|increasing|shaping`;
  if (says(c, `no|without ${noun}`))
    return (
      c.done ||
      c.mark('.,;!') ||
      says(c, 'between|on|at|here|after|before|now|from|this|for|until') !== null ||
      says(c, 'are|is now|then|to|be* knitted|worked|purled|made|decreased') !== null
    );
  return (
    says(c, `there is|are no ${noun}`) !== null &&
    (c.done || says(c, 'after|between|on|here|now|before') !== null)
  );
}

/** "Do not break the yarn and go on with purl" */
function goesOnWithout(c: TokenCursor): boolean {
  return (
    says(c, 'break|cut|turn|stop ~? ~? ~? and|but go|carry|continue|knit|purl|work|turn') !==
      null && !MODALS.has(c.word())
  );
}
