/**
 * Cables as patterns write them, read into canonical crossings.
 * a/b LC, RC, LPC, RPC name the result. C<n>F / C<n>B: n is the total, F held in front leans left
 * (knitting4knewbies.com 2018/10/14); C3L/C3R against C3F/C3B as in trantor.is, chapter 4.
 * T<n>F / T<n>B: the strand behind is PURLED (UK usage, "Abbreviations" PDF at static.squarespace.com
 * 1354627171008); a US page uses T for "without a cable needle", so a plan can redefine it.
 */
import { regex } from '../../lexicon/expression.ts';
import { cableKind, cableName } from '../../stitches/cables.ts';
import { wording } from './wording.ts';

export interface ReadCable {
  readonly name: string;
  readonly end: number;
  /** What is ambiguous about the wording, empty if nothing. */
  readonly doubt: string;
}

/** A space stands for any gap. */
function form(source: string): RegExp {
  return regex.y`${source.replaceAll(' ', '[\\s-]*')}(?![a-z0-9])`;
}

const STRANDS = '(?<over>\\d{1,2})(?: /| over|x) (?<under>\\d{1,2})(?: / (?<last>\\d{1,2}))?';
const WAY = '(?<way>l(?:eft)?|r(?:ight)?)';
/** `over`, `under` (of three: `middle` and `last`) or all of `total`; `way`: where the upper strand leans or is held. */
const FORMS: readonly RegExp[] = [
  form(`${STRANDS} (?:st )?(?<way>l|r)h?(?<sort>k|p)? [ctx]`),
  form(
    `${STRANDS} (?:st )?(?<way>left|right) (?<sort>purl|knit)? (?:cross|cable|twist|leaning)?(?: (?:cross|cable))?`,
  ),
  form(
    '(?<way>l|r)(?<sort>k|p)?[ct] \\(? (?<over>\\d{1,2}) / (?<under>\\d{1,2})(?: / (?<last>\\d{1,2}))?(?: \\))?',
  ),
  form(
    '(?<named>c|t|cr|tw) (?<total>\\d{1,2}) (?:st)? (?<way>f(?:ront|wd)?|b(?:ack)?|l(?:eft)?|r(?:ight)?) (?<sort>p(?:url)?)?',
  ),
  form('(?<named>cable) (?<total>\\d{1,2}) (?:sts?)? (?<way>front|back|forward|left|right|f|b)'),
  form(`(?<total>\\d{1,2}) (?:st|stitch) ${WAY} (?<sort>k|p|purl)? (?:c|t|cross|cable|twist)`),
  form('(?<way>l|r)(?<sort>p)?t'),
  form('(?<way>left|right) (?<sort>purl)? twist'),
  form('tw(?:ist)? 2? (?<way>l|r|left|right|f|b)'),
];

const CN = 'a|the? { cable|spare|extra|auxiliary|third needle | cn }';
const WORKED = '~(k|p|knit|purl)(?![a-z]) the? next|first|held?';
/** "slip the next 4 sts to a cable needle and hold it in front, k4, k4 from the cable needle" */
const IN_WORDS = wording(
  `sl|slip|put|place|leave|take|hold|transfer|move|keep the? next? # @sts? { on to | onto|to|on } ${CN} ,|;|and|then|&* { hold|holding|leave|leaving|place|placing|keep|keeping|put|putting|bring|bringing it|them|these|this? }? in|at|to the? ~(front|back) { of the|your? work }? ,|;|and|then* ${WORKED} # @sts? { from the|your? left|lh|main hand? needle }? ,|;|and|then* ${WORKED} #? @sts? from|off|of|on ${CN}`,
);

/** A crossing told step by step: held stitches, the others, which of them are purled. */
function inWords(text: string, at: number): ReadCable | null {
  IN_WORDS.lastIndex = at;
  const m = IN_WORDS.exec(text);
  if (!m) return null;
  const [, held, place, first, other, second] = m;
  const left = place === 'front';
  const strands = left ? [held, other] : [other, held];
  const purl = (left ? first : second)[0] === 'p';
  return named(Number(strands[0]), Number(strands[1]), left, purl, 0, IN_WORDS.lastIndex);
}

function named(
  over: number,
  under: number,
  left: boolean,
  purl: boolean,
  middle: number,
  end: number,
  doubt = '',
): ReadCable | null {
  const name = cableName(over, under, left, purl, middle);
  return cableKind(name) ? { name, end, doubt } : null;
}

/** A crossing that starts exactly at `at` of the normalised text, or null. */
export function readCable(text: string, at: number): ReadCable | null {
  for (const re of FORMS) {
    re.lastIndex = at;
    const said = re.exec(text)?.groups;
    if (said) return crossing(said, re.lastIndex);
  }
  return inWords(text, at);
}

function crossing(said: Readonly<Record<string, string>>, end: number): ReadCable | null {
  const { over, under, last, total, way, sort } = said;
  const left = way[0] === 'f' || way[0] === 'l';
  const purl = sort?.trim()[0] === 'p' || said.named === 't';
  if (over !== undefined) {
    const middle = last === undefined ? 0 : Number(under);
    return named(Number(over), Number(last ?? under), left, purl, middle, end);
  }
  if (total === undefined) return named(1, 1, left, purl, 0, end);
  const all = Number(total);
  if (all < 2) return null;
  // C3L and C3R carry the single stitch over the pair; C3F and C3B the pair over the single one.
  const single = all === 3 && said.named !== undefined && (way[0] === 'l' || way[0] === 'r');
  const most = single ? 1 : Math.ceil(all / 2);
  const doubt =
    all % 2 && all > 3
      ? `${all} stitches can cross in two ways; read as ${most} over ${all - most}`
      : '';
  return named(most, all - most, left, purl, 0, end, doubt);
}
