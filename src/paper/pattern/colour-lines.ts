/**
 * Which rounds are worked in which colour, where the plan says so. In: a Plan. Out: a line for every colour, such as
 * `MC (red) for the beginning edge and rounds 1-4 and 9-12`; none where no round has a colour.
 */
import type { Plan } from '../../plan/plan.ts';
import { colourInWords, coloursOf } from '../../plan/write/colours.ts';

type Coloured = Pick<Plan, 'rounds' | 'worked' | 'colours' | 'ending'>;

export function colourLines(plan: Coloured): string[] {
  const { rounds, worked, colours, ending } = plan;
  if (!colours) return [];
  const word = worked === 'round' ? 'round' : 'row';
  const runs = colourRuns(rounds);
  return coloursOf(plan).map((colour) => {
    const own = runs.filter((run) => run.colour === colour);
    const list = own.map(({ first, last }) => (first === last ? `${first}` : `${first}-${last}`));
    const one = own.length === 1 && own[0].first === own[0].last;
    const parts = [
      ...(colours.castOn === colour ? ['the beginning edge'] : []),
      ...(list.length > 0 ? [`${word}${one ? '' : 's'} ${together(list)}`] : []),
      ...(ending === 'bound-off' && colours.ending === colour ? ['the finishing edge'] : []),
    ];
    const look = colours.words[colour];
    return `${colourInWords(colour)}${look ? ` (${look})` : ''} for ${together(parts)}`;
  });
}

export interface ColourRun {
  readonly colour: string;
  /** 1-based rounds, both included. */
  readonly first: number;
  readonly last: number;
}

/** Rounds of one colour that follow one another. */
export function colourRuns(rounds: Plan['rounds']): ColourRun[] {
  const runs: ColourRun[] = [];
  rounds.forEach(({ colour }, i) => {
    const before = runs.at(-1);
    if (colour === undefined) return;
    if (before?.colour === colour && before.last === i)
      runs[runs.length - 1] = { ...before, last: i + 1 };
    else runs.push({ colour, first: i + 1, last: i + 1 });
  });
  return runs;
}

function together(list: readonly string[]): string {
  return list.length < 2 ? list.join('') : `${list.slice(0, -1).join(', ')} and ${list.at(-1)}`;
}
