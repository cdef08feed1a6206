/**
 * Words for stitches, rounds, knitting and purling that the text explains ("omg = round, m = stitch", "loops are
 * stitches") or that translators leave in. In: the designer's text. Out: places, and what they are read as.
 */
import { raw, regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';

/** Spaces are bounded everywhere, so that many of them stay linear. */
const LETTER = 'a-zåäöøæéèêçñüß';
const WORD = `[${LETTER}]{1,12}`;
const MEANT = raw`yarn[ -]?overs?|stitch(?:\(?es\)?)?|sts?|round\(s\)|rounds?|rnds?|row\(s\)|rows?|knit|purl|together`;
const BEHIND = '\\)?["”]?(?=[ \\t]{0,8}(?:[,;.)|\\n]|$|or\\b|and\\b))';
const WIDE = `(?:\\(?(?:a |an )?["“]?(${MEANT})${BEHIND})`;
/** "omg = omgang = round", "m – mask (stitch)", "loops are stitches", "a "turn" is a round". */
const EQUALS = regex.gi`(?<![${LETTER}0-9-])["“]?(${WORD})(\.)?["”]?[ ]{0,8}(?:=|:=)[ ]{0,8}(?:${WORD}\.?[ ]{0,8}[=(/][ ]{0,8})?${WIDE}`;
const SAYS = regex.gi`(?<![${LETTER}0-9-])["“]?([${LETTER}]{3,12})["”]?()[ ](?:are|is|means?|stands? for)[ ]${WIDE}`;
const LISTED = regex.gim`(?<=^|[,;:(][ ]{0,8})(${WORD})(\.)?[ ]{0,8}[–—:-][ ]{0,8}(?:${WORD}\.?[ ]{0,8}\()${WIDE}`;
/** Words with a meaning of their own, or whose meaning is known. */
const KNOWN =
  /^(?:k|p|knit|purl|st|sts|stitch|stitches|rnd|rnds|rd|round|rounds|row|rows|r|st st|rep|repeat|there|these|those|they|that|this|which|it|each|every|all|remaining|needles?|sides?|end|to|on|at|a|an|in|i|is|of|and|or|work|one|next|last|first|same|plain|main|rest|edge|what|garter|ridge|tog|together|count|total|gauge|tension|rs|ws|odd|even|both|other|rib|corner|marker|cast|co|bo|dec|inc)$/i;

/** Words of other languages that stand for nothing else, and what pairs with them. */
const FOREIGN: Readonly<Record<string, string>> = {
  stitch: 'maschen?|maske[rn]?|maskor|mailles?|steken',
  round: 'omgange?n?|omgaenge|omgångar|varven?',
};
const TOGETHER =
  /\b(?<=\b(?:knit|purl|k|p|re|li|[2-9](?: (?:sts|stitches|re|li))?) )(?:zus(?:ammen)?\b\.?|sammen\b|ihop\b|ensemble\b|samen\b|insieme\b)/gi;
/** "Cast on 6 m": used as stitches, though nothing explains it. */
const CAST =
  /\b(?:cast(?:ing)?[ -](?:on|up)|co|lay (?:up|on)|put (?:up|on)|strike (?:up|on)|mount|set up)\b[ a-z]{0,14} \d+ (points|meshes|masks|m)\b(?![ ]*of)/i;

/** "to the end." stays English where "end." (endroit) is explained as knit. */
const ENDED = '(?<!\\b(?:the|to|at|each|every|other|this|of|row|round|an|by) )';

/** Most words of one text. Chosen. */
const MOST = 16;

interface Own {
  readonly word: string;
  readonly dotted: boolean;
  readonly meant: string;
}

function definitions(text: string): { own: Own[]; at: readonly (readonly [number, number])[] } {
  const own: Own[] = [];
  const at: [number, number][] = [];
  for (const re of [EQUALS, SAYS, LISTED]) {
    for (const m of text.matchAll(re)) {
      const [all, word, dot, told] = m;
      const letter = /^(?:knit|purl)$/i.test(told) && /^(?:r|end)$/i.test(word);
      if (letter ? word.length > 1 && dot !== '.' : KNOWN.test(word)) continue;
      if (word.toLowerCase() === told.toLowerCase()) continue;
      const meant = told.toLowerCase().replace(/\(?es\)?$|\(s\)$|s$/, '');
      const one = /^yarn/.test(meant) ? 'yo' : ({ st: 'stitch', rnd: 'round' }[meant] ?? meant);
      own.push({ word: word.toLowerCase(), dotted: dot === '.', meant: one });
      at.push([m.index, m.index + all.length]);
      if (own.length >= MOST) return { own, at };
    }
  }
  const cast = CAST.exec(text)?.[1].toLowerCase();
  if (cast && !own.some((o) => o.word === cast.replace(/e?s$/, '')))
    own.push({
      word: cast === 'meshes' ? 'mesh' : cast.replace(/s$/, ''),
      dotted: false,
      meant: 'stitch',
    });
  return { own, at };
}

const MANY: Readonly<Record<string, string>> = { stitch: 'stitches', round: 'rounds', row: 'rows' };

/** "Edge stitches: slip the first stitch of each row, knit the last." */
const EDGE_TOLD =
  /\b(?:edge|selvedge|selvage) (?:stitch(?:es)?|sts?\b\.?)[^.\n]{0,30}?\bslip(?:ped)? the first\b/i;
/** An edge stitch among the stitches of a row, by its name alone. */
const EDGE =
  /\b(?<=[:,;*)\]][ ]{0,3}|^ {0,3}|\b(?:and|then) )(?:an? |the |1 |one )?(?:(?:edge|selv(?:edge|age)?|border|seam|hem|spare)(?:[ -]|\. ?)(?:stitch|st\b\.?)|(?:1 |one |(?<=[:,;*)\]][ ]{0,3}))selv(?:edge|age|\.)?|(?:stitch|st) (?:of|for|as) (?:the |a )?(?:edge|border|selvedge|selvage|seam))(?=[ ]?[,;.=*([]|[ ]?$)/gim;

/** Edge stitches are slipped at the beginning where the text says so, else knitted (common practice). */
function edgeStitches(text: string): Replacement[] {
  const first = EDGE_TOLD.test(text) ? 'sl 1' : 'k1';
  return readAs(text, EDGE, ({ index }) => {
    const before = text.slice(Math.max(0, index - 160), index);
    if (/\b(?:cast(?:ing)?[ -]on|co|mount|strike on|put|lay (?:up|on))[ :][^\n]*$/i.test(before))
      return null;
    return /[:\n] *$/.test(before.slice(-8)) ? first : 'k1';
  });
}

export function ownWords(text: string): Replacement[] {
  const out: Replacement[] = edgeStitches(text);
  const { own, at } = definitions(text);
  const inside = (i: number): boolean => at.some(([from, to]) => i >= from && i < to);
  for (const { word, dotted, meant } of own) {
    const verb = MANY[meant] === undefined;
    // "loops", "loop"; "r2" of a letter that means knit.
    const stem = word.length > 3 ? word.replace(/(?<=[^s])s$/, '') : word;
    const end = verb
      ? '(?=\\d|[^a-z0-9]|$)'
      : `(e?s|n|r)?${dotted ? '\\.?' : ''}(?![${LETTER}0-9])`;
    const found = regex.gi`(?<![${LETTER}0-9])${word === 'end' ? ENDED : ''}${stem}${verb && dotted ? (word === 'end' ? '\\.' : '\\.?') : ''}${end}`;
    for (const m of text.matchAll(found)) {
      if (inside(m.index)) continue;
      const many =
        m[1] !== undefined ||
        /(?:\d|\b(?:all|these|remaining))[ ]*$/i.test(
          text.slice(Math.max(0, m.index - 12), m.index),
        );
      const as = verb ? `${meant} ` : many ? MANY[meant] : meant;
      out.push({
        from: m.index,
        to: m.index + m[0].length,
        text: verb && !/\d/.test(text[m.index + m[0].length] ?? '') ? meant : as,
      });
    }
  }
  for (const [meant, words] of Object.entries(FOREIGN)) {
    const found = regex.gi`(?<![${LETTER}0-9])(?:${words})(?![${LETTER}0-9])`;
    out.push(...readAs(text, found, ({ index }) => (inside(index) ? null : meant)));
  }
  return [...out, ...readAs(text, TOGETHER, 'together')];
}
