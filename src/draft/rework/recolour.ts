/**
 * The colours of a plan on another number of rounds: stripes that come again keep their rounds and go on; otherwise a
 * border keeps its rounds and the other colours their share of the depth.
 * In: a Plan, rounds of the same piece reworked. Out: the rounds, each in its colour, and how that was done, in words.
 */
import type { Plan } from '../../plan/plan.ts';
import { colourInWords } from '../../plan/write/colours.ts';
import type { DraftRound } from '../../plan/write/plan-text.ts';
import { counted } from '../../report/words/counts.ts';

type Coloured = Pick<Plan, 'rounds' | 'colours' | 'worked'>;

/** A first or last colour with at most this share of the rounds is a border. Chosen. */
const BORDER = 0.25;

interface Run {
  readonly colour: string;
  readonly rounds: number;
}

export function recoloured(plan: Coloured, rounds: readonly DraftRound[]): readonly DraftRound[] {
  if (!plan.colours) return rounds;
  const colours = coloursFor(plan, rounds.length);
  return rounds.map((round, i) => ({ ...round, colour: colours[i] }));
}

/** How the colours were kept; null where there are none, or no more nor fewer rounds than before. */
export function recolouredWords(plan: Coloured, rounds: number): string | null {
  const own = plan.rounds.map((r) => r.colour ?? '');
  if (!plan.colours || rounds === own.length) return null;
  const word = plan.worked === 'round' ? 'round' : 'row';
  const runs = runsOf(own);
  if (runs.length < 2) return null;
  const told = (list: readonly Run[]) =>
    list.map((run) => `${counted(run.rounds, word)} in ${colourInWords(run.colour)}`).join(', ');
  const stripes = stripesOf(own);
  if (stripes) {
    const { from, period } = stripes;
    return `The stripes keep their ${word}s (${told(runsOf(own.slice(from, from + period)))}) and go on so${from > 0 ? `, behind the first ${counted(from, word)}` : ''}.`;
  }
  return `Colours keep their share of the depth, borders their ${word}s: now ${told(runsOf(coloursFor(plan, rounds)))}.`;
}

/** The colour of each of so many rounds. */
function coloursFor({ rounds }: Coloured, total: number): string[] {
  const own = rounds.map((r) => r.colour ?? '');
  if (total === own.length) return own;
  const stripes = stripesOf(own);
  if (stripes) {
    const { from, period } = stripes;
    return Array.from({ length: total }, (_, i) =>
      i < from ? own[i] : own[from + ((i - from) % period)],
    );
  }
  return shared(runsOf(own), total).flatMap(({ colour, rounds: n }) =>
    Array.from({ length: n }, () => colour),
  );
}

function runsOf(colours: readonly string[]): Run[] {
  const runs: Run[] = [];
  for (const colour of colours) {
    const last = runs.at(-1);
    if (last?.colour === colour) runs[runs.length - 1] = { colour, rounds: last.rounds + 1 };
    else runs.push({ colour, rounds: 1 });
  }
  return runs;
}

/** Colours that come again over and over, twice at least, all along or behind the first colour. */
function stripesOf(colours: readonly string[]): { from: number; period: number } | null {
  const runs = runsOf(colours);
  if (runs.length < 4) return null;
  for (const from of [0, runs[0].rounds])
    for (let period = 2; from + 2 * period <= colours.length; period++) {
      const again = colours.every((c, i) => i < from + period || c === colours[i - period]);
      if (again && new Set(colours.slice(from, from + period)).size > 1) return { from, period };
    }
  return null;
}

/** So many rounds among the colours: borders keep theirs, the others get their share, one at least. */
function shared(runs: readonly Run[], total: number): Run[] {
  const all = runs.reduce((sum, run) => sum + run.rounds, 0);
  const isBorder = (i: number) =>
    runs.length > 1 && (i === 0 || i === runs.length - 1) && runs[i].rounds <= BORDER * all;
  const borders = runs.reduce((sum, run, i) => sum + (isBorder(i) ? run.rounds : 0), 0);
  const inner = runs.filter((_, i) => !isBorder(i)).length;
  const keep = total - borders >= inner;
  const scale = keep ? (total - borders) / (all - borders) : total / all;
  const wanted = runs.map((run, i) => (keep && isBorder(i) ? run.rounds : scale * run.rounds));
  // Ends of the runs, each a round at least behind the one before it as far as there are rounds.
  let sum = 0;
  let at = 0;
  return runs.map(({ colour }, i) => {
    sum += wanted[i];
    const left = runs.length - 1 - i;
    const end = Math.min(Math.max(Math.round(sum), at + 1), Math.max(at, total - left));
    const rounds = i === runs.length - 1 ? total - at : end - at;
    at += rounds;
    return { colour, rounds };
  });
}
