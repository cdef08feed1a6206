/**
 * Sentences that ask for work without an imperative: "the next round needs two more decreases", "the round now begins at the second
 * corner", "another plain round at this point", "ditto, but purl". In: the words of a sentence in lower case. Out: whether it is such.
 */
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';

const NOUN =
  '(?:sts?|stitch(?:es)?|loops?|rounds?|rnds?|rows?|ridges?|decreases?|increases?|yarn overs?|eyelets?|repeats?)';
const SOON = '(?:now |then |here |from (?:here|now)(?: on)? |also |always |only |just |next )*';
const SOME = '(?:an?|another|one|\\d+|no|some|half|twice)';

/** What is told must be so: a round, a needle or a corner needs, must have, is to get … */
const DEMANDS = regex.plain`^(?:the|each|every|this|that|all|both|a|any) (?:[a-z0-9-]+ ){0,2}(?:${UNIT}|needles?|sides?|corners?|edges?|stitch|section|quarter) (?:[a-z]+ ){0,2}?${SOON}(?:wants|needs|demands|requires|calls for|craves|receives|must (?:have|get|take)|should (?:have|get|take|receive)|has to (?:have|get)|have to (?:have|get)|is to (?:get|have|receive)|are to (?:get|have)|needs to (?:have|get)|takes|gets|want|need|get|deserves) (?:${SOME} (?:more |extra |further |fewer |less )?(?:[a-z-]+ ){0,2}${NOUN}(?! markers?)|(?:to be |being )?(?:purl|knitt|work|decreas|increas|slipp)(?:ed|ing)|(?:garter|moss|seed|rib|reverse)\b)`;
/** It tells how the piece is, at any time. */
const TELLS_HABIT =
  /^(?:each|every|all|a|any|both|the (?!next|following|coming|last|second|third))\b.*\b(?:takes|gets|get)\b(?!.*\b(?:more|extra|further|fewer|less|another)\b)/;

/** The round is begun somewhere else from here on. */
const BEGINS = regex.plain`^(?:the|each|every|all|this|our|your) (?:(?:next|following|coming|second|other|beginning|start) )?(?:of the )?${UNIT} (?:${SOON}|will |should |must |has to |have to |is to |shall )*(?:begins?|starts?|ends?|commences?|moves?|shifts?)\b.*\b(?:second|third|fourth|next|other|opposite|following) (?:corner|marker|side|needle|stitch|quarter)|^(?:the|each|every|all|this) (?:(?:next|following|coming) )?${UNIT} (?:${SOON}|will |should |must |has to |have to |is to |shall )*(?:begins?|starts?|ends?|commences?|moves?|shifts?)\b.*\b(?:later|earlier|further (?:on|along|left|right)|to the (?:left|right)|before|sooner)\b|^(?:the|each|every) (?:next )?${UNIT} (?:now|from (?:here|now)(?: on)?|then) (?:begins?|starts?|ends?)\b.*\bmiddle\b`;

/** A round is named, and when; no verb tells what to do with it. */
const NAMED_ONLY = regex.plain`^(?:and |then |now |here |next |so )*(?:an?|another|one|\d+)(?: (?:more|extra|further|last|final|second|third|purl|purled|knit|knitted|plain|garter|eyelet|decrease|increase|single))+ ${UNIT}(?: (?:more|now|here|next|then|first|please|in between|to follow|follows?|at this (?:point|stage|place)|for (?:luck|good measure|the look of it|a start)|before (?:going|you go|we go) on|after (?:this|that)|and (?:so on|on)))*$`;
/** What was told is to be done again, but for something. */
const DITTO =
  /^(?:and )?(?:ditto|just the same|the same(?: again| thing)?|same (?:again|as before)|likewise|as before|and so on|more of the same|all as before|as above)\b.*\b(?:but|with|without|except|in purl|purled|purling|knit|purl|twice|again|\d+)\b/;

export function demandsWork(text: string): boolean {
  const said = text.replace(/ ?[,;:] ?/g, ' ').replace(/[ .!]+$/, '');
  if (BEGINS.test(said) || DITTO.test(said) || NAMED_ONLY.test(said)) return true;
  return DEMANDS.test(said) && !TELLS_HABIT.test(said);
}
