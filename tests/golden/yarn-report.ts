/** The yarn model's figures beside published ones, as the text of tests/golden/yarn-against-published.md. */
import { fabricRatioReport, plainConstantsReport } from '../../src/cell/fabric-ratios.ts';

export function yarnReport(): string {
  return `# The yarn model beside published values

Written by \`npx tsx tests/golden/regenerate-yarn-report.ts\` from src/cell/fabric-ratio-table.ts; a test compares.
l/d is the yarn of a stitch over the thickness of the pressed yarn. Published values and their sources:
\`PUBLISHED_SHAPES\` in src/cell/fabric-ratios.ts, Munden 1959. One yarn model and one table stiffness for all rows.

## Plain knit

${plainConstantsReport()}

The dry-relaxed state is not reproduced: friction, which holds it, is not in the cell. Beyond 19 diameters the
model's fabric is wider for its height than the published constants say.

## Fabrics

${fabricRatioReport()}

Ribs rest in several states, up to 9 % (1×1) and 42 % (2×2) apart in width and half a percent in energy: the
table holds the median of nine starts. 2×2 rib collapses further than knitters find (from memory); real rib is
kept from it by friction.
`;
}
