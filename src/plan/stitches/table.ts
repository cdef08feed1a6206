/**
 * The stitches of the trade: one StitchKind per canonical abbreviation, the general ones (cables,
 * `k5tog`, `(k1, yo, k1) in 1 st`) made on demand.
 *
 * Layer order follows from how the needle enters: loop 0 hangs rightmost. Knitwise through two loops
 * at once the tip enters loop 1 first, so loop 1 lies in front (leans right); slipped first and worked
 * through the back, loop 0 lies in front (leans left). A purl decrease is described as it faces.
 * Names and count changes: the standard abbreviation list; leans: common practice.
 */
import { cableKind } from './cables.ts';
import { type MadeLoop, type StitchKind, UNWORKED } from './stitch-kind.ts';

/** Most loops that one stitch works together or makes: keeps mistyped numbers harmless. Chosen. */
export const WIDEST_STITCH = 24;

function drawn(parents: readonly number[], face: 1 | -1, twisted = false): MadeLoop {
  return { parents, face, twisted, origin: 'drawn' };
}

function kind(
  name: string,
  words: string,
  consumes: number,
  loops: readonly MadeLoop[],
  slipped: 0 | 1 | -1 = 0,
): StitchKind {
  return { name, words, consumes, loops, crossing: null, slipped };
}

function lifted(face: 1 | -1, twisted: boolean): MadeLoop {
  return { parents: [], face, twisted, origin: 'lifted-strand' };
}

/** A slipped loop keeps the face of the loop that is carried up; +1 here is a placeholder. */
function slip(twisted: boolean): MadeLoop {
  return { parents: [0], face: 1, twisted, origin: 'slipped' };
}

const BASIC: readonly StitchKind[] = [
  kind('k', 'knit', 1, [drawn([0], 1)]),
  kind('p', 'purl', 1, [drawn([0], -1)]),
  kind('ktbl', 'knit through the back loop', 1, [drawn([0], 1, true)]),
  kind('ptbl', 'purl through the back loop', 1, [drawn([0], -1, true)]),

  kind('sl1 wyib', 'slip 1 purlwise with yarn in back', 1, [slip(false)], -1),
  kind('sl1 wyif', 'slip 1 purlwise with yarn in front', 1, [slip(false)], 1),
  kind('sl1k wyib', 'slip 1 knitwise with yarn in back', 1, [slip(true)], -1),
  kind('sl1k wyif', 'slip 1 knitwise with yarn in front', 1, [slip(true)], 1),

  kind('yo', 'yarn over', 0, [{ parents: [], face: 1, twisted: false, origin: 'yarn-over' }]),
  kind('m1', 'make 1: lift the bar between stitches and knit it through the back', 0, [
    lifted(1, true),
  ]),
  kind('m1l', 'make 1 left: lift the bar front to back, knit its back leg', 0, [lifted(1, true)]),
  kind('m1r', 'make 1 right: lift the bar back to front, knit its front leg', 0, [lifted(1, true)]),
  kind('m1p', 'make 1 purlwise: lift the bar between stitches and purl it twisted', 0, [
    lifted(-1, true),
  ]),
  kind('m1lp', 'make 1 left purlwise: lift the bar front to back, purl its back leg', 0, [
    lifted(-1, true),
  ]),
  kind('m1rp', 'make 1 right purlwise: lift the bar back to front, purl its front leg', 0, [
    lifted(-1, true),
  ]),
  kind('lli', 'left lifted increase: knit into the loop below the stitch just worked', 0, [
    lifted(1, false),
  ]),
  kind('rli', 'right lifted increase: knit into the loop below the next stitch', 0, [
    lifted(1, false),
  ]),
  kind('co1', 'cast on 1 by a backward loop', 0, [
    { parents: [], face: 1, twisted: true, origin: 'yarn-over' },
  ]),
  kind('kfb', 'knit into front and back of one stitch', 1, [drawn([0], 1), drawn([0], 1, true)]),
  kind('pfb', 'purl into front and back of one stitch', 1, [drawn([0], -1), drawn([0], -1, true)]),
  kind('kfbf', 'knit into front, back and front of one stitch', 1, [
    drawn([0], 1),
    drawn([0], 1, true),
    drawn([0], 1),
  ]),

  kind('ssk', 'slip 2 knitwise one by one, knit them together through the back: leans left', 2, [
    drawn([0, 1], 1),
  ]),
  kind('skp', 'slip 1 knitwise, knit 1, pass the slipped stitch over: leans left', 2, [
    drawn([0, 1], 1),
  ]),
  kind('k2tog tbl', 'knit 2 together through the back loops: leans left, twisted', 2, [
    drawn([0, 1], 1, true),
  ]),
  kind(
    'ssp',
    'slip 2 knitwise one by one, purl them together through the back: leans left on the knit side',
    2,
    [drawn([0, 1], -1)],
  ),
  kind(
    'p2tog tbl',
    'purl 2 together through the back loops: leans left on the knit side, twisted',
    2,
    [drawn([0, 1], -1, true)],
  ),
  kind('sssk', 'slip 3 knitwise one by one, knit them together through the back: leans left', 3, [
    drawn([0, 1, 2], 1),
  ]),
  kind(
    'sssp',
    'slip 3 knitwise one by one, purl them together through the back: leans left on the knit side',
    3,
    [drawn([0, 1, 2], -1)],
  ),
  kind('k3tog tbl', 'knit 3 together through the back loops: leans left, twisted', 3, [
    drawn([0, 1, 2], 1, true),
  ]),
  kind(
    'p3tog tbl',
    'purl 3 together through the back loops: leans left on the knit side, twisted',
    3,
    [drawn([0, 1, 2], -1, true)],
  ),
  kind('sk2p', 'slip 1 knitwise, knit 2 together, pass the slipped stitch over: leans left', 3, [
    drawn([0, 2, 1], 1),
  ]),
  kind('s2kp', 'slip 2 together knitwise, knit 1, pass the 2 over: centred', 3, [
    drawn([1, 0, 2], 1),
  ]),
  // How it is worked: common practice, from memory.
  kind(
    's2pp',
    'slip 2 knitwise one by one, put them back, slip both together through their back loops, purl 1, pass the 2 over: centred on the right side',
    3,
    [drawn([0, 2, 1], -1)],
  ),

  kind('mb', 'make a bobble in one stitch; drawn here as one knit stitch', 1, [drawn([0], 1)]),
  kind('bo1', 'bind off 1', 1, []),
  kind('drop1', 'drop 1 stitch off the needle', 1, []),
];

/** Left on the needle behind the turn of a short row: in a round's stitches only, never written. */
const WAITING = kind(UNWORKED, 'left unworked behind the turn of a short row', 1, [slip(false)]);

const TABLE = new Map([...BASIC, WAITING].map((k) => [k.name, k]));

/** Every stitch that has a fixed name, in the order of the abbreviation list. */
export const NAMED_STITCHES: readonly StitchKind[] = BASIC;

function togetherKind(name: string): StitchKind | null {
  const m = /^([kp])(\d{1,2})tog$/.exec(name);
  if (!m) return null;
  const n = Number(m[2]);
  if (n < 2 || n > WIDEST_STITCH) return null;
  const parents = Array.from({ length: n }, (_, i) => n - 1 - i);
  const knit = m[1] === 'k';
  const lean = `: leans right${knit ? '' : ' on the knit side'}`;
  const words = `${knit ? 'knit' : 'purl'} ${n} together${lean}`;
  return kind(name, words, n, [drawn(parents, knit ? 1 : -1)]);
}

/** Words by which several stitches are worked into one: `(k1, yo, k1) in 1 st`. */
function intoOneKind(name: string): StitchKind | null {
  const m = /^\(([a-z0-9, ]+)\) in 1 st$/.exec(name);
  if (!m) return null;
  const loops: MadeLoop[] = [];
  for (const part of m[1].split(', ')) {
    if (part === 'k1') loops.push(drawn([0], 1));
    else if (part === 'p1') loops.push(drawn([0], -1));
    else if (part === 'k1 tbl') loops.push(drawn([0], 1, true));
    else if (part === 'p1 tbl') loops.push(drawn([0], -1, true));
    else if (part === 'yo') {
      loops.push({ parents: [], face: 1, twisted: false, origin: 'yarn-over' });
    } else return null;
  }
  if (loops.length === 0 || loops.length > WIDEST_STITCH) return null;
  return kind(name, `${m[1]} all into one stitch`, 1, loops);
}

/** The kind with this canonical name, or null. The same name gives an equal kind every time. */
export function stitchKind(name: string): StitchKind | null {
  return TABLE.get(name) ?? togetherKind(name) ?? cableKind(name) ?? intoOneKind(name);
}

/**
 * A stitch of the designer's own, known only by its counts. New loops take the worked ones in order,
 * earlier ones in front.
 */
export function countedKind(name: string, consumes: number, makes: number): StitchKind {
  const loops: MadeLoop[] = [];
  for (let i = 0; i < makes; i++) {
    const first = Math.floor((i * consumes) / makes);
    const end = Math.max(first + 1, Math.floor(((i + 1) * consumes) / makes));
    const parents: number[] = [];
    for (let j = first; j < Math.min(end, consumes); j++) parents.push(j);
    loops.push(
      consumes === 0
        ? { parents: [], face: 1, twisted: false, origin: 'yarn-over' }
        : drawn(parents, 1),
    );
  }
  return kind(name, `own stitch: works ${consumes}, makes ${makes}`, consumes, loops);
}
