import { describe, expect, it } from 'vitest';
import { isLight, planShades, SHADES, shadeOfWord } from '../../src/paper/yarn-shades.ts';
import { COLOUR_SHADES, COLOUR_WORDS } from '../../src/plan/lexicon/colour-words.ts';
import { parsePlan } from '../../src/plan/parse.ts';

/** Relative luminance, WCAG 2.2 (w3.org/TR/WCAG22, definition of relative luminance). */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const s = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
const contrast = (a: number, b: number) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);

describe('shades of yarn', () => {
  it('are there for every word that the reader knows, and differ with what stands before it', () => {
    for (const word of COLOUR_WORDS) {
      expect(shadeOfWord(word), word).toMatch(/^#[0-9a-f]{6}$/);
      for (const shade of COLOUR_SHADES) expect(shadeOfWord(`${shade} ${word}`)).not.toBeNull();
      expect(luminance(shadeOfWord(`dark ${word}`) ?? '')).toBeLessThan(
        luminance(shadeOfWord(`pale ${word}`) ?? ''),
      );
    }
    expect(shadeOfWord('heathered')).toBeNull();
  });

  it('that follow one another differ in lightness, so that no kind of colour vision takes them for one', () => {
    SHADES.slice(1).forEach((shade, i) => {
      expect(contrast(luminance(shade), luminance(SHADES[i]))).toBeGreaterThan(1.9);
    });
  });

  it('bear letters at 4.5 to 1 (WCAG 2.2, 1.4.3)', () => {
    for (const shade of [...SHADES, ...[...COLOUR_WORDS].map((w) => shadeOfWord(w) ?? '')]) {
      const letters = isLight(shade) ? luminance('#111111') : 1;
      expect(contrast(luminance(shade), letters), shade).toBeGreaterThan(4.5);
    }
  });

  it('of a plan are the chosen ones, then those told, then different ones of ours', () => {
    const plan = parsePlan(`Yarns: CC = dark red
Cast on 20 sts and join.
Round 1, MC: knit.
Round 2, CC: knit.
Round 3, navy: knit.
Round 4, CC2: knit.
`);
    const shades = planShades(plan, { named: { MC: '#123456' } });
    expect(shades.get('MC')).toBe('#123456');
    expect(shades.get('CC')).toBe(shadeOfWord('dark red'));
    expect(shades.get('navy')).toBe(shadeOfWord('navy'));
    expect(new Set(shades.values()).size).toBe(4);
  });
});
