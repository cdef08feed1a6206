/**
 * Why a place looks as it does and what helps, as a teacher would say it. What helps is common practice
 * of hand knitting; what it does to the opening is measured beside it, not claimed here.
 */
import type { Place } from './close-up-state.ts';

export interface Lesson {
  readonly why: string;
  readonly helps: readonly string[];
}

export const PLACE_HELP: Readonly<Record<Place, Lesson>> = {
  join: {
    why: 'Work in the round is a spiral: the last stitch of a round ends one round higher than its first stitch began, so the two ends of the cast-on never meet. One strand bridges the step, from the last cast-on stitch to the first stitch of round 1. The stitches beside it have nothing to pull against yet, and whatever slack is left in that strand stays there as a hole.',
    helps: [
      'Cast on one stitch more and work it together with the first stitch.',
      'Let the first and the last cast-on stitch change places before round 1.',
      'Tug the yarn after each of the first few stitches of round 1.',
      'Close what is left with the cast-on tail when weaving it in. On things for babies leave no hole or end that small fingers can catch in, and follow local safety advice.',
    ],
  },
  needles: {
    why: 'Where two needles meet they stand at an angle, so the strand from the last stitch of one to the first of the next has farther to go. It happens at the same place in every round, and the longer strands stand over one another like the rungs of a ladder.',
    helps: [
      'Tug the first stitches of the new needle. Many tug the second rather than the first, which is still free to give yarn back; once the yarn lies still, the figures here are the same for either.',
      'Move a stitch or two from needle to needle, so that the gap is somewhere else in each round.',
      'Start the new needle with the tip close under the old one.',
    ],
  },
  cable: {
    why: 'At a crossing two groups of stitches change places. Their yarn goes a longer, slanting way but has only so much length, so it draws its neighbours together. The more often it crosses, the less plain fabric lies between to give way, and the narrower the panel.',
    helps: [
      'Cross less often: the pull is shared by the rounds between.',
      'Cast on more stitches under a cable than its finished width would take in plain fabric, and decrease them away with it.',
      'Knit the rounds before and after a crossing loosely.',
    ],
  },
  decrease: {
    why: 'Two or more loops hang on one. The one in front leans over the others and sets the line that the eye sees; the loops are drawn together at their heads, and beside them the strands have more room than between plain stitches.',
    helps: [
      'Pair a decrease that leans right with one that leans left, so that the line stays straight.',
      'Work the stitch after a decrease snugly.',
      'Set decreases one or two stitches in from an edge or corner line.',
    ],
  },
  stitch: {
    why: 'Every loop is drawn through the one below and holds the one above. Seen square on, the gaps between are where no yarn lies in front or behind.',
    helps: [
      'Yarn that fills its stitch leaves small gaps: try a finer needle if the fabric is too open.',
    ],
  },
};
