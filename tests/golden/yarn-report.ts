/** The yarn model's figures beside published ones, as the text of tests/golden/yarn-against-published.md. */
import { PUBLISHED_PULL_IN } from '../../src/cell/cable-pull-in.ts';
import { CABLE_TABLE } from '../../src/cell/cable-table.ts';
import { FABRIC_STIFFNESS_TABLE } from '../../src/cell/fabric-stiffness-table.ts';
import { TABLE_STIFFNESS } from '../../src/cell/relax-cell.ts';
import { FIBRE_REACH, FIBRE_STIFFNESS } from '../../src/rod/yarn-material.ts';
import { fabricRatioReport, plainConstantsReport } from '../../src/cell/fabric-ratios.ts';

export function yarnReport(): string {
  return `# The yarn model beside published values

Written by \`npx tsx tests/golden/regenerate-yarn-report.ts\` from the tables in src/cell; a test compares.
l/d is the yarn of a stitch over the thickness of the pressed yarn. Published values and their sources:
\`PUBLISHED_SHAPES\` in src/cell/fabric-ratios.ts, Munden 1959. One yarn model and one table stiffness for all rows.

## Calibration

Rod and contact alone say what the published constants deny: yarn as a hard tube, straight by nature, gives
plain knit its shape at one tightness only. Loosened, it unbends sideways (Kr 1.30 at l/d 17, 1.46 at 19, 1.66 at 22,
1.97 at 26), and neither start, cutting nor table changes that. Its contact is what has a length of its own: real
yarn gives way. With the law of a mass of fibres (van Wyk 1946: force on a crossing ∝ r⁻³) the fabric keeps its
shape, since a looser loop presses less and its yarn is thicker there. **One constant is calibrated, for
all fabrics and tightnesses:** the fibres' stiffness A = ${FIBRE_STIFFNESS} B/d⁴, chosen with plain knit's Kc, Kw and Kr over l/d 14–26 in
view; contact reaches ${FIBRE_REACH} d, between the pressed yarn and its halo. The table's stiffness, ${TABLE_STIFFNESS} B/d⁴, was chosen within
its plausible decade with garter's 0.5 in view; plain knit does not feel it.

## Plain knit

${plainConstantsReport()}

Kw lies between 2 % under the dry-relaxed and 6 to 10 % under the wet-relaxed value; Ks is that of dry-relaxed fabric.
A frictionless cell cannot tell the two states apart.

## Fabrics

${fabricRatioReport()}

The state of lowest energy stands in the row; where other starts or the neighbours' states end elsewhere, that
is told at its end. Garter of tight machine knits has no published shape to compare with; the published 0.5 is of
hand knits, l/d 23.5–25.8. Of ribs only 1×1 has a published width (half that of plain fabric by geometry, in practice 30 %
less than as knitted: leartex.com/rib-fabric); that of 2×2 is compared with the same band, from memory. 2×2 rib has a folded
state and a wider one; their energies cross between l/d 20 and 21 (0.17 % apart there), so its width jumps. Friction, which the
cell has not, may hold either. The metric takes ribs between relaxed and pressed flat (geometric mean), at l/d 24: in a
piece they are held open.

## Stiffness

Energy per area and strain squared over stockinette's of the same loop, stretched and shortened by a tenth
(src/cell/fabric-stiffness-table.ts). Published is the order alone (Singal et al. 2024, from memory): stockinette stiffest
both ways, garter soft along the wale, ribs along the course, seed both ways.

${stiffnessReport()}

## Cables

Pull-in of the cable's own stitches, as many over as under, two stitches of stockinette or of purl to each side, at the l/d of
hand knitting (src/cell/cable-table.ts), from two starts: of two states the one of lower energy, and the other beside it. Every
row has the same yarn, and no constant was chosen with these figures in view. Published of a cable of six: 17 % for a simple
and 33 % for a tight one, whose interval is not told, and of any cable 20 % (${PUBLISHED_PULL_IN.join('–')} % here, src/cell/cable-pull-in.ts); of
crossings further apart than is usual there is nothing. A row hangs little on how much of the fabric repeats: repeats of two
intervals come within 1.2 points of it, as far as they were tried (DEVELOPERS.md). Two single stitches crossed every other round have no such rest (repeats of two, four and six
rounds: 2 and 7 % wider and 1 % narrower in stockinette; 18, 17 and 10 % wider in purl): they have no row, and the metric
takes them as if crossed every third round, told as roughly.

${cableReport()}
`;
}

function stiffnessReport(): string {
  const lines = ['| fabric | l/d | along the course | along the wale |', '|---|---|---|---|'];
  for (const fabric of ['garter', 'rib 1x1', 'rib 2x2', 'seed']) {
    for (const row of FABRIC_STIFFNESS_TABLE.filter((one) => one.fabric === fabric)) {
      const plain = FABRIC_STIFFNESS_TABLE.find(
        ({ fabric: name, loop }) => name === 'stockinette' && loop === row.loop,
      );
      if (!plain) throw new Error(`no stockinette at ${row.loop}`);
      const [course, wale] = [row.course / plain.course, row.wale / plain.wale];
      lines.push(`| ${fabric} | ${row.loop} | ${course.toFixed(2)} | ${wale.toFixed(2)} |`);
    }
  }
  return lines.join('\n');
}

/** Sizes and intervals that the published figures are of. */
const PUBLISHED_CABLES: readonly (readonly [number, number])[] = [
  [3, 6],
  [2, 4],
];

function cableReport(): string {
  const lines = [
    '| cable | every | in | pull-in | published | within | other state: pull-in, energy |',
    '|---|---|---|---|---|---|---|',
  ];
  const [low, high] = PUBLISHED_PULL_IN;
  const signed = (percent: number) => percent.toFixed(1).replace('-', '−');
  for (const { moved, every, ground, percent, other } of CABLE_TABLE) {
    const known = PUBLISHED_CABLES.some(([size, rounds]) => size === moved && rounds === every);
    const within = percent >= low && percent <= high ? 'yes' : 'no';
    const held = known ? `${low}–${high} % | ${within}` : '– | –';
    const second = other ? `${signed(other.percent)} %, +${other.energyPercent.toFixed(1)} %` : '–';
    lines.push(
      `| ${moved} over ${moved} | ${every} | ${ground} | ${signed(percent)} % | ${held} | ${second} |`,
    );
  }
  return lines.join('\n');
}
