/**
 * How many markers and corners an opening tells, against the markers that it places. In: the statements from the
 * cast-on on, what was placed. Out: a diagnostic where they disagree, or where nothing could be placed.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { Statement } from '../grammar/ast.ts';

/** "the six markers mark the corners" against the markers that are placed: `inner` of them, and the round's own. */
export function checkMarkersTold(
  statements: readonly Statement[],
  inner: number,
  worked: 'round' | 'flat',
  found: DiagnosticList,
): void {
  const sections = inner + 1;
  for (const s of statements) {
    if (s.kind === 'round' || s.kind === 'work') return;
    const told =
      s.kind === 'cast-on'
        ? s.castOn?.markersTold
        : s.kind === 'set-up'
          ? s.setUp.markersTold
          : null;
    if (!told) continue;
    const wrong =
      told.corners.find((n) => worked === 'round' && n !== sections && 2 * n !== sections) ??
      told.markers.find((n) => n !== sections && n !== inner && n !== inner - 1);
    if (wrong === undefined) continue;
    found.error(
      'markers-told-wrong',
      s,
      `${wrong} markers or corners are told, but the markers placed part the round into ${sections}`,
      'Check how many stitches lie between the markers, or how many there are.',
    );
    return;
  }
}

/** Corners are to be marked, and it can't be told where they are. */
export function sayCornersUnmarked(
  statements: readonly Statement[],
  count: number,
  sides: number | null,
  found: DiagnosticList,
): void {
  for (const s of statements) {
    if (s.kind === 'round' || s.kind === 'work') return;
    const marks =
      s.kind === 'cast-on'
        ? s.castOn?.cornerMarkers
        : s.kind === 'set-up' && s.setUp.markers === 'corners';
    if (!marks) continue;
    const told = s.kind === 'set-up' ? (s.setUp.needles ?? sides) : sides;
    found.error(
      'corners-not-found',
      s,
      told === null
        ? 'it is not said how many corners there are, so no marker can be placed'
        : `${count} stitches cannot be shared out over ${told} corners, so no marker can be placed`,
      'Say for example: place a marker after every 24 sts.',
    );
    return;
  }
}
