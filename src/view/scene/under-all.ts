/** How to draw under all that is there already: into the share of a pixel that is still see-through. Colours times their alpha. */
import { CustomBlending, OneFactor, OneMinusDstAlphaFactor } from 'three';

export const UNDER_ALL = {
  blending: CustomBlending,
  blendSrc: OneMinusDstAlphaFactor,
  blendDst: OneFactor,
  blendSrcAlpha: OneMinusDstAlphaFactor,
  blendDstAlpha: OneFactor,
} as const;
