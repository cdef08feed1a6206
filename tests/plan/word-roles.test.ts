/** The editor's colours come from the words that the reader knows. */
import { describe, expect, it } from 'vitest';
import { LINE_STARTS, PHRASES } from '../../src/plan/lexicon/completions.ts';
import { ROUND_LABEL, roleAt, STATED_COUNT } from '../../src/plan/lexicon/word-roles.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { NAMED_STITCHES } from '../../src/plan/stitches/table.ts';

describe('roles of words', () => {
  it('tells every stitch of the table by how it changes the count', () => {
    for (const { name, consumes, loops } of NAMED_STITCHES) {
      if (/^(?:bo1|co1|drop1)$/.test(name)) continue;
      const words = name.replace(/^sl1k/, 'sl1 knitwise');
      const change = loops.length - consumes;
      const role = change < 0 ? 'decrease' : change > 0 ? 'increase' : 'plain';
      expect(roleAt(words, 0)?.role, name).toBe(role);
    }
  });

  it('tells cables, markers, extents and edges', () => {
    const roles = {
      '2/2 lc': 'cable',
      c4b: 'cable',
      pm: 'marker',
      'place marker': 'marker',
      'repeat from *': 'extent',
      'until 8 sts remain': 'extent',
      'cast on 40 sts': 'edge',
      'bind off': 'edge',
      'slip 1, knit 1, pass the slipped stitch over': 'decrease',
      decreasing: 'decrease',
      'work as set': 'plain',
    };
    for (const [words, role] of Object.entries(roles))
      expect(roleAt(words, 0)?.role, words).toBe(role);
    for (const words of ['garden', 'the', 'soft']) expect(roleAt(words, 0), words).toBe(null);
  });

  it('takes words that belong together as one', () => {
    for (const words of ['cast on', 'bind off', 'place marker', 'k2tog'])
      expect(roleAt(words, 0)?.end, words).toBe(words.length);
  });

  it('tells labels and stated counts', () => {
    for (const label of ['Round 1:', 'Rnds 2-4.', 'row 3 (WS):', 'R12:', 'Rds 1 and 2:'])
      expect(ROUND_LABEL.test(label), label).toBe(true);
    expect(ROUND_LABEL.test('Roundabout:')).toBe(false);
    for (const count of ['(88 sts)', '[4 stitches]', '- 12 sts', '(9 loops)'])
      expect(STATED_COUNT.test(count), count).toBe(true);
  });
});

describe('completions', () => {
  const lost = (lines: string): string[] =>
    parsePlan(`Cast on 40 sts. Join in the round.\n${lines}`)
      .diagnostics.filter((d) => d.severity === 'error')
      .map((d) => d.code);

  it('offers phrases that the reader follows', () => {
    const whole = PHRASES.map(({ label }) => label);
    const within: Readonly<Record<string, string>> = {
      'to end': 'Next round: k to end.',
      'to last 2 sts': 'Next round: k to last 2 sts, p2.',
      'to marker': 'Next round: pm, k to marker.',
      pm: 'Next round: k20, pm, k to end.',
      sm: 'Next round: k20, pm, k to end.\nNext round: k20, sm, k to end.',
      'repeat from * to end': 'Next round: *k2, p2; repeat from * to end.',
      'work as set': 'Next round: k2, work as set to end.',
      'bind off': 'Knit 2 rounds. Bind off.',
      'draw yarn through remaining sts': 'Knit 2 rounds. Draw yarn through remaining sts.',
    };
    for (const label of whole.filter((l) => l !== 'cast on'))
      expect(lost(within[label] ?? label), label).toEqual([]);
  });

  it('offers beginnings of lines that the reader knows', () => {
    for (const { label } of LINE_STARTS)
      expect(lost(`${label}knit`), label).not.toContain('words-not-followed');
  });
});
