/** The picture, its menu and the chart show a plan's colours alike. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fabricColours } from '../../src/app/state/fabric-colours.ts';
import type { Preferences } from '../../src/app/state/preferences.ts';
import { shadeChoice } from '../../src/app/state/square-colours.ts';
import { draftPlan } from '../../src/draft/draft.ts';
import { prepare } from '../../src/knit.ts';
import { drawChart } from '../../src/paper/chart/chart.ts';
import { planShades } from '../../src/paper/yarn-shades.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { parseColour, toLinear } from '../../src/view/colour/colour-scale.ts';
import { smallSpecs } from '../draft/wishes-arbitrary.ts';
import { colouring, inColours } from '../paper/pattern-properties.ts';

const preferences = {
  colourMode: 'fabric',
  mainColour: '#112233',
  stripeColour: '#ddeeff',
  stripeRounds: 3,
  namedYarns: { CC2: '#00ff00' },
  units: 'cm',
} as unknown as Preferences;

describe('colours of a plan', () => {
  it('are worn by the loops of every round, whatever stripes the page has', () => {
    const cases = fc.record({ asked: smallSpecs, colours: colouring });
    for (const { asked, colours } of fc.sample(cases, { seed: 4, numRuns: 3 })) {
      const plan = inColours(parsePlan(draftPlan(asked).text), colours);
      const { graph, cells, measured } = prepare(plan);
      const { metric } = measured;
      const surface = { graph, cells, metric, plan };
      const { rgb } = fabricColours(surface, new Float64Array(3 * metric.vertices), preferences);
      const shades = planShades(plan, shadeChoice(preferences));
      for (let loop = 0; loop < graph.loops; loop++) {
        const course = graph.course[loop];
        const name = course === 0 ? plan.colours?.castOn : plan.rounds[course - 1].colour;
        const shade = parseColour(shades.get(name ?? '') ?? '').map(toLinear);
        expect([...rgb.subarray(3 * loop, 3 * loop + 3)]).toEqual(shade.map(Math.fround));
      }
      const svg = drawChart(plan, { shades: shadeChoice(preferences) });
      const strip = /<g data-part="colours">.*?<\/g>/.exec(svg)?.[0] ?? '';
      const boxes = [...strip.matchAll(/fill="(#[0-9a-f]{6})" stroke/g)].map((m) => m[1]);
      expect(boxes).toEqual(plan.rounds.map(({ colour }) => shades.get(colour ?? '')));
    }
  });

  it('leave a plan that tells none to the colours of the page', () => {
    const plan = parsePlan(draftPlan(fc.sample(smallSpecs, { seed: 1, numRuns: 1 })[0]).text);
    const { graph, cells, measured } = prepare(plan);
    const { metric } = measured;
    const bare = { graph, cells, metric };
    const positions = new Float64Array(3 * metric.vertices);
    expect(fabricColours({ ...bare, plan }, positions, preferences)).toEqual(
      fabricColours(bare, positions, preferences),
    );
  });
});
