/**
 * The lexicon: what single words of a pattern are, whatever sentence they stand in. Data alone; shared by
 * the lexer, the grammar, the law of the reader (`grammar/prose.ts`) and the editor's colours.
 */
/** The words of a list, parted by spaces or lines. */
export function words(list: string): ReadonlySet<string> {
  return new Set(list.trim().split(/\s+/));
}

/** Words that carry their number without a space: `rnd5`, `r12`, `n2`. */
export const NUMBERED_WORDS = 'rounds? rnds? rds? rows? r n needle side step co x'.split(' ');

/** Shortened words that never end a sentence, so that a full stop behind them is theirs. */
export const DOTTED = words('rep foll approx prev cont no nos fig abbr incl');
/** Shortened words whose full stop is theirs unless a capital letter follows. */
export const DOTTED_INSIDE = words(
  'rnd rnds rd rds st sts rem dec decs inc incs beg alt patt pat tog est in ins sl r k p rs ws yds oz gr m pm sm mm cm bet bo co',
);

export const ROUND_WORDS = words('round rounds rnd rnds rd rds');
export const ROW_WORDS = words('row rows rw rws');
export const STITCH_WORDS = words('st sts stitch stitches loop loops');
/** A word for stitches, as the source of an expression. */
export const STS = '(?:sts?(?![a-z])\\.?|stitch(?:es)?|loops?)';
/** A word for a round or a row, likewise. */
export const UNIT = '(?:rounds?|rnds?|rds?|rows?)';
export const MARKER_WORDS = words('marker markers m mk mkr mkrs');
/** Markers placed, slipped or removed, in one word and as verbs of two. */
export const MARKER_STEPS = words('pm sm rm');
export const MARKER_VERBS = words('place slip remove');
/** How far or how often. */
export const EXTENT_WORDS = words(
  'until before times time twice once more from to around end last across',
);
/** How a piece begins and ends. */
export const EDGE_VERBS = words(
  'cast casting co bind binding bo join joining draw drawing pull pulling cut break breaking fasten',
);
export const SIDE_WORDS = words(
  'side sides needle needles dpn dpns section sections edge edges quarter quarters wedge wedges segment segments panel panels repeat corner corners field fields division divisions',
);
export const REPEAT_VERBS = words('rep repeat repeating reps');
export const WORK_VERBS = words(
  'work working worked cont continue continuing keep keeping proceed proceeding carry go rib maintain maintaining do',
);
export const KNIT_VERBS = words('knit k knitting');
export const PURL_VERBS = words('purl p purling');
export const DECREASE_WORDS = words(
  "dec decs decr decrease decreases decreasing dec'd decreased shape shaping lose loses losing reduce reduces reducing",
);
export const INCREASE_WORDS = words(
  "inc incs incr increase increases increasing inc'd increased gain gains gaining",
);
export const LENGTH_UNITS: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  cms: 10,
  centimetre: 10,
  centimetres: 10,
  centimeter: 10,
  centimeters: 10,
  in: 25.4,
  ins: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
};

/** Words that may lead or fill a sentence without asking for anything. */
export const FILLERS = words(`
  a an the now then and but one also again next here there finally afterwards afterward thereafter thus so please just simply
  only carefully loosely tightly firmly neatly gently first firstly lastly secondly you we i your our will should can
  must to this that these all of for with on in at by after before once more straight on immediately always still
  complete completely full whole same one following further additional total altogether way manner fashion
  more-or-less approximately about approx around roughly exactly say being be as it piece work fabric square
  turning without continuing remember evenly even plain new other each both its their from beginning start again
  meanwhile instead hereafter subsequently additionally alternately gradually merrily steadily otherwise throughout
`);

/** Leading words of a sentence that ask for nothing: "Finally purl 3 rounds". */
export const LEADS = words(`
  and then now next finally afterwards afterward thereafter thus so please here lastly firstly first secondly you we i initially again ok
  will should must also again once just simply carefully loosely still subsequently
  to-finish after-that from-here hereafter henceforth
`);

/** Verbs that make a sentence an instruction. */
export const INSTRUCTING_VERBS = words(`
  knit purl k p work rep repeat cont continue dec decrease inc increase cast bind slip turn pick keep carry go rib
  knitting purling working repeating continuing decreasing increasing casting binding slipping turning picking
  keeping maintain maintaining proceed place remove shape shaping wrap sl yo ssk pm sm rm join drop pass
`);

/** Verbs of what is done beside the knitting, which ask for no stitch. */
export const EVERYDAY_VERBS = words(`
  send enjoy admire smile wash block press steam soak dry pin weave darn sew stitch hide trim snip relax breathe have look show hang
  give wear count check read rest stop wait celebrate ask remember note see watch try feel lay smooth pat iron stretch rinse hooray
  cut break use keep mind hold fetch find choose tell share photograph mattress seam graft crochet attach tie ease well done voila
  that
`);

/** Third-person words of sentences that only describe. */
export const DESCRIBING = words(`
  is are was were form forms formed make makes made should will would can may might has have had measures measure counts
  removes shows show becomes become means mean remain remains equals gives give leaves lies look looks uses use used
  consists contains begins starts ends takes take comes come creates create sets set establishes brings results
  requires require needs need shown worked lose loses gain gains lean leans mirrors match matches slant slants sits sit stands
  stays prevents stops helps points marks hides
`);
export const DESCRIBING_SUBJECTS = words(`
  these this those that the each every it all your you there they one both pattern instructions designed finished
  photo photos figure picture pictures diagram image chart table note remember tip hint nb decreases increases
  gauge tension rounds rows stitches sts corners sides a an most some no note if when which what i we my our here
`);

/** What begins a clause of reason, purpose, time or comparison. */
export const REMARK_LEADS = words(
  'because since so as which who where while when whenever although though if like than to in-order whatever however',
);
/** What is done with care beside the stitches, or comes of them. */
export const CARE_VERBS = words(`
  make form give keep get take mind pull be avoid prevent stop help allow let create ensure show tighten close hide leave tug believe trust
  forget worry hurry panic hope imagine marvel fret bother push stretch neaten tidy hold cover match protect build save spare set draw
`);
/** Forms of verbs that work stitches: in a remark none of them may stand but as a noun. */
export const WORK_FORMS = words(`
  knit knits knitted knitting purl purls purled purling k p work works worked working rep repeat repeats repeated repeating cont continue
  continued continuing dec decrease decreases decreased decreasing inc increase increases increased increasing cast casting bind binding
  bound slip slips slipped slipping turn turning turned pick picking rib ribbing wrap wrapped wrapping sl yo join joining drop dropped
  dropping pass skip omit place placing remove removing cross crossed crossing twist twisting proceed alternate alternately reverse
`);
/** Things that the stitches are told by. */
export const CRAFT_NOUNS = words(`
  st sts stitch stitches loop loops round rounds rnd rnds row rows needle needles marker markers side sides pattern patt repeat repeats
  rs ws ridge ridges beginning end ends start last first half halves quarter quarters rest pair pairs twos threes corner corners centre center
  middle section sections panel panels turn turns alternation increase increases decrease decreases chart table instructions
  direction opposite order front back left right
`);
export const FABRIC_WORDS = words(
  'garter stockinette stocking stst moss seed rib ribbing lace cable cables pattern patt reverse',
);
export const DETERMINERS = words(
  'the a an this that these those your my our its their each both all every some any no his her',
);
export const PRONOUNS = words(
  "it this that these those they you we i there here mine everyone nobody he she nothing that's it's there's here's",
);
export const MODALS = words(
  "can could will would should may might must can't won't don't doesn't do does did go goes went come comes carry get got gets feel looks seem seems appear appears hardly always never",
);

/** Words that begin what leads to an order: "CHANGE to 4 mm needles:", "YOU should have 52 sts:". */
export const ORDER_LEADS = words('change switch with using you there now then next here go this');
/** Words that lead to a remark. */
export const NOTE_WORDS = words('note notes nb tip tips hint remark remember important');
