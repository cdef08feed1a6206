/**
 * Plans in many manners: British, American and translated, terse and chatty, each with counts worked by hand
 * (`tests/plans/manners`). Below `==>`: `counts:` after every round, `size 2 counts:` for another size,
 * `ending:`, `worked:`, `gauge:`, `castOn:`, `sides:`; `error * 7`: the first error stands on line 7;
 * `may-refuse 12`: line 12 may be refused by name, with the rounds before it as counted.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { found, spread } from './expectations.ts';

const FOLDER = join(import.meta.dirname, '../plans/manners');

const stitches = (list: string): number[] => spread(list).map(Number);

describe('plans in many manners', () => {
  for (const file of readdirSync(FOLDER).filter((f) => f.endsWith('.txt'))) {
    it(`reads ${file} as a knitter counts it`, () => {
      const [text, expected] = readFileSync(join(FOLDER, file), 'utf8').split(/^==>\n/m);
      const plan = parsePlan(text);
      const [first] = plan.diagnostics.filter((d) => d.severity === 'error');
      const facts = new Map<string, string>();
      for (const line of expected.split('\n')) {
        const m =
          /^([a-zA-Z][a-zA-Z0-9 ]*?):\s*(.*)$/.exec(line) ??
          /^(error|may-refuse) (?:\* )?(\d+)$/.exec(line);
        if (m) facts.set(m[1], m[2].trim());
      }
      const planted = facts.get('error');
      if (planted !== undefined) {
        expect(first?.from.line).toBe(Number(planted));
        return;
      }
      const counts = plan.rounds.map((r) => r.after);
      const wanted = stitches(facts.get('counts') ?? '');
      if (first && String(first.from.line) === facts.get('may-refuse')) {
        expect(counts).toEqual(wanted.slice(0, counts.length));
        return;
      }
      expect(first).toBeUndefined();
      expect(counts).toEqual(wanted);
      expect(plan.ending).toBe(facts.get('ending') ?? 'live');
      expect(plan.worked).toBe(facts.get('worked') ?? 'round');
      for (const key of ['gauge', 'castOn', 'sides']) {
        const want = facts.get(key);
        if (want !== undefined) expect(`${key} ${found(plan, key)}`).toBe(`${key} ${want}`);
      }
      for (const [key, want] of facts) {
        const size = /^size (\d+) counts$/.exec(key);
        if (!size) continue;
        const other = parsePlan(text, Number(size[1]) - 1);
        expect(other.rounds.map((r) => r.after)).toEqual(stitches(want));
      }
    });
  }
});
