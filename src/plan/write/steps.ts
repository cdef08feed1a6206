/**
 * Step tree → the trade's notation, so that `step-reader.ts` reads the same steps again.
 */
import { type Amount, isTarget, type PatternRule, type Step } from '../grammar/steps/steps.ts';

const RULE_WORDS: Record<PatternRule, string> = {
  set: 'work as set',
  knits: 'knit the knits and purl the purls',
  seed: 'work in seed stitch',
  garter: 'work in garter stitch',
  stockinette: 'work in stockinette',
  reverse: 'work in reverse stockinette',
};

function sts(n: number): string {
  return n === 1 ? '1 st' : `${n} sts`;
}

function targetWords(amount: Amount): string {
  if (!isTarget(amount)) return amount.times === 1 ? '' : ` ${amount.times} times`;
  switch (amount.kind) {
    case 'end':
      return amount.count === 0 ? ' to end' : ` to last ${sts(amount.count)}`;
    case 'marker':
      return amount.count === 0 ? ' to marker' : ` to ${sts(amount.count)} before marker`;
    case 'centre':
      return amount.count === 0 ? ' to centre st' : ` to ${sts(amount.count)} before centre st`;
    case 'turn':
      return amount.count === 0 ? ' to last turn' : ` to ${sts(amount.count)} before last turn`;
    case 'next':
      return ` over next ${sts(amount.count)}`;
    case 'rest':
      return ' around';
  }
}

/** One kind of stitch worked `times` times: `k5`, `k3 tbl`, `sl2 wyif`, `ssk 3 times`, `2/2 LC`. */
export function stitchWords(name: string, times: number): string {
  if (name === 'k' || name === 'p') return `${name}${times}`;
  if (name === 'ktbl' || name === 'ptbl') return `${name[0]}${times} tbl`;
  if (name.startsWith('sl1')) {
    const knitwise = name.startsWith('sl1k') ? ' knitwise' : '';
    const yarn = /wy(?:ib|if)/.exec(name)?.[0];
    return `sl${times}${knitwise}${yarn ? ` ${yarn}` : ''}`;
  }
  if (name === 'bo1') return `bind off ${sts(times)}`;
  if (name === 'co1') return `cast on ${sts(times)}`;
  if (name === 'drop1') return times === 1 ? 'drop 1 st' : `[drop 1 st] ${times} times`;
  if (name.endsWith('in 1 st')) return times === 1 ? name : `[${name}] ${times} times`;
  return times === 1 ? name : `${name} ${times} times`;
}

function runWords(name: string, amount: Amount): string {
  if (!isTarget(amount)) return stitchWords(name, amount.times);
  if (amount.kind === 'rest' && (name === 'k' || name === 'p'))
    return name === 'k' ? 'knit' : 'purl';
  const base = name === 'k' || name === 'p' ? name : stitchWords(name, 1);
  const plain =
    name === 'ktbl' || name === 'ptbl' || name.startsWith('sl1') || name.endsWith(' st');
  return plain ? `[${base}]${targetWords(amount)}` : `${base}${targetWords(amount)}`;
}

function stepWords(step: Step, part: number): string {
  switch (step.kind) {
    case 'stitch':
      return runWords(step.name, step.amount);
    case 'pattern': {
      const { amount } = step;
      const far: Amount = isTarget(amount) ? amount : { kind: 'next', count: amount.times };
      const words = RULE_WORDS[step.rule];
      return far.kind === 'rest' ? words : `${words}${targetWords(far)}`;
    }
    case 'marker':
      return step.action === 'place' ? 'pm' : step.action === 'slip' ? 'sm' : 'remove marker';
    case 'turn':
      return step.style === 'wrap'
        ? 'w&t'
        : step.style === 'double'
          ? 'turn and make double st'
          : 'turn';
    case 'spread':
      return `${step.name} evenly ${step.times} times`;
    case 'group': {
      if (step.steps.length === 0) return '';
      const inner = stepsWords(step.steps);
      if (step.part) return `needle ${part}: ${inner}`;
      if (step.eachSide) return `[${inner}] on each side`;
      return `[${inner}]${targetWords(step.amount)}`;
    }
  }
}

/** The whole instruction of one round. */
export function stepsWords(steps: readonly Step[]): string {
  let part = 0;
  const out: string[] = [];
  for (const step of steps) {
    if (step.kind === 'group' && step.part) part++;
    const words = stepWords(step, part);
    if (words !== '') out.push(words);
  }
  return out.join(', ');
}
