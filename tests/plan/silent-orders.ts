/**
 * Sentences put into right plans where they may get lost: orders, which must be followed or refused, and remarks, which must
 * be left alone. In: a plan's text, a place, a sentence. Out: the text with it, and what became of it.
 */
import fc from 'fast-check';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';

export type Spot = 'above' | 'notes' | 'between' | 'behind';
export const SPOTS: readonly Spot[] = ['above', 'notes', 'between', 'behind'];

/** Plans of three kinds, each with its place for a sentence among the rounds marked. */
export const PLANS: readonly string[] = [
  `Harbour square
Gauge: 22 sts and 30 rounds to 10 cm in stockinette.

Cast on 48 sts, 12 on each of four needles. Join in the round.
Round 1: Purl.
Round 2: Knit.
Round 3: *K1, ssk, knit to last 3 sts on needle, k2tog, k1; rep from * on each needle. 40 sts.
<<>>
Round 4: Knit.
Round 5: as round 3. 32 sts.
Round 6: Knit.
Repeat rounds 5 and 6 until 16 sts remain.
Next round: *K2tog; rep from * to end. 8 sts.
Cut the yarn, draw it through the remaining sts and fasten off.`,
  `Flat coaster, garter
Needles 4 mm.

CO 34 sts.
Row 1 (WS): knit
Row 2: k1, *k2tog, k12, ssk; rep from * once more, k1. 30 sts
Row 3: knit
<<>>
Row 4: k1, *k2tog, k10, ssk; rep from * once more, k1. 26 sts
Row 5: knit
Bind off.`,
  `Begun at the centre
24 sts and 32 rnds = 10 cm

Cast on 8 sts and join.
Rnd 1: (k1, yo) 8 times. 16 sts.
Rnd 2 and all even rnds: knit.
<<>>
Rnd 3: (k1, yo, k3, yo) 4 times. 24 sts.
Rnd 5: (k1, yo, k5, yo) 4 times. 32 sts.
Rnd 6: knit.
Bind off loosely.`,
];

const BLANK = /\n<<>>/;

export function put(plan: string, spot: Spot, sentence: string): string {
  if (spot === 'between') return plan.replace(BLANK, `\n${sentence}`);
  const text = plan.replace(BLANK, '');
  if (spot === 'behind') return `${text}\n${sentence}`;
  return text.replace('\n\n', `\n\n${spot === 'notes' ? 'Notes: ' : ''}${sentence}\n\n`);
}

function loopsOf({ castOn, rounds, kinds, ending }: Plan): string {
  const worked = rounds.map((r) => `${r.wrongSide} ${Array.from(r.works, (w) => kinds[w].name)}`);
  return `${castOn} ${worked.join('\n')} ${ending}`;
}

const LOOPS = new Map<string, string>();

export type Fate = 'refused' | 'followed' | 'passed over';

/** What became of the sentence: told of (an error or a warning), worked, or neither. */
export function fateOf(plan: string, spot: Spot, sentence: string): Fate {
  const after = parsePlan(put(plan, spot, sentence));
  if (after.diagnostics.some((d) => d.severity !== 'note')) return 'refused';
  const before = LOOPS.get(plan) ?? loopsOf(parsePlan(plan.replace(BLANK, '')));
  LOOPS.set(plan, before);
  return before === loopsOf(after) ? 'passed over' : 'followed';
}

/** [family] slots of words; every sentence of them would change the piece wherever it stands. */
const ORDERS: Readonly<Record<string, string>> = {
  rounds:
    '{Knit|Purl|Work|Add|Insert|Put in|Fit in} {one more round|two further rounds|a purl round|another ridge|3 extra rounds|a plain round}{ here| now| first| at this point|}.',
  again:
    '{Repeat|Work|Knit} {the last two rounds|the last round|round 2|rounds 1 and 2|the first round} {again|once more|twice more|another time}.',
  shape:
    '{Decrease|Increase} {one stitch|2 stitches|8 stitches} {at each corner|on each side|evenly} {on the next round|in the following round|on every round|every third round}.',
  lose: '{Lose|Drop|Gain|Take out|Get rid of} {a stitch|two stitches|one loop} {at each corner|on either side|per side|at both ends} {on the next round|once more|again|now}.',
  omit: '{Skip|Omit|Leave out|Ignore} {the next round|round 2|the plain rounds|every other decrease|the last decrease here}.',
  otherwise:
    '{Knit|Work|Purl} {every third round|the odd rounds|the first two rounds|the last round} {in moss stitch|in reverse|in garter|with the yarn doubled}.',
  count:
    '{Bring|Get|Cut} {the stitches|the count|the number} {down to|up to|back to} {6|12|100} {now|here|in one round}.',
  nominal:
    '{Another|One last|One extra} {purl|plain|garter} round {here|now|at this point|before going on}.',
  needs:
    '{The next|The last|The following} round {needs|gets|should have|calls for} {two more decreases|a purl ridge|an extra stitch at each corner|one decrease fewer}.',
  person:
    '{You must now|You should now|You now|You next} {purl one round|decrease 4 stitches|knit two more rounds|leave out a round}.',
  reason:
    '{So that it lies flat|Because it curls|To make the edge firm|Before you go on}, {purl a round|work one more round|decrease once more at each corner|repeat the last round}.',
  tail: '{Purl|Knit|Work} {one more round|two rounds in garter|the last round again}, then weave in the ends.',
};

/** Families whose sentences are orders behind an end only, where "then weave in the ends" stands. */
const ONLY_BEHIND = new Set(['tail']);

/** A sentence of such an order, with the places where it must not be passed over. */
export const order: fc.Arbitrary<{ readonly sentence: string; readonly spot: Spot }> = fc
  .constantFrom(...Object.keys(ORDERS))
  .chain((family) => {
    const parts = ORDERS[family].split(/[{}]/).map((part) => part.split('|'));
    const spots = ONLY_BEHIND.has(family) ? (['behind'] as const) : SPOTS;
    return fc.record({
      sentence: fc.tuple(...parts.map((words) => fc.constantFrom(...words))).map((w) => w.join('')),
      spot: fc.constantFrom(...spots),
    });
  });

const lines = (text: string): readonly string[] => text.trim().split('\n');

/** Remarks that would change nothing at such a place. */
export const REMARKS: Readonly<Record<'above' | 'behind', readonly string[]>> = {
  above: lines(`
Knit a swatch of 30 stitches and 40 rounds before you begin.
Work a tension square of at least 12 cm and measure it when dry.
Slip the first stitch of every row unless told otherwise.
Always slip the first stitch of each row.
When you decrease, slip the marker to the other needle.
When decreasing, keep the two corner stitches plain.
Work all increases loosely.
Please read all rounds before you begin.
Read every round of the chart from right to left.
Count your stitches after every decrease round.
Place a marker at the start of the round and move it up as you go.
Change to double-pointed needles as soon as the stitches no longer reach round.
The square is worked from the outer edge in, with four decreases on every other round.
You decrease eight stitches on every second round.
Each round begins at the lower left corner.
All rounds are worked on the right side.
The first round is a purl round.
For a bigger square, cast on eight stitches more for every extra ridge.
If you want a deeper border, work two more rounds before the first decrease.
If your edge is tight, use a larger needle for the first round.
To make a larger square, add 8 stitches and work 2 more rounds.
I always purl the first round so that the edge lies flat.
We work one plain round after each decrease round.
A purl round on the right side makes one ridge.
Two rounds make one ridge.
One ridge is two rounds.
Stitch counts are given at the end of each round.
Figures in brackets are repeated once on each needle.
Repeat the words between asterisks as often as told.
Work the instructions in brackets four times in all.
An asterisk means: repeat from there to the end of the round.
Wind the yarn off into two balls, one for each colour.
You need four needles and a fifth to knit with.
Use a stitch marker on each corner.
Make one square in each of the six colours.
Knit 24 squares for a cot blanket.
Make 12 of them in the dark colour.
Keep your tension even in every round.
Mark the right side with a safety pin after the first few rounds.
Purl stitches look like little bumps.
The decreases lean towards the corners on all four sides.
Try it with a thick yarn first; it takes only twenty rounds.
Beginners may want to knit the first round twice with a marker on each corner.
Test knitters found the first two rounds fiddly.
On dpns the first round is always the hardest.
Cast on loosely, the edge has to stretch.
Carry the yarn you are not using up the inside, never cut it every round.
Twist the two colours at the beginning of each round.
Join each new ball at a corner.
Check your tension again after the first ten rounds.
Leave a long tail at the cast-on; you will sew the seam with it.
Move the markers up every few rounds.
The pattern is easily learnt: knit one round, purl one round.
Stocking stitch in the round means knitting every round.
Garter stitch in the round: knit one round, purl one round.
Yarn over: bring the yarn forward and over the needle.
Corner decrease: slip two together, knit one, pass both over.
The chart shows one quarter; work it four times in every round.
Odd rounds are decrease rounds and even rounds are plain.
Knit stitches are shown as empty squares on the chart.
Any smooth yarn that shows the stitches will do.
Knit a small square first and see how it behaves in the wash.
Read the whole page before you pick up your needles.
Each needle holds one side throughout.
The edge stitches are slipped in every row.
The first stitch of every row is slipped as if to purl.
Every decrease round takes away eight stitches.
Four stitches vanish in every other round.
Rounds are counted from the cast-on edge.
The cast-on counts as the first row.
Slip markers as you come to them.
Use a different colour of marker for the first corner.
Ring markers are moved along in every round.
If the middle gapes, gather it with a few stitches on the wrong side.
Those who like a firmer edge may purl one more round.
You may knit the last few rounds on smaller needles.
Some knitters prefer to purl the first round.
Odd numbers are right-side rows.
Right-side rows have odd numbers and wrong-side rows even ones.
Ssk leans to the left, k2tog to the right.
Increase by lifting the strand before the stitch.
Bind off with a needle one size larger.
One round takes about two minutes at the start and ten seconds at the end.
The yarn overs make a line of small holes on the way to each corner.
Four of these make a cushion, twenty a cot blanket.
Join a new ball in the middle of a side rather than at a corner.
The last eight stitches are drawn up with a needle and thread.
Keep the first stitch of each side snug.
Pull the yarn a little tighter on the first two stitches of every needle.
Put a coloured marker after the first stitch so you can tell where you are.
The lace is worked on every other round, with a plain round between.
Knitted with thick yarn it becomes a mat of about 30 cm.
Charts are read from the bottom up, every round from right to left.
My first attempt had far too many decreases on every round.
You should end up with a perfectly flat square.
You will decrease at each of the four corners.
It is a good idea to count the stitches on each needle before every decrease round.
The border is worked first: two ridges of garter, then the decreases begin.
`),
  behind: lines(`
Weave in all ends.
Sew the two edges together with mattress stitch, taking in half a stitch from each.
Steam lightly from the back and leave to dry.
Pin out to 15 cm square on a towel and spray with water.
Make 24 more squares and join them in rows of five.
Repeat for the other eleven squares.
Make a tassel for each corner.
Sew a button on each corner.
Turn the square inside out and close the little hole with the tail.
Fold it in half and sew two sides.
Crochet a chain of 12 stitches for the loop.
Work a round of double crochet all round the edge.
Wash it twice before you give it away.
Make another in the second colour.
Knit as many as you like.
Give it a good tug at each corner to set the stitches.
Pull the tail tight and thread it twice through the ring.
Lay two squares edge to edge and oversew through the outer loops only.
Leave the first row of squares to dry while you wash the next.
Stuff it with scraps and close the last few stitches.
Line it with felt.
That was the last round.
Every round counts, as they say.
Now you know how to decrease at four corners at once.
Try the next one without looking at the page.
Next time I would use a softer wool.
Mine took one ball and two evenings.
The finished square measures 18 cm on each side.
Do not cut the tail yet; use it to sew on the loop.
Join the squares with a three-needle bind-off if you like.
Block each square to the same size.
Press the wrong side under a damp cloth.
Count your squares again and make some more if need be.
Gather the middle with a few stitches so that no hole remains.
Trim the ends to two centimetres.
Wet it, pull it into shape, and let it dry flat.
Use the longer tail to close the gap at the beginning of the round.
Tie the two tails together and hide them.
Then start on the next square.
Cast on again for the second square.
Sew in the two tails.
Press each corner with a warm iron, then leave it to cool.
Stitch a loop of ribbon to one corner.
Leave the square pinned for a day.
Work in the ends on the wrong side.
The second square is worked the same way, but in cream.
Work eight more in the other colours.
Repeat with the second colour until you have twelve.
Swap the colours for the next one.
Give each corner a tassel of six strands.
Cut twelve strands of 20 cm for each tassel.
Oversew the edges, catching every second stitch.
Slip stitch the lining to the back all round.
Knot the fringe into every third stitch along the edge.
Place two squares with right sides together and backstitch one side.
Repeat on the other three sides, leaving a gap for the filling.
Fill the cushion and close the gap.
If the centre is loose, run the tail once more through the last stitches.
It should now lie flat; if not, block it harder.
Photograph it before you give it away.
Well done!
Mine shrank by one centimetre on each side in the first wash.
Now turn it over and admire the other side.
Store it flat between two sheets of paper.
Two rounds of single crochet make a neat edge.
`),
};
