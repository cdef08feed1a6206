/**
 * A round's label and body → what each round of the label means. In: the nodes. Out: definitions, one for each
 * round of the label or a cycle of them; remarks met while reading are reported here.
 */
import type { RoundBody, RoundLabel, WorkClause } from '../grammar/ast.ts';
import { patternSteps } from '../grammar/steps/patterns.ts';
import { type Place, trimmed } from '../lex/source.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import type { ClauseWorker } from './clauses.ts';
import type { RoundDef } from './round-defs.ts';
import type { RoundScope } from './round-scope.ts';

export class RoundReader {
  readonly #piece: WorkedPiece;
  readonly #clauses: ClauseWorker;
  readonly #scope: RoundScope;

  constructor(piece: WorkedPiece, clauses: ClauseWorker, scope: RoundScope) {
    this.#piece = piece;
    this.#clauses = clauses;
    this.#scope = scope;
  }

  /** Definitions without labels; none where the text says nothing that could be worked. */
  read(label: RoundLabel | null, body: RoundBody, at: Place, count: number): RoundDef[] {
    const piece = this.#piece;
    const base: RoundDef = {
      steps: [],
      stated: label?.stated ?? null,
      from: at.from,
      to: trimmed(piece.source, at).to,
      label: '',
      side: label?.side ?? null,
      ...(label?.fabric ? { fabric: label.fabric } : null),
      ends: false,
    };
    switch (body.kind) {
      case 'bind-off':
        if (body.lost) piece.sayNotFollowed(body.lost);
        return [{ ...base, ends: true }];
      case 'like': {
        const follows = { follows: { from: at.from, to: at.to, told: body.follows } };
        return this.#scope.refs(body.which, at).map((d) => ({
          ...base,
          steps: d.steps,
          stated: body.stated ?? base.stated,
          ...colourOf(body.colour ?? label?.colour ?? d.colour),
          ...follows,
        }));
      }
      // Goes on with the shaping, or nothing does.
      case 'going':
        piece.sayNotFollowed(at);
        return [];
      case 'clauses':
        return this.#several(body, base, at, count, label?.colour ?? null);
      case 'steps':
        return this.#steps(body, base, at);
    }
  }

  #several(
    body: Extract<RoundBody, { kind: 'clauses' }>,
    base: RoundDef,
    at: Place,
    count: number,
    colour: string | null,
  ): RoundDef[] {
    const piece = this.#piece;
    const defs: RoundDef[] = [];
    for (const clause of body.clauses) {
      const part = this.#again(clause, defs) ?? this.#clauses.defs(clause);
      if (!part) {
        piece.sayNotFollowed(clause);
        return [];
      }
      defs.push(...part);
    }
    const { tail } = body.clauses[body.clauses.length - 1];
    const multiple = tail.times === null && count % defs.length === 0;
    if (count > 1 && !multiple && defs.length !== count) {
      piece.sayLost(
        'range-of-other-length',
        at,
        `the label names ${count} rounds, but the repeat makes ${defs.length}`,
        'Check the number of times, or the numbers in the label.',
      );
    }
    const stated = body.stated ?? tail.stated ?? base.stated;
    const until =
      tail.untilStitches !== null
        ? { total: piece.targetOf(tail), perSide: null, change: null }
        : null;
    const follows = { follows: { from: at.from, to: at.to } };
    return defs.map((d) => ({
      ...base,
      steps: d.steps,
      stated: stated ?? until,
      ...colourOf(colour ?? d.colour),
      ...follows,
    }));
  }

  /** "P 1 rnd, k 1 rnd; rep last 2 rnds 3 more times": rounds of the same label again. */
  #again(clause: WorkClause, before: readonly RoundDef[]): RoundDef[] | null {
    if (
      clause.kind !== 'repeat' ||
      clause.which.kind !== 'last' ||
      clause.which.count > before.length
    )
      return null;
    const last = before.slice(-clause.which.count);
    return Array.from({ length: Math.min(clause.tail.times ?? 1, 1000) }, () => last).flat();
  }

  #steps(body: Extract<RoundBody, { kind: 'steps' }>, base: RoundDef, at: Place): RoundDef[] {
    const { found } = this.#piece;
    const unread = body.unread > 0;
    for (const r of body.remarks) found.add(r);
    if (body.steps.length === 0 && !unread) {
      found.error(
        'round-empty',
        at,
        'nothing is said about what to work here',
        'Write the stitches after the label, for example: knit.',
      );
      return [];
    }
    // Nothing could be read: the count stays as it is, and only the words are reported.
    const nothing = !body.hasStitches && unread;
    if (nothing && !body.failed) this.#piece.sayNotFollowed(at);
    const steps = nothing ? patternSteps('set', at) : body.steps;
    // "decrease 12 sts evenly like this: … = 108 sts"
    const told = base.stated?.change ?? null;
    const stated = body.stated
      ? { ...body.stated, change: body.stated.change ?? told }
      : base.stated;
    return [
      {
        ...base,
        steps,
        stated,
        unread,
        failed: body.failed || nothing,
        ...colourOf(body.colour),
      },
    ];
  }
}

function colourOf(colour: string | null | undefined): Pick<RoundDef, 'colour'> {
  return colour ? { colour } : {};
}
