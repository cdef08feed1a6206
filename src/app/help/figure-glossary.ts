/** What the figures and words of the page mean, as a knitter would say it. */
export interface Explained {
  readonly name: string;
  readonly words: string;
}

export const EXPLAINED_FIGURES: readonly Explained[] = [
  {
    name: 'Verdict',
    words:
      'What the piece does when it is left alone: it lies flat, can be blocked flat, cups (the middle stands up), ruffles (the rim waves), or both in places.',
  },
  {
    name: 'Rim',
    words:
      'The outer edge: the cast-on of a piece worked to its centre, the last round of one that grows from it.',
  },
  {
    name: 'Ground, panel',
    words:
      'The ground is the fabric that fills a side, such as stockinette or garter; a panel is what stands in it, such as a cable with its purl stitches.',
  },
  {
    name: 'Angle round the centre',
    words:
      'How far the rounds go round the middle. A whole turn, 360°, lies flat; less makes a cup, more a ruffle.',
  },
  {
    name: 'Rim too short, rim too long',
    words: 'How much longer or shorter the outer edge would have to be for the piece to lie flat.',
  },
  {
    name: 'Rise as it lies, picked up',
    words:
      'From the lowest point of the piece to its highest: on a table, where its own weight holds it down, and in the air.',
  },
  {
    name: 'Pinned flat, dried',
    words:
      'The size while it is pinned out flat, and how much that stretches or gathers its edge. Only what is flat, or flat after blocking, stays so without the pins.',
  },
  {
    name: 'Finished side',
    words: 'One side of the outer edge, laid out, once the fabric has come to rest.',
  },
  {
    name: 'Finished round × height',
    words:
      'Of a tube, such as a cowl: how long its rounds are, from the shortest to the longest, and how high it stands.',
  },
  {
    name: 'Finished width × length',
    words:
      'Of a piece worked flat and left open: along its cast-on and across it, turned to where it is narrowest.',
  },
  {
    name: 'At rest',
    words:
      'Every stitch has found its place and nothing pulls any more. “Coming to rest” is the way there.',
  },
  {
    name: 'Force left, steps',
    words:
      'How the calculation is going: each step moves the stitches a little, and the force left shrinks until they lie still. Only of interest where a piece does not come to rest.',
  },
  {
    name: 'Round by round',
    words:
      'How many stitches every round (or row) loses or gains beside how many it should, to lie flat there.',
  },
  {
    name: 'Stretch',
    words: 'How much a stitch is pulled longer (+) or pressed shorter (−) than it wants to be.',
  },
  {
    name: 'Bend',
    words:
      'How sharply the fabric is curved, told by the radius of the ball that is curved so: a small ball is sharp, flat fabric would need an endless one.',
  },
  { name: 'Section', words: 'A cut through the piece, with how high and how wide it is there.' },
  {
    name: 'Opening, ordinary gap',
    words:
      'The widest hole at a place, seen square on, beside the hole that any two stitches leave between them.',
  },
  {
    name: 'Pulled in',
    words: 'How much narrower a cable panel is than the same stitches without crossings.',
  },
  {
    name: 'Stitches, strands',
    words:
      'Two ways to draw the fabric: stitches as a pattern on it, or every loop as a strand of yarn.',
  },
  {
    name: 'Jog',
    words:
      'The step where a round begins: work in the round is a spiral, so its end stands higher.',
  },
];
