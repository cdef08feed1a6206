/**
 * Which rounds are worked in which colour, where the plan says so. In: a Plan. Out: a line for every colour, such as
 * `MC for rounds 1-4 and 9-12`; none where no round has a colour.
 */
import type { Plan } from '../../plan/plan.ts';

export function colourLines({ rounds, worked }: Pick<Plan, 'rounds' | 'worked'>): string[] {
  const word = worked === 'round' ? 'round' : 'row';
  const runs = new Map<string, string[]>();
  for (let from = 0; from < rounds.length; ) {
    const { colour } = rounds[from];
    let to = from + 1;
    while (to < rounds.length && rounds[to].colour === colour) to++;
    if (colour !== undefined) {
      const list = runs.get(colour) ?? [];
      list.push(to === from + 1 ? `${to}` : `${from + 1}-${to}`);
      runs.set(colour, list);
    }
    from = to;
  }
  return [...runs].map(([colour, list]) => {
    const one = list.length === 1 && !list[0].includes('-');
    const last = list.pop();
    const named = list.length > 0 ? `${list.join(', ')} and ${last}` : last;
    return `${colour} for ${word}${one ? '' : 's'} ${named}`;
  });
}
