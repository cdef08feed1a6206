/**
 * How the designer begins and ends her piece, where her text says: what is written anew keeps her ways and adds none
 * of its own. In: the text of a Plan. Out: a way each, in her words; null where she leaves it open. Turned between round
 * and flat the edge that is bound off may face the other way.
 */
import { regex } from './lexicon/expression.ts';
import { isPickedUp } from './picked-up.ts';
import type { Plan } from './plan.ts';

export interface EdgeWays {
  /** `a tubular cast-on`. */
  readonly castOn: string | null;
  /** `purlwise`, `with a sewn bind-off`. */
  readonly bindOff: string | null;
}

/** Its ways, and whether it begins on an edge that is there. */
export interface PlanEdges extends EdgeWays {
  readonly pickedUp: boolean;
}

const NAMES =
  'long[- ]tail|tubular|provisional|knitted|cabled?|crochet|italian|channel island|old norwegian|thumb|backwards? loop|picot|i-cord|pinhole|circular|disappearing loop|magic ring|invisible|stretchy|elastic|turkish|two[- ]colou?r|alternating|sewn|suspended|russian|icelandic|lace|three[- ]needle';
/** What stands before a cast-on and names none. */
const NO_NAME =
  'same|usual|normal|first|last|other|next|following|original|initial|whole|new|old|few|more|some|all|any|each|your|my|own';
/** Up to three words behind "with a": whatever she calls it. */
const WHATEVER = `(?!(?:${NO_NAME})\\b)[a-z][a-z'’-]*(?:\\s+(?!(?:${NO_NAME})\\b)[a-z][a-z'’-]*){0,2}?`;
/** "With a tubular cast-on", not "with a long circular cast on 96 sts". */
const named = (what: string) =>
  regex.i`\b(?:(?:with|using|by)\s+(?:an?|the)\s+(?:(?:an?|the)\s+)?(${WHATEVER})|(?:with|using|by|in|an?|the)\s+(${NAMES}))\s+(?:${what})(?!\s*\d|\s+(?:all|sts?|stitch|stitches|edge|row|round)\b)`;
const CAST_ON = named('cast[- ]?on|casting[- ]on');
const BIND_OFF = named('(?:bind|cast|binding|casting)[- ]?off');
const FACED =
  /\b(?:(?:bind|cast)(?:ing)?[- ]?off|bo)\b[^.\n;\d]{0,40}?\b(?:(purl|knit)wise|in (purl|knit)(?! stitch))\b/gi;

export function edgeWays({ text }: Pick<Plan, 'text'>): EdgeWays {
  const found = (what: RegExp) => {
    const m = what.exec(text);
    return m?.[1] ?? m?.[2];
  };
  const [castOn, bindOff] = [found(CAST_ON), found(BIND_OFF)];
  const faced = [...text.matchAll(FACED)].at(-1);
  const face = (faced?.[1] ?? faced?.[2])?.toLowerCase();
  return {
    castOn: castOn ? `${article(castOn)} ${castOn} cast-on` : null,
    bindOff: face ? `${face}wise` : bindOff ? `with ${article(bindOff)} ${bindOff} bind-off` : null,
  };
}

export function edgesOf(plan: Pick<Plan, 'text' | 'castOnAt'>): PlanEdges {
  return { ...edgeWays(plan), pickedUp: isPickedUp(plan) };
}

/** Whether she begins at a ring that closes. */
export function closesCentre({ castOn }: EdgeWays): boolean {
  return /pinhole|circular|disappearing loop|magic ring|invisible/i.test(castOn ?? '');
}

function article(words: string): string {
  return /^[aeiou]/i.test(words) ? 'an' : 'a';
}

/** The same edges on a piece turned between round and flat: bound off on the wrong side, knit is purl. */
export function turnedEdges(
  plan: Pick<Plan, 'text' | 'castOnAt'>,
  to: 'round' | 'flat',
  endsOnRightSide: boolean,
): PlanEdges {
  const edges = edgesOf(plan);
  const { bindOff } = edges;
  const turned: Record<string, string> = { purlwise: 'knitwise', knitwise: 'purlwise' };
  // A ring is for the round alone.
  const castOn = to === 'flat' && closesCentre(edges) ? null : edges.castOn;
  return { ...edges, castOn, bindOff: (endsOnRightSide && turned[bindOff ?? '']) || bindOff };
}
