/**
 * Joining to a ring, twists, and rows to and fro where nothing is joined, as rules of an opening.
 */
import type { Join } from '../../ast.ts';
import { readJoin } from '../join.ts';
import { type OpeningRule, restOfClause } from './opening.ts';

const RINGED =
  'in|into|to|for|as|on a|an|the|working|work|knit|knitting|worked|closed|in|into|and* @ring';
/** The stitches are closed to a ring. */
export const RING: readonly string[] = [
  // "Knit the work together into a ring"
  'knit|knitting|work|working|knitted the|your|this|it|them|all|work|piece|knitting|@sts* together|up? into|to|in a ring|circle|round|rnd',
  'knit|knitting|work|working|knitted the|your|this|it|them|all|work|piece|knitting|@sts* together into|to|in the? @ring',
  'knit|knitting|work|working the|your ring|circle|round together|closed|shut',
  `@join the|your|this|it|them|work|knitting|ends|end|both|cast|on|edge|stitches|sts|needles|stitch|strip|all|up|together|carefully|now|and* ${RINGED}`,
];

const NEGATED = "no|not|without|never|nothing|isn't|aren't|doesn't|needn't";
/** Nothing is joined. */
const UNJOINED: OpeningRule = {
  says: [
    `${NEGATED} is|are|be|being|to|any|of|need|needed|required|you|have|has|must|should* join|joined|joining`,
    'unjoined',
  ],
};

export const JOINS: readonly OpeningRule[] = [
  UNJOINED,
  {
    says: [
      ...RING,
      `the? work|ring|ring|round is then|now? @join ${RINGED}?`,
      'the? ring|round|circle is? then|now? closed|joined',
      'close|closing the? ring|round|circle|rnd',
      '@join the? last|first @sts? cast|on* to|with|and|onto the? first|last @sts? cast|on*',
      'knit|knitting|work|working into the? first @sts cast|on* to @join',
      `@join the|your|this|it|them|work|stitches|sts|ends|carefully* for circular knitting|work|working`,
      'join|joins|joining|joined the|your|this|it|them|work|knitting|ends|together|carefully|now|up|cast|on|edge|sts|stitches*',
      'begin|start|start|starting|beginning|to|and|knit|knitting|work|working* in the|a? rounds|round|rnds|rnd',
    ],
    means: (o) => {
      o.joins = true;
    },
  },
  // "Lay up 112 st and knit around": in the round, where nothing else has said so
  {
    says: ['and|then|,* knit|work|knitting|working a? around|round'],
    means: (o, _n, c) => {
      if (o.joins || !(c.done || c.mark('.;'))) return false;
      o.joins = true;
      return true;
    },
  },
  {
    says: [
      'twisting|twisted|twist',
      '#? half turn|turns|twist|twists',
      'a|#? full turn|turns|twist|twists',
      'mobius|moebius|möbius',
      '@join|joining? with|by|using|a|an|the|# extra @sts',
      'by knitting|working|slipping|lifting|passing',
    ],
    means: (_, _n, c) => restOfClause(c),
  },
];

/** Rows to and fro, which is what is meant where nothing is joined. */
export const FLAT: readonly OpeningRule[] = [
  {
    says: [
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* flat in|on? rows?',
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* to and fro in|on? rows?',
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* back and forth in|on? rows?',
      'and|to|you|will|now|is* work|worked|works|working|knit|knitted|knitting it|this|piece|square* in rows',
      'but|just|simply|and|you* turn|turning your|the|work|it|piece|knitting* at|after the|end|of* each|every row',
    ],
  },
];

/** "Do not join": the piece is worked flat. */
export const NOT_JOINED =
  /(?:\b(?:no|not|without|never|nothing)|n't)\s+(?:(?:is|are|be|being|to|any|of|need|needed|required|you|have|has|must|should)\s+)*join(?:ed|ing|s)?\b|\bunjoined\b/g;

/** How the round is joined, where the words say so. */
export function joinOfWords(text: string): Join | null {
  const said = text.replace(NOT_JOINED, ' ');
  return /\bjoin|twist|m[oö]bius|moebius/.test(said) ? readJoin(said) : null;
}
