/**
 * How the designer casts on and binds off, where her text says: the pattern keeps her ways and adds none of its own.
 * In: the text of a Plan. Out: a way each, in trade words; null where she leaves it open. Turned between round and flat
 * the edge that is bound off may face the other way.
 */
import type { Plan } from '../../plan/plan.ts';

export interface EdgeWays {
  /** `a tubular cast-on`. */
  readonly castOn: string | null;
  /** `purlwise`, `with a sewn bind-off`. */
  readonly bindOff: string | null;
}

const NAMES =
  'long[- ]tail|tubular|provisional|knitted|cabled?|crochet|italian|channel island|old norwegian|thumb|backwards? loop|picot|i-cord|pinhole|circular|disappearing loop|magic ring|invisible|stretchy|elastic|turkish|two[- ]colou?r|alternating|sewn|suspended|russian|icelandic|lace|three[- ]needle';
/** "With a tubular cast-on", not "with a long circular cast on 96 sts". */
const named = (what: string) =>
  new RegExp(
    `\\b(?:with|using|by|in|an?|the)\\s+(${NAMES})\\s+(?:${what})(?!\\s*\\d|\\s+(?:all|sts?|stitch)\\b)`,
    'i',
  );
const CAST_ON = named('cast[- ]?on|casting[- ]on');
const BIND_OFF = named('(?:bind|cast|binding|casting)[- ]?off');
const FACED =
  /\b(?:(?:bind|cast)(?:ing)?[- ]?off|bo)\b[^.\n;\d]{0,40}?\b(?:(purl|knit)wise|in (purl|knit)(?! stitch))\b/gi;

export function edgeWays({ text }: Pick<Plan, 'text'>): EdgeWays {
  const castOn = CAST_ON.exec(text)?.[1];
  const bindOff = BIND_OFF.exec(text)?.[1];
  const faced = [...text.matchAll(FACED)].at(-1);
  const face = (faced?.[1] ?? faced?.[2])?.toLowerCase();
  return {
    castOn: castOn ? `${article(castOn)} ${castOn} cast-on` : null,
    bindOff: face ? `${face}wise` : bindOff ? `with ${article(bindOff)} ${bindOff} bind-off` : null,
  };
}

/** Whether she begins at a ring that closes. */
export function closesCentre({ castOn }: EdgeWays): boolean {
  return /pinhole|circular|disappearing loop|magic ring|invisible/i.test(castOn ?? '');
}

function article(words: string): string {
  return /^[aeiou]/i.test(words) ? 'an' : 'a';
}

/** The same edges on a piece turned between round and flat: bound off on the wrong side, knit is purl. */
export function turnedWays(ways: EdgeWays, plan: Plan, other: Plan): EdgeWays {
  const flat = [plan, other].find(({ worked }) => worked === 'flat');
  const onWrongSide = plan.worked !== other.worked && flat?.rounds.at(-1)?.wrongSide === false;
  const turned: Record<string, string> = { purlwise: 'knitwise', knitwise: 'purlwise' };
  const { bindOff } = ways;
  // A ring is for the round alone.
  const castOn = other.worked === 'flat' && closesCentre(ways) ? null : ways.castOn;
  return { castOn, bindOff: (onWrongSide && turned[bindOff ?? '']) || bindOff };
}
