// Knitted fabric, one patch per stitch: fragment stage. Draws the legs of a knit stitch as a V, the
// head and feet of a purl as arcs, each a round yarn with ply, and lights them like wool.
//
// Uniforms:
//   lightTowards  unit vector towards the key light, world
//   relief        0…1 how strongly stitches stand out (lower where colours carry numbers)
//   focusCourses  first and last course drawn with a mark, −1 for none
//   focusColour   linear RGB of the mark
//   stitchMm      mean stitch width, mm: scale of the relief

uniform vec3 lightTowards;
uniform float relief;
uniform vec2 focusCourses;
uniform vec3 focusColour;
uniform float stitchMm;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;
varying vec2 vUv;
varying vec4 vStitch;

// Heights and radii below are in stitch widths. Height of a round: 0.75 of a stitch width (the
// usual stockinette ratio), only for the drawing's proportions.
const float ROUND = 0.75;
const float YARN = 0.185;

// Round yarn along a–b: x height (negative outside), y along 0…1, z across −1…1.
vec3 strand(vec2 p, vec2 a, vec2 b, float radius) {
  vec2 ab = b - a;
  float t = clamp(dot(p - a, ab) / dot(ab, ab), 0.0, 1.0);
  vec2 away = p - a - ab * t;
  float r = radius * (0.72 + 0.42 * sin(3.14159 * t));
  float d2 = dot(away, away);
  float side = (ab.x * away.y - ab.y * away.x) / length(ab) / r;
  return vec3(d2 < r * r ? sqrt(r * r - d2) : -1.0, t, side);
}

// Ply: ridges that wind round the yarn.
float ply(float along, float across) {
  return 0.018 * sin(6.28318 * (along * 2.6 + across * 0.55));
}

float knitHeight(vec2 q, float twisted) {
  float x = q.x - 0.5;
  float side = x < 0.0 ? -1.0 : 1.0;
  float height = -0.12;
  for (int k = -1; k <= 1; k++) {
    vec2 p = vec2(abs(x), (q.y - float(k)) * ROUND);
    // A twisted stitch crosses its legs at the foot.
    float foot = twisted > 0.5 ? 0.02 : 0.1;
    vec3 leg = strand(p, vec2(foot, -0.2), vec2(0.375, 0.62), YARN);
    if (leg.x > 0.0) {
      // The foot lies over the head of the stitch below.
      float z = leg.x + 0.2 * (1.0 - leg.y) + ply(leg.y, leg.z * side);
      if (twisted > 0.5 && side > 0.0) z += 0.08 * (1.0 - leg.y);
      height = max(height, z);
    }
  }
  return height;
}

// One arc of a purl: centre line v = middle + rise·(1 − (x/half)²).
float arcHeight(float x, float v, float middle, float rise) {
  float s = x / 0.46;
  float line = middle + rise * (1.0 - s * s);
  float slope = -2.0 * rise * s / 0.46;
  float d = (v - line) * ROUND / sqrt(1.0 + slope * slope * ROUND * ROUND);
  float r = YARN * 0.98;
  if (abs(d) >= r || abs(x) > 0.5) return -1.0;
  return sqrt(r * r - d * d) - 0.5 * x * x + ply(x * 1.2 + 0.5, d / r);
}

float purlHeight(vec2 q) {
  float height = -0.12;
  for (int k = -1; k <= 1; k++) {
    float v = q.y - float(k);
    float head = arcHeight(q.x - 0.5, v, 0.5, 0.26);
    float across = q.x < 0.5 ? q.x : q.x - 1.0;
    float foot = arcHeight(across, v, 0.62, -0.26);
    height = max(height, max(head + 0.05, foot));
  }
  return height;
}

// Chain of the cast-on or bound-off edge: slanting links along the rim.
float edgeHeight(vec2 q) {
  float height = -0.1;
  for (int k = -1; k <= 1; k++) {
    vec2 p = vec2(q.x - float(k), q.y * 0.5);
    vec3 link = strand(p, vec2(-0.1, 0.16), vec2(0.95, 0.34), 0.2);
    if (link.x > 0.0) height = max(height, link.x + 0.14 * (1.0 - link.y) + ply(link.y * 1.2, link.z));
  }
  return height;
}

float heightAt(vec2 q, float kind, float twisted) {
  if (kind < 0.5) return knitHeight(q, twisted);
  if (kind < 1.5) return purlHeight(q);
  if (kind < 2.5) return edgeHeight(q);
  return knitHeight(q, 0.0);
}

float grain(vec2 p) {
  return fract(sin(dot(floor(p), vec2(127.1, 311.7))) * 43758.5453);
}

void main() {
  vec3 normal = normalize(vNormal);
  float kind = vStitch.x;
  vec2 q = vUv;
  if (!gl_FrontFacing) {
    normal = -normal;
    q.x = 1.0 - q.x;
    // A knit stitch shows its purl side from behind, and the other way round.
    if (kind < 1.5) kind = 1.0 - kind;
  }

  bool behind = kind > 4.5;
  if (behind) kind = 0.0;

  // A yarn over leaves a hole at its foot.
  if (kind > 3.5) {
    vec2 e = (q - vec2(0.5, 0.38)) / vec2(0.36, 0.34);
    if (dot(e, e) < 1.0) discard;
    kind = 0.0;
  }

  // Relief fades before stitches become smaller than about three pixels.
  vec2 footprint = fwidth(q);
  float detail = 1.0 - smoothstep(0.18, 0.5, max(footprint.x, footprint.y));
  float shade = 0.86;
  vec3 lit = normal;
  if (behind) {
    shade = mix(0.86, 0.44, relief);
  } else if (detail > 0.0) {
    const float EPS = 0.02;
    float h = heightAt(q, kind, vStitch.y);
    float hu = (heightAt(q + vec2(EPS, 0.0), kind, vStitch.y) - h) / EPS;
    float hv = (heightAt(q + vec2(0.0, EPS), kind, vStitch.y) - h) / EPS;
    // Steps between strands are not slopes.
    hu = clamp(hu, -2.2, 2.2);
    hv = clamp(hv, -2.2, 2.2);
    // Surface gradient of the height from screen derivatives (Mikkelsen 2010).
    vec3 px = dFdx(vPlaceMm);
    vec3 py = dFdy(vPlaceMm);
    vec3 across = cross(py, normal);
    vec3 along = cross(normal, px);
    float det = dot(px, across);
    vec2 dx = dFdx(q);
    vec2 dy = dFdy(q);
    float hx = hu * dx.x + hv * dx.y;
    float hy = hu * dy.x + hv * dy.y;
    vec3 gradient = sign(det) * (hx * across + hy * along) * stitchMm;
    vec3 bumped = normalize(abs(det) * normal - gradient);
    lit = normalize(mix(normal, bumped, detail * (0.35 + 0.55 * relief)));
    float open = smoothstep(-0.12, 0.3, h);
    shade = mix(0.86, mix(0.42, 1.06, open), detail * relief);
    shade *= 1.0 + 0.07 * detail * relief * (grain(vUv * vec2(21.0, 15.0) + vPlaceMm.xy) - 0.5);
  }

  vec3 towardsEye = normalize(cameraPosition - vPlaceMm);
  float key = dot(lit, lightTowards);
  // Wool scatters light: the terminator is soft.
  float wrapped = max(0.0, (key + 0.3) / 1.3);
  float sky = 0.5 + 0.5 * lit.z;
  float fill = max(0.0, dot(lit, towardsEye));
  float shelter = mix(1.0, 0.62, vStitch.w);
  vec3 light = vec3(1.06, 1.02, 0.95) * wrapped * 0.78
    + mix(vec3(0.24, 0.22, 0.2), vec3(0.34, 0.37, 0.42), sky) * shelter
    + vec3(0.16) * fill;
  light *= mix(0.86, 1.0, shelter);

  vec3 colour = vYarn * light * shade;
  // Loose fibres at the edge of the form catch the light.
  float fuzz = pow(1.0 - max(0.0, dot(normal, towardsEye)), 3.0);
  colour += (0.10 + 0.25 * vYarn) * fuzz * 0.36 * sky * relief;

  if (focusCourses.x >= 0.0 && vStitch.z > focusCourses.x - 0.25 && vStitch.z < focusCourses.y + 0.25) {
    colour = mix(colour, focusColour * (0.55 + 0.6 * shade), 0.6);
  }

  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}
