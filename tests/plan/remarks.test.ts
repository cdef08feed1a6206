/**
 * Remarks that stand between instructions, in pairs of the same words: one only tells and changes nothing, the other asks
 * and must be followed or refused on its line. Counts told in passing are right in the first and wrong in the second.
 */
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { eighthOf } from '../runs.ts';
import { planMeaning } from './meaning.ts';

const SQUARE = `Gauge: 22 sts and 30 rounds to 10 cm.
Cast on 48 sts, 12 on each of four needles. Join in the round.
Round 1: Purl.
Round 2: Knit.
<<B>>
Round 3: *K1, ssk, knit to last 3 sts on needle, k2tog, k1; rep from * on each needle. 40 sts.
<<C>>
Round 4: Knit.
<<D>>
Repeat rounds 3 and 4 until 16 sts remain.
<<E>>
Next round: *K2tog; rep from * to end. 8 sts.
Cut the yarn, draw it through the remaining sts and fasten off.
<<F>>`;

/** [place, what only tells, what asks or is wrong] */
const PAIRS: readonly (readonly [string, string, string])[] = [
  [
    'B',
    'My mother purled one more round, for the look of it.',
    'Purl one more round, for the look of it.',
  ],
  [
    'B',
    'In the old days we repeated both rounds, because the wool was thinner.',
    'Before you go on, repeat both rounds, because the edge is prone to curl.',
  ],
  [
    'B',
    'The edge would have got another purl round if I had had my way.',
    'Give the edge another purl round, it deserves it.',
  ],
  [
    'B',
    'Some people purl a third round while they are at it.',
    'Why not purl a third round, while you are at it?',
  ],
  [
    'B',
    "A friend suggested purling the next round as well, but I didn't.",
    'I suggest purling the next round as well, for a firmer edge.',
  ],
  ['B', 'Two rounds are done.', 'Three rounds are done.'],
  [
    'B',
    'Some knit these two rounds once again, but I never saw the point.',
    'Knit these two rounds once again, for a firm edge loves company.',
  ],
  [
    'C',
    'The coming round gives the corners a rest.',
    'I would purl the coming round, since the corners need a rest.',
  ],
  [
    'C',
    'My niece omitted the plain round, and nobody missed it.',
    'Omit the plain round, my dear, since nobody will miss it.',
  ],
  [
    'C',
    "You won't notice the next round, so quickly does it pass.",
    "You won't need the next round, so pass over it.",
  ],
  [
    'C',
    "My grandmother's trick was to purl one round here, but it hid nothing.",
    'My trick here is to purl one round, because it hides the join.',
  ],
  ['C', 'You can forget about the edge now.', 'You can forget about the next round.'],
  ['C', 'That leaves 40 stitches.', 'That leaves 38 stitches.'],
  ['C', 'There should be 40 stitches now.', 'There should be 44 stitches now.'],
  [
    'C',
    "Another purl round wouldn't hurt, but it isn't needed.",
    "Another purl round won't hurt, so here goes: purl.",
  ],
  [
    'C',
    'The next round is knitted so that the corners rest.',
    'The next round is purled so that the corners rest.',
  ],
  [
    'D',
    'My sister finished at 32 sts, as she wanted a button on top.',
    'Finish at 32 sts, as I want a button on top.',
  ],
  [
    'D',
    'In her book they decrease on every round, which makes a bell.',
    'From now on we decrease on every round, it saves time.',
  ],
  [
    'D',
    'She quit decreasing when she had 24 sts, since she likes a wide opening.',
    'Quit decreasing when you have 24 sts, since I like a wide opening.',
  ],
  [
    'D',
    'The decreases on needle 2 look the same as the others, only upside down.',
    'On needle 2 leave out the decreases, so that the square leans a little.',
  ],
  [
    'D',
    'After every second repeat I have a cup of tea; it keeps me going.',
    'After every second repeat add a purl round; it looks like a staircase.',
  ],
  [
    'D',
    'She never repeated round 4, and her cone got no taller.',
    "Please don't repeat round 4, it only makes the cone taller.",
  ],
  [
    'D',
    'In the shawl every fourth row is left plain, so the triangle grows longer.',
    'Every fourth round is left plain, so the square grows longer.',
  ],
  [
    'D',
    "There's a point to it, as you will see.",
    'Should you not fancy a point, that is fine, but stop at 24 sts all the same.',
  ],
  [
    'E',
    'Three more plain rounds would make the tip stand up, which nobody wants.',
    "Let's have three more plain rounds here so the tip stands up.",
  ],
  [
    'E',
    'I forgot about the last round once; the point was not neater without it.',
    'Forget about the last round; the point is neater without it.',
  ],
  [
    'E',
    'The best thing now is a cup of tea.',
    'The best thing now is to knit a round before the end.',
  ],
  [
    'E',
    'Everyone purls the last round at first, and so did I.',
    'Everyone purls the last round, and so should you.',
  ],
  [
    'E',
    'You have now worked four decrease rounds, so take heart.',
    'You have now worked five decrease rounds, so take heart.',
  ],
  [
    'E',
    'Some books skip the last round and thread the yarn through all sixteen.',
    'Skip the last round and thread the yarn through all sixteen.',
  ],
  [
    'F',
    'My neighbour has knitted four more of these, since one was no use to her.',
    'And then knit four more rounds of these, since one is no use.',
  ],
  [
    'F',
    'She picked up 12 sts along each side and purled three rounds, but that is another story.',
    'Pick up 12 sts along each side and purl three rounds for a frame.',
  ],
  [
    'F',
    'I did it all over again three times, because a set has four.',
    'Do it all over again three times, because a set has four.',
  ],
  ['B', 'My aunt tagged on a round of purl here.', 'Tag on a round of purl here.'],
  ['B', 'A ridge of purl bumps stands up now.', 'A ridge of purl here.'],
  ['B', 'All sts lie straight, so nothing is lost.', 'Begin at the top once more.'],
  ['B', 'You will want a cup of tea.', 'You will want four more like these.'],
  ['B', 'The edge rests, and so may you.', 'Next, knit 1 round.'],
  ['B', 'The first round was purled.', 'All further rounds are purled instead of knit.'],
  ['B', 'A plain round comes now and then.', 'Purl all even rounds.'],
  ['C', 'The ridge is a purl one.', 'The last four repeats are worked in purl.'],
  ['C', 'The corner stitches are knitted.', 'The corner stitches are purled from now on.'],
  ['C', 'Every other round is knitted.', 'Every third round is purled.'],
  [
    'D',
    'The square is in stocking stitch from here on.',
    'The square is in reverse stocking stitch from here on.',
  ],
  ['E', 'A last pair of rounds brought you to 16.', 'A last pair of rounds brings you to 8.'],
  ['B', 'The purl round is a joy.', 'The purl round is repeated before you go on.'],
  ['B', 'Every side looks the same.', 'A second purl round belongs here.'],
  ['C', 'From now on every round gets shorter.', 'One decrease per corner is enough from now on.'],
  ['C', 'No round is as long as the first.', 'No plain round this time.'],
  ['D', 'Six is a good number.', 'Six is too many; four will do.'],
  ['D', 'After 10 ridges I had tea.', 'After 32 sts change to garter stitch.'],
  ['E', 'Take it to the window.', 'Take it in to 8 over the next round.'],
  ['C', 'Each needle holds 10 stitches.', 'Each needle holds 11 stitches.'],
  ['C', 'Each of the 4 sides now has 10 sts.', 'Each of the 5 sides now has 10 sts.'],
  [
    'C',
    'After the first decrease round there are 40 stitches.',
    'After the first decrease round there are 41.',
  ],
  ['C', 'The count is now 40.', 'The count is now 39.'],
  ['C', '10, 10, 10, 10.', '10, 10, 11, 10.'],
  ['D', '8 stitches have gone.', '9 stitches have gone.'],
  ['C', 'Each needle has lost 2 stitches.', 'Each needle has lost 3 stitches.'],
  ['D', 'That was 4 rounds in all.', 'That was 5 rounds in all.'],
  ['E', 'You have decreased 4 times.', 'You have decreased 5 times.'],
  ['E', '32 of the 48 sts are gone.', '36 of the 48 sts are gone.'],
  [
    'E',
    'At the end of round 3 there were 40 stitches.',
    'At the end of round 3 there were 36 stitches.',
  ],
  ['E', '4 x 4 = 16 sts.', '4 x 4 = 18 sts.'],
  ['E', 'The counts are 40, 32, 24, 16.', 'The counts are 40, 32, 26, 16.'],
  ['C', 'Once more I forgot the kettle.', 'Once more.'],
  [
    'C',
    'You lose 2 stitches on each needle every time.',
    'You lose 3 stitches on each needle every time.',
  ],
  ['C', 'Every round 3 loses 8 stitches.', 'Every round 3 loses 10 stitches.'],
  ['C', 'Round 3 decreases 8 stitches.', 'Round 3 decreases 9 stitches.'],
  ['C', 'Every second round gets rid of 8 stitches.', 'Every third round gets rid of 8 stitches.'],
  [
    'D',
    'With every decrease round you have 8 stitches less.',
    'With every decrease round you have 6 stitches less.',
  ],
  [
    'D',
    'You lose a stitch on either side of each corner.',
    'You lose 2 stitches on either side of each corner.',
  ],
  ['C', 'The count drops by 8 every second round.', 'The count drops by 8 every fourth round.'],
  ['C', 'Needles 1 to 4: 10 sts each.', 'Needles 1 to 4: 11 sts each.'],
  ['C', 'Half of them, 20, are on needles 1 and 2.', 'Half of them, 22, are on needles 1 and 2.'],
  ['C', 'Three quarters of the stitches is 30.', 'Three quarters of the stitches is 33.'],
  ['C', '48 minus 8 is 40.', '48 minus 8 is 42.'],
  ['C', 'Down to forty.', 'Down to thirty-eight.'],
  ['C', 'You now have one garter ridge.', 'You now have two garter ridges.'],
  [
    'D',
    'Those decreases are worked in every second round.',
    'Those decreases are worked in every round.',
  ],
  ['C', 'The corners turn out well.', 'In the plain rounds, cross the two corner stitches.'],
  ['D', 'It grew to 104 when I tried it with thin wool.', 'Grow it to 104 rather than 16.'],
  ['D', 'Every pair of rounds makes it smaller.', 'Give every fourth pair a miss.'],
  ['E', 'It shrank to a thimble in the wash.', 'Shrink it to 8 before you close.'],
  ['E', 'The tip is a small one.', 'Decrease only at the beginning of the needles.'],
  ['E', 'Go and make tea.', 'Skip straight to breaking the yarn.'],
  ['C', 'Put the kettle on first.', 'Put on a purl round first.'],
  ['C', "Keep going, you're doing great.", 'Keep going for another purl round.'],
  ['D', 'Ready? Steady? Go!', 'Ready? Go round once more in purl!'],
  ['F', 'Snug up the beginning ring.', 'Snug in two more rounds.'],
  ['C', 'You will get rid of the tail later.', 'Get rid of a stitch on each needle.'],
  ['C', 'Part of the charm is in the corners.', 'Part the work at the middle.'],
  ['C', 'The round begins at the marker.', 'The round now begins at the second corner.'],
  ['C', 'A crochet hook is handy when a stitch drops.', 'Take a crochet hook and chain 4.'],
  ['C', 'It looks the same backwards.', 'Do it backwards from here.'],
  ['D', 'The purl stands out on the way.', 'Skip the purl on the way.'],
  ['C', 'Tug the first stitch of each needle.', 'Put one stitch back on each needle.'],
  ['C', 'Rib is stretchier than this.', 'Continue in single rib here.'],
  ['D', 'The last round of each pair is a quiet one.', 'The next round needs two more decreases.'],
  ['C', 'Break both yarns only at the end.', 'Break the stitches at the middle.'],
  ['E', 'A plain round has its own charm.', 'Another plain round at this point.'],
  [
    'F',
    'Pick up your next square from here.',
    'Pick up 12 sts for your next square from here and knit 4 rounds.',
  ],
];

function withRemark(place: string, remark: string): ReturnType<typeof parsePlan> {
  return parsePlan(SQUARE.replace(`<<${place}>>`, remark).replace(/^<<.>>\n?/gm, ''));
}

const plain = withRemark('', '');
const meant = JSON.stringify(planMeaning(plain));
const errors = (plan: ReturnType<typeof parsePlan>): string[] =>
  plan.diagnostics.filter((d) => d.severity === 'error').map((d) => d.message);

describe('remarks between instructions', () => {
  it.each(eighthOf(PAIRS, 0))('%s: passes over "%s"', (place, tells) => {
    const plan = withRemark(place, tells);
    expect(errors(plan)).toEqual([]);
    expect(JSON.stringify(planMeaning(plan))).toBe(meant);
  });

  it.each(eighthOf(PAIRS, 1))('%s: beside "%s", does not lose "%s"', (place, _tells, asks) => {
    const plan = withRemark(place, asks);
    const followed = JSON.stringify(planMeaning(plan)) !== meant;
    expect(followed || errors(plan).length > 0).toBe(true);
  });
});

const ENDERS = [
  'Leave 10 sts on a holder for the thumb.',
  'Cast off half of these.',
  'Break off the yarn and start with another needle size.',
  'Bind off.',
  'Break the yarn and draw it through the sts.',
];
const LATER = [
  'Knit 10 rounds.',
  'Purl 3 rounds.',
  'Round 11: purl.',
  'Work 4 rounds in seed stitch.',
];

describe('work behind an end', () => {
  it.each(
    eighthOf(
      ENDERS.flatMap((end) => LATER.map((later) => [end, later])),
      2,
    ),
  )('is not lost: "%s" "%s"', (end, later) => {
    const plan = parsePlan(
      `Cast on 40 sts and join in the round.\nKnit 10 rounds.\n${end}\n${later}\nBind off.`,
    );
    const asked = plan.diagnostics.some((d) => d.severity === 'error' && d.from.line >= 3);
    expect(asked || plan.rounds.length > 10).toBe(true);
  });
});

describe('what is so of some rounds of all', () => {
  it.each([
    'Work the even rounds in purl.',
    'Work all odd rounds in seed stitch.',
    'Work the right-side rounds in rib.',
    'Purl all the even rounds in this part.',
  ])('is no round by itself: "%s"', (rule) => {
    const plan = parsePlan(
      `Cast on 40 sts and join in the round.\nRound 1: knit.\nRound 2: knit.\n${rule}\nRound 3: knit.\nBind off.`,
    );
    expect(errors(plan).length > 0 || plan.rounds.length === 3).toBe(true);
  });
});

const OTHER_TIMES = [
  'Halfway, purl 1 round.',
  'About half way through, purl 1 round.',
  'Before that, purl 1 round.',
  'Right at the start, purl 1 round.',
  'Meanwhile, purl 1 round.',
  'Now and then purl 1 round.',
  'Every now and again, purl a round.',
  'Purl a round here and there.',
  'At odd intervals purl 1 round.',
  'Purl 1 round from time to time.',
  'As often as you wish, purl a round.',
  'In between, purl a round.',
  'A third of the way up, purl a round.',
  'Two rounds before the end, purl a round.',
  'After the 5th round, purl a round.',
  'Shortly before the end, purl a round.',
];

describe('an order for some other time', () => {
  it.each(OTHER_TIMES)('is not worked as the next round: "%s"', (order) => {
    const text =
      'Cast on 40 sts and join in the round.\nKnit 10 rounds.<<>>\nKnit 4 rounds.\nBind off.';
    for (const gap of [' ', '\n']) {
      const plan = parsePlan(text.replace('<<>>', gap + order));
      const told = plan.diagnostics.filter((d) => d.severity === 'error');
      expect(told.map((d) => d.from.line)).toEqual([gap === ' ' ? 2 : 3]);
    }
  });

  it.each([
    ['After 10 rounds, purl 1 round.', 15],
    ['At this point, purl 1 round.', 15],
    ['After the 10th round purl 2 rounds.', 16],
  ])('is followed where it stands there: "%s"', (order, rounds) => {
    const plan = parsePlan(
      `Cast on 40 sts and join in the round.\nKnit 10 rounds.\n${order}\nKnit 4 rounds.\nBind off.`,
    );
    expect(errors(plan)).toEqual([]);
    expect(plan.rounds).toHaveLength(rounds);
  });

  it('is followed at the end of the piece and at its start', () => {
    const plan = parsePlan(
      'Cast on 40 sts and join in the round.\nAt the very beginning, purl 1 round.\nKnit 4 rounds.\nJust before the end, purl 1 round.\nBind off.',
    );
    expect(errors(plan)).toEqual([]);
    expect(plan.rounds).toHaveLength(6);
  });
});

const STRIPED =
  'Cast on 40 sts and join in the round.\nRound 1: knit.\nRound 2: purl.\n<<>>\nRepeat rounds 1 and 2 five times more.\nBind off.';

describe('how rounds are told to be worked', () => {
  it.each([
    ['Every other round is purled.', 'Every third round is purled.'],
    ['Alternate rounds are purled.', 'One round in five is purled.'],
    ['The 2nd and 4th rounds are purl rounds.', 'Rounds 5 and 10 are in rib.'],
    ['The 1st and 3rd rounds are knit rounds.', 'The 1st and 3rd rounds are purl rounds.'],
    ['Each second round is worked in purl.', 'All rounds but the last are purled.'],
    ['The second round is a purl round.', 'The fifth round of every ten is purled.'],
    ['Note that round 2 is purled.', 'Apart from the first, all rounds are purled.'],
    ['Every second round should be purled.', 'Every second round: work in seed stitch.'],
    ['You will soon see the ridges.', 'Every decrease round is followed by two plain rounds.'],
    ['There is a purl round to come.', 'The second round is left out.'],
    ['The purl rounds make ridges.', 'Purl a round after every 5 rounds.'],
  ])('passes over "%s", and refuses "%s"', (right, wrong) => {
    const told = (said: string) => errors(parsePlan(STRIPED.replace('<<>>', said)));
    expect(told(right)).toEqual([]);
    expect(told(wrong)).not.toEqual([]);
  });
});

/** [what only tells, what orders without a verb of work] */
const HIDDEN: readonly (readonly [string, string])[] = [
  ['Round and round it goes.', 'Go round in purl.'],
  ['A round of purl takes me ten minutes.', 'All the way round in garter.'],
  ['Every round is a pleasure.', 'A purl round is inserted here.'],
  ['The purl round hides the join.', 'Then a round of purl is worked.'],
  ['The last round was the longest.', 'The last two rounds are undone.'],
  ['The next round is easy.', 'The next round is left out.'],
  ['Addition is all the mathematics you need.', 'Addition of a purl round.'],
  ['Repetition makes it easy.', 'Omission of the next round.'],
  [
    'The stitches are divided over the needles evenly.',
    'Divide in two halves and work to and fro.',
  ],
  ['The fold lines run to the centre.', 'Fold in half and seam the sides.'],
  ['The ring is closed neatly by the tail.', 'The round is closed only after two rows.'],
  ['The joining is invisible.', 'Wait with joining until row 2 is done.'],
  ['Let it rest for a day if you are cross with it.', 'Let half of the stitches wait.'],
  ['Reverse stocking stitch looks bumpy.', 'Reverse direction here.'],
  ['Do not twist the stitches.', 'Do not repeat.'],
  ['Do not pull too hard.', "Don't work the plain rounds."],
  ['No two squares are alike.', 'No more decreases.'],
  ['Avoid bright sunlight.', 'Avoid knitting the plain round.'],
  ['No further rounds are as long.', 'No further rounds are knitted.'],
  ['Take up a second cup of tea.', 'Take up a second strand for the next four rounds.'],
  ['Without a marker it is easy to lose count.', 'Without the purl round.'],
];

describe('orders without a verb of work', () => {
  it.each(HIDDEN)('passes over "%s", and refuses "%s"', (tells, orders) => {
    for (const place of ['B', 'D', 'E']) {
      expect(errors(withRemark(place, tells))).toEqual([]);
      expect(errors(withRemark(place, orders))).not.toEqual([]);
    }
    const inRound = (said: string) =>
      errors(parsePlan(STRIPED.replace('purl.', `purl. ${said}`).replace('<<>>\n', '')));
    expect(inRound(tells)).toEqual([]);
    expect(inRound(orders)).not.toEqual([]);
  });
});

const ADDED = [
  'Work the first two rounds with double yarn.',
  'Knit the first round on a larger needle.',
  'Work the last two rounds with a thinner yarn.',
  'Work one round with waste yarn.',
  'Hold the yarn double for the first 2 rounds.',
  'Purl all but the last two rounds.',
  'Save for the corners, purl one round.',
  'When it curls, purl one round.',
  'Provided that it lies flat, purl one round.',
  'Purl one round if you have an odd number.',
  'Never purl the next round.',
];

describe('an order for other rounds, with other yarn or in other cases', () => {
  it.each(ADDED)('adds no round in silence: "%s"', (order) => {
    const plan = parsePlan(STRIPED.replace('<<>>', order));
    expect(errors(plan)).not.toEqual([]);
  });

  it('takes the first rounds for those to be worked where none stand before', () => {
    const plan = parsePlan(
      'Cast on 40 sts and join in the round.\nPurl the first two rounds.\nKnit 4 rounds.\nBind off.',
    );
    expect(errors(plan)).toEqual([]);
    expect(plan.rounds).toHaveLength(6);
  });
});

const SHAPED = `Cast on 48 sts, 12 on each of 4 needles. Join in the round.
Round 1: knit.
Round 2: *K1, ssk, knit to last 3 sts on needle, k2tog, k1; rep from * on each needle.
Round 3: knit.
<<>>
After round <N>, bind off.`;

describe('numbers of rounds told beside an order', () => {
  it.each([
    ['Rounds 4-8: as set, decreasing on rounds 4, 6 and 8.', 8, true],
    ['Rounds 4-8: as set, decreasing on rounds 5 and 7.', 8, false],
    ['Round 4: as set, decreasing on rounds 6, 8 and 10.', 4, false],
    ['Rounds 4-8: as set.', 8, true],
    ['Rounds 4-8: as set.', 10, false],
    ['Knit 4 rounds.', 7, true],
    ['Continue decreasing in every knit round until 16 sts remain.', 9, false],
  ])('holds "%s" and round %i against the rounds', (order, n, right) => {
    const plan = parsePlan(SHAPED.replace('<<>>', order).replace('<N>', String(n)));
    expect(errors(plan).length === 0).toBe(right);
  });
});
