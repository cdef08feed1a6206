// Knitted fabric, one patch per stitch: fragment stage. Each patch wears a tile baked from settled yarn (normal,
// height, shelter, plies), seen with parallax, in the light of strands. wool.glsl goes in front.
//
// Uniforms:
//   tileRelief   baked layers: x and y of the normal, height, which ply
//   tileYarn     baked layers: shade of the plies, cover, place along the yarn, whether yarn is there
//   tileTops     height of the highest yarn of each tile, yarn diameters
//   tileShelter  baked layers: where yarn nearby lies, and how much of it
//   lightTowards unit vector towards the key light, world
//   relief       0…1 how strongly stitches stand out (lower where colours carry numbers)
//   focusCourses first and last course drawn with a mark, −1 for none
//   focusColour  linear RGB of the mark
//   yarnMm       diameter of the pressed yarn, mm: unit of the baked heights

uniform highp sampler2DArray tileRelief;
uniform highp sampler2DArray tileYarn;
uniform highp sampler2DArray tileShelter;
uniform float tileTops[36];
uniform vec3 lightTowards;
uniform float relief;
uniform vec2 focusCourses;
uniform vec3 focusColour;
uniform float yarnMm;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;
varying vec2 vUv;
varying vec4 vStitch;
varying float vRaise;

// As in view/yarn/stitch-atlas.ts.
const float SIZE = 96.0;
const float MARGIN = 28.0;
const float SPAN = 3.2;
const float SHELTER_SPAN = 8.0;
const float SHELTER_SUM = 18.0;
// How far past the edge of its stitch a patch may look.
const float REACH = 0.66;
// So far below a patch its yarn is looked for, yarn diameters.
const float BELOW = 1.9;
// Radius of the yarn, diameters: so far below its edge its side has turned down.
const float UNDER = 0.75;
const float STEEPER = 1.15;
// What stands over the ground of cables takes this much more of its light (drawn-yarn.ts).
const float GROUND_SHADE = 1.5;
// So much of that side is left in stitches of five pixels. Chosen: garter keeps its ridges.
const float FINE_SIDES = 0.2;
// So far beyond a horizon, as a cosine, patches still show the side of the yarn before it. Chosen: all that was seen.
const float PEEP = 0.1;
// Cosines between which the bare sheet passes from yarn to the dark behind it, seen edge on and across. Chosen.
const vec2 HORIZON = vec2(0.15, 0.5);
// A place wholly shut in is as dark as so much more yarn nearby makes it.
const float HOLLOW_SHADE = 9.0;

vec3 inTile(vec2 q, float tile) {
  return vec3((MARGIN + q * (SIZE - 2.0 * MARGIN)) / SIZE, tile);
}

float heightOf(float stored) {
  return (stored - 0.5) * 2.0 * SPAN;
}

void main() {
  vec3 normal = normalize(vNormal);
  vec3 eye = normalize(cameraPosition - vPlaceMm);
  // Which side is seen is the sheet's: along a horizon its patches are turned over by the rise of their yarn.
  // What peeps out just beyond it is lit as what stands before it.
  bool rightSide = dot(normal, eye) > -PEEP;
  float code = rightSide ? vStitch.x : vStitch.y;
  float tile = floor(code);
  float seed = fract(code);
  vec2 q = vUv;
  if (!rightSide) {
    normal = -normal;
    q.x = 1.0 - q.x;
  }
  bool ground = tile > 63.5;
  if (ground) tile -= 64.0;
  float shut = max(0.0, rightSide ? vStitch.w : -vStitch.w);
  vec3 dark = vYarn * mix(0.7, 0.42, relief) * mix(1.0, 0.55, shut);
  if (tile > 62.5) {
    // The dark behind the stitches. Along the horizon of a piece no gap lets one look in: there it is yarn.
    float facing = abs(dot(normal, eye));
    vec3 yarn = woolLight(vYarn, normal, normal, eye, lightTowards * vec3(1.0, 1.0, roomSide()), 1.0, 1.0, relief);
    gl_FragColor = vec4(mix(yarn, dark, smoothstep(HORIZON.x, HORIZON.y, facing)), 1.0);
    #include <colorspace_fragment>
    return;
  }

  // Tangents of the patch, mm for one stitch across and one round up.
  vec3 px = dFdx(vPlaceMm);
  vec3 py = dFdy(vPlaceMm);
  vec2 qx = dFdx(q);
  vec2 qy = dFdy(q);
  float det = qx.x * qy.y - qy.x * qx.y;
  float turn = det < 0.0 ? -1.0 : 1.0;
  vec3 across = (px * qy.y - py * qx.y) * turn;
  vec3 up = (py * qx.x - px * qy.x) * turn;
  float area = max(abs(det), 1e-12);
  float acrossMm = max(length(across) / area, 0.2 * yarnMm);
  float upMm = max(length(up) / area, 0.2 * yarnMm);
  across = normalize(across);
  up = normalize(up);

  // Relief fades before stitches become smaller than about three pixels.
  float footprint = max(length(vec2(qx.x, qy.x)), length(vec2(qx.y, qy.y)));
  float detail = 1.0 - smoothstep(0.2, 0.6, footprint);
  vec2 stitchMm = vec2(acrossMm, upMm);

  // Parallax: down the line of sight until it meets the yarn, in steps of about a pixel, the last one shortened.
  vec2 sight = vec2(dot(eye, across), dot(eye, up)) / max(0.25, dot(eye, normal)) / stitchMm * yarnMm * detail;
  float top = max(tileTops[int(tile)] - vRaise, 0.2);
  float steps = clamp(ceil(length(sight) * (top + BELOW) / max(1.2 * footprint, 0.03)), 1.0, 10.0);
  float step_ = (top + BELOW) / steps;
  float h = top;
  float over = 0.0;
  float before = 1.0;
  vec2 at = q;
  // Where strands come in their edges are as sharp; smaller stitches would glitter.
  float sharper = -0.7 * (1.0 - smoothstep(0.05, 0.12, footprint));
  float blur = log2(footprint * (SIZE - 2.0 * MARGIN)) - 1.0;
  for (int k = 0; k < 11; k++) {
    at = q + clamp(sight * h, -REACH, REACH);
    over = h + vRaise - heightOf(textureLod(tileRelief, inTile(at, tile), blur).z);
    if (over <= 0.0 || h <= -BELOW) break;
    before = over;
    h -= step_;
  }
  if (over < 0.0 && h < top) h += step_ * over / (over - before);
  at = q + clamp(sight * h, -REACH, REACH);
  vec4 baked = texture(tileRelief, inTile(at, tile), sharper);
  vec4 spun = texture(tileYarn, inTile(at, tile), sharper);
  vec4 near = texture(tileShelter, inTile(at, tile), sharper);
  // Where a yarn over leaves a hole the table shows.
  if (tile > 32.5 && spun.y < 0.5) discard;

  // Means of a texel's normals are less steep than these are.
  vec2 lean = (baked.xy * 2.0 - 1.0) * mix(0.4, STEEPER, relief);
  lean *= min(1.0, 0.985 / max(length(lean), 1e-3));
  vec3 fine = normalize(across * lean.x + up * lean.y + normal * sqrt(1.0 - dot(lean, lean)));

  // Below its edge a yarn turns away: the baked picture has none of that side. Finer than a few pixels it would be
  // single dark dots, which no knitting shows.
  float under = h < top ? heightOf(baked.z) - vRaise - h : 0.0;
  vec3 aside = normalize(eye - 0.999 * dot(eye, normal) * normal);
  fine = normalize(mix(fine, aside - normal * clamp(under / UNDER, 0.0, 1.0), smoothstep(0.1, 0.35, under) * detail * mix(1.0, FINE_SIDES, smoothstep(0.065, 0.2, footprint))));

  vec3 key = lightTowards * vec3(1.0, 1.0, roomSide());
  vec3 towards = (near.xyz * 2.0 - 1.0) * SHELTER_SPAN;
  vec4 shelter = vec4(across * towards.x + up * towards.y + normal * towards.z, near.w * SHELTER_SUM);
  shelter.w += (ground && rightSide ? GROUND_SHADE : 0.0) + HOLLOW_SHADE * shut;
  vec2 left_ = woolOpenness(fine, key, shelter);
  float open = left_.x;
  float sun = left_.y;

  float shade = mix(1.0, spun.x, relief);
  open = mix(1.0, open, 0.35 + 0.65 * relief);
  sun = mix(1.0, sun, 0.4 + 0.6 * relief);

  vec3 dye = woolDye(marled(vYarn, 1.0 - baked.w), vec2(spun.z * 8.0 + seed * 911.0, at.x * 4.0 + seed * 37.0), detail * (1.0 - smoothstep(0.06, 0.2, footprint)));
  vec3 colour = woolLight(dye * shade, fine, normal, eye, key, open, sun, relief);

  // Between the strands is the dark behind them.
  colour = mix(dark, colour, spun.w);
  if (focusCourses.x >= 0.0 && vStitch.z > focusCourses.x - 0.25 && vStitch.z < focusCourses.y + 0.25) {
    colour = mix(colour, focusColour * (0.35 + 0.75 * shade * open), 0.62);
  }

  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}
