/**
 * What the stitches at both edges of every row are said to be: "slip the first stitch of every row", "knit the edge sts
 * throughout", "with 1 edge stitch in garter stitch at each side", "the first and last stitch are for the seam". Its words come in
 * any order: which stitches, how they are worked, in which rows. In: a cursor at the words. Out: the edges, the cursor behind
 * them; null where they name no edge or no rows.
 */
import { says, saysAny } from './rules.ts';
import { type Fabric, readFabric } from './steps/patterns.ts';
import type { TokenCursor } from './token-cursor.ts';

/** How the stitches of one edge are worked; null as those beside them. */
export type EdgeWay = 'k' | 'p' | 'sl1' | 'sl1 wyif' | 'sl1 wyib' | 'sl1k' | null;

export interface Edge {
  readonly count: number;
  /** On right-side and on wrong-side rows. */
  readonly rs: EdgeWay;
  readonly ws: EdgeWay;
}

export interface EdgesTold {
  /** At the beginning of each row. */
  readonly first: Edge | null;
  /** At its end. */
  readonly last: Edge | null;
  /** What all the stitches between them are worked in, where it says so. */
  readonly between?: Fabric;
}

const EDGE = 'edge|selvedge|selvage|selv|border|seam|outer|outermost|spare';
const BETWEEN =
  ',|(|:|and|but|also|with|while|where|please|note|remember|you|we|will|must|should|there|is|are|be|being|to|the|a|an|of|them|it|they|these|those|that|which|both|all|just|simply|then|as|well|worked|work|working|keep|keeping|kept|have|having|leave|leaving|treat|includes|including|stay|stays|remain|remains|make|makes*';
/** "work flat with …", "back and forth, …" */
const LEAD =
  'worked|work|working|knit|knitted|knitting|it|is|in|flat|rows|back|backwards|forth|forwards|fro|and|to|,|:*';
const NTH = [
  'first #? @sts? and|& the? last #? @sts|one?',
  'last #? @sts? and|& the? first #? @sts|one?',
] as const;
const ROWS = 'on|in|of|at|over|through? each|every|all|both|either of? the? ';
const WHEN = [
  `${ROWS}other? @unit`,
  'on|in|at|over the? rs|ws @unit?',
  'on|in|at|over the? right|wrong side of? the? work?',
  `${ROWS}rs|ws @unit`,
  `${ROWS}right|wrong side @unit`,
  'always|throughout|everywhere|constantly',
];
const AT_BOTH =
  'at|on|along|to? each|either|both|every|the? end|ends|side|sides|edge|edges|beginning';
const FOR_SEAM = `for|as|taken|in|into* the|a|your? seam|seams|seaming|sewing|selvedge|selvage|edge|edges up|together|in?`;

interface Said {
  which: 'first' | 'last' | 'both' | null;
  count: number;
  last: number;
  way: EdgeWay;
  side: 'rs' | 'ws' | null;
  smooth: boolean;
}

/** Reads one thing that is said of the edge; false where none stands here. */
function readPart(c: TokenCursor, said: Said, seen: Seen): 'new' | boolean {
  const { i } = c;
  const words = (): string => c.slice(i, c.i);
  if (said.which === null || said.way !== null) {
    const both = saysAny(c, NTH);
    if (both) {
      const [a, b] = words().startsWith('last') ? [both[1], both[0]] : both;
      return named(said, 'both', a ?? b ?? 1, b ?? a ?? 1);
    }
    const one =
      says(c, 'first|last very? #? @sts') ??
      (seen.any && c.here(1) === '1' && says(c, 'first|last #'));
    if (one)
      return named(said, /^first/.test(words()) ? 'first' : 'last', one[0] ?? 1, one[0] ?? 1);
    const edge =
      says(c, `#? ${EDGE} @sts`) ??
      says(c, `# @sts at|on each|either|both end|ends|side|sides`) ??
      says(c, 'border|edge|edging of # @sts');
    const garter = edge ? null : says(c, 'garter st|stitch? border|edge|edging|selvedge of # @sts');
    if (garter) {
      seen.edge = true;
      said.way = 'k';
      seen.sides = true;
      return named(said, 'both', garter[0] ?? 1, garter[0] ?? 1);
    }
    if (edge) {
      seen.edge = true;
      const n = edge[0] ?? 1;
      return named(said, 'both', n, n);
    }
  }
  if (says(c, `inside|within|between the|your|these|those* ${EDGE} @sts`)) {
    seen.seam = true;
    seen.inside = true;
    return said.which !== null || named(said, 'both', 1, 1);
  }
  if (says(c, `${EDGE} @sts`) || says(c, 'are|is|and* not|never decreased|counted|included in?')) {
    seen.seam = true;
    return true;
  }
  if (says(c, FOR_SEAM)) {
    seen.seam = true;
    return true;
  }
  if (saysAny(c, WHEN)) {
    if (/\bother\b/.test(words())) return false;
    const [side] = /\b(?:rs|ws|right|wrong)\b/.exec(words()) ?? [];
    const faced = side && (/^r/.test(side) ? 'rs' : 'ws');
    if (faced && said.side && faced !== said.side) return false;
    said.side = faced || said.side;
    seen.rows = true;
    return true;
  }
  if (says(c, AT_BOTH)) {
    seen.sides = true;
    return true;
  }
  if (
    says(c, 'purlwise|knitwise|as|if|to|with|the|yarn|in|wyif|wyib|at|front|back|held|of|work*')
  ) {
    const how = words();
    if (said.way?.startsWith('sl')) {
      if (/\bfront\b|wyif/.test(how)) said.way = 'sl1 wyif';
      else if (/\bback\b|wyib/.test(how)) said.way = 'sl1 wyib';
      else if (/knitwise/.test(how)) said.way = 'sl1k';
      else if (!/purlwise/.test(how)) return false;
      return true;
    }
    c.i = i;
  }
  const verb = says(c, 'slip|sl|slipping|slipped|knit|k|knitting|knitted|purl|p|purling|purled');
  if (verb) {
    const way = /^s/.test(words()) ? 'sl1' : /^p/.test(words()) ? 'p' : 'k';
    if (said.way === null) {
      said.way = way;
      return true;
    }
    c.i = i;
    return 'new';
  }
  const fabric = says(c, 'in') ? readFabric(c) : null;
  if (fabric && said.way === null && /^(?:garter|stockinette)$/.test(fabric.rule)) {
    said.way = 'k';
    said.smooth = fabric.rule === 'stockinette';
    seen.sides ||= seen.edge;
    return true;
  }
  c.i = i;
  return false;
}

/** What all of the words have named. */
interface Seen {
  any: boolean;
  edge: boolean;
  rows: boolean;
  sides: boolean;
  seam: boolean;
  inside: boolean;
}

function named(said: Said, which: NonNullable<Said['which']>, n: number, last: number) {
  if (said.which !== null) return 'new' as const;
  Object.assign(said, { which, count: n, last });
  return true;
}

const fresh = (): Said => ({
  which: null,
  count: 1,
  last: 1,
  way: null,
  side: null,
  smooth: false,
});

export function readEdges(c: TokenCursor): EdgesTold | null {
  return c.attempt(() => {
    const { i: start } = c;
    const all: Said[] = [fresh()];
    const seen: Seen = {
      any: false,
      edge: false,
      rows: false,
      sides: false,
      seam: false,
      inside: false,
    };
    let end = -1;
    c.takes(
      () =>
        says(c, LEAD) && (/\b(?:flat|rows|forth|forwards|fro)\b/.test(c.slice(start, c.i)) || null),
    );
    for (let n = 0; n < 24 && !c.done; n++) {
      const { i } = c;
      says(c, BETWEEN);
      const last = all[all.length - 1];
      let got = readPart(c, last, seen);
      if (got === 'new') {
        // "knitted on the right side and purled on the wrong side": of the same stitches
        all.push(fresh());
        c.i = i;
        says(c, BETWEEN);
        got = readPart(c, all[all.length - 1], seen);
      }
      if (got !== true) {
        c.i = i;
        break;
      }
      end = c.i;
      seen.any = true;
      // "inside the edge sts", and what follows is said of something else.
      if (seen.inside) break;
    }
    if (end < 0) return null;
    const edges = edgesOf(all, seen);
    const between = edges && c.attempt(() => othersIn(c));
    return between ? { ...edges, between } : edges;
  });
}

const OTHERS =
  ',|;|and|but|with|while* work|working|knit|knitting|keep|keeping? the|all|your* other|others|rest|remaining|remainder|middle|centre|center @sts? between|in|them|are|is|being|all|worked|kept*';

/** ", the others are knitted", ", the rest in stocking stitch" */
function othersIn(c: TokenCursor): Fabric | null {
  if (!says(c, OTHERS)) return null;
  if (/^in$/.test(c.word(-1))) c.i--;
  const knit = says(c, 'knit|knitted|garter st|stitch?') ? ({ rule: 'garter' } as const) : null;
  return knit ?? (says(c, 'in') ? readFabric(c) : null);
}

function edgesOf(all: readonly Said[], seen: Seen): EdgesTold | null {
  let which: Said | null = null;
  const edges: { first: Edge | null; last: Edge | null } = { first: null, last: null };
  for (const said of all) {
    if (said.which !== null) which = said;
    if (!which) return null;
    // "slip the first st and knit …": something else that is knitted
    if (said.which === null && said.side === null) return null;
    const of = { ...said, which: which.which, count: which.count, last: which.last };
    for (const end of ['first', 'last'] as const) {
      if (of.which !== end && of.which !== 'both') continue;
      const before = edges[end];
      const count = end === 'first' ? of.count : of.last;
      const ws = of.smooth ? 'p' : of.way;
      edges[end] = {
        count,
        rs: of.side === 'ws' ? (before?.rs ?? null) : of.way,
        ws: of.side === 'rs' ? (before?.ws ?? null) : ws,
      };
    }
  }
  const worked = all.some((s) => s.way !== null);
  if (worked ? !(seen.rows || seen.sides) : !seen.seam && !(seen.edge && seen.sides)) return null;
  return edges;
}
