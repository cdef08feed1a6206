/**
 * Colours of rounds: "with CC", "change to MC", "join colour B". In: a cursor at the words. Out: the colour
 * in one spelling (`MC`, `CC`, `CC2`, `colour B`), the cursor behind it; null otherwise.
 */
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

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
    if (c.phrase('main|first|background|ground colour|color|yarn|shade|wool')) return 'MC';
    if (c.phrase('contrast|contrasting|second|other|new colour|color|yarn|shade|wool')) {
      const letter = /^[a-d]$/.exec(c.word());
      if (letter) c.i++;
      return letter ? `CC ${letter[0].toUpperCase()}` : 'CC';
    }
    if (/^(?:contrast|main)$/.test(w) && closes(c, 1)) {
      c.i++;
      return w === 'main' ? 'MC' : 'CC';
    }
    if (c.phrase('colour|color|yarn|shade|wool')) {
      const letter = /^[a-f]$/.exec(c.word());
      const n = c.isNumber() ? c.number() : null;
      if (letter) c.i++;
      else if (n === null) return null;
      return `colour ${letter ? letter[0].toUpperCase() : n}`;
    }
    if (/^[bcd]$/.test(w) || (w === 'a' && closes(c, 1))) {
      c.i++;
      return `colour ${w.toUpperCase()}`;
    }
    return null;
  });
}

/** A clause ends here, or goes on without a word that "a" or "contrast" would belong to. */
function closes(c: TokenCursor, ahead: number): boolean {
  return (
    c.peek(ahead) === null ||
    c.mark('.,;:)', ahead) ||
    /^(?:and|again|from|for|throughout|only|once|instead|up|along|at|hanging|loosely)$/.test(
      c.word(ahead),
    )
  );
}

/** What is said of a change besides the colours. */
const BESIDES =
  'again|instead|once|more|now|from|here|on|this|point|onwards|throughout|for|the|rest|as|follows|hanging|aside|down|off|at|side|back|there|attached|up';

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

/** ", carrying A up the inside": what is done with a colour that rests. */
export function restsColour(c: TokenCursor): boolean {
  return c.takes(() => {
    c.eatMark(',');
    if (!says(c, 'carrying|twisting|leaving|letting|keeping|holding|without? cutting|breaking?'))
      return null;
    if (!colourName(c)) return null;
    says(
      c,
      'up|along|hang|hanging|the|at|on|loosely|inside|edge|side|back|wrong|of|work|attached*',
    );
    return true;
  });
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
  /\b(?:yarn|colou?r|shade)?\s*\b([a-d])\s*(?:=|\(|is\s+the)\s*(?:the\s+)?(mc|cc\d?|main|contrast)\b/g;
const NAME_IS =
  /\b(mc|cc\d?|main(?:\s+colou?r)?|contrast(?:ing)?(?:\s+colou?r)?)\s*(?:=|\(|:|is)\s*(?:the\s+)?(?:yarn|colou?r|shade)?\s*([a-d])(?=\s*(?:[),.;:(/-]|$|\n))/gm;

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
