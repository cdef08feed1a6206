/**
 * What the text believes is on the needles after a mistake. The first wrong count is reported; rounds after
 * it that would fit the believed count are only its consequences and are not reported again. As soon
 * as a round or a stated count agrees with the real needles, the belief ends.
 */
import { castOnNeedle, type Needle } from './needle.ts';

/** Largest count that is followed beside the real one. Chosen: bounds the time for wrong plans. */
const MOST = 20_000;

export class ErrorSuppression {
  #active = false;
  #needle: Needle | null = null;

  /** A mistake has been reported, and the counts have not come together since. */
  get active(): boolean {
    return this.#active;
  }

  /** The stitches that the text believes in; null where nothing tells. */
  get needle(): Needle | null {
    return this.#needle;
  }

  /** From here on the text may count differently. */
  begin(needle: Needle | null): void {
    this.#active = true;
    this.#needle = needle && needle.count <= MOST ? needle : null;
  }

  /** As `begin`, with `count` stitches on needles that are otherwise like `like`. */
  beginWith(count: number | null, like: Needle): void {
    this.begin(count === null ? null : needleOf(count, like));
  }

  end(): void {
    this.#active = false;
    this.#needle = null;
  }
}

/** `count` stitches with markers at the same shares as on `like`; null where they can't be shared. */
export function needleOf(count: number, like: Needle): Needle | null {
  if (count < 1 || count > MOST) return null;
  if (count === like.count) return like;
  const sections = like.markers.length + 1;
  if (count % sections !== 0) return null;
  const markers = like.markers.map((_, i) => ((i + 1) * count) / sections);
  return castOnNeedle(count, markers, like.roundMarker);
}
