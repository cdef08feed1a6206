/**
 * What a text leaves to the knitter: "if you want a deeper border, purl 2 more rounds", "2 more rounds if desired". In: the
 * words of a remark. Out: which of the two it is; null where it leaves no work to her.
 */

const WORK =
  /\b(?:knit|purl|work|repeat|rep|decrease|dec|increase|inc|rib|add|omit|skip|leave out|k|p)\b[^.;!?]{0,60}?(?:\b(?:\d+|rounds?|rnds?|rows?|sts?|stitch(?:es)?|once|twice|it|them)\b)/;
const CONDITION =
  /^\W*(?:(?:and|but|or|so|also|of course)\W+)*(?:if\b|should you\b|optional|for (?:a|an) |to make (?:a|an|it) |(?:you|one) (?:can|may|could|might)\b(?! (?:see|now see|count|tell|find|feel|use))|(?:or|alternatively|instead)\b)/;
const AT_WILL =
  /^\W*(?:(?:only )?if (?:you (?:like|want|wish|prefer|have yarn left)|desired|wanted|wished|preferred|liked|necessary|needed)|optional(?:ly)?|as (?:you like|desired)|(?:or|and) not)\W*$/;

/** `without`: work that is told with a condition and not done here; `done`: the work before these words is at will. */
export function leavesToYou(words: string): 'without' | 'done' | null {
  if (AT_WILL.test(words)) return 'done';
  return words.split(/[.!?;]/).some((s) => CONDITION.test(s) && WORK.test(s)) ? 'without' : null;
}
