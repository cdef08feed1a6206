/**
 * What the grammar makes of a plan text: one node for each instruction, carrying all that was read of it,
 * so that nothing is read again later. Places are offsets in the normalised text (`lex/source.ts`);
 * between the nodes lies prose, which is a node too. One file: whoever adds a node looks all of them up here.
 */
import type { Place } from '../lex/source.ts';
import type { JoinMethod } from '../plan.ts';
import type { ChangeTold } from './change-told.ts';
import type { EdgesTold } from './edges.ts';
import type { MarkersHung } from './markers-hung.ts';
import type { RoundsTold } from './rounds-told.ts';
import type { Fabric } from './steps/patterns.ts';
import type { StatedCount } from './steps/stated-counts.ts';
import type { ReadInstruction, Step } from './steps/steps.ts';
import type { CheckNow, Tally } from './tallies.ts';

/** `rest`: all that is not described otherwise, as "all other rounds" says. */
export type Parity = Sort | 'other' | 'rest';
export type Sort = 'odd' | 'even' | 'rs' | 'ws';

export interface RoundLabel {
  /** Numbers it names, as written; empty where it names none. */
  readonly numbers: readonly number[];
  /** "and all even rounds": every such round not described otherwise. */
  readonly rule: Parity | null;
  /** "All even rounds up to and including 24": the last of them. */
  readonly upTo?: number;
  /** "Next 3 rounds". */
  readonly repeat: number;
  /** `decrease`, `set-up`, `next`; empty for numbered ones. */
  readonly name: string;
  /** Numbers of named rounds: `Set-up rounds 1 and 2`. */
  readonly suffix: readonly number[];
  readonly side: 'RS' | 'WS' | null;
  readonly unit: 'round' | 'row' | null;
  readonly stated: StatedCount | null;
  /** "Rounds 5-8 (CC)". */
  readonly colour: string | null;
  /** "Round 5 moss stitch: …" */
  readonly fabric?: Fabric;
  /** "(repeat)": a round written out again; its number is not checked. */
  readonly again: boolean;
  /** A colon, dash or full stop ends it. */
  readonly marked: boolean;
  /** "Every round: …": what all rounds are like. */
  readonly every?: boolean;
  /** "Rnd 4 (inc rnd)": what a numbered round is called besides. */
  readonly called?: string;
  /** "My shrinky round goes like this": it is told what the name means; `only`: and nothing is worked here. */
  readonly means?: true | 'only';
}

/** Which rounds a sentence names. */
export type RoundsRef =
  | { readonly kind: 'numbers'; readonly numbers: readonly number[] }
  /** "from round 3": everything since then. */
  | { readonly kind: 'since'; readonly number: number }
  /** "the last 2 rounds" */
  | { readonly kind: 'last'; readonly count: number }
  /** "these rounds": all since the last heading; `one`: "it", the last of them where no pattern has been told. */
  | { readonly kind: 'these'; readonly one?: true }
  /** "the set", "5 more stripes": what a sentence before it has told to be one. */
  | { readonly kind: 'set' }
  /** Numbers of a numbered list of instructions. */
  | { readonly kind: 'items'; readonly numbers: readonly number[] }
  /** "from * to *": the rounds between those marks; `level`: how many asterisks each of them is. */
  | { readonly kind: 'passage'; readonly level: number }
  /** "the other even rounds" */
  | { readonly kind: 'parity'; readonly even: boolean }
  | { readonly kind: 'named'; readonly name: string }
  /** Every kind of round as a rule before this describes it. */
  | { readonly kind: 'rules' }
  /** "rounds A and B" */
  | { readonly kind: 'letters'; readonly names: readonly string[] };

/** What a row that a repeat has to end with is like. */
export type EndRound =
  | { readonly number: number }
  /** The first, second … of those repeated. */
  | { readonly nth: number }
  /** A numbered point of a list, whose rounds are meant. */
  | { readonly item: number }
  /**
   * "leave out round 4 the fifth time": the round, null for the last of those repeated; which pass, null for the last one;
   * `always` where no pass is named.
   */
  | { readonly without: EndRound | null; readonly time: number | null; readonly always: boolean }
  /** "a round B" */
  | { readonly letter: string }
  | { readonly like: 'knit' | 'purl' | 'shaped' | 'plain' | 'RS' | 'WS' | 'even' | 'odd' };

/** How long, how often and in what way a sentence goes on. */
/** Rounds of one colour; null where the text only says that it changes. */
export interface Stripe {
  readonly rounds: number;
  readonly colour: string | null;
}

/** Stitches crossed on some rounds in place of knit ones. */
export interface Crossing {
  /** Null for the cable that was worked last. */
  readonly stitch: string | null;
  /** How many knit stitches it takes the place of, where the text says so. */
  readonly over: number | null;
  /** Numbers of the rounds; null where it is only told every how many. */
  readonly rounds: readonly number[] | null;
  /** Every so many rounds, from the last of those numbers on. */
  readonly every: number | null;
}

export interface Tail {
  readonly times: number | null;
  /** "3 more times": on top of what has been worked. */
  readonly more: boolean;
  /** "3 times in all". */
  readonly total: boolean;
  readonly untilStitches: number | null;
  /** The number is that of one side or section. */
  readonly perSide: boolean;
  /** How many sides those words tell; `repeat`: as many as the shaping is repeated, as in "16 in each division". */
  readonly parts: number | 'repeat' | null;
  readonly untilMm: number | null;
  /** "until 36 rows have been worked" */
  readonly untilRounds: number | null;
  /** "till round 22": the number of the last round. */
  readonly untilRound: number | null;
  /** The length or number of rounds is measured from the cast-on. */
  readonly fromStart: boolean;
  /** "until the round before fits": something decides that could not be read. */
  readonly open: boolean;
  readonly forRounds: number | null;
  /** "every 4th round" */
  readonly every: number | null;
  /** "2 decrease rounds, then a plain one": so many that shape, one behind the other; null for one. */
  readonly inARow: number | null;
  /** The very next round is meant. */
  readonly atOnce: boolean;
  /** "on the next round, and then every 4th round 3 more times": the next one besides. */
  readonly nextToo?: true;
  readonly endWith: EndRound | null;
  /** "beginning with a purl row on the wrong side": what is said of the first of them. */
  readonly startWith: readonly ('knit' | 'purl' | 'RS' | 'WS')[];
  /** "as set", "in this way": plain stretches follow the count. */
  readonly follows: boolean;
  /** "1 stitch fewer between decreases"; negative for more. */
  readonly fewer: number | null;
  readonly stated: StatedCount | null;
  /** Stitch of the rounds in between, where the sentence names it. */
  readonly between: 'k' | 'p' | null;
  /** "decreasing as in round 2" */
  readonly likeRound: Extract<RoundsRef, { readonly numbers: unknown }> | null;
  /** Numbers of the rounds that those between are like. */
  readonly betweenLike: readonly number[] | null;
  /** How one stitch of the rounds between goes on: "purling the centre stitch". */
  readonly keeps: 'k' | 'p' | null;
  /** Stitches that each pass gains, negative for lost, where the sentence says. */
  readonly eachPass: number | null;
  /** "(40 rows)": how many rounds that makes, all told or in this clause. */
  readonly roundsTold: number | null;
  /** "changing colour every 4 rounds" */
  readonly stripes: readonly Stripe[] | null;
  /** "with C6F instead of k6 on rounds 7 and 11" */
  readonly crosses: Crossing | null;
  /** Counts told one after the other: "72, 56, 40, 24, 8 sts". */
  /** "until you have worked the *k1, k2tog* round": the stitches of its last shaping round. */
  readonly lastStitches: readonly { readonly name: string; readonly times: number }[] | null;
  /** "up to round 13: *k3, k2tog*": the stitches of the last of them. */
  readonly lastRound: (Place & { readonly steps: readonly Step[] }) | null;
  /** A plain round follows each that shapes. */
  readonly afterEach: boolean;
  /** The fabric that the rounds between are said to go on with. */
  readonly ground: Fabric | null;
  /** Which rounds are said to shape, by their kind or their numbers. */
  readonly shapes: Sort | readonly number[] | null;
  /** "keeping the edge sts in garter stitch" */
  readonly edges: EdgesTold | null;
  /** All the stitches that it is said to be worked over. */
  readonly over: number | null;
  readonly counts: {
    readonly list: readonly number[];
    readonly perSide: boolean;
    /** It tells every one of them. */
    readonly all: boolean;
  } | null;
}

/** What a sentence says of how the work goes on; several of them, one behind the other, make one instruction. */
export interface Going {
  /** It asks to go on; else it only tells what the rounds are like, or where to stop. */
  readonly asks: boolean;
  /** "Stop when …" is said; "when …" is only told, and may mean something else. */
  readonly stop: 'said' | 'told' | null;
  /** The rounds to repeat, where it names some. */
  readonly which: RoundsRef | null;
  readonly tail: Tail;
}

/** Shaping told in prose. */
export interface Shaping {
  readonly decrease: boolean;
  /** Stitches each shaping round loses or gains; null where the shaping so far goes on. */
  readonly count: number | null;
  /** How many of them each side is told to lose or gain. */
  readonly each?: number;
  /** The count is that of each side. */
  readonly perSide?: boolean;
  /** Where: `null` leaves it to the shaping before, or to the sides. */
  readonly where: 'evenly' | 'ends' | 'sides' | 'begin' | 'end' | 'centre' | null;
  /** Stitch named for it, else null. */
  readonly stitch: string | null;
  /** Stitches named for the beginning and the end of each side. */
  readonly edges?: readonly [string, string];
}

/** One clause of prose that asks for rounds. */
export type WorkClause = Place & {
  /** Colour that its rounds are worked in, where it says so. */
  readonly colour?: string | null;
} & (
    | {
        readonly kind: 'repeat';
        readonly which: RoundsRef;
        readonly repeats: boolean;
        /** "Knit round 13": what it is, where nothing else tells that. */
        readonly verb?: 'knit' | 'purl';
        readonly tail: Tail;
      }
    | {
        readonly kind: 'plain';
        /** Steps of each round in turn, the last ones again as needed. */
        readonly cycle: readonly (readonly Step[])[];
        /** Number of rounds; null where a length or count decides. */
        readonly rounds: number | null;
        readonly lengthMm: number | null;
        /** Shaping spread over the last of these rounds. */
        readonly last: Shaping | null;
        readonly colour: string | null;
        readonly tail: Tail;
        /** They are called the first ones: of what is still to be worked. */
        readonly first?: boolean;
      }
    | {
        readonly kind: 'shape';
        readonly shaping: Shaping | null;
        readonly tail: Tail;
        /** What the rounds are worked in where the clause says so; a letter: all knitted, all purled. */
        readonly fabric?: Fabric | 'k' | 'p';
        /** The stitches of each shaping round, told behind a colon. */
        readonly told?: Pick<ReadInstruction, 'steps' | 'stated'>;
        /** They stand behind the words of the clause and have not been read yet. */
        readonly tellsBehind?: true;
      }
    /** Bound off at the beginning of rows to come. */
    | { readonly kind: 'edge'; readonly count: number; readonly rows: number; readonly tail: Tail }
    | {
        readonly kind: 'named';
        readonly name: string;
        readonly repeats: boolean;
        readonly tail: Tail;
      }
    | { readonly kind: 'sequence'; readonly parts: readonly WorkClause[]; readonly tail: Tail }
  );

/** What stands behind a round's label. */
export type RoundBody =
  | ({
      readonly kind: 'steps';
      /** Worked so many times: "…, for 4 rows". */
      readonly rounds?: number;
      /** Worked again and again: "…, until there are 40 sts". */
      readonly until?: Tail;
    } & ReadInstruction)
  | {
      readonly kind: 'like';
      readonly which: RoundsRef;
      readonly stated: StatedCount | null;
      readonly follows: boolean;
      readonly colour: string | null;
    }
  | {
      readonly kind: 'clauses';
      readonly clauses: readonly WorkClause[];
      readonly stated: StatedCount | null;
    }
  /** "Rounds 7-14: continue like this, one more stitch before each kfb"; `which`: "as the 4th, with 2 sts fewer" */
  | {
      readonly kind: 'going';
      readonly which: RoundsRef | null;
      readonly tail: Tail;
      readonly stated: StatedCount | null;
    }
  /** `lost`: words of it that no rule follows. */
  | { readonly kind: 'bind-off'; readonly lost?: Place };

/** How many markers are said to be placed, and how many corners they mark. */
export interface MarkersTold {
  readonly markers: readonly number[];
  readonly corners: readonly number[];
}

export interface CastOn {
  readonly count: number;
  readonly sides: number | null;
  readonly markers: readonly number[];
  /** Markers at every corner, whose places wait for the number of sides. */
  readonly cornerMarkers: boolean;
  readonly roundMarker: boolean;
  /** Markers hung in stitches. */
  readonly hungIn: readonly MarkersHung[];
  readonly markersTold: MarkersTold;
  readonly join: Join | null;
  /** It is said of some stitch that it is for the join, and `count` is without it. */
  readonly lessExtra: boolean;
  /** Counts said besides, which must agree with `count`. */
  readonly stated: readonly number[];
}

export interface Join {
  readonly method: JoinMethod;
  readonly halfTurns: number;
  /** The text says twisted and not by how much. */
  readonly assumed?: true;
}

/** Between the cast-on and the first round: joining, markers, stitches shared over needles. */
export interface SetUp {
  readonly join: Join | null;
  readonly joins: boolean;
  /** How many of the last stitches (one, or none) are worked together with the first, or lifted over it. */
  readonly takesExtra: number;
  readonly roundMarker: boolean;
  /** Every so many stitches, or a list of places; null where it places none. */
  readonly markers:
    | { readonly every: number }
    | { readonly at: readonly number[]; readonly every?: number }
    | { readonly around: 'middle' }
    | 'corners'
    | null;
  /** Markers hung in stitches. */
  readonly hungIn: readonly MarkersHung[];
  readonly markersTold: MarkersTold;
  readonly perNeedle: number | null;
  readonly needles: number | null;
  /** Counts of all the stitches that are said. */
  readonly totals: readonly number[];
  /** So many parts of so many stitches; parts null where they are not said. */
  readonly shares: readonly { readonly parts: number | null; readonly each: number }[];
}

/** What a sentence that ends the piece says. */
export interface EndWords {
  binds: boolean;
  draws: boolean;
  breaks: boolean;
  through: boolean;
  holds: boolean;
  /** The stitches are put on a thread, which the next sentence may draw up. */
  thread: boolean;
  /** "Do not bind off". */
  keeps: boolean;
  /** Stitches that the ending takes, where it says how many. */
  count: number | null;
  /** "After round 14: …": the round behind which it comes. */
  after: number | null;
}

/** A thing that cannot be followed, known by name. */
export interface Refused {
  readonly code: string;
  readonly message: string;
  readonly hint: string;
}

/** Instructions that their first words tell whole. */
export type Told =
  | { readonly kind: 'work'; readonly clauses: readonly WorkClause[] }
  /** `instructs`: it is an error where nothing goes on that it belongs to. */
  | {
      readonly kind: 'going';
      readonly going: Going;
      readonly instructs: boolean;
      readonly told?: RoundsTold;
    }
  /** Null where a colour is only dropped. */
  | {
      readonly kind: 'colour';
      readonly colour: string | null;
      readonly stripes?: readonly Stripe[];
    }
  | { readonly kind: 'crossing'; readonly crosses: Crossing }
  /** A line of a list of counts to check by. */
  | { readonly kind: 'tally'; readonly tally: Tally | CheckNow }
  /** "Garter stitch throughout", "work in moss stitch": what rounds are worked in that name no stitches; `all`: all of the piece. */
  | {
      readonly kind: 'ground';
      readonly fabric: Fabric;
      readonly all: boolean;
      readonly edges?: EdgesTold;
      readonly startWith?: Tail['startWith'];
    }
  /** "Slip the first stitch of every row": what both edges of every row are like from here on. */
  | { readonly kind: 'edges'; readonly edges: EdgesTold }
  /** A mark in front of rounds that are repeated from there, or behind them. */
  | { readonly kind: 'passage'; readonly level: number }
  /** "These 2 rows form the pattern": what "the pattern" and "them" mean from here on. */
  | { readonly kind: 'pattern'; readonly which: RoundsRef; readonly told?: undefined }
  /** "That is the pattern: one plain round, two decrease rounds" */
  | { readonly kind: 'pattern'; readonly told: readonly WorkClause[] }
  | ({ readonly kind: 'refused' } & Refused);

export type Statement = Place & { readonly item?: number } & (
    | { readonly kind: 'cast-on'; readonly castOn: CastOn | null }
    | { readonly kind: 'set-up'; readonly setUp: SetUp }
    | { readonly kind: 'round'; readonly label: RoundLabel | null; readonly body: RoundBody }
    | { readonly kind: 'end'; readonly words: Readonly<EndWords> }
    | { readonly kind: 'count'; readonly stated: StatedCount }
    | Told
    /** `heading`: it stands alone, so counting may start anew. */
    | {
        readonly kind: 'prose';
        readonly heading: boolean;
        readonly instructs: boolean;
        /** How rounds are worked, by what it tells of them. */
        readonly told?: RoundsTold;
        /** How many stitches are lost or gained each time. */
        readonly change?: ChangeTold;
        /** Rounds that it names last, which "them" behind it means. */
        readonly names?: RoundsRef;
      }
  );
