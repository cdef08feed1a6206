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

/** "on 3 rounds of every 4", "every 2nd round", "every round"; `course`: what a round is called. */
export function scheduleWords(
  { shaping, rounds }: Schedule,
  course: 'round' | 'row' = 'round',
): string {
  if (rounds === shaping) return `every ${course}`;
  if (shaping === 1) return `every ${ordinal(rounds)} ${course}`;
  return `on ${shaping} ${course}s of every ${rounds}`;
}

/** The same where the rounds only come near it: "about every 2nd round", "on about 3 rounds of every 4". */
export function aboutScheduleWords(schedule: Schedule, course: 'round' | 'row' = 'round'): string {
  const words = scheduleWords(schedule, course);
  return words.startsWith('on ') ? words.replace(/^on /, 'on about ') : `about ${words}`;
}

function ordinal(n: number): string {
  const tail = n % 100 >= 11 && n % 100 <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th');
  return `${n}${tail}`;
}
