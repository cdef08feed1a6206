/**
 * What stands before the first round: how many stitches are cast on, how they are joined, marked and shared. In: the
 * statements of the grammar. Out: counts and places; what is missing or does not agree is said.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { CastOn, Join, SetUp, Statement } from '../grammar/ast.ts';
import { placesOf } from '../grammar/statements/cast-on.ts';
import type { DeclaredRepeats } from '../grammar/steps/declared-repeats.ts';
import type { Step } from '../grammar/steps/steps.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import { RoundExpander } from '../work/expand.ts';
import { MOST_STITCHES } from '../work/round-buffer.ts';

export function checkCastOn(castOn: CastOn, at: Statement, found: DiagnosticList): number {
  for (const stated of castOn.stated) {
    if (stated === castOn.count) continue;
    found.error(
      'stated-count-wrong',
      at,
      `${stated} is stated, but ${castOn.count} stitches are cast on`,
    );
  }
  if (castOn.count <= MOST_STITCHES) return castOn.count;
  found.error(
    'plan-too-big',
    at,
    `more than ${MOST_STITCHES.toLocaleString('en-US')} stitches cannot be followed`,
  );
  return 0;
}

/** Without a cast-on the first round may tell how many stitches it works. */
export function guessCastOn(statements: readonly Statement[], list: StitchRegistry): number {
  const first = statements.find((s) => s.kind === 'round');
  if (first?.kind !== 'round' || first.body.kind !== 'steps') return 0;
  const fixed = new RoundExpander(list).fixedOfAll(first.body.steps);
  if (fixed !== null && fixed > 0 && fixed <= MOST_STITCHES) return fixed;
  const stated = first.body.stated?.total ?? first.label?.stated?.total ?? 0;
  return stated <= MOST_STITCHES ? stated : 0;
}

export function sayNoCastOn(found: DiagnosticList, guess: number): void {
  found.error(
    'cast-on-missing',
    { from: 0, to: 1 },
    guess > 0
      ? `the number of stitches to cast on is missing; the first round works ${guess}`
      : 'the number of stitches to cast on is missing',
    `Begin with a line such as: Cast on ${guess > 0 ? guess : 120} sts.`,
  );
}

/** "Each line is worked 4 times, once on each side": as many parts of the stitches cast on. */
export function checkParts(
  { rounds, at }: DeclaredRepeats,
  count: number,
  found: DiagnosticList,
): void {
  if (typeof rounds !== 'number' || !at || rounds < 1 || count % rounds === 0) return;
  found.error(
    'parts-of-cast-on',
    at,
    `${rounds} times to the round is told, but ${count} stitches cannot be shared into ${rounds} alike`,
    'Mend the number of times, or how many stitches are cast on.',
  );
}

/** A second cast-on starts another piece, which a plan does not hold. */
export function onePiece(statements: readonly Statement[]): readonly Statement[] {
  return statements.map((s) =>
    s.kind === 'cast-on'
      ? {
          kind: 'refused',
          code: 'second-piece',
          message: 'a second piece begins here, and only one can be followed',
          hint: 'Make a plan of its own for every piece.',
          from: s.from,
          to: s.to,
        }
      : s,
  );
}

/** What is said from the cast-on up to the first round. */
export function setUpsOf(statements: readonly Statement[], castOnAt: number): SetUp[] {
  const out: SetUp[] = [];
  for (let i = castOnAt + 1; i < statements.length; i++) {
    const s = statements[i];
    if (s.kind === 'round' || s.kind === 'work') break;
    if (s.kind === 'set-up') out.push(s.setUp);
  }
  return out;
}

export function joinOf(setUps: readonly SetUp[]): Join | null {
  return setUps.find((s) => s.join !== null)?.join ?? null;
}

/**
 * "Cast on 97 sts. Join by knitting the last stitch together with the first": one of those cast on is for the join. Lifted
 * over each other the two are crossed, unless the count that is told says otherwise.
 */
export function joinTakes(castOn: CastOn, setUps: readonly SetUp[]): number {
  if (castOn.lessExtra) return 0;
  const taken = setUps.find(
    ({ takesExtra, join, totals }) =>
      takesExtra > 0 && (join?.method !== 'crossed' || totals.includes(castOn.count - takesExtra)),
  );
  return taken?.takesExtra ?? 0;
}

export function placedMarkers(
  castOn: CastOn | null,
  setUps: readonly SetUp[],
  count: number,
  sides: number | null,
  parted = false,
): { markers: readonly number[] } {
  const given = castOn?.markers ?? [];
  if (given.length > 0) return { markers: given };
  const corners = parted || castOn?.cornerMarkers || setUps.some((s) => s.markers === 'corners');
  for (const { markers } of setUps) {
    const places = markers === null || markers === 'corners' ? null : placesOf(markers, count);
    if (places) return { markers: places };
  }
  if (corners && sides !== null && sides > 1 && count % sides === 0) {
    return { markers: placesOf({ every: count / sides }, count) ?? [] };
  }
  return { markers: [] };
}

/** "*k2tog, k to 2 sts before marker, ssk; rep from * 3 more times" where a marker shows the beginning alone: others part the needles. */
export function partsNeedles(statements: readonly Statement[], needles: number): boolean {
  const toMarker = (s: Step): boolean =>
    s.kind === 'group'
      ? s.steps.some(toMarker)
      : 'amount' in s && 'kind' in s.amount && s.amount.kind === 'marker';
  const each = (s: Step): boolean =>
    s.kind === 'group' &&
    s.steps.some(toMarker) &&
    (!('times' in s.amount) || s.amount.times === needles);
  return statements.some(
    (s) => s.kind === 'round' && s.body.kind === 'steps' && s.body.steps.some(each),
  );
}

/** Some round places markers, or marks stitches. */
export function placesMarkers(statements: readonly Statement[]): boolean {
  const places = (s: Step): boolean =>
    s.kind === 'group'
      ? s.steps.some(places)
      : s.kind === 'marker' && /^(?:place|mark)$/.test(s.action);
  return statements.some(
    (s) => s.kind === 'round' && s.body.kind === 'steps' && s.body.steps.some(places),
  );
}

/** "Divide evenly over 4 needles", "2 sts on each needle": each needle holds one side. */
export function needlesShared(setUps: readonly SetUp[], count: number): number | null {
  for (const { perNeedle, needles } of setUps) {
    if (perNeedle !== null && perNeedle > 0 && count % perNeedle === 0) return count / perNeedle;
    if (needles !== null && needles > 1 && count % needles === 0) return needles;
  }
  return null;
}
