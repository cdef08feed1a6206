/** Shaping schedules in whole rounds, and how to say them. */

export interface Schedule {
  /** Shaping rounds in every `rounds` rounds. */
  readonly shaping: number;
  readonly rounds: number;
}

/** Longest repeat a knitter is asked to count. Chosen. */
const LONGEST_REPEAT = 8;
/** Longest gap that is told as "every nth round". Chosen. */
const LONGEST_GAP = 24;

/** The simplest whole-round schedule within 1 % of the wanted mean, else the nearest of all. */
export function nearestSchedule(every: number): Schedule {
  let best: Schedule = { shaping: 1, rounds: Math.max(1, Math.round(every)) };
  let bestMiss = Math.abs(best.rounds / every - 1);
  for (let rounds = 1; rounds <= LONGEST_REPEAT; rounds++) {
    for (let shaping = 1; shaping <= rounds; shaping++) {
      const miss = Math.abs(rounds / shaping / every - 1);
      if (miss < bestMiss - 1e-9 && bestMiss > 0.01) {
        best = { shaping, rounds };
        bestMiss = miss;
      }
    }
  }
  return best;
}

/** The shortest repeat that has these gaps between shaping rounds, begun anywhere in it; null for none. */
export function scheduleWithGaps(gaps: readonly number[]): Schedule | null {
  for (let rounds = 1; rounds <= LONGEST_GAP; rounds++) {
    for (let shaping = rounds > LONGEST_REPEAT ? 1 : rounds; shaping >= 1; shaping--) {
      for (let phase = 0; phase < shaping; phase++) {
        const at = (k: number) => Math.floor(((k + phase) * rounds) / shaping);
        if (gaps.every((gap, k) => gap === at(k + 1) - at(k))) return { shaping, rounds };
      }
    }
  }
  return null;
}

/** "on 3 rounds of every 4", "every 2nd round", "every round". */
export function scheduleWords({ shaping, rounds }: Schedule): string {
  if (rounds === shaping) return 'every round';
  if (shaping === 1) return `every ${ordinal(rounds)} round`;
  return `on ${shaping} rounds of every ${rounds}`;
}

function ordinal(n: number): string {
  const tail = n % 100 >= 11 && n % 100 <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th');
  return `${n}${tail}`;
}
