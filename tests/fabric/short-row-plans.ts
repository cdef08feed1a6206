/** Random plans with short rows, flat and in the round, as text; for properties. */
import fc from 'fast-check';

/** A flat piece: whole rows, then pairs of short rows turned at rising or falling places, then whole rows. */
export const flatWithShortRows = fc
  .record({
    stitches: fc.integer({ min: 12, max: 40 }),
    turns: fc.array(fc.double({ min: 0.15, max: 0.85, noNaN: true }), {
      minLength: 1,
      maxLength: 4,
    }),
    side: fc.constantFrom('RS', 'WS'),
    style: fc.constantFrom('w&t', 'turn', 'turn and make double st'),
    closing: fc.integer({ min: 0, max: 3 }),
    ending: fc.constantFrom('Bind off.', ''),
  })
  .map(({ stitches, turns, side, style, closing, ending }) => {
    const rows = side === 'RS' ? ['knit', 'purl'] : ['knit'];
    const [work, back] = side === 'RS' ? ['k', 'p'] : ['p', 'k'];
    for (const share of turns) {
      const n = Math.max(1, Math.min(stitches - 1, Math.round(share * stitches)));
      rows.push(`${work}${n}, ${style}`, `${back}${n}`);
    }
    for (let i = 0; i < closing; i++) rows.push(rows.length % 2 === 0 ? 'knit' : 'purl');
    const list = rows.map((row, i) => `Row ${i + 1}: ${row}`).join('\n');
    return `Worked: flat\nGauge: 20 sts and 28 rows to 10 cm\nCast on ${stitches} sts\n${list}\n${ending}\n`;
  });

/** Work in the round with a wedge worked to and fro over the beginning of the round, and maybe one elsewhere. */
export const roundWithShortRows = fc
  .record({
    stitches: fc.integer({ min: 24, max: 60 }),
    halves: fc.array(fc.integer({ min: 2, max: 10 }), { minLength: 1, maxLength: 3 }),
    style: fc.constantFrom('w&t', 'turn'),
    closing: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ stitches, halves, style, closing }) => {
    const rounds = ['knit', 'knit'];
    halves.forEach((half, i) => {
      const before = i === 0 ? 0 : halves[i - 1];
      rounds.push(`k${before + half}, ${style}`, `p${2 * half}, ${style}`);
    });
    rounds.push(`k${halves[halves.length - 1]}`);
    for (let i = 0; i < closing; i++) rounds.push('knit');
    const list = rounds.map((round, i) => `Round ${i + 1}: ${round}`).join('\n');
    return `Gauge: 20 sts and 28 rounds to 10 cm\nCast on ${stitches} sts and join in the round\n${list}\nBind off.\n`;
  });
