/**
 * Clauses beside an instruction that ask for nothing, by how they begin and what they hold: reasons and purposes, what
 * comes of it, care, asides. In: the tokens of one clause, whether a mark or "and" sets it off. Out: whether it is such.
 */
import type { Token } from '../lex/tokens.ts';
import { CLASSES } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import {
  CARE_VERBS,
  CRAFT_NOUNS,
  DESCRIBING,
  DETERMINERS,
  EVERYDAY_VERBS,
  FABRIC_WORDS,
  FILLERS,
  MODALS,
  PRONOUNS,
  REMARK_LEADS,
  STITCH_WORDS,
  WORK_FORMS,
} from '../lexicon/words.ts';
import { leavesOut, limitsWork } from './limits.ts';
import { isSlip, isStitchWord, KEYWORDS, LEADS_ON } from './word-law.ts';

/** Most words of a clause. Chosen: a longer one is no aside. */
const LONGEST = 40;

const PARTS = /^(?:,|-|:|;|\(|and|but|so|then|now|or|just|simply|please|also|too)$/;
/** Words that say how long or how often. */
const EXTENT =
  /^(?:until|till|til|twice|thrice|times|once|more|fewer|less|except|instead|otherwise|through|off)$/;
const CITED =
  /^(?:photo|photos|picture|pictures|figure|fig|page|note|step|video|lesson|diagram|size|no|round|row|rnd)$/;
const THINGS =
  /^(?:minutes?|hours?|days?|weeks?|months?|years?|evenings?|g|grams?|m|metres?|meters?|yards?|people|squares?|blankets?|photos?|cups?|million)$/;

/** Remarks joined by "and": "switching to the circular when you can and marking the corners". */
export function areRemarks(tokens: readonly Token[], apart: boolean): boolean {
  if (isRemark(tokens, apart)) return true;
  const at = tokens.findIndex((t, i) => t.text === 'and' && /ing$/.test(tokens[i + 1]?.text ?? ''));
  return at > 0 && isRemark(tokens.slice(0, at), apart) && areRemarks(tokens.slice(at), true);
}

/** The clause asks for nothing. `apart`: a mark or "and" stands before it; otherwise only a reason or purpose is a remark. */
export function isRemark(tokens: readonly Token[], apart: boolean): boolean {
  const words = tokens.filter((t) => t.kind !== 'line' && !'()[],.:;-"!\''.includes(t.text));
  let at = 0;
  while (at < words.length && PARTS.test(words[at].text)) at++;
  const said = words.slice(at);
  // "so" alone leads to no reason.
  const so = words.slice(0, at).some((t) => t.text === 'so');
  if (said.length === 0 || said.length > LONGEST) return false;
  const text = said.map((t) => t.text).join(' ');
  const then = words.slice(0, at).some((t) => t.text === 'then');
  if ((apart || then) && ON_NEEDLES.test(text) && OTHER_NEEDLES.test(text)) return true;
  if (apart && tellsOfStripe(said)) return true;
  if (limitsWork(text) || leavesOut(text) || said.some((t, i) => asks(said, t, i))) return false;
  const [first] = said;
  if (REMARK_LEADS.has(first.text) || (so && first.text === 'that')) return leads(said);
  // "so no holes form"
  if (!apart && !so) return false;
  return participle(said) || declares(said) || cares(said) || bare(said) || ADDRESSES.test(text);
}

/** "my dear", "I promise", "slip the markers as you come to them" */
const ADDRESSES =
  /^(?:my (?:dear|love|friend)s?|i (?:promise|know|think|hope|swear|guess|suppose|mean)|(?:slip|move|pass)(?:ing)? (?:the |your )?markers?(?: (?:up|along|as|you|come|go|work|to|them|it|reach|meet|on))*|(?:make|form) an? [a-z]+)$/;

/** "then change back to circular needle 3.5 mm and": on which needles it is worked, and not a word more. */
const OTHER_NEEDLES =
  /^(?:chang(?:e|ing)|switch(?:ing)?|swap(?:ping)?|mov(?:e|ing)|go(?:ing)?|transfer(?:ring)?|return(?:ing)?|us(?:e|ing)|with|(?:put|slip|take) (?:all )?(?:the )?(?:sts|stitches|work|it))(?: (?:to|over|onto|on|back|up|down|again|all|the|your|a|an|one|of|sts|stitches|work|it|set|sizes?|nos?|us|uk|needles?|dpns?|circulars?|circ|double|pointed|larger|smaller|longer|shorter|bigger|thinner|thicker|finer|first|other|former|original|previous|long|short|straight|mm|cm|and|then|now|[\d.]+))+$/;
const ON_NEEDLES = /\b(?:needles?|dpns?|circulars?|circ|[\d.]+ mm|size \d+)\b/;

/** "the last stripe (A again) is only 2 rounds deep": colours alone hang on it. */
export function tellsOfStripe(said: readonly Token[]): boolean {
  return (
    STRIPE.test(said.map((t) => t.text).join(' ')) &&
    !said.some((t, i) => t.kind !== 'number' && asks(said, t, i))
  );
}

const STRIPE = /\b(?:last|final|first|top|half) (?:stripe|band)\b|\bhalf an? stripe\b/;

/** "which loses 1 at each end", "making 1 at each marker" */
const SHAPES =
  /^(?:(?:los|gain|mak|add|tak|drop|reduc|decreas|increas)(?:e|es|s|ing|ed)?|lost|made|took|last|next|first)$/;

/** A word that could ask for something wherever it stands. */
function asks(said: readonly Token[], t: Token, i: number): boolean {
  const [before, next] = [said[i - 1]?.text ?? '', said[i + 1]?.text ?? ''];
  if (t.kind === 'number') {
    const one = t.text === '1' && !CRAFT_NOUNS.has(next) && !FABRIC_WORDS.has(next);
    if (MARKED.test(next) && marksPlaces(said)) return false;
    return (SHAPES.test(before) || !one) && !CITED.test(before) && !THINGS.test(next);
  }
  if (t.kind !== 'word') return false;
  if (EXTENT.test(t.text) || isStitchWord(t)) return true;
  if (t.text !== 'time' && !KEYWORDS.includes(t.text) && isSlip(t.text)) return true;
  // "the decrease", "your knitting", "the purl side": no verbs.
  if (!WORK_FORMS.has(t.text) || (i === 0 && marksPlaces(said))) return false;
  const named = DETERMINERS.has(before) && before !== 'all' && before !== 'every';
  const marker = CLASSES.marker.has(next) || CLASSES.marker.has(said[i + 2]?.text ?? '');
  return !(named || (marker && /^(?:slip|slipping)$/.test(t.text)));
}

const MARKED = /^(?:corners?|sides?|markers?|quarters?|sections?|needles?)$/;

/** "marking the 4 corners", "hanging a marker in each corner": places are marked, and no stitch is worked. */
function marksPlaces(said: readonly Token[]): boolean {
  const { text } = said[0];
  if (!/ing$/.test(text)) return false;
  if (/^(?:marking|separating)$/.test(text)) return said.some((t) => MARKED.test(t.text));
  return CLASSES.place.has(text) && said.slice(1, 6).some((t) => CLASSES.marker.has(t.text));
}

/** "switching to the circular when there is room": on which needles it is worked. */
function changesNeedles(said: readonly Token[]): boolean {
  return (
    /^(?:changing|switching|swapping|moving|going|transferring|sliding|using)$/.test(
      said[0].text,
    ) && said.slice(1, 8).some((t) => NEEDLES.test(t.text))
  );
}

const NEEDLES = /^(?:needles?|circs?|circulars?|dpns?)$/;

/** Something of the knitting is named: stitches, rounds, places, fabrics, colours. */
function crafty(said: readonly Token[]): boolean {
  return said.some(({ text }, i) => {
    // "for a firm edge", but "at each edge"
    if (/^(?:edge|edges)$/.test(text)) return EACH.test(said[i - 1]?.text ?? '');
    if (/^[b-hj-z]$/.test(text)) return true;
    return (
      CRAFT_NOUNS.has(text) || FABRIC_WORDS.has(text) || (text !== 'a' && CLASSES.yarn.has(text))
    );
  });
}

const EACH = /^(?:each|both|every|either|other|the)$/;

/** "because it stops the edge rolling", "which keeps it flat", "to make a neat border" */
function leads(said: readonly Token[]): boolean {
  const [{ text }, second] = said;
  if (!second) return false;
  if (text === 'to') return CARE_VERBS.has(second.text) || EVERYDAY_VERBS.has(second.text);
  // "as round 3", "like the rounds before", "while in rib" say what is worked.
  if (/^(?:as|like|than|while|where)$/.test(text))
    return !crafty(said) && !said.some((t) => t.kind === 'ordinal');
  return true;
}

/** "making a ridge", "taking your time" */
function participle(said: readonly Token[]): boolean {
  const from = /^(?:thus|thereby|always|not)$/.test(said[0].text) ? 1 : 0;
  const text = said[from]?.text ?? '';
  const second = said[from + 1];
  if (!second || !/[a-z]{2}ing$/.test(text)) return false;
  const stem = text.slice(0, -3);
  const forms = [stem, `${stem}e`, stem.replace(/(.)\1$/, '$1')];
  if (changesNeedles(said)) return true;
  if (forms.some((f) => HANDLED.test(f))) return false;
  if (!forms.some((f) => CARE_VERBS.has(f) || EVERYDAY_VERBS.has(f) || CLASSES.handle.has(f))) {
    const marker = said.slice(0, 5).some((t) => CLASSES.marker.has(t.text));
    if (marksPlaces(said)) return true;
    return marker && /^(?:slipping|moving|passing|carrying)$/.test(text);
  }
  const sure =
    /^(?:making|being|taking)$/.test(text) && /^(?:sure|care|careful|certain)$/.test(second.text);
  return !said.some(
    (t) => FABRIC_WORDS.has(t.text) || (!sure && STITCH_WORDS.has(t.text) && text !== 'counting'),
  );
}

/** "there is your first corner", "a row of pretty holes comes up", "you can't go wrong" */
function declares(said: readonly Token[]): boolean {
  const [{ text }] = said;
  const subject = PRONOUNS.has(text) || DETERMINERS.has(text);
  if (!subject || said.length < 3) return false;
  return said.slice(1, 9).some((t) => DESCRIBING.has(t.text) || MODALS.has(t.text));
}

/** "see photo 2", "don't worry about the gap", "check your count" */
function cares(said: readonly Token[]): boolean {
  const [{ text }, next] = said;
  const at =
    text === 'do' && next?.text === 'not' ? 2 : /^(?:don't|never|always|not)$/.test(text) ? 1 : 0;
  const verb = said[at]?.text ?? '';
  return (
    (EVERYDAY_VERBS.has(verb) || CARE_VERBS.has(verb)) &&
    !HANDLED.test(verb) &&
    !NO_ADVICE.test(verb) &&
    (verb === 'count' || !crafty(said))
  );
}

/** What may be done to stitches. */
const HANDLED =
  /^(?:that|hold|cut|break|use|draw|set|leave|tie|attach|stitch|bring|wind|wrap|drop)$/;
const NO_ADVICE = /^(?:keep|make|close|stop)$/;

const ASIDE =
  /^(?:me|us|time|too|border|edge|edging|fancy|measure|tight|tightly|good|least|that's|how)$/;

/** "for good measure", "in your own time", "nice and loose": nothing of knitting is named. */
function bare(said: readonly Token[]): boolean {
  const [{ text }] = said;
  const known = ({ kind, text: w }: Token): boolean =>
    kind !== 'word' ||
    ASIDE.test(w) ||
    EVERYDAY.has(w) ||
    FILLERS.has(w) ||
    LEADS_ON.test(w) ||
    /[a-z]{3}ly$/.test(w);
  return (
    said.length > 1 &&
    /^(?:for|with|in|at|by|nice|not|very|as|without|nothing|easy|plain)$/.test(text) &&
    !crafty(said) &&
    said.every(known)
  );
}
