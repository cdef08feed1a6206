/**
 * Words of sentences that tell what has come about: what stitches do when they are lost or gained, how a count is told, what
 * else than stitches is counted. Data alone; `grammar/narration/` reads by it.
 */
import { words } from './words.ts';

/** Stitches become fewer. */
export const LOST = words(`
  lose loses losing lost gone go goes fewer less down lighter poorer smaller shrink shrinks shrunk shrank shrinking drop drops dropped
  dropping eat eats eaten ate eating disappear disappears disappeared disappearing vanish vanishes vanished vanishing away off fall falls
  fell fallen falling decrease decreases decreased decreasing dec decs remove removes removed removing cost costs costing rid shed sheds
  shedding shorter narrower minus reduce reduces reduced reducing sacrificed swallowed swallows swallow taken takes consumed
`);
/** Stitches become more. */
export const GAINED = words(`
  gain gains gained gaining richer more new added add adds adding grow grows grew grown growing increase increases increased increasing
  inc incs bigger larger wider longer plus extra won
`);
/** What is there. */
export const HELD = words(`
  have has had having remain remains remaining left leave leaves leaving hold holds holding carry carries carrying is are was were be been being
  get gets got count counts counted counting make makes made making bring brings brought bringing take takes took taking come comes came
  coming end ends ended ending finish finishes finished finishing stand stands stood sit sits sat stay stays stayed lie lies amount amounts
  number numbers equal equals give gives gave giving contain contains see sees show shows show become becomes became becoming turned turns total totals
  rest survive survives total belong belongs reach reaches reached put puts put need needs start started starts begin began begun keep keeps kept
  find finds found face faces lead leads led boil boils work works mean means meant say says said include includes including form forms feel feels look looks
  weigh weighs measure measures use uses used happen happens happened change changes changed unchanged
  doubled halved appear appears added follow follows
`);
/** It was so before. */
export const BEFORE = words(
  'was were had began begun started start earlier previously originally cast ago former',
);
/** It will be so, some time. */
export const LATER = words('will shall soon later eventually finally until till next going');
/** What is counted that is no part of the fabric. */
export const OTHER_UNITS = words(`
  g gr gram grams grammes kg oz ounce ounces m metre metres meter meters yd yds yard yards mm cm cms centimetre centimetres centimeter
  centimeters in ins inch inches foot feet ft hour hours minute minutes mins second day days week weeks month months year years evening
  evenings night nights pound pounds euro euros dollar dollars pence cents percent degree degrees square squares blanket blankets skein skeins ball balls
  hank hanks ply strand strands people friends fingers hands cups photos pages children times`);
/** What tells the place of a number that follows: "page 3", "size 4", "needle 2". */
export const CITES = words(`
  page p r slide photo photos picture figure fig chart size us uk no nr number chapter step point part lesson video needle needles ndl n side section colour color
  shade wedge marker dpn version volume vol level grade stripe stripes band clue week square block tile motif instalment installment session class
  task exercise sheet handout
`);
