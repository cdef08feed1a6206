/**
 * What translators say for the terms of knitting, word for word out of other tongues. Data alone. A line holds the term,
 * how it is taken, the tongues it comes from (ISO 639-1), and the sayings, parted by commas, as sources of expressions in
 * which a space stands for a space or a hyphen. Source: the knitting vocabulary of those tongues, common practice, from memory.
 *
 * | sign | read | tells of a translation |
 * | --- | --- | --- |
 * | `!` | wherever it has its place | by itself |
 * | `+` | wherever it has its place | with one other saying of its tongue |
 * | `?` | in a translation | with one other saying of its tongue |
 * | `-` | in a translation | never: common words of English |
 */
export interface Saying {
  readonly means: string;
  readonly sign: '!' | '+' | '?' | '-';
  readonly tongues: readonly string[];
  readonly source: string;
}

function sayings(list: string): readonly Saying[] {
  return list
    .trim()
    .split('\n')
    .flatMap((line) => {
      const [, means, sign, tongues, said] =
        /^\s*(.+?) ([!+?-]) ([a-z/]+) = (.*)$/.exec(line) ?? ([] as string[]);
      return said.split(/, /).map((source) => ({
        means,
        sign: sign as Saying['sign'],
        tongues: tongues.split('/'),
        source: source.replaceAll(' ', '[ -]'),
      }));
    });
}

/** How a stitch is worked: behind its number, after "all", alone behind a label, behind a round. */
export const PLAIN = sayings(String.raw`
  knit ? de/nl/da/no/sv/fi/it/es/pl = right, rights, right stitched
  knit ? nl/it/pt = straight
  knit ? it/es/fr = to the right, on the right, at the right, in right, upright
  knit + fr = (?:at|to|on|in|of) (?:the )?(?:right )?place
  knit + ru = facial
  knit ? ru = faced, front
  knit ? cs/de = smooth, smoothly
  knit ? pt = stocking, half
  knit ? ja = surface, front
  knit ? fi/sv = correct, correctly, rightly
  purl ? de/pl = left, lefts
  purl ! nl = averse(?:ly)?, aversed, avert
  purl ? da/no/sv/fi/nl = wrong, wrongly, wrong way
  purl + fi/sv = inside out, avigs?, crooked
  purl ? it/es/fr/cs = (?:(?:to|at|on|in) (?:the )?)?(?:reverse|inverse|back ?side), reversed, inverted, backwards?, upside down
  purl + ru = seamy, inner, wrong faced
  purl ? ja = back
  purl ? pt = tricot
  purl ? cs = turned, obverse
`);

const LAID =
  '(?:pull|haul|draw|drag|cast|la(?:y|id|pp?)|slip|pass|lift|hoist|hale?|tak|take|jump|leap|slid|slide|put|thrust|tuck)p?(?:e?d|n|en|ing)?s?';
/** "overpull", "lifted-over": one stitch brought over another, in any of these words. */
const OVER = `(?:over ?${LAID}|${LAID} ?over|surjet|accavallata)`;
const DEC = '(?: (?:dec(?:rease)?|together|tog|stitch|st))?';

/** Names of stitches. */
export const NAMED = sayings(String.raw`
  skp ! de/nl/da/no/sv/fi/fr/it/es/pt = (?:(?:simple|single|plain|ordinary) )?${OVER}${DEC}, (?:simple|single) slipped${DEC}
  sk2p ! de/nl/da/no/sv/fi/fr/it/es/pt = (?:double|twofold) ${OVER}${DEC}, double slipped${DEC}
  yo ! de/nl/sv/da/no = envelopes?
  yo ! pl/ru/cs = over ?throws?, throws? on, throw ?overs?, thrown ?on, thrown ?over
  yo ! fr/it = thrown, jet[eé]
  yo ! es/pt = lassos?, lacings?, lazadas?, thread over
  yo + sv/da/no/nl = turn ?overs?, turn ?abouts?, turn ?arounds?, wrap ?overs?, wrap ?arounds?, throw (?:around|about|round), throw (?:the )?(?:thread|yarn) (?:around|about|round)
  yo + fi/ja = yarn ?takes?, (?:yarn|thread) ?throws?, yarn ?turns?, thread ?around, thread ?turns?, hang(?:ing)? (?:stitch|eye|st), hook(?:ing)? (?:stitch|eye)
  yo ? fr/es/pt = throws?, loop over
  yo ? de/nl/da/no/sv = wraps?, casts? ?around
`);

/** Fabrics. */
export const FABRICS = sayings(String.raw`
  moss stitch ! fr/it/es/de = (?:grains?|points?|stitch) of rice, rice (?:stitch|st|grains?|points?|patterns?|knitting), rice
  moss stitch ! pl/de/sv/da = (?:small |little )?(?:pearl|perl|bead|barley|sand) (?:stitch|st|pattern|knitting|knit)
  reverse stockinette ! de/it/fr/es/cs/ru = smooth left(?: knit(?:ting|ted)?)?, glatt left, reverse (?:jersey|point), jersey (?:reverse|wrong side), inverted (?:jersey|stocking point), (?:seamy|purl|back) (?:smoothness|smooth surface|smooth)
  stockinette ! de/cs = smooth(?:ly)? right(?: knit(?:ting|ted)?)?, glatt right, smooth jersey
  stockinette ! fr/it/es/pt = (?:point|stitch) (?:of )?(?:jersey|stocking), jersey (?:point|right|straight|smooth), jersey(?: stitch| st)?, (?:stocking|stockings|smooth|right|meia) points?, shaved (?:stitch|mesh|knit), shaven (?:stitch|mesh)
  stockinette ! nl/da/no/sv/fi/ru/pl = tricot (?:stitch|st), glatt?(?: knitting| knit)?, smooth (?:knitting|knit), (?:facial|front|face) (?:smoothness|smooth surface|smooth|surface)
  stockinette ? da/no/sv = plain knitting, flat knitting, slick knitting
  stockinette ? ja = front (?:stitch )?knitting, (?:plain|surface) eye knitting
  garter stitch ! fr/es/pt = (?:point|stitch) (?:of )?foam, foam (?:point|stitch|st), silly (?:stitch|point), cord stitch, (?:point|stitch) bobo
  garter stitch ! de/nl/sv/da/no = (?:crosswise|ridged|crinkled|curly|frizzy|crisp|ruffled|kraus|frilly) (?:right|knit)(?: knit(?:ting|ted)?)?, right ?knit(?:ting)?, ribble stitch, ridge (?:knitting|stitch)
  garter stitch ! it/ru/pl/fi/cs = legaccio(?: stitch)?, (?:kerchief|handkerchief|shawl) (?:knitting|pattern|stitch|surface|viscous), french (?:stitch|weave), always right
  rib ! de/nl/da = (?:cuff|waistband|bündchen|welt) (?:pattern|stitch|knitting)
  1x1 rib ! ja/ru/de/fr = (?:1|one|single) ?eye (?:rubber|rib)(?: knitting| knit)?, (?:rubber|elastic|gum|resorte|cuff|cuff pattern|rib(?:bed)?(?: band)?) (?:band )?1 ?[x/] ?1
  2x2 rib ! ja/ru/de/fr = (?:2|two|double) ?eye (?:rubber|rib)(?: knitting| knit)?, (?:rubber|elastic|gum|resorte|cuff|cuff pattern|rib(?:bed)?(?: band)?) (?:band )?2 ?[x/] ?2
`);

/** Things, behind a number or a word such as "each": one of them and several. */
export const THINGS = sayings(String.raw`
  stitch ! de/fr/it/sv/da/no = mesh, meshes, masks?
  stitch ? pl/cs/ja = eyes?, eyelets? ?stitch
  stitch - es/pt/fr = points?
  stitch - de/fr/it/sv/da/no/pt = m(?!m)\.?
  stitch - es/pt = p\.(?! ?s), pts?\.?
  needle ! sv/fi/da/no/nl = (?:sock|stocking|knitting|round) ?(?:sticks?|pins?)
  needle ? sv/fi/cs = sticks?
  needle ? it = irons?
  needle ? ru = spokes?
  needle ? pl/cs = wires?
  needle - da/no/sv = pins?
  round - sv/da/no/fi/pt/es = laps?, omg\.?
  round - fr/es/it/de/nl = turns?, tours?, revolutions?
  round - pl/ru/cs = circuits?, circles?
  row - fr/pt/it = careers?, carreiras?, ranks?, rgs?\.?
`);

/** Labels of rounds and rows, with their number: "Turn 4:", "3rd lap:". */
export const LABELS = sayings(String.raw`
  round ! fr/es/it/de/nl = turns?, tours?, revolutions?, trn\.?
  round ! sv/da/no/pt = laps?, omg\.?, omgang, varv
  round ! pl/ru/cs = circuits?
  row ! fr/pt/it = careers?, carreiras?, ranks?
  row ? it/da/no/sv/pl = irons?, pins?, sticks?, wires?
`);

/** To cast on so many. */
export const CASTS_ON = sayings(String.raw`
  cast on ! fr/it/es/pt = mount(?: up)?, assemble, urge, start up, launch
  cast on ! ru/pl/cs = dial, recruit, collect, gather, take on, throw on, gain
  cast on ! de/da/no/sv/nl/fi = (?:strike|hit|beat|loop|lay|put|set|cast|lift|knot|knock) (?:on|up), create, establish
`);

/** To bind off all. */
export const CASTS_OFF = sayings(String.raw`
  bind off ! de/sv/da/no/nl/fi = (?:chain|mask|link) (?:off|down|away)
  bind off + de/sv/da/no/nl/fi = (?:knit|fell|close|end|felled|shut) off
  bind off ! fr/it/es/pt/ru = (?:turn|fold|beat) down, interlace, inter ?weave, close
  bind off + fr/it/es/pt/ru/cs/pl = finish(?: off)?, terminate, top, cover, close off, lock, end
`);

/** Needles for knitting in rounds. */
export const SETS = sayings(String.raw`
  set of needles ! de/nl/da = needle ?(?:play|game|set), (?:play|game) of (?:(?:4|5|four|five|stocking|sock|double pointed) )*needles, (?:stocking|sock) ?needle (?:play|game|set)
  set of needles ! fr/it/es/pt = (?:play|game) of (?:(?:4|5|four|five|stocking|sock|double pointed) )*(?:needles|irons), irons(?: of the)? game
  double-pointed needles ! de/da/no/ru/cs/nl = (?:stocking|sock|hose|toe) ?needles(?: without (?:a )?knobs?)?, (?:sock|stocking|hose) spokes, needles without (?:a )?knobs?, (?:hose|two point) ?(?:sticks|pins|wires), two ?pointed irons
  circular needle ! de/da/no/sv/it/pl/ru = (?:circle|ring|round|roundabout) ?(?:needle|stick|pin|wire|iron)s?, round ?(?:about ?)?(?:needle|stick|pin|wire|iron)s?
`);

/** Heads over the gauge. */
export const GAUGE_HEADS = sayings(String.raw`
  gauge ! de/nl/da/no/sv/fi/fr/it/es/pt/ja/pl/cs/ru = (?:(?:stitch|knit|knitting|mesh|work|working|tension|control|test|tricot) )?(?:samples?|tests?|trials?|proofs?|specimens?|density|densities|firmness|fastness|tightness|strength|show|showpiece)(?: (?:patch|piece|swatch|square|knitting|lap|work|number))?(?: of (?:the )?(?:tension|knitting|stitch|stitches|point|points|tricot))?, (?:number of )?(?:meshes|eyes) (?:density|sample)
`);

/** Rows of a gauge. */
export const GAUGE_ROWS = sayings(String.raw`
  rows ! it/de/nl/da = irons?, needles?, pins?
  rows ! fr/es/pt/sv/da/pl = turns?, tours?, laps?, circuits?, careers?, carreiras?, ranks?, rgs?\.?, tour
  rows - da = p\.?
`);

/** Names of the tongues. */
export const TONGUES: Readonly<Record<string, string>> = {
  german: 'de',
  austrian: 'de',
  swiss: 'de',
  dutch: 'nl',
  flemish: 'nl',
  danish: 'da',
  norwegian: 'no',
  swedish: 'sv',
  finnish: 'fi',
  french: 'fr',
  italian: 'it',
  spanish: 'es',
  portuguese: 'pt',
  brazilian: 'pt',
  japanese: 'ja',
  polish: 'pl',
  czech: 'cs',
  russian: 'ru',
};
