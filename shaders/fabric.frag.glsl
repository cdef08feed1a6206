// Knitted fabric, one patch per stitch: fragment stage. Each patch wears a tile baked from settled yarn (normal,
// height, openness, plies), seen with parallax and its own soft shadow. wool.glsl goes in front.
//
// Uniforms:
//   tileRelief   baked layers: x and y of the normal, height, openness
//   tileYarn     baked layers: shade of the plies, cover, place along the yarn, which ply
//   lightTowards unit vector towards the key light, world
//   relief       0…1 how strongly stitches stand out (lower where colours carry numbers)
//   focusCourses first and last course drawn with a mark, −1 for none
//   focusColour  linear RGB of the mark
//   yarnMm       diameter of the pressed yarn, mm: unit of the baked heights

uniform highp sampler2DArray tileRelief;
uniform highp sampler2DArray tileYarn;
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

// As in view/yarn/stitch-atlas.ts.
const float SIZE = 64.0;
const float MARGIN = 8.0;
const float SPAN = 3.2;

vec3 inTile(vec2 q, float tile) {
  return vec3((MARGIN + q * (SIZE - 2.0 * MARGIN)) / SIZE, tile);
}

float heightOf(float stored) {
  return (stored - 0.5) * 2.0 * SPAN;
}

void main() {
  vec3 normal = normalize(vNormal);
  vec3 eye = normalize(cameraPosition - vPlaceMm);
  float code = gl_FrontFacing ? vStitch.x : vStitch.y;
  float tile = floor(code);
  float seed = fract(code);
  vec2 q = vUv;
  if (!gl_FrontFacing) {
    normal = -normal;
    q.x = 1.0 - q.x;
  }
  bool ground = tile > 63.5;
  if (ground) tile -= 64.0;
  float shelter = mix(1.0, 0.55, vStitch.w);
  if (tile > 62.5) {
    // The dark behind the stitches.
    gl_FragColor = vec4(vYarn * mix(0.7, 0.3, relief) * shelter, 1.0);
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

  // Parallax: one step along the line of sight, from the height where it enters.
  vec2 sight = vec2(dot(eye, across), dot(eye, up)) / max(0.35, dot(eye, normal)) / stitchMm;
  float first = heightOf(texture(tileRelief, inTile(q, tile)).z);
  vec2 moved = clamp(-sight * first * yarnMm * detail, -0.14, 0.14);
  vec2 at = q + moved;
  vec4 baked = texture(tileRelief, inTile(at, tile));
  vec4 spun = texture(tileYarn, inTile(at, tile));
  // Where a yarn over leaves a hole the table shows.
  if (tile > 32.5 && spun.y < 0.5) discard;
  float height = heightOf(baked.z);

  vec2 lean = (baked.xy * 2.0 - 1.0) * mix(0.35, 1.0, relief);
  vec3 fine = normalize(across * lean.x + up * lean.y + normal * sqrt(max(0.02, 1.0 - dot(lean, lean))));
  // From afar means of openness are seen, which hide how dark hollows are.
  float open = pow(baked.w, 1.4);

  // The key light's own shade, from the height field.
  vec3 key = lightTowards * vec3(1.0, 1.0, roomSide());
  float steep = dot(key, normal);
  float sun = smoothstep(-0.25, 0.15, steep);
  if (detail > 0.0 && steep > 0.05) {
    vec2 ray = vec2(dot(key, across), dot(key, up)) / max(0.3, steep) / stitchMm * yarnMm;
    float nearer = heightOf(texture(tileRelief, inTile(at + clamp(ray * 0.55, -0.15, 0.15), tile)).z) - height - 0.55;
    float farther = heightOf(texture(tileRelief, inTile(at + clamp(ray * 1.2, -0.15, 0.15), tile)).z) - height - 1.2;
    sun *= 1.0 - 0.75 * detail * smoothstep(0.0, 0.7, max(nearer, farther));
  }

  float shade = mix(1.0, spun.x, relief);
  open = mix(1.0, open, 0.35 + 0.65 * relief) * shelter;
  sun = mix(1.0, sun, 0.4 + 0.6 * relief);
  if (ground) open *= 0.72;

  vec3 dye = woolDye(marled(vYarn, 1.0 - spun.w), vec2(spun.z * 8.0 + seed * 911.0, at.x * 4.0 + seed * 37.0), detail * (1.0 - smoothstep(0.06, 0.2, footprint)));
  vec3 colour = woolLight(dye * shade, fine, normal, eye, key, open, sun, relief);

  if (focusCourses.x >= 0.0 && vStitch.z > focusCourses.x - 0.25 && vStitch.z < focusCourses.y + 0.25) {
    colour = mix(colour, focusColour * (0.35 + 0.75 * shade * open), 0.62);
  }

  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}
