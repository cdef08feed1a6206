/**
 * The needles when a round has been worked, in working order of the next one. In: what the round left, the needles before it.
 * Out: the needles turned in flat work, or from where a short row was turned, or back at the beginning of the round.
 */
import { type Needle, turnNeedle, turnRound } from './needle.ts';

/** What a round leaves on the needles, in its working order. */
interface Left {
  readonly after: number;
  readonly markers: readonly number[];
  readonly marked: readonly number[];
  readonly roundMarker: boolean;
  /** Stitches worked before the row was turned early; null where it was not. */
  readonly turnedAt: number | null;
}

/** `faces`: [after] face history of the loops that the round leaves. */
export function nextNeedle(
  worked: Left,
  faces: Uint8Array,
  needle: Needle,
  inRound: boolean,
): Needle {
  const { after: count, markers, marked, roundMarker } = worked;
  const next: Needle = { count, faces, markers, roundMarker, marked };
  return inRound ? nextInRound(worked, next, needle) : nextRow(worked, next, needle);
}

/** The next row: turned, and where this one was turned early, beginning behind the stitches left. */
function nextRow(worked: Left, next: Needle, needle: Needle): Needle {
  const { turnedAt, after } = worked;
  const passed = needle.turned?.passed ?? 0;
  const turned = turnNeedle(next);
  // Turns that this row has worked past are closed; those it left lie ahead of rows to come.
  const open = (needle.turned?.turns ?? []).filter(
    (t) => t < passed || (turnedAt !== null && t > turnedAt),
  );
  const turns = [
    ...open,
    ...(turnedAt === null ? [] : [turnedAt]),
    ...(passed > 0 ? [passed] : []),
  ];
  if (turnedAt === null && turns.length === 0) return turned;
  const left = turnedAt === null ? 0 : after - turnedAt;
  const places = [...new Set(turns.map((t) => after - t))].sort((a, b) => a - b);
  return { ...turned, turned: { passed: left, turns: places, bor: null, back: false } };
}

function nextInRound(worked: Left, next: Needle, needle: Needle): Needle {
  const { turnedAt } = worked;
  const { turned } = needle;
  if (turnedAt !== null) return turnRound({ ...next, turned }, turnedAt, !(turned?.back ?? false));
  if (!turned || turned.bor === null) return next;
  // Back at the beginning of the round.
  const { bor } = turned;
  const { count } = next;
  const faces = new Uint8Array(next.faces.length);
  for (let i = 0; i < faces.length; i++) faces[i] = next.faces[(i + bor) % count];
  const markers = next.markers.filter((m) => m !== bor).map((m) => (m - bor + count) % count);
  return {
    count,
    faces,
    markers: markers.filter((m) => m > 0).sort((a, b) => a - b),
    roundMarker: next.roundMarker,
  };
}
