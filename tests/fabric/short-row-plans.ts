/** Random plans with short rows as text, for properties: flat, seamed and in the round. */
import fc from 'fast-check';

const share = fc.double({ min: 0.1, max: 0.9, noNaN: true });
const style = fc.constantFrom('w&t', 'turn', 'turn and make double st');

/** A flat piece: whole rows, then pairs of short rows turned anywhere, then whole rows. */
export const flatWithShortRows = fc
  .record({
    stitches: fc.integer({ min: 12, max: 40 }),
    turns: fc.array(share, { minLength: 1, maxLength: 4 }),
    side: fc.constantFrom('RS', 'WS'),
    style,
    closing: fc.integer({ min: 0, max: 3 }),
  })
  .map(({ stitches, turns, side, style: turn, closing }) => {
    const rows = side === 'RS' ? ['knit', 'purl'] : ['knit'];
    const [work, back] = side === 'RS' ? ['k', 'p'] : ['p', 'k'];
    for (const part of turns) {
      const n = Math.max(1, Math.min(stitches - 1, Math.round(part * stitches)));
      rows.push(`${work}${n}, ${turn}`, `${back}${n}`);
    }
    for (let i = 0; i < closing; i++) rows.push(rows.length % 2 === 0 ? 'knit' : 'purl');
    return planText('Worked: flat', 'Row', stitches, rows, 'Bind off.');
  });

/** Work in the round with a wedge worked to and fro over the beginning of the round. */
export const roundWithShortRows = fc
  .record({
    stitches: fc.integer({ min: 24, max: 60 }),
    halves: fc.array(fc.integer({ min: 2, max: 10 }), { minLength: 1, maxLength: 3 }),
    style: fc.constantFrom('w&t', 'turn'),
    closing: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ stitches, halves, style: turn, closing }) => {
    const rounds = ['knit', 'knit'];
    halves.forEach((half, i) => {
      rounds.push(`k${(i === 0 ? 0 : halves[i - 1]) + half}, ${turn}`, `p${2 * half}, ${turn}`);
    });
    rounds.push(`k${halves[halves.length - 1]}`, ...Array(closing).fill('knit'));
    return planText('', 'Round', stitches, rounds, 'Bind off.');
  });

/** Whole rows, shaped rows and short rows in any order, ended in any way; rows may turn in the first one. */
export const wildShortRows = fc
  .record({
    worked: fc.constantFrom('flat', 'seamed', 'round'),
    stitches: fc.integer({ min: 8, max: 40 }),
    parts: fc.array(
      fc.record({
        what: fc.constantFrom('whole', 'shaped', 'short', 'short'),
        at: share,
        back: share,
        style,
      }),
      { minLength: 2, maxLength: 12 },
    ),
    ending: fc.constantFrom('Bind off.', 'Draw yarn through remaining sts.', ''),
  })
  .map(({ worked, stitches, parts, ending }) => {
    const flat = worked !== 'round';
    const rows: string[] = [];
    let n = stitches;
    for (const { what, at, back, style: turn } of parts) {
      const wrong = flat && rows.length % 2 === 1;
      const k = wrong ? 'p' : 'k';
      const there = Math.max(1, Math.floor(at * (n - 2)));
      if (what === 'whole') rows.push(wrong ? 'purl' : 'knit');
      else if (what === 'shaped' && n > 8) {
        rows.push(`${k}2, ${k}2tog, ${k} to end`);
        n--;
      } else if (flat) rows.push(`${k}${there}, ${turn}`, `${wrong ? 'k' : 'p'} to end`);
      else if (back < 0.3) rows.push(`k${there}, ${turn}`, 'p to end');
      else {
        const beyond = Math.max(1, Math.floor(back * (n - 2)));
        rows.push(`k${there}, ${turn}`, `p${beyond}, ${turn}`, 'k to end');
      }
    }
    const head = {
      flat: 'Worked: flat',
      seamed: 'Worked: flat, seam stitches 1 + 0 (beginning + end of RS rows)',
      round: '',
    }[worked];
    return planText(head, flat ? 'Row' : 'Round', stitches, rows, ending);
  });

function planText(
  head: string,
  word: 'Row' | 'Round',
  stitches: number,
  rows: readonly string[],
  ending: string,
): string {
  const join = word === 'Round' ? ' and join in the round' : '';
  const list = rows.map((row, i) => `${word} ${i + 1}: ${row}`).join('\n');
  return `${head}\nGauge: 20 sts and 28 rows to 10 cm\nCast on ${stitches} sts${join}\n${list}\n${ending}\n`;
}
