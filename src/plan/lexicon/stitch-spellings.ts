/**
 * Stitches as patterns spell them, American and British. Data alone: a line holds the letters that a spelling begins
 * with, the canonical name (`stitches/table.ts`; a number before it: so many of them) and the spelling as the source of
 * an expression, in which a space stands for any gap and a comma for any gap with a comma. The first that holds counts.
 */
import { NUM } from '../lex/numbers.ts';
import { STS } from './words.ts';

/** Through the back loop. */
export const TBL =
  '(?:tbl|tb|thru back loops?|(?:through|thru|in|into|in to) (?:the )?(?:backs?|b) (?:loops?|legs?|of (?:the |next )*(?:loops?|sts?|stitch(?:es)?)|(?= ?of (?:each|every|all) )))';
const ONE = '(?:1|one|a)';
const TWO = '(?:2|two)';
const PASS = '(?:p(?:ass)?|draw|lift|pull|bring|put|lay|cast|leap|slip|take)';
const PSSO = `(?:psso|p sl st over|${PASS} (?:(?:it|this|that) )?over(?! the )(?: it)?|${PASS} (?:the )?(?:slipped|slip|sl|loose|lifted|first|1st|taken off)(?: (?:${STS}|one|1))? over(?: (?:the )?(?:knit(?:ted)?|k|next|new|second|2nd)?(?: ?(?:${STS}|k2tog|it|one|1))?)?)`;
const P2SSO = `(?:p2sso|psso(?: both)?|${PASS} (?:(?:the |both )?(?:${TWO} )?(?:slipped|slip|sl|lifted|loose|taken off)(?: ${STS})?|both|them|(?:the )?${TWO}(?: ${STS})?) over(?: (?:the )?(?:knit(?:ted)?|k|new)?(?: ?(?:${STS}|it|one|1))?)?)`;
const KWISE =
  '(?:k(?:nit)? ?(?:wise|ways?|w(?![a-z]))|as if to (?:k(?:nit)?)(?: ?2tog)?|as for k2tog)';
const SLIP = '(?:sl(?:ip)?|s|(?:lift|take) off|1 (?:lifted|taken|slipped) off)';
const INTO = '(?:in ?to|in|thr(?:ough|u))';
/** The strand between two stitches, which a new one is made of. */
const BAR = `(?:the |a |your )?(?:cross|horizontal|connecting|running|transverse)? ?(?:thread|strand|bar)(?: (?:lying |that lies )?(?:between|before)(?: (?:the )?(?:next )?(?:${TWO} )?(?:${STS}|needles))?)?`;
const TWISTED = `(?:twisted|crossed|${TBL}|into the back(?: of it)?)`;
const OF_BAR = `(?:${TWISTED} )?(?:(?:out )?of|from|into|in|by (?:lifting|raising|taking up|picking up)(?: and knitting)?(?: into the back of)?|by knitting (?:${TWISTED} )?into) ${BAR}`;
const KNIT_IT = `(?:,(?:and |then )*k(?:nit)? (?:it|this|that|the st(?:itch)?)? ${TWISTED})?`;
const OF_ST =
  '(?:(?:,| )(?:loops? )?(?:of |in |into )(?:the )?(?:next |same |following |first |last |each |every |all |both )?(?:remaining )?(?:sts?|stitch(?:es)?))?';

/** "by knitting into the front and back of it": how an increase is made. */
const HOW = `(?:,(?:by )?(?:knitting|working) (?:(?:it |them |each )?(?:first |once )?(?:${INTO} )?(?:the )?front(?: loop)? ?(?:&|and|,) ?(?:then |once )*(?:${INTO} )?(?:the )?back(?: loop)?(?: of (?:it|each(?: one)?|them|the same|(?:the |each |every )?st(?:itch)?))?(?! of )|twice ${INTO} (?:it|each(?: one)?|them|(?:the |each |every )?(?:same )?st(?:itch)?)))?`;

export interface Spelling {
  readonly letters: string;
  /** Canonical name; `together`: of as many stitches as the groups `n`, `verb` and `tbl` say. */
  readonly name: string;
  readonly times: number | null;
  readonly source: string;
}

export const SPELLINGS: readonly Spelling[] = String.raw`
  23456789 together = (?<n>[2-9]) (?:${STS} )?(?:(?<verb>k(?:nit)?|p(?:url)?) )?tog(?:ether)?(?: (?<late>k(?:nit)?|p(?:url)?)(?: ?wise)?)?(?: ?(?<tbl>${TBL}))?
  kp together = (?<verb>k(?:nit)?|p(?:url)?) tog(?:ether)? (?:the )?(?:next |first |last )?(?<n>[2-9])(?: ${STS})?(?: ?(?<tbl>${TBL}))?
  kw kfb = (?:k(?:nit)?|work) (?:twice|2 times|2x) in(?:to)? (?:the )?(?:next |first |last |same |each |every |all )?(?:of )?(?:the )?${STS}(?:,(?:once )?(?:${INTO} )?(?:the )?front (?:and|&) (?:once )?(?:${INTO} )?(?:the )?back)?
  csldo skp = (?:(?:simple|single|left) )?(?:overdrawn|overlaid|covered|drawn over|slip(?:ped)?) dec(?:rease)?|(?:simple|single) dec(?:rease)?
  d sk2p = double (?:(?:overdrawn|overlaid|covered|drawn over|slip(?:ped)?) )?dec(?:reas(?:e|ing))?s?
  n k2tog = narrow(?: once)?
  kptw together = (?:(?<verb>k(?:nit)?|p(?:url)?)|take|work) (?:all )?(?:the |these |those |your )?(?:next |last |first |remaining |rem )?(?<n>${NUM}) (?:${STS} )?t(?:og(?:ether)?|g)?(?: ?(?<tbl>${TBL}|b(?![a-z]))| ?\((?<behind>${TBL})\))?
  k kfbf = k(?:nit)? ?1? ?(?:${INTO} )?(?:the )?f(?:ront)? ?(?:&|and|,|/)? ?b(?:ack)? ?(?:&|and|,|/)? ?f(?:ront)?${OF_ST}
  kw kfb = (?:k(?:nit)?|work) ?1? ?(?:twice )?(?:(?:${INTO} )?(?:the )?(?:same |next )?${STS} ?)?,?(?:once |first )?(?:${INTO} )?(?:the )?f(?:ront)?(?: loop| leg)? ?,?(?:&|and|/|\+)? ?(?:then |once )*(?:${INTO} )?(?:the )?b(?:ack)?(?: loop| leg)?${OF_ST}
  p pfb = p(?:url)? ?1? ?(?:${INTO} )?(?:the )?f(?:ront)? ?(?:&|and|/|\+)? ?(?:then )?(?:${INTO} )?(?:the )?b(?:ack)?${OF_ST}
  k (k1, yo, k1) in 1 st = kyok|k1yok1
  k (k1, p1, k1) in 1 st = kpk|k1pk1
  p (p1, k1, p1) in 1 st = pkp
  s s2kp = (?:sl(?:ip)?|s) ?(?:the )?(?:next )?${TWO} ?(?:${STS} )?(?:at the same time |as one )?(?:${KWISE},)?(?:tog(?:ether)?,)?(?:${KWISE},)?(?:at once,|as one,)?(?:then |and )?(?:k(?:nit)? ?(?:the )?(?:next |following )?(?:${ONE}|st(?:itch)?)(?: ?st(?:itch)?)?|1 k(?:nit)?),(?:and |then )?${P2SSO}
  slt1 sk2p = ${SLIP}(?: ?(?:the )?(?:next |first )?${ONE} ?(?:${STS})?)?,(?:${KWISE},)?(?:then |and )?(?:k(?:nit)? ?(?:the )?(?:next |following )?${TWO} ?(?:following |next )?|${TWO} k(?:nit)? )(?:${STS} )?tog(?:ether)?,(?:and |then )?${PSSO}
  slt1 skp = ${SLIP}(?: ?(?:the )?(?:next |first |1st )?(?:${ONE} ?)?(?:${STS})?)?,(?:loose(?:ly)?,)?(?:${KWISE},)?(?:with yarn in back,)?(?:then |and )?k(?:nit)? ?(?:the )?(?:next |following |second |2nd )?(?:${ONE} ?)?(?:${STS})?,(?:and |then )*${PSSO}
  s s2kp = s2kp2?o?|s2k|s2togkpo?|s2 ?tog ?k1
  cd s2kp = (?:cdd|cddk|(?:double )?cent(?:re|er)(?:e?d)? double decrease|central double decrease|double cent(?:re|er)(?:e?d)? decrease)
  cs s2pp = cddp|s2pp2?|s2p2
  s sk2p = sk2po?|sl1k2togpsso|skkp
  s skp = skpo?|s1kp
  s sssk = sssk|s s s k|slip,slip,slip,knit
  s sssp = sssp
  dmg sl1 wyif = ds|(?:make )?(?:a )?double st(?:itch)?|gsr
  s ssk = ssk|s s k|slip,slip,knit(?: (?:the |those )?(?:${TWO} )?slipped ${STS}(?: together)?| (?:the |those )?${TWO} together| decrease)?(?: ${TBL})?|sl1,sl1,k2tog tbl
  s ssk = (?:sl(?:ip)?) ?(?:the )?(?:next )?${TWO} ?(?:${STS})?,(?:${KWISE},)?(?:${ONE} (?:at a time|after the other|by ${ONE}),|separately,|singly,)(?:${KWISE},)?(?:then |and )?k(?:nit)? ?(?:them|these|those|both|(?:the )?${TWO})? ?(?:slipped )?(?:${STS} )?tog(?:ether)?(?:,${TBL})?
  s ssp = ssp|s s p|slip,slip,purl
  m yo = make (?:1|one|a) yarn ?over
  ot yo = over throws?|throw(?:n|ing)? (?:(?:the |your )?(?:yarn|wool|thread) )?over
  lrtcpu m1 = (?:lifted|raised|twisted|crossed|picked up|take up|underlaid) (?:increases?|inc|(?:1|one)(?: ?${STS})?)(?: ${OF_BAR})?(?: between)?
  lprt m1 = (?:take|pick|lift|raise)(?: up)? ${BAR}${KNIT_IT}
  iklmprtw1 m1 = (?:(?:take|pick|lift|raise|inc(?:rease)?|make|work|k(?:nit)?)(?: up)? )?(?:1|one|a|another) ?(?:new )?(?:${STS} )?${OF_BAR}${KNIT_IT}
  m m1lp = (?:m|mk|make) ?(?:1|one) ?(?:lp|pl|(?:left|l)(?: leaning)?,? (?:p|purl) ?wise|(?:p|purl)(?: ?wise)?,? (?:left|l)(?: leaning)?)
  m m1rp = (?:m|mk|make) ?(?:1|one) ?(?:rp|pr|(?:right|r)(?: leaning)?,? (?:p|purl) ?wise|(?:p|purl)(?: ?wise)?,? (?:right|r)(?: leaning)?)
  im m1l = (?:m|mk|make|inc(?:rease)?) ?(?:a )?(?:1|one|st(?:itch)?)? ?(?:st(?:itch)?)? ?(?:leaning|slanting|sloping) (?:to the )?left|(?:m|mk|make) ?(?:1|one) ?(?:l|left|lft|f)
  im m1r = (?:m|mk|make|inc(?:rease)?) ?(?:a )?(?:1|one|st(?:itch)?)? ?(?:st(?:itch)?)? ?(?:leaning|slanting|sloping) (?:to the )?right|(?:m|mk|make) ?(?:1|one) ?(?:r|right|rt|b)
  m m1p = (?:m|mk|make) ?(?:1|one) ?(?:p|purl|p ?wise|purl ?wise)
  m m1 = (?:m|mk|make) ?(?:1|one) ?(?:k|knit|k ?wise|a|t)?(?: ?${STS})?(?: (?:from|out of|with|in) (?:the )?(?:cross|horizontal|connecting|running)?-? ?(?:thread|strand|bar|loop)(?: (?:lying )?between(?: (?:the )?(?:two |2 )?(?:${STS}|needles))?)?)?
  m mb = mb|make (?:a )?bobble
  b mb = bobble
  l lli = lli|left lifted (?:increase|inc)
  r rli = rli|right lifted (?:increase|inc)
  b co1 = (?:backwards?|e) loop (?:increase|inc|cast on)
  yd 2 yo = yo ?2x?(?! ?(?:more )?times)|yo twice|dyo|double (?:yo|yarn ?over)|y2rn|yo ?x ?2|y2o
  y yo = yo(?: ?1)?|yon|yrn|yfwd|yfd|yfrn|yfon|yf|yarn ?over(?: needle)?|yarn ?fo?r?wa?r?d|yarn (?:round|around|on) (?:the )?needle
  pbtl yo = (?:put|bring|pass|take|throw|lay) (?:the |your )?(?:yarn|wool|thread|cotton) (?:(?:over|round|around)(?: (?:the |your )?(?:right )?(?:hand )?needle)?(?: to make (?:a|1|one) (?:new )?(?:st(?:itch)?|hole|loop))?|(?:forward|to the front) to make (?:a|1|one) (?:new )?(?:st(?:itch)?|hole|loop))
  w yo = wool (?:forward|round needle|over needle)|wfwd|wrn|won
  ik kfb = (?:inc(?:rease)?\.?(?: ?knit ?wise)?(?: ?once)?(?: ?(?:1|one))?(?: ?${STS})?(?: (?:in|into|by working into front and back of) (?:the )?(?:next|first|last|same|each|every|all|both) (?:of )?(?:the )?${STS})?${HOW})
  k kfb = k(?:nit)? ?2 (?:sts|stitches) (?:from|into|in|out of) (?:each|every) (?:1 )?st(?:itch)?
  d drop1 = drop (?:1|one|next|the next)? ?(?:st(?:itch)?|yo|loop)
`
  .trim()
  .split('\n')
  .map((line) => {
    const [, letters, times, name, source] =
      /^\s*(\S+) (?:(\d) )?(.+?) = (.*)$/.exec(line) ?? ([] as string[]);
    return { letters, name, times: times ? Number(times) : null, source };
  });
