/**
 * Round work ↔ flat work: the same fabric, worked on two needles with seam stitches, or in the round.
 *
 * Input: a Plan. Output: plan text whose loops inside the seam are the same. Even rows (odd ones, where garter
 * begins with a purl round) are worked from the wrong side: order reversed, knit and purl exchanged, decreases in their wrong-side forms.
 * Crossings have no wrong-side form in the trade: they are moved to the next right-side row, and said.
 */
import { turnedEdges } from '../../plan/edge-ways.ts';
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { headerOf } from '../../plan/write/header.ts';
import type { DraftRound } from '../../plan/write/plan-text.ts';
import { chooseSeam, type Seam, type SeamStitches, SINGLE, withSeam } from '../motif/seam-rows.ts';
import { turnNames } from './facing.ts';
import { planTextLike } from './own-terms.ts';

export interface Turned {
  readonly text: string;
  /** What could not be kept as it was, in a knitter's words. */
  readonly notes: readonly string[];
}

/** Decreases without a name on the other side → the nearest one that has one. */
const NEAREST: Readonly<Record<string, string>> = { sk2p: 'sssk' };

/** A plan worked in the round → the same worked flat, with one stitch more for the seam or with two. */
export function turnFlat(plan: Plan, asked: SeamStitches | Seam = 1): Turned {
  if (plan.worked === 'flat')
    return { text: plan.text, notes: ['This plan is worked flat already.'] };
  refuseShortRows(plan, 'flat');
  const notes: string[] = [];
  if (plan.join.halfTurns !== 0)
    notes.push('Worked flat, the piece is seamed without a twist: the twisted join is given up.');
  else if (plan.join.method !== 'plain')
    notes.push('Worked flat there is no join: its method is left out.');
  const shown = rightSideRounds(plan);
  const wrongSideFirst = ridgesFirst(shown);
  const inside = moveCrossings(shown, wrongSideFirst, notes);
  const { seam, why } =
    typeof asked === 'number' ? chooseSeam(inside, asked) : { seam: asked, why: null };
  if (why) notes.push(why);
  const rounds = inside.map((names, i): DraftRound => {
    const row = withSeam(names, seam);
    const wrongSide = (i % 2 === 1) !== wrongSideFirst;
    return {
      names: wrongSide ? turnRow(row, i + 1, notes) : row,
      wrongSide,
      after: plan.rounds[i].after + seam.begin + seam.end,
      colour: plan.rounds[i].colour,
    };
  });
  return {
    text: planTextLike(plan, {
      header: headerOf({ ...plan, worked: 'flat', seam, join: PLAIN }),
      castOn: plan.castOn + seam.begin + seam.end,
      edges: turnedEdges(plan, 'flat', rounds.at(-1)?.wrongSide === false),
      worked: 'flat',
      rounds,
      ending: plan.ending,
      colours: plan.colours,
    }),
    notes,
  };
}

/** After a turn another side faces: rows and rounds do not change places then. */
function refuseShortRows(plan: Plan, way: string): void {
  if (!hasShortRows(plan)) return;
  throw new RangeError(
    `This plan has short rows: they turn where they stand, so it cannot be rewritten to be worked ${way}.`,
  );
}

/** A plan worked flat → the same worked in the round, without the seam stitches. */
export function turnRound(plan: Plan): Turned {
  if (plan.worked === 'round')
    return { text: plan.text, notes: ['This plan is worked in the round already.'] };
  refuseShortRows(plan, 'in the round');
  const notes: string[] = [];
  if (!plan.seam)
    throw new RangeError(
      'This plan leaves its piece open: joined in the round it would be another piece. If it is sewn, a line such as "Seam: 1 + 0" says with which stitches.',
    );
  const { seam } = plan;
  const rounds = rightSideRounds(plan).map((names, i): DraftRound => {
    const inside = names.slice(seam.begin, names.length - seam.end);
    const edges = [...names.slice(0, seam.begin), ...names.slice(names.length - seam.end)];
    for (const edge of edges)
      if (!SINGLE.has(edge))
        throw new RangeError(
          `Row ${i + 1} works "${edge}" into the seam stitches: it cannot be worked in the round without them.`,
        );
    return {
      names: inside.map((name) => name.replace(/^~/, '')),
      wrongSide: false,
      after: plan.rounds[i].after - seam.begin - seam.end,
      colour: plan.rounds[i].colour,
    };
  });
  return {
    text: planTextLike(plan, {
      header: headerOf({ ...plan, worked: 'round', seam: null, join: PLAIN }),
      castOn: plan.castOn - seam.begin - seam.end,
      edges: turnedEdges(plan, 'round', plan.rounds.at(-1)?.wrongSide === false),
      worked: 'round',
      rounds,
      ending: plan.ending,
      colours: plan.colours,
    }),
    notes,
  };
}

const PLAIN = { method: 'plain', halfTurns: 0 } as const;

/** Every round as the right side shows it, right to left. */
export function rightSideRounds(plan: Plan): string[][] {
  return plan.rounds.map((round) => {
    const names = Array.from(round.works, (id) => plan.kinds[id].name);
    return round.wrongSide ? turnNames(names) : names;
  });
}

function knits(count: number): string[] {
  return Array.from({ length: count }, () => 'k');
}

function turnRow(names: readonly string[], row: number, notes: string[]): string[] {
  const known = names.map((name) => {
    const near = NEAREST[name];
    if (near)
      note(notes, `On wrong-side rows ${name} is worked as the form of ${near}: it leans alike.`);
    return near ?? name;
  });
  return turnNames(known).map((name) => {
    if (!name.startsWith('~')) return name;
    // A cable that stays has been told by its round.
    if (!CROSSING.test(name.slice(1)))
      note(
        notes,
        `"${name.slice(1)}" in row ${row} has no form on the wrong side: check this row.`,
      );
    return name.slice(1);
  });
}

const CROSSING = /^\d+\/\d+(\/\d+)? [LR]P?C$/;

/** Whether the ground begins with a purl round and goes on with a knit one: garter, whose first row is a wrong-side one. */
function ridgesFirst([first = [], second = []]: readonly (readonly string[])[]): boolean {
  const mostly = (names: readonly string[], word: string) =>
    2 * names.filter((name) => name === word).length >
    names.filter((name) => SINGLE.has(name)).length;
  return mostly(first, 'p') && mostly(second, 'k');
}

/** Crossings of wrong-side rounds go to the round after, if their stitches are worked plainly there. */
function moveCrossings(
  rounds: readonly string[][],
  wrongSideFirst: boolean,
  notes: string[],
): string[][] {
  const moved = rounds.map((names) => [...names]);
  const later = new Set<number>();
  for (let i = wrongSideFirst ? 0 : 1; i < moved.length; i += 2) {
    for (let at = 0; at < moved[i].length; at++) {
      const name = moved[i][at];
      if (!CROSSING.test(name)) continue;
      const width = crossingWidth(name);
      const place = producedBefore(moved[i], at);
      const target = moved[i + 1] && plainRun(moved[i + 1], place, width);
      if (target == null || name.includes('P')) {
        note(
          notes,
          `The cable ${name} of round ${i + 1} falls on a wrong-side row of the flat version, and row ${i + 2} has no room for it: move it to an ${wrongSideFirst ? 'even' : 'odd'} round, where the right side faces you.`,
        );
        continue;
      }
      moved[i].splice(at, 1, ...knits(width));
      moved[i + 1].splice(target, width, name);
      later.add(i + 1);
    }
  }
  if (later.size > 0) notes.push(crossedLater([...later], wrongSideFirst ? 'odd' : 'even'));
  return moved;
}

/** Cables are crossed with the right side facing (common practice): rounds whose cables wait a row. */
function crossedLater(rounds: readonly number[], wrongSide: 'odd' | 'even'): string {
  const shown = rounds.slice(0, MAX_SHOWN).map((n) => `round ${n} in row ${n + 1}`);
  const more = rounds.length > MAX_SHOWN ? ', and so on' : '';
  return `Cables are crossed with the right side facing you, so those of ${wrongSide} rounds wait for the next row: ${shown.join(', ')}${more}.`;
}

/** Rounds that are named; the rest goes on the same way. Chosen. */
const MAX_SHOWN = 3;

function crossingWidth(name: string): number {
  return name
    .split(' ')[0]
    .split('/')
    .reduce((sum, part) => sum + Number(part), 0);
}

/** Index in `names` where `width` single knit stitches begin that work loop `place`; null if none. */
function plainRun(names: readonly string[], place: number, width: number): number | null {
  let loops = 0;
  for (let i = 0; i < names.length; i++) {
    if (loops === place) {
      const run = names.slice(i, i + width);
      if (run.length === width && run.every((name) => name === 'k')) return i;
    }
    if (loops >= place) return null;
    loops += stitchKind(names[i])?.consumes ?? 1;
  }
  return null;
}

function producedBefore(names: readonly string[], at: number): number {
  let loops = 0;
  for (let i = 0; i < at; i++) loops += stitchKind(names[i])?.loops.length ?? 1;
  return loops;
}

function note(notes: string[], text: string): void {
  if (!notes.includes(text)) notes.push(text);
}
