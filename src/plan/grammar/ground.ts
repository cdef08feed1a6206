/**
 * What a piece is worked in, where a sentence says that and no more: "Work in garter stitch throughout.", "Continue in moss
 * stitch." In: a cursor at the sentence, whether anything is cast on. Out: the fabric, and whether all of the piece is meant;
 * null where the sentence says something else.
 */
import { says } from './rules.ts';
import { type Fabric, plainExplained, readFabric, turnsExplained } from './steps/patterns.ts';
import type { TokenCursor } from './token-cursor.ts';

const LEADS =
  'now|then|next|the|this|that|whole|entire|square|piece|motif|blanket|all|everything|is|are|being|always|and|,|you|we|will|from|here|point|on|rest|remainder|remaining|rounds|rows|of|so*';
const WORKS =
  'work|worked|working|works|knit|knitted|continue|cont|proceed|carry|go|keep|change|switch|on|to|working|in*';
const ALL =
  'throughout|all|the|way|through|over|whole|entire|square|piece|only|from|here|now|on|for|rest|remainder|remaining|rounds|rows|of|to|end*';

export interface Ground {
  readonly fabric: Fabric;
  readonly all: boolean;
}

export function readGround(c: TokenCursor, castOn: boolean): Ground | null {
  const { i } = c;
  return c.attempt<Ground>(() => {
    says(c, LEADS);
    const whole = /\b(?:whole|entire|all|everything)\b/.test(c.slice(i, c.i));
    says(c, WORKS);
    const verb = /\b(?:work|knit|cont|proceed|carry|go|keep|change|switch)/.test(c.slice(i, c.i));
    if (/^(?:in|to)$/.test(c.word(-1)) && !verb) return null;
    const fabric = readFabric(c);
    if (!fabric || fabric.rule === 'set' || fabric.rule === 'knits') return null;
    const { i: behind } = c;
    says(c, ALL);
    const all = whole || /\b(?:throughout|all|whole|entire)\b/.test(c.slice(behind, c.i));
    plainExplained(c) || (fabric.rule === 'garter' && turnsExplained(c, 2));
    if (!all && (!verb || !castOn)) return null;
    return c.done || c.mark('.') ? { fabric, all } : null;
  });
}
