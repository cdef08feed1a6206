/**
 * The largest hole at a join by the slack let in, from several starts: rows of tests/golden/join-openings.md.
 * In: how it is joined, thickness of the yarn, mm. Out: openings by slack, least, middle and most of the starts, mm.
 */
import { type JoinMethod, joinOpening, relaxJoin } from '../../src/cell/join-opening.ts';

export const LOOP_MM = 21;
/** 17.5 and 21 diameters a loop. */
export const YARNS_MM = [1.2, 1] as const;
export const METHODS = ['plain', 'crossed', 'extra', 'flat'] as const satisfies JoinMethod[];
export const SLACKS_MM = [0, 2, 4, 8, 12] as const;
export const STARTS = 3;

export interface OpeningBySlack {
  readonly slackMm: number;
  /** Of the starts that came to rest, ascending, mm. */
  readonly openingsMm: readonly number[];
  /** Of the middle start: whether the hole is that of the strand which hangs below the step. */
  readonly hangs: boolean;
  readonly ordinaryMm: number;
}

/** Throws where no start comes to rest. */
export function openingsBySlack(
  method: JoinMethod,
  yarnMm: number,
  slacksMm: readonly number[] = SLACKS_MM,
  starts = STARTS,
): OpeningBySlack[] {
  const yarn = { method, loopMm: LOOP_MM, yarnMm };
  const bases = Array.from({ length: starts }, (_, start) => relaxJoin({ ...yarn, start }));
  return slacksMm.map((slackMm) => {
    const made = bases.map((base, start) => joinOpening({ ...yarn, start, slackMm }, base));
    const rests = made.filter(({ relaxation }) => relaxation.converged);
    if (rests.length === 0) throw new Error(`${method}, ${slackMm} mm: ${made[0].relaxation.reason}`);
    rests.sort((a, b) => a.openingMm - b.openingMm);
    const { shape, ordinaryGapMm, openingMm } = rests[(rests.length - 1) >> 1];
    return {
      slackMm,
      openingsMm: rests.map((one) => one.openingMm),
      // A quarter of a round above the cast-on's last stitch: below it hangs the strand alone.
      hangs: method !== 'flat' && openingMm > 0 && shape.hole.y < 0.25 * shape.roundMm,
      ordinaryMm: ordinaryGapMm,
    };
  });
}

/** Starts that lie further apart than this are told as a range, mm. */
const TOLD_APART_MM = 0.02;

export function joinReport(rowsOf: typeof openingsBySlack = openingsBySlack): string {
  const lines = [
    `| join | l/d | ordinary | ${SLACKS_MM.join(' | ')} |`,
    `|---|---|---|${SLACKS_MM.map(() => '---').join('|')}|`,
  ];
  for (const method of METHODS) {
    for (const yarnMm of YARNS_MM) {
      const rows = rowsOf(method, yarnMm);
      const told = rows.map(({ openingsMm, hangs }) => {
        const [low, high] = [openingsMm[0], openingsMm[openingsMm.length - 1]];
        const middle = openingsMm[(openingsMm.length - 1) >> 1].toFixed(2);
        const text =
          high - low > TOLD_APART_MM ? `${low.toFixed(2)}–${high.toFixed(2)}` : middle;
        return `${text}${hangs ? '*' : ''}${openingsMm.length < STARTS ? ` (${openingsMm.length})` : ''}`;
      });
      lines.push(
        `| ${method} | ${(LOOP_MM / yarnMm).toFixed(1)} | ${rows[0].ordinaryMm.toFixed(2)} | ${told.join(' | ')} |`,
      );
    }
  }
  return `# The largest hole at a join, by the slack let in

Written by \`npx tsx tests/golden/regenerate-join-openings.ts\` (some four minutes). All in mm; ${LOOP_MM} mm of yarn a loop, ${STARTS} starts
(the laid yarn shaken), told as a range where they lie more than ${TOLD_APART_MM} mm apart. *: the hole is that of the strand, which hangs
below the step. (2): of so many starts, where the others were not at rest after the steps they are given. Sewn flat, 0 is no hole between the two columns that meet.

${lines.join('\n')}

At a plain join every millimetre widens the hole. With loops that change places, or an extra one worked together with the
first, it is not the slack's at first: it lies a round above, between heads pulled apart, and slack let in below eases it by up to a
tenth. It grows once the strand hangs below the step.
`;
}
