/** Words that stand around the figures of a gauge and ask for nothing, as sets of lower-case words. */
import { words } from './words.ts';

/** Between the figures and their length: "20 sts TO 10 cm". */
export const BETWEEN_GAUGE = words(
  '= / : to per over in make makes measure measures equal equals for every give gives is are should be a an the each about approx square',
);

/** Over what a gauge is measured. */
export const FABRIC_OF_GAUGE = words(
  'in over the garter stockinette stocking moss seed rib stitch st',
);

/** In which fabric and how a gauge is measured: "20 sts to 10 cm OVER GARTER STITCH, BLOCKED". */
export const BESIDE_GAUGE = words(`
  in over of across on worked working knitted knitting measured counted after before when with being your the a
  plain wet lightly slightly gently stretched unstretched relaxed square wide each both way ways flat round rounds direction directions
  garter stitch st sts stst stockinette stocking stocking-stitch jersey moss seed rib ribbing ribbed reverse double pattern patt fabric swatch gs g -
  unblocked blocked blocking washed washing pressed pressing steaming
`);

/** Lead to the figures: "I SHOULD GET 20 sts". */
export const LEADS_TO_GAUGE = words(`
  gauge tension my our at an is was were are be to give gives giving got get gets getting should you i we it that which here
  about approx approximately roughly come comes out yarn wool needles sample having make makes aim for want need this reference = : -
`);

/** Those of them that say what the figures are. */
export const NAMES_GAUGE = words(
  'gauge tension get gets got getting at give gives giving swatch sample aim',
);
