/**
 * How the piece begins and ends: cast-on, join, the hole of a centre, bind-off; what suits this plan.
 * In: a Plan. Out: the sentence of the pattern (read back by the plan reader) and how it is done.
 * Common practice throughout: long-tail cast-on for edges, a ring for centres, an elastic bind-off for rims.
 */
import { closesCentre, type EdgeWays } from '../../plan/edge-ways.ts';
import { isPickedUp } from '../../plan/picked-up.ts';
import { joinStitches, type Plan, stitchesAtEnd } from '../../plan/plan.ts';
import { inColour } from '../../plan/write/sentences.ts';
import { stitchCount } from '../../report/words/counts.ts';
import { bothUnits, type LengthUnit } from '../../report/words/length.ts';
import { middleStitches } from './marked-middle.ts';

/** A piece that begins with so few stitches and grows begins at a centre. Chosen: more leave a hole by design. */
const MOST_IN_A_CENTRE = 16;

export function growsFromCentre(plan: Plan): boolean {
  return plan.worked === 'round' && beginsSmall(plan);
}

/** Flat work from the centre: its first edge is drawn together when it is sewn up. */
export function opensAtCentre(plan: Plan): boolean {
  return plan.worked === 'flat' && plan.seam !== null && beginsSmall(plan);
}

function beginsSmall(plan: Plan): boolean {
  const widest = Math.max(plan.castOn, ...plan.rounds.map((round) => round.after));
  return !isPickedUp(plan) && plan.castOn <= MOST_IN_A_CENTRE && widest >= 2 * plan.castOn;
}

const MARKER = 'lace a marker of another colour for the start of the round.';
const JOIN_WITH_MARKER = `Join in the round and p${MARKER}`;

const LONG_TAIL = 'a long-tail cast-on, not tightly';
const MARK_MIDDLE = ' Hang a marker in the middle st.';

/** The cast-on as the pattern says it: the designer's way, where she names one. */
export function castOnLines(plan: Plan, ways: EdgeWays): string[] {
  const how = (own: string) => ways.castOn ?? own;
  const cast = stitchCount(plan.castOn + joinStitches(plan));
  const sts = `${cast}${inColour(plan.colours?.castOn)}`;
  if (isPickedUp(plan))
    return plan.worked === 'flat'
      ? [`Pick up and knit ${sts} along the edge.${middleStitches(plan) ? MARK_MIDDLE : ''}`]
      : [`Pick up and knit ${sts} round the edge. ${JOIN_WITH_MARKER}`];
  if (plan.worked === 'flat')
    return [
      `Cast on ${sts} with ${how(LONG_TAIL)}${opensAtCentre(plan) ? ', leaving a long end for the centre' : ''}.${middleStitches(plan) ? MARK_MIDDLE : ''}`,
    ];
  if (growsFromCentre(plan))
    return [`Cast on ${sts} with ${how('a closed-centre cast-on')}. ${joinWords(plan)}`];
  return [`Cast on ${sts} with ${how(LONG_TAIL)}. ${joinWords(plan)}`];
}

function joinWords({ join, castOn }: Plan): string {
  if (join.method === 'extra')
    return `Join in the round, knitting the last stitch together with the first (${stitchCount(castOn)}), and p${MARKER}`;
  if (join.method === 'crossed')
    return `Join in the round by swapping the first and last sts. P${MARKER}`;
  return JOIN_WITH_MARKER;
}

/** How a closed centre is begun, and what it saves. `stitchMm` null where it is not known. */
export function castOnNotes(
  plan: Plan,
  ways: EdgeWays,
  stitchMm: number | null,
  unit: LengthUnit,
): string[] {
  if (!growsFromCentre(plan) || closesCentre(ways)) return [];
  const hole = stitchMm === null ? null : bothUnits((plan.castOn * stitchMm) / Math.PI, unit);
  if (ways.castOn !== null)
    return hole === null
      ? []
      : [`${capital(ways.castOn)} of ${stitchCount(plan.castOn)} leaves a hole of about ${hole}.`];
  const lines = [
    'Closed-centre cast-on: lay the yarn in a ring with its end hanging down. With the needle or a crochet hook draw a loop up through the ring, then a loop through that one, which makes a stitch; go on until all are made. Work two or three rounds, then pull the end: the ring closes. Fasten the end well, or the centre opens again.',
  ];
  if (hole !== null)
    lines.push(
      `An ordinary edge of ${stitchCount(plan.castOn)} would leave a hole of about ${hole}.`,
    );
  return lines;
}

function capital(words: string): string {
  return words[0].toUpperCase() + words.slice(1);
}

/** The end as the pattern says it; American words. `left`: markers still on the needles. */
export function endingLines(plan: Plan, left: number, { bindOff }: EdgeWays): string[] {
  const markers = left === 0 ? '' : `, removing the ${left === 1 ? 'marker' : 'markers'}`;
  if (plan.ending === 'drawn-up') {
    const sts = stitchesAtEnd(plan) === 1 ? 'last st' : 'remaining sts';
    return [`Cut the yarn, leaving a long end, and draw it through the ${sts}${markers}.`];
  }
  if (plan.ending === 'bound-off')
    return [
      `Bind off all sts ${bindOffWords(plan, bindOff)}${inColour(plan.colours?.ending)}${markers}.`,
    ];
  return [];
}

function bindOffWords(plan: Plan, own: string | null): string {
  if (own?.startsWith('with')) return own;
  return `loosely${own ? ` ${own}` : inPattern(plan)}`;
}

/** A last round of knit and purl is bound off in them, or its edge would flare (common practice). */
function inPattern({ rounds, kinds }: Plan): string {
  const names = new Set(Array.from(rounds.at(-1)?.works ?? [], (id) => kinds[id].name));
  const [knit, purl] = [
    ['k', 'ktbl'],
    ['p', 'ptbl'],
  ].map((some) => some.some((s) => names.has(s)));
  return knit && purl ? ' in pattern' : '';
}

export function endingNotes(plan: Plan, { bindOff }: EdgeWays): string[] {
  if (plan.ending !== 'bound-off' || bindOff?.startsWith('with')) return [];
  return [
    'A tight edge would draw the rim in: bind off with a needle one or two sizes larger, or with an elastic method, such as knitting two together through the back loops and putting the stitch back on the left needle each time.',
  ];
}
