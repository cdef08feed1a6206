import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { yarnUse } from '../../src/paper/pattern/yarn-use.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import type { Verdict } from '../../src/report/verdict.ts';
import { spec } from '../draft/wishes-arbitrary.ts';
import { planMeaning } from '../plan/meaning.ts';
import { runs } from '../runs.ts';

/** Everything a plan means but markers and labels, which the pattern sets itself, and rounded gauges. */
function meaning(plan: Plan) {
  const { rounds, title: _, gauges: ____, ...rest } = planMeaning(plan);
  return { ...rest, rounds: rounds.map(({ label: __, markers: ___, ...round }) => round) };
}

const FERN = parsePlan(
  draftPlan({
    title: 'Fern square',
    yarn: 'DK wool, 50 g = 120 m',
    needles: '4 mm',
    sizeMm: 200,
    stitchMm: 100 / 22,
    roundMm: 100 / 30,
    panels: [{ stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' }],
  }).text,
);

describe('the written pattern', () => {
  const use = yarnUse(FERN, { stitchMm: 100 / 22, tex: 417, ballGrams: 50, ballMetres: 120 });
  const pattern = writePattern(FERN, {
    sizeMm: 200,
    shape: 'square',
    yarnUse: use,
    verdict: 'flat',
    stitchMm: 100 / 22,
  });

  it('has the parts that knitters look for, in their order', () => {
    expect(pattern.sections.map((s) => s.heading)).toEqual([
      'Size',
      'Materials',
      'Gauge',
      'Swatch',
      'Needle plan',
      'Abbreviations',
      'Notes',
      'Pattern',
      'Stitch counts',
      'Finishing',
    ]);
  });

  it('gives the stitches after every round, in its lines or in their list', () => {
    const list = pattern.sections.find((s) => s.heading === 'Stitch counts')?.lines.join(' ') ?? '';
    const counts = [...list.matchAll(/(?:with|,) (\d+)/g)].map((m) => Number(m[1]));
    expect(counts).toEqual(FERN.rounds.map((round) => round.after));
  });

  it('says blocked of a piece that lies flat, and of no other', () => {
    const say = (verdict: Verdict, shape = 'square') =>
      writePattern(FERN, { sizeMm: 205, shape, verdict }).text;
    expect(say('flat after blocking')).toContain('Size: 20.5 cm (8⅛ in) square, blocked');
    expect(say('flat')).toContain('ease it to 20.5 cm (8⅛ in) square');
    for (const verdict of [
      'cups',
      'ruffles',
      'saddle',
      'buckles',
      'cup inside, ruffled rim',
    ] as const) {
      expect(say(verdict)).not.toMatch(/blocked|ease it|cm\) square|in\) square/);
      expect(say(verdict)).toContain('Blocking does not make it flat');
    }
    // Nothing is promised of a piece that nobody relaxed.
    expect(writePattern(FERN, { sizeMm: 205, shape: 'square' }).text).not.toContain('blocked');
  });

  it('draws the yarn through one last stitch, or through those that remain', () => {
    const end = (round: string) =>
      writePattern(
        parsePlan(
          `Cast on 3 sts. Work flat.\nRow 1: ${round}.\nBreak yarn and draw through remaining sts.\n`,
        ),
      ).text;
    expect(end('sk2p')).toMatch(
      /draw it through the last st\.\n[\s\S]*Pull the end tight and fasten/,
    );
    expect(end('k1, k2tog')).toContain('draw it through the remaining sts.');
  });

  it('marks the start of the round otherwise, slips markers on plain rounds, removes them at the close', () => {
    const { text } = pattern;
    expect(text).toContain('place a marker of another color for the start of the round');
    expect(text).toMatch(/Round 1: \*.*, pm; rep from \* twice more, /);
    expect(text).toMatch(/draw it through the remaining sts, removing the markers\./);
    const plain = writePattern(parsePlan(draftPlan({ sizeMm: 160, stitchMm: 4, roundMm: 3 }).text));
    expect(plain.text).toMatch(/: knit, slipping the markers\./);
    const flat = writePattern(parsePlan(turnFlat(FERN).text)).text;
    expect(flat).toMatch(/Row 1 \(RS\): .*\bpm\b/);
    expect(flat).toMatch(/Row 2 \(WS\): .*\bsm\b/);
  });

  it('names the seam stitches of flat work, one or two', () => {
    const flat = (stitches: 1 | 2) => writePattern(parsePlan(turnFlat(FERN, stitches).text)).text;
    expect(flat(1)).toContain('(177 for 176 sts of the fabric)');
    expect(flat(1)).toContain('half a stitch in from each edge');
    expect(flat(2)).toContain('(178 for 176 sts of the fabric)');
    expect(flat(2)).toContain('a whole stitch in from each edge');
  });

  it('says how a centre is begun, what hole another cast-on would leave, and how it is bound off', () => {
    const out = parsePlan(
      draftPlan({ sizeMm: 120, stitchMm: 5, roundMm: 3.5, direction: 'out' }).text,
    );
    const { text, title } = writePattern(out, { stitchMm: 5 });
    expect(title).toBe('Square, from the center out');
    expect(text).toContain('Cast on 8 sts with a closed-center cast-on.');
    // Eight stitches of 5 mm round a hole: 40 mm / pi.
    expect(text).toContain('a hole of about 1.3 cm');
    expect(text).toContain('Bind off all sts loosely');
  });

  it('explains every abbreviation that it uses and no other', () => {
    const lines = pattern.sections.find((s) => s.heading === 'Abbreviations')?.lines ?? [];
    const explained = lines.map((line) => line.split(':')[0]);
    expect(explained).toContain('2/2 LC');
    expect(explained).toContain('ssk');
    expect(explained).toContain('pm');
    expect(explained).not.toContain('yo');
    expect(explained).not.toContain('RS');
    const body = pattern.sections.find((s) => s.heading === 'Pattern')?.lines.join('\n') ?? '';
    for (const name of explained) expect(body).toContain(name.replace('(s)', ''));
  });

  it('marks the panel and tells rounds by where they end, with the count after each', () => {
    expect(pattern.text).toContain(
      'Round 2: *ssk, k to marker, sm, p1, k4, p1, sm, k to 3 sts before marker, k2tog, k1, sm; rep from * 3 times more. (168 sts)',
    );
    expect(pattern.text).toContain('remove marker');
    for (const line of pattern.text.split('\n').filter((l) => /^Round/.test(l)))
      expect(line).toMatch(/\(\d+ sts\)$/);
  });

  it('folds rounds that come again', () => {
    const plain = parsePlan(draftPlan({ sizeMm: 160, stitchMm: 4, roundMm: 3 }).text);
    const { text } = writePattern(plain);
    expect(text).toMatch(/Rounds \d+-\d+: repeat rounds \d+-\d+ \w+ times more\. \(\d+ sts\)/);
    expect(text.split('\n').filter((l) => /^Round/.test(l)).length).toBeLessThan(
      plain.rounds.length / 2,
    );
  });

  it('gives cautions for loose ends, pins, steam and tired hands', () => {
    for (const word of ['babies', 'pins', 'steam', 'rest often'])
      expect(pattern.text).toContain(word);
  });

  it('names yarn by length, weight and balls, with the amounts rounded up', () => {
    expect(pattern.text).toContain(`${Math.ceil(use.lengthM)} m`);
    expect(pattern.text).toContain(`${use.balls} ball`);
  });

  it('speaks British and inches too', () => {
    const out = parsePlan(
      draftPlan({ sizeMm: 120, stitchMm: 5, roundMm: 3.5, direction: 'out' }).text,
    );
    const british = writePattern(out, {
      terms: 'british',
      units: 'inch',
      sizeMm: 203.2,
      shape: 'square',
    });
    expect(british.text).toContain('Tension:');
    expect(british.text).toContain('stocking stitch');
    expect(british.text).toContain('Cast off all sts loosely');
    expect(british.text).toContain('8 in (20.3 cm) square');
    expect(british.text).not.toMatch(/stockinette|[Bb]ind off|[Gg]auge|\bseed\b|color/);
    expect(meaning(parsePlan(british.text))).toEqual(meaning(out));
  });

  it('places no markers that the next round would work across', () => {
    // Every round decreases into what looks like a panel: seed stitch inside the decreases.
    const rounds = Array.from({ length: 11 }, (_, i) => 11 - i).map(
      (pairs, i) =>
        `Round ${i + 1}: *ssk, [k1, p1] ${pairs} times, k2tog; rep from * 2 times more. (${6 * pairs + 6} sts)`,
    );
    const plan = parsePlan(
      `Cast on 78 sts. Join in the round.\n${rounds.join('\n')}\nCut the yarn and draw it through the remaining sts.\n`,
    );
    const { text } = writePattern(plan, { terms: 'american', units: 'cm', sizeMm: 80 });
    const again = parsePlan(text);
    expect(again.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
    expect(meaning(again)).toEqual(meaning(plan));
  });

  it('reads back into the same plan, for random wishes in both terms, units and hands', () => {
    fc.assert(
      fc.property(
        spec,
        fc.constantFrom('american' as const, 'british' as const),
        fc.constantFrom('cm' as const, 'inch' as const),
        fc.constantFrom('right' as const, 'left' as const),
        fc.constantFrom('', 'Join: crossed\n', 'Join: extra stitch\n'),
        (asked, terms, units, hand, join) => {
          const drafted = draftPlan({ title: 'Moss', yarn: 'DK wool', ...asked }).text;
          const plan = parsePlan(asked.worked === 'flat' ? drafted : join + drafted);
          const again = parsePlan(
            writePattern(plan, {
              terms,
              units,
              hand,
              sizeMm: asked.sizeMm,
              shape: 'square',
              verdict: 'flat',
              stitchMm: asked.stitchMm,
              yarnUse: use,
            }).text,
          );
          expect(again.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
          expect(meaning(again)).toEqual(meaning(plan));
          again.gauges.forEach(({ fabric, stitchMm }, i) => {
            expect(fabric).toBe(plan.gauges[i].fabric);
            expect(Math.abs(stitchMm / plan.gauges[i].stitchMm - 1)).toBeLessThan(0.008);
          });
        },
      ),
      { seed: 17, numRuns: runs(40) },
    );
  }, 90_000);
});

it('a flat row that is plain but for its edges is told from edge to edge, not from marker to marker', () => {
  const garter = draftPlan({
    ...{ shape: 'disc', sizeMm: 150, stitchMm: 5, roundMm: 2.8, ground: 'garter', worked: 'flat' },
    seamStitches: 2,
  });
  const { text } = writePattern(parsePlan(garter.text));
  expect(text).toMatch(/^Row 3 \(WS\): p1, k to last st, p1, slipping the markers\./m);
  expect(text).not.toMatch(/to last 1 st/);
});

it('casts on the stitch that closing the ring takes up, and every count is of those that are left', () => {
  const text = 'Cast on 89 sts. Join by knitting the last stitch together with the first: 88 sts.';
  const plan = parsePlan(`${text}\nRounds 1-4: knit.\nBind off.\n`);
  expect(writePattern(plan).text).toMatch(
    /Cast on 89 sts with .*knitting the last stitch together with the first \(88 sts\)/,
  );
  const swapped = parsePlan('Join: crossed\nCast on 88 sts. Join in the round.\nRound 1: knit.\n');
  expect(writePattern(swapped).text).toMatch(/Cast on 88 sts .*by swapping the first and last sts/);
});

it('says why two stitches are there for the seam where both ends are shaped, and only there', () => {
  const pattern = (corner: 'paired 0' | 'paired 1', seamStitches: 1 | 2) => {
    const spec = { sizeMm: 100, stitchMm: 5, roundMm: 3.6, worked: 'flat', corner } as const;
    const plan = parsePlan(draftPlan({ ...spec, seamStitches }).text);
    const { text } = writePattern(plan, { terms: 'american', units: 'cm', sizeMm: null });
    return { text, seam: plan.seam };
  };
  const shaped = pattern('paired 0', 1);
  expect(shaped.seam).toEqual({ begin: 1, end: 1 });
  expect(shaped.text).toContain('Both ends of the fabric are shaped');
  for (const { text } of [pattern('paired 1', 1), pattern('paired 1', 2)])
    expect(text).not.toContain('Both ends of the fabric are shaped');
});

it('asks for no pins where the piece stands up and is not pinned out', () => {
  const plan = parsePlan('Gauge: 20 sts and 28 rounds = 10 cm\nCast on 40 sts. Join.\nRound 1: knit.\nRound 2: *k2tog, k3; rep from * to end.\nCut the yarn and draw it through the remaining sts.\n');
  const told = (verdict: 'flat' | 'cups') => writePattern(plan, { sizeMm: 60, shape: 'disc', verdict }).text;
  expect(told('flat')).toMatch(/rust-proof pins\n(.*\n)*.*Pin with rust-proof pins/);
  expect(told('cups')).not.toContain('pins');
}); // biome-ignore format: one plan a line

it('says twice of what is in brackets, and reads it back', () => {
  const { text } = writePattern(parsePlan('Cast on 24 sts. Join.\nRound 1: *k2, k2tog, k2tog, p2; rep from * 2 times more.\nBind off.\n'));
  expect(text).toContain('[k2tog] twice');
  expect(text).not.toContain('] 2 times');
  expect(parsePlan(text).rounds[0].after).toBe(18);
}); // biome-ignore format: one plan a line
