/** The yarn model's figures beside published ones, as the text of tests/golden/yarn-against-published.md. */
import { TABLE_STIFFNESS } from '../../src/cell/relax-cell.ts';
import { FIBRE_REACH, FIBRE_STIFFNESS } from '../../src/rod/yarn-material.ts';
import { fabricRatioReport, plainConstantsReport } from '../../src/cell/fabric-ratios.ts';

export function yarnReport(): string {
  return `# The yarn model beside published values

Written by \`npx tsx tests/golden/regenerate-yarn-report.ts\` from src/cell/fabric-ratio-table.ts; a test compares.
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
`;
}
