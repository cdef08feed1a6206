/**
 * Random plans as text, for properties of verdict and advice: motifs, discs, tubes, rings with a hole,
 * pieces of two halves at different rates, strays, open pieces and twisted rings, of 24 to 112 stitches.
 */
import fc from 'fast-check';

const SHAPES = [0, 3, 4, 4, 4, 5, 6, 8] as const;
const RATES = [0.4, 0.6, 0.8, 1, 1, 1, 1.15, 1.3, 1.7] as const;

const dice = fc.record({
  kind: fc.constantFrom('motif', 'motif', 'motif', 'motif', 'halves', 'halves', 'ring', 'strays', 'tube', 'open', 'twisted'),
  segments: fc.constantFrom(...SHAPES),
  rim: fc.integer({ min: 24, max: 112 }),
  stitchMm: fc.double({ min: 3, max: 6, noNaN: true }),
  aspect: fc.double({ min: 0.5, max: 1, noNaN: true }),
  /** Shaping rate over the flat one, in the outer and the inner half. */
  outer: fc.constantFrom(...RATES),
  inner: fc.constantFrom(...RATES),
  centreOut: fc.boolean(),
  centred: fc.boolean(),
  stagger: fc.boolean(),
  garter: fc.boolean(),
  rounds: fc.integer({ min: 2, max: 14 }),
  noise: fc.array(fc.nat({ max: 9999 }), { minLength: 16, maxLength: 16 }),
}); // biome-ignore format: one dice a line

type Dice = typeof dice extends fc.Arbitrary<infer T> ? T : never;

/** Stitch names of each round, outside in; `before` counts stitches as they lie. */
interface Work {
  castOn: number;
  rounds: string[][];
}

/** Stitches before the round: what stands at the beginning of each of `n` equal segments. */
function shaped(count: number, n: number, centred: boolean, shift: number): string[] | null {
  if (n === 0) return null;
  const each = Math.floor(count / n);
  const extra = count - each * n;
  const out: string[] = [];
  for (let k = 0; k < n; k++) {
    const here = each + (k < extra ? 1 : 0);
    const used = centred ? 3 : 4;
    if (here < used) return null;
    const plain = here - used;
    const before = (shift % (plain + 1)) | 0;
    const knits = (m: number) => Array.from({ length: m }, () => 'k1');
    if (centred) out.push(...knits(before), 's2kp', ...knits(plain - before));
    else out.push('ssk', ...knits(plain), 'k2tog');
  }
  return out;
}

/** `losses` single decreases spread evenly, begun `shift` stitches on. */
function spread(count: number, losses: number, shift: number): string[] | null {
  if (losses <= 0 || count < 2 * losses) return null;
  const out: string[] = [];
  for (let k = 0, at = 0; k < losses; k++) {
    const to = Math.round(((k + 1) * count) / losses);
    const plain = to - at - 2;
    const before = plain > 0 ? shift % (plain + 1) : 0;
    for (let i = 0; i < before; i++) out.push('k1');
    out.push('k2tog');
    for (let i = before; i < plain; i++) out.push('k1');
    at = to;
  }
  return out;
}

const lossOf = (name: string) => (name === 's2kp' ? 2 : name === 'k1' || name === 'm1' ? 0 : 1);

function work(d: Dice): Work {
  const n = d.kind === 'strays' || d.kind === 'open' ? 0 : d.segments;
  const per = n >= 3 ? 2 * n * Math.tan(Math.PI / n) : 2 * Math.PI;
  const flat = per * d.aspect;
  const castOn = n >= 3 ? Math.max(Math.round(d.rim / n), 5) * n : d.rim;
  const rounds: string[][] = [];
  let count = castOn;
  let owed = 0.5;
  const plainRound = () => Array.from({ length: count }, () => 'k1');
  const limit = d.kind === 'ring' || d.kind === 'tube' ? d.rounds : 60;
  while (rounds.length < limit) {
    const i = rounds.length;
    const share = d.kind === 'halves' && count < castOn * 0.55 ? d.inner : d.outer;
    const losses = n >= 3 ? 2 * n : Math.max(4, Math.round(flat * Math.min(share, 1) * 1.5));
    if (d.kind !== 'tube' && d.kind !== 'twisted') owed += (share * flat) / losses;
    const throwOf = d.noise[i % d.noise.length];
    const shift = d.stagger ? throwOf : 0;
    let row: string[] | null = null;
    if (d.kind === 'strays' && throwOf % 3 > 0) {
      row = spread(count, throwOf % 9, throwOf);
      if (row && throwOf % 5 === 0)
        row = row.flatMap((s) => (s === 'k2tog' ? ['k1', 'm1', 'k1'] : [s]));
    } else if (owed >= 1) {
      owed -= 1;
      row =
        n >= 3 ? shaped(count, n, d.centred, (count / n / 2) | 0) : spread(count, losses, shift);
      if (!row) break;
    }
    row ??= plainRound();
    rounds.push(row);
    count += row.reduce((sum, s) => sum - lossOf(s) + (s === 'm1' ? 1 : 0), 0);
    if (count < 8 && d.kind !== 'ring') break;
    if ((d.kind === 'open' || d.kind === 'strays') && rounds.length > d.rounds + 6) break;
    if (d.kind === 'twisted' && rounds.length >= Math.min(d.rounds, 6)) break;
  }
  return { castOn, rounds: rounds.length > 0 ? rounds : [plainRound()] };
}

/** Turned inside out: each decrease becomes an increase at its place. */
function turnedOut({ castOn, rounds }: Work): Work {
  let count = castOn;
  for (const row of rounds) count += row.reduce((s, x) => s - lossOf(x) + (x === 'm1' ? 1 : 0), 0);
  const back = rounds
    .toReversed()
    .map((row) =>
      row.flatMap((s) =>
        s === 's2kp' ? ['m1', 'k1', 'm1'] : s === 'k1' ? ['k1'] : s === 'm1' ? [] : ['kfb'],
      ),
    );
  return { castOn: count, rounds: back };
}

function runs(row: readonly string[]): string {
  const words: string[] = [];
  for (let i = 0; i < row.length; ) {
    let j = i;
    while (j < row.length && row[j] === row[i]) j++;
    if (row[i] === 'k1') words.push(`k${j - i}`);
    else for (let k = i; k < j; k++) words.push(row[i]);
    i = j;
  }
  return words.join(', ');
}

function textOf(d: Dice): string {
  const outward = d.centreOut && d.kind !== 'strays' && d.kind !== 'open' && d.kind !== 'tube';
  const made = outward ? turnedOut(work(d)) : work(d);
  const span = (mm: number) => (100 / mm).toFixed(2);
  const lines = [
    `Gauge: ${span(d.stitchMm)} sts and ${span(d.stitchMm * d.aspect)} rounds = 10 cm`,
    d.kind === 'open' ? 'Worked: flat' : d.kind === 'twisted' ? 'Join: twisted by 1 half turn' : '',
    `Cast on ${made.castOn} sts.`,
  ];
  let count = made.castOn;
  made.rounds.forEach((row, i) => {
    const plain = row.every((s) => s === 'k1');
    const word = d.garter && i % 2 === 1 && plain ? 'purl' : plain ? 'knit' : runs(row);
    count += row.reduce((s, x) => s - lossOf(x) + (x === 'm1' ? 1 : 0) + (x === 'kfb' ? 2 : 0), 0);
    lines.push(`Round ${i + 1}: ${word}. (${count} sts)`);
  });
  if (d.kind === 'open') return lines.join('\n').replaceAll('Round', 'Row').concat('\nBind off.\n');
  const closes = !outward && count <= 24 && d.kind !== 'tube' && d.kind !== 'twisted';
  lines.push(closes ? 'Draw the yarn through the remaining sts.' : 'Bind off.');
  return `${lines.filter(Boolean).join('\n')}\n`;
}

export const randomPlans: fc.Arbitrary<string> = dice.map(textOf);
