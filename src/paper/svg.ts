/** SVG text that several pictures share: escaping, rounding to 0.01, a label. Lengths in the picture's own unit. */

export function escapeXml(text: string): string {
  return text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}

export function round2(x: number): number {
  return Math.round(x * 100) / 100;
}

export function label(
  x: number,
  y: number,
  words: string,
  size: number,
  anchor: string,
  bold = false,
): string {
  return `<text x="${round2(x)}" y="${round2(y)}" font-size="${round2(size)}" text-anchor="${anchor}"${bold ? ' font-weight="bold"' : ''} fill="#111">${escapeXml(words)}</text>`;
}
