/**
 * What a piece is worked in, where a sentence says that and no more: "Work in garter stitch throughout.", "Continue in moss
 * stitch." In: a cursor at the sentence, whether anything is cast on. Out: the fabric, and whether all of the piece is meant;
 * null where the sentence says something else.
 */
import type { Tail } from './ast.ts';
import { type EdgesTold, readEdges } from './edges.ts';
import { isUnit } from './phrases.ts';
import { says } from './rules.ts';
import {
  type Fabric,
  plainExplained,
  readFabric,
  ribExplained,
  turnsExplained,
} from './steps/patterns.ts';
import { stripesTold } from './stripes.ts';
import { readStart } from './tail/manner.ts';
import type { TokenCursor } from './token-cursor.ts';

const LEADS =
  'now|then|next|the|this|that|whole|entire|square|piece|motif|blanket|all|everything|is|are|being|always|and|,|you|we|will|from|here|point|on|onwards|after|afterwards|that|rest|remainder|remaining|rounds|rows|of|so*';
const WORKS =
  'work|worked|working|works|knit|knitted|continue|cont|proceed|carry|go|keep|change|switch|on|over|to|working|flat|rows|back|backwards|forth|forward|forwards|fro|and|in*';
const ALL =
  'throughout|all|the|way|through|over|whole|entire|square|piece|only|from|here|now|on|for|rest|remainder|remaining|rounds|rows|of|to|end*';

/** ", also where you decrease": in the rounds that shape too. */
const EVEN_THERE =
  ',|(|- also|even|including|both? where|when|while|in|on|at|beside|through the|all|every|each|you|we|is|are|being|as? shaped|decrease|decreases|decreasing|decreased|increase|increases|increasing|shape|shaping|corners @unit? )?';

/** Behind a colon they are the fabric's own. */
const STITCHES = /^(?:[*([]|[kp]\d*|knit|purl|ssk|sl\d*|yo|[kp]\dtog|\d+)$/;

export interface Ground {
  readonly fabric: Fabric;
  readonly all: boolean;
  readonly edges?: EdgesTold;
  /** "beginning with a purl row": what its first row is like. */
  readonly startWith?: Tail['startWith'];
}

/** ": knit 1 round, then …": work, not what the fabric is made of. */
function roundsBehind(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.i++;
    return (says(c, 'knit|k|purl|p|work a|one|another|#') ?? says(c, '#')) !== null && isUnit(c);
  });
}

/** "Knit every row, but slip …": garter stitch; alone it is told as a round. */
function everyRow(c: TokenCursor): Fabric | null {
  return c.attempt(() => {
    const led = /^(?:knit|k)$/.test(c.word(-1)) || says(c, 'knit|k') !== null;
    if (!led || !says(c, 'every|each|all row|rows')) return null;
    const more = c.ahead(() => {
      says(c, ',|;');
      return readEdges(c);
    });
    return more && { rule: 'garter' as const };
  });
}

export function readGround(c: TokenCursor, castOn: boolean): Ground | null {
  const { i } = c;
  return c.attempt<Ground>(() => {
    says(c, LEADS);
    const then = /\b(?:now|then|next|from|after\w*|rest|remainder|remaining)\b/.test(
      c.slice(i, c.i),
    );
    const whole = /\b(?:whole|entire|all|everything)\b/.test(c.slice(i, c.i));
    says(c, WORKS);
    const verb = /\b(?:work|knit|cont|proceed|carry|go|keep|change|switch|over)/.test(
      c.slice(i, c.i),
    );
    if (/^(?:in|to)$/.test(c.word(-1)) && !verb && !then) return null;
    const fabric = everyRow(c) ?? readFabric(c);
    if (!fabric || fabric.rule === 'set' || fabric.rule === 'knits') return null;
    const { i: behind } = c;
    says(c, ALL);
    const all = whole || /\b(?:throughout|all|whole|entire)\b/.test(c.slice(behind, c.i));
    const rib = fabric.rule === 'rib' && c.mark('(:,') ? c.attempt(() => ribExplained(c)) : null;
    if (rib && fabric.rib && rib.join() !== fabric.rib.join()) return null;
    const own = rib ? { ...fabric, rib } : fabric;
    plainExplained(c) || (fabric.rule === 'garter' && turnsExplained(c, 2));
    if (!all && !((verb || then) && castOn)) return null;
    const startWith = readStart(c);
    // In the round garter stitch begins either way, which the first round has to say.
    if (startWith && fabric.rule !== 'stockinette') return null;
    says(c, EVEN_THERE);
    const { i: told } = c;
    c.eatMark(',;(');
    const edges = readEdges(c);
    if (edges) c.eatMark(')');
    else c.i = told;
    const leads = castOn && c.mark(':') && (!STITCHES.test(c.here(1)) || roundsBehind(c));
    // "…, two rows red and two rows white alternately"
    const striped = !edges && c.ahead(() => c.eatMark(',') !== null && stripesTold(c) !== null);
    return c.done || c.mark('.') || striped || leads
      ? { fabric: own, all, ...(edges ? { edges } : null), ...(startWith ? { startWith } : null) }
      : null;
  });
}
