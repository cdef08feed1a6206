/** The title of a plan whose text has not been read, from its line `Title: …`; empty where it has none. */
export function titleOf(text: string): string {
  return /^[ \t]*title[ \t]*:[ \t]*(.+)$/im.exec(text)?.[1].trim() ?? '';
}
