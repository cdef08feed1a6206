/**
 * Classes of words that rules of the grammar name (`grammar/rules.ts`): `@sts`, `@needle`, … Data alone.
 */
import {
  FILLERS,
  LENGTH_UNITS,
  MARKER_WORDS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
  words,
} from './words.ts';

/** What stitches are shared over. */
const SHARED = words(`
  half halves point points ndl ndls needle needles dpn dpns pin pins side sides edge edges corner corners section sections part parts group groups quarter
  quarters field fields division divisions arm arms wing wings wedge wedges segment segments sector sectors tip tips wire wires panel panels third thirds
`);

export const CLASSES: Readonly<Record<string, ReadonlySet<string>>> = {
  sts: new Set([...STITCH_WORDS, 'meshes']),
  unit: new Set([...ROUND_WORDS, ...ROW_WORDS]),
  shared: SHARED,
  /** Equal parts of a round. */
  side: words(`
    side sides needle needles ndl ndls dpn dpns section sections quarter quarters wedge wedges segment segments sector sectors field fields
    division divisions part parts panel panels edge edges pin pins
  `),
  /** What stitches are worked along. */
  stretch: words(`
    round rounds rnd rnds rd rds row rows side sides needle needles dpn dpns section sections edge edges repeat repeats panel panels
    motif motifs square squares quarter quarters wedge wedges segment segments sector sectors gore gores part parts field fields division divisions triangle triangles circle sts stitches
  `),
  corner: words('corner corners marker markers'),
  /** Stitches by where they stand. */
  edge: words('edge seam border selvedge selvage corner side garter center centre marked'),
  marker: new Set([...MARKER_WORDS, 'pm', 'thread', 'threads']),
  /** What is said of a marker. */
  markerkind: words(`
    further new removable stitch coloured colored colour color corner locking side ring split safety plastic extra loop open odd out
    different differently contrast contrasting special other single lone fancy bright big large little small matching spare
    beginning start bor of round rnd red green blue yellow white black pink orange purple gold silver
  `),
  /** Rounds that are worked again together. */
  set: words(`
    pattern patt pat repeat rep repeats reps motif sequence set sets stripe stripes cycle cycles pair pairs trio block blocks
    shaping decreases decreasing increases increasing
  `),
  length: new Set(Object.keys(LENGTH_UNITS)),
  filler: FILLERS,
  on: words('on onto to over across between among in into upon per for along at around'),
  ring: words('round rnd rounds rnds ring circle tube circuit rd rounded'),
  /** Needles, and what is said of them. */
  tool: words(`
    needle needles dpn dpns pin pins circular circulars circ circs cable tip tips wire long short longer shorter straight double pointed
    double-pointed set magic loop cord size sizes us uk no nos number mm cm ended working spare other empty left right hand
    crochet hook interchangeable pair two-needle
  `),
  /** Yarn, and what is said of it. */
  yarn: words(`
    yarn yarns wool cotton thread colour color colours colors shade mc cc main contrast contrasting scrap waste strand strands
    held doubled ball end tail double a b c d navy cream white blue red green grey gray black pink yellow brown rust dark light
  `),
  distribute: words(`
    divide divided dividing distribute distributed distributing arrange arranged arranging spread spreading split splitting
    share shared sharing redistribute redistributing put putting place placing placed slide sliding slid have having with lie lies
    lying hold holding allot set setting move moving transfer transferring slip slipping there are is sit sits allocate
    position work distribution being pop popping jiggle jiggling shuffle shuffling shove nudge tuck load sort deal dole organise organize
    rearrange wriggle juggle ease lay laid laying hang hung count gather
  `),
  join: words(`
    join joins joined joining connect connecting connected close closing closed gather gathering form forming bring bringing
    make making made joined unite link turn put
  `),
  /** Verbs of handling, which ask for no stitch. */
  handle: words(`
    pull pulls pulling pulled draw draws drawing drawn find finding wind winding wrap wrapping show shows showing shown indicate indicates
    indicating separate separates separating shut shutting tighten tightening leave leaves leaving tie tying secure securing clip clipping bend
    fold folding push pushing flip lay laying begun straighten smooth untangle
  `),
  place: words(`
    place places placing placed pop pops popping put putting hang hanging add adding insert inserting set setting mark marking pm use using
    with slip slipping attach attaching have position clip clipping hung placed clipped popped inserted attached tied marked hooked fix fixing snap loop leave leaving
  `),
  beginning: words('beg beginning start starting begin bor end'),
  care: words(`
    being be careful carefully taking take care make making sure check checking mind minding watch watching ensure ensuring
    see seeing beware avoid avoiding careful
  `),
};

/** Words of needles, yarn, markers and handling: beside an opening or an ending they ask for no stitch. */
export const HANDLING: ReadonlySet<string> = new Set(
  'tool yarn handle care place join distribute shared on ring marker beginning'
    .split(' ')
    .flatMap((name) => [...CLASSES[name]]),
);
