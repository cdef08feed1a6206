/**
 * Colours of rounds: "with CC", "change to MC", "join colour B". In: a cursor at the words. Out: the colour
 * in one spelling (`MC`, `CC`, `CC2`, `CC A`, `colour B`, `dark red`), the cursor behind it; null otherwise.
 */
import { isNoYarnWord } from '../lex/yarn-names.ts';
import { COLOUR_SHADES, COLOUR_WORDS } from '../lexicon/colour-words.ts';
import { raw, regex } from '../lexicon/expression.ts';
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

/** A yarn that the text calls by a name of its own (`lex/yarn-names.ts`). */
const OWN_YARN = /^ownyarn[1-9]$/;

/** Words that take a colour up. */
const TAKES_UP =
  'with|using|in|use|change|changing|join|joining|rejoin|rejoining|switch|switching|swap|attach|attaching|add|tie|bring|take|pick|go|come|return|returning|revert|continue|cont|carry|proceed|start|begin|work|back|drop|break';
const TO = 'to|in|with|back|up|on|again|over|using';

export function readColour(c: TokenCursor): string | null {
  return c.attempt(() => (says(c, `${TAKES_UP} ${TO}* the|your?`) ? colourName(c) : null));
}

/** "with CC", "in colour B": what the rounds of one sentence are worked in. */
export function inColour(c: TokenCursor): string | null {
  return /^(?:with|using|in)$/.test(c.word()) ? readColour(c) : null;
}

export function colourName(c: TokenCursor): string | null {
  return c.attempt(() => {
    c.phrase('the|your');
    const w = c.word();
    if (/^(?:mc|cc\d?)$/.test(w)) {
      c.i++;
      return w.toUpperCase();
    }
    if (OWN_YARN.test(w)) {
      c.i++;
      c.phrase('colour|color|yarn|shade|wool');
      return w;
    }
    if (c.phrase('main|first|background|ground colour|color|yarn|shade|wool')) return 'MC';
    if (c.phrase('contrast|contrasting|second|other|new colour|color|yarn|shade|wool')) {
      const letter = /^[a-h]$/.exec(c.word());
      if (letter) c.i++;
      return letter ? `CC ${letter[0].toUpperCase()}` : 'CC';
    }
    if (/^(?:contrast|main)$/.test(w) && closes(c, 1)) {
      c.i++;
      return w === 'main' ? 'MC' : 'CC';
    }
    if (c.phrase('colour|color|yarn|shade|wool')) {
      const letter = /^[a-h]$/.exec(c.word());
      const n = c.isNumber() ? c.number() : null;
      if (letter) c.i++;
      else if (n === null) return null;
      return `colour ${letter ? letter[0].toUpperCase() : n}`;
    }
    if (/^[b-h]$/.test(w) || (w === 'a' && closes(c, 1))) {
      c.i++;
      return `colour ${w.toUpperCase()}`;
    }
    return plainWord(c);
  });
}

/** "red", "dark blue yarn": a word that is nothing else here, since its clause ends with it. */
function plainWord(c: TokenCursor): string | null {
  const shade = COLOUR_SHADES.has(c.word()) ? c.word() : null;
  const at = shade ? 1 : 0;
  const word = c.word(at);
  if (!COLOUR_WORDS.has(word)) return null;
  const yarn = /^(?:colou?r|yarn|shade|wool)$/.test(c.word(at + 1)) ? 1 : 0;
  if (!closes(c, at + 1 + yarn)) return null;
  c.i += at + 1 + yarn;
  return [...(shade ? [shade] : []), word].join(' ');
}

/** A clause ends here, or goes on without a word that "a" or "contrast" would belong to. */
function closes(c: TokenCursor, ahead: number): boolean {
  return (
    c.peek(ahead) === null ||
    c.mark('.,;:)', ahead) ||
    /^(?:and|again|from|for|throughout|only|once|instead|up|along|at|hanging|loosely|etc|knit|purl|work)$/.test(
      c.word(ahead),
    )
  );
}

/** What is said of a change besides the colours. */
const BESIDES =
  'again|instead|once|more|now|from|here|on|this|point|onwards|throughout|for|the|rest|as|follows|hanging|aside|down|off|at|side|back|there|attached|up|only|alone|just';

/**
 * "Change to CC.", "Break off MC and join CC.", "Drop A, join B, and …": colours dropped and taken up; the cursor
 * behind the sentence or, where it goes on, behind the last of them. Null where anything else is said.
 */
export function colourChange(c: TokenCursor): { colour: string | null } | null {
  return c.attempt(() => {
    let colour: string | null = null;
    let changes = 0;
    let lasting = false;
    for (let n = 0; n < 5; n++) {
      const start = c.i;
      c.eatMark(',;-');
      says(c, 'and|then|now|next|after|that|from|here|on*');
      c.eatMark(',');
      const dropped = c.attempt(() =>
        says(c, 'break|breaking|cut|cutting|snip|drop|dropping|fasten|leave|leaving|let off? the?')
          ? colourName(c)
          : null,
      );
      // "Break off B and C"
      while (dropped && c.takes(() => says(c, 'and|,|&*') && colourName(c) !== null));
      const { i } = c;
      const taken = dropped ? null : (readColour(c) ?? usedAgain(c));
      if (!dropped && !taken) {
        c.i = start;
        break;
      }
      if (taken) {
        colour = taken;
        lasting ||= !/^(?:with|using|in|work)$/.test(c.word(i - c.i));
      }
      changes++;
      says(c, `${BESIDES}*`);
      // "With MC, continue as follows."
      c.takes(() => {
        c.eatMark(',');
        return says(c, 'continue|cont|carry|go|work|proceed on? as follows') !== null;
      });
    }
    if (changes === 0) return null;
    const ends = c.done || c.mark('.;:!');
    const goesOn = lasting && (c.mark(',') || c.word() === 'and');
    return ends || goesOn ? { colour } : null;
  });
}

const RESTS =
  ",|;|-|(|and|but|by|while|always|please|just|simply|you|we|can|may|should|there|is|no|need|to|do|don|'|t|don't|not|never|instead|of|without|be|let|them|it|both|the|yarn|yarns|colour|colours|color|colors*";
const KEEPS =
  'carry|carrying|carried|twist|twisting|leave|leaving|let|letting|keep|keeping|hold|holding|strand|stranding|run|running|cut|cutting|break|breaking';
const OF_YARN =
  'it|them|the|your|one|a|both|yarn|yarns|wool|strand|strands|colour|colours|color|colors|other|others|unused|resting|idle|waiting|old|not|being|used|in|use|needed|worked|with|at|time';
const LIES =
  'up|along|hang|hanging|rest|resting|wait|waiting|the|at|on|over|in|loosely|inside|edge|side|sides|back|behind|wrong|of|to|work|attached|start|beginning|round|rounds|row|rows|seam|stitch|stripe|stripes|each|every|until|till|needed|again|between|around|round|one|another|other|off|#';

/** ", carrying A up the inside", "; don't cut the yarns but carry them up": what is done with a colour that rests. */
export function restsColour(c: TokenCursor): boolean {
  return c.takes(() => {
    const start = c.i;
    says(c, RESTS);
    if (!says(c, KEEPS)) return null;
    for (let n = 0; n < 4; n++) {
      if (!colourName(c)) says(c, `${OF_YARN}*`);
      says(c, `${LIES}*`);
    }
    c.eatMark(')');
    const said = c.slice(start, c.i);
    const yarn = /\b(?:yarns?|wool|colou?rs?|strands?|unused|resting|other|it|them)\b/.test(said);
    return (yarn || namesColour(c, start)) &&
      (c.done || c.mark('.,;:)') || /^(?:and|but|until)$/.test(c.word()))
      ? true
      : null;
  });
}

/** A colour by its name stands among the words from token `start` on. */
function namesColour(c: TokenCursor, start: number): boolean {
  const { i } = c;
  let found = false;
  for (c.i = start; c.i < i && !found; c.i++) {
    const at = c.i;
    found = colourName(c) !== null;
    c.i = at;
  }
  c.i = i;
  return found;
}

/** "the main colour is used again" */
function usedAgain(c: TokenCursor): string | null {
  return c.attempt(() => {
    const colour = colourName(c);
    return colour && says(c, 'is|will|be|should|now|then|again* used|taken|picked|joined|worked')
      ? colour
      : null;
  });
}

const LETTER_IS =
  /\b(?:yarn|colou?r|shade)?\s*\b([a-h])\s*(?:=|\(|is\s+the)\s*(?:the\s+)?(mc|cc\d?|main|contrast)\b/g;
const NAME_IS =
  /\b(mc|cc\d?|main(?:\s+colou?r)?|contrast(?:ing)?(?:\s+colou?r)?)\s*(?:=|\(|:|is)\s*(?:the\s+)?(?:yarn|colou?r|shade)?\s*([a-h])(?=\s*(?:[),.;:(/-]|$|\n))/gm;

/** "MC = A", "yarn B (CC)": colours that the text gives two names, the letter to the other. In: the whole text. */
export function coloursAlike(text: string): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  const add = (letter: string, name: string): void => {
    const short = /^m/.test(name) ? 'MC' : /^cc\d/.test(name) ? name.toUpperCase() : 'CC';
    out.set(`colour ${letter.toUpperCase()}`, short);
  };
  for (const [, letter, name] of text.matchAll(LETTER_IS)) add(letter, name);
  for (const [, name, letter] of text.matchAll(NAME_IS)) add(letter, name);
  return out;
}

const WORD = `(?:(?:${[...COLOUR_SHADES].join('|')}) )?(?:${[...COLOUR_WORDS].join('|')})`;
const NAMED = raw`(?:mc|cc\d?|ownyarn[1-9]|main colou?r|contrast(?:ing)? colou?r(?: [a-h])?|(?:colou?r|yarn|shade) (?:[a-h]|\d))`;
const LETTER = '[a-h](?=\\s*(?:[),.;:]|$|\\n|and\\b))';
const ANY = `(?:the |your )?(${NAMED}|${LETTER}|${WORD})\\b`;
const WORKED = /\b(?:knit|purl|work|join|then|rounds?|rows?|rnds?|until|stitch markers?)\b/;

/** A colour's name as it was written, in one spelling. */
function spelled(name: string): string {
  const letter = /(?:^| )([a-h]|\d)$/.exec(name)?.[1];
  if (/^contrast/.test(name)) return letter ? `CC ${letter.toUpperCase()}` : 'CC';
  if (/^main/.test(name)) return 'MC';
  if (letter) return `colour ${letter.toUpperCase()}`;
  return /^(?:mc|cc)/.test(name) ? name.toUpperCase() : name;
}

/** "With A, cast on 40", "Cast on 40 sts in MC", "Bind off in CC": colours of the edges. In: the whole text. */
export function edgeColours(text: string): { castOn: string | null; ending: string | null } {
  return {
    castOn: edgeColour(text, '(?:cast(?:ing)?[ -]on|pick(?:ing)? up and knit)'),
    ending: edgeColour(text, '(?:bind|cast)(?:ing)?[ -]off'),
  };
}

function edgeColour(text: string, edge: string): string | null {
  const led = regex.plain`\b(?:with|using|in) ${ANY}([^.;\n]{0,40}?)\b${edge}\b`.exec(text);
  if (led && !WORKED.test(led[2])) return spelled(led[1]);
  const behind = regex.plain`\b${edge}\b([^.;\n]{0,60}?)\b(?:with|using|in) ${ANY}`.exec(text);
  return behind && !WORKED.test(behind[1]) ? spelled(behind[2]) : null;
}

/** What may stand between a colour's name and how it looks; "Main colour (MC):" has its short name between them too. */
const MARK = '(?:[-–—=:(]|is\\b|in\\b)';
const SHORT = `(?:\\s*\\((?:${NAMED}|[a-h])\\))?`;
const LOOKS = `${WORD}(?: (?:heather|marle?d?|m[eé]lange|tweed|mix|flecked|fleck|ombr[eé]|variegated))?`;
const TOLD = regex.g`\b(?:(${NAMED})|([a-h])(?=\s*[-–—=:(]))${SHORT}\s*${MARK}?\s*(?:the )?(${LOOKS})\b(?! markers?)`;
/** "Colours: A cream, B dark red": a list of them, the letters bare. */
const LISTED = regex.g`(?:^|[:,;]|\band)\s*([a-h])\s+(${LOOKS})(?=\s*(?:[,;.(\n]|and\b|$))`;
/** "Cream (A) and dark red (B)", "cream for A". */
const BEHIND = regex.g`\b(${LOOKS})(?: (?:yarn|wool|colou?r))?\s*(?:\(|for\b(?: the)?)\s*(${NAMED}|[a-h])(?=\s*(?:[),.;:\n]|and\b|$))`;

/** "MC = oatmeal heather": whatever a yarn is called. */
const CALLED = regex.gm`\b(${NAMED}|[a-h])\s*=\s*(?!(?:the )?(?:${NAMED}|[a-h]|main|contrast)\b)([a-z][a-z' -]{1,30}[a-z])(?=\s*[(),.;\n]|\s*$)`;
/** "Colour A: oatmeal heather" on a line of its own or in a list of yarns: no work. */
const STATED = regex.gm`(?:^[ \t]*|[:;,][ \t]*)(${NAMED})${SHORT}[ \t]*[-–—:][ \t]*(?!(?:the )?(?:${NAMED}|[a-h]|k|p|knit|purl|work|rep|repeat|cast|bind|join|main|contrast)\b)([a-z][a-z' -]{1,30}[a-z])(?=[ \t]*(?:[(),;\n]|$))`;

/** "Row 2 (WS), contrast colour B: ptbl, …": the label of a round, behind whose colour stands what is worked. */
const WORKS =
  /\b(?:rounds?|rnds?|rds?|rows?|r|w)\.? ?\d|\b(?:next|every|each|all|last|following|other)\b/;

/** "Yarn: MC (oatmeal), CC (grey heather)", "Double knitting yarn: …": in a line of yarns all that stands in brackets behind a colour. */
const YARNS =
  /^[ \t]*(?:(?:yarns?|colou?rs?|shades?|wools?|materials?)\b|(?:[a-z0-9-]+ ){1,3}(?:yarns?|wools?)[ \t]*:)[^\n]*/gm;
const BRACKETED = regex.g`\b(${NAMED}|[a-h])\s*\(([a-z][a-z' -]{1,30}[a-z])\)`;

/** "MC = oatmeal", "Yarn A: navy", "cream (CC)": what colours look like. In: the whole text. */
export function colourWords(text: string): Readonly<Record<string, string>> {
  const out: Record<string, string> = {};
  const tell = (name: string, word: string): void => {
    const said = spelled(name);
    // "grey" of "grey heather" is part of what is said.
    if (out[said] === undefined || word.startsWith(`${out[said]} `)) out[said] = word;
  };
  const mayLook = (word: string) => !word.split(/[ -]/).some(isNoYarnWord);
  for (const [line] of text.matchAll(YARNS))
    for (const [, name, word] of line.matchAll(BRACKETED)) if (mayLook(word)) tell(name, word);
  for (const [, name, word] of text.matchAll(CALLED)) tell(name, word);
  for (const [, name, letter, word] of text.matchAll(TOLD)) tell(name ?? letter, word);
  for (const [, word, name] of text.matchAll(BEHIND)) tell(name, word);
  for (const [, name, word] of text.matchAll(LISTED)) tell(name, word);
  for (const m of text.matchAll(STATED)) {
    const front = text.slice(text.lastIndexOf('\n', m.index) + 1, m.index);
    if (!WORKS.test(front)) tell(m[1], m[2]);
  }
  return out;
}
