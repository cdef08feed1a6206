/**
 * Every stitch of the table as yarn: in knit, purl and garter ground, in rows and in the round, worked from
 * either side, alone and two side by side, with plain courses below and above.
 */
import { describe, expect, it } from 'vitest';
import { NAMED_STITCHES, stitchKind } from '../../src/plan/stitches/table.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { whole } from '../runs.ts';
import { type SmallPiece, smallPiece } from './small-piece.ts';

/** General kinds that patterns use: decreases, crossings, several loops out of one. */
const GENERAL = `k2tog p2tog k3tog p3tog
1/1 LC;1/1 RC;1/1 LPC;1/1 RPC;2/1 LC;2/1 RC;1/2 LC;1/2 RC;2/1 LPC;2/1 RPC
2/2 LC;2/2 RC;2/2 LPC;2/2 RPC;3/3 LC;3/3 RC;3/3 LPC;3/3 RPC
1/1/1 LC;1/1/1 RC;2/1/2 LC;2/1/2 RC;2/1/2 LPC;2/2/2 RPC
(k1, yo, k1) in 1 st;(k1, p1, k1) in 1 st;(k1, k1 tbl) in 1 st`
  .split('\n')
  .flatMap((line, i) => line.split(i === 0 ? ' ' : ';'));

type Ground = 'knit' | 'purl' | 'garter';

/** One alone and two side by side; the stitch is in the third row from the right side, or the second. */
function pieceWith(name: string, worked: 'flat' | 'round', ground: Ground, side: 'RS' | 'WS') {
  const { consumes, makes } = countsOf(name);
  const edge = worked === 'flat' ? 4 : 10;
  const below = 2 * edge + 5 + 3 * consumes;
  const above = 2 * edge + 5 + 3 * makes;
  const plain = (row: number) => {
    const wrongSide = worked === 'flat' && row % 2 === 1;
    if (ground === 'garter') return worked === 'round' && row % 2 === 1 ? 'p' : 'k';
    return (ground === 'knit') !== wrongSide ? 'k' : 'p';
  };
  const at = side === 'RS' ? 2 : 1;
  const rounds: string[] = [];
  for (let row = 0; row < at; row++) rounds.push(`${plain(row)}*${below}`);
  const p = plain(at);
  rounds.push(`${p}*${edge},${name},${p}*5,${name}*2,${p}*${edge}`);
  for (let row = at + 1; row < at + 4; row++) rounds.push(`${plain(row)}*${above}`);
  return { castOn: below, rounds, worked } satisfies SmallPiece;
}

function countsOf(name: string) {
  const kind = stitchKind(name);
  if (!kind) throw new Error(`no stitch ${name}`);
  return { consumes: kind.consumes, makes: kind.loops.length };
}

const GROUNDS: readonly Ground[] = ['knit', 'purl', 'garter'];
const PLACES = [
  ['flat', 'RS'],
  ['flat', 'WS'],
  ['round', 'RS'],
] as const;

/** Centre lines keep this share of the yarn's thickness apart: laid yarn presses, it is not at rest yet. */
const MIN_DISTANCE = 0.35;
/** Legs that travel four stitches have segments too long to be parted (part-overlaps.ts). */
const MIN_DISTANCE_OF: Readonly<Record<string, number>> = { '2/2/2 RPC': 0.15 };

const NAMES = [...NAMED_STITCHES.map((kind) => kind.name), ...GENERAL];

describe('yarn of every stitch', () => {
  it.each(NAMES.map((name, i) => [name, i] as const))(
    '%s is drawn through its parents, with its neighbours, and runs through no yarn',
    (name, i) => {
      // Each stitch in each place and, over the three, in each ground; in the tests in one of the three.
      PLACES.forEach(([worked, side], k) => {
        if (!whole && k !== Math.floor(i / 3) % 3) return;
        const ground = GROUNDS[(i + k) % 3];
        const { graph, cells, positions } = smallPiece(pieceWith(name, worked, ground, side));
        const yarn = layYarn(graph, cells, positions);
        const where = `${worked}, ${ground} ground, worked from the ${side}`;
        expect(yarn.check.linksChecked, where).toBeGreaterThan(30);
        expect(yarn.check.linksWrong, where).toBe(0);
        const apart = yarn.check.minCentreDistanceMm / (2 * yarn.radiusMm);
        expect(apart, where).toBeGreaterThan(MIN_DISTANCE_OF[name] ?? MIN_DISTANCE);
      });
    },
  );
});
