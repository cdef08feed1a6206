// Yarn as a ribbon that faces the eye: vertex stage. One draw call of 6 vertices a segment without any
// vertex attribute; everything is pulled from textures by gl_VertexID.
//
// Uniforms:
//   centre       RGBA float texture: xyz centre-line point, mm; w length of yarn up to it, mm
//   shelter      RGBA float texture: xyz where neighbouring yarn lies (sum of weighted unit vectors),
//                w how much of it (sum of the weights); no unit
//   dye          RGBA byte texture: square roots of the linear RGB of the yarn, for fine dark steps;
//                a is 1 and 0 by turns from strand to strand, nearer to the half by FRAYED where one has come apart
//   wide         width of the three textures, texels
//   points       number of centre-line points
//   stride       points from one drawn node to the next: 1 near, more far away
//   finer        nodes drawn for each point, along the curve through the points; more than 1 only
//                with a stride of 1
//   radiusMm     radius of the yarn, mm
//   fuzz         width of the fringe of loose fibres, in radii
//   cut          first point of a strand that is cut, length of it up to there and over which it comes apart, mm
//   focusPoints  first and last point drawn with a mark, −1 for none

uniform highp sampler2D centre;
uniform highp sampler2D shelter;
uniform sampler2D dye;
uniform int wide;
uniform int points;
uniform int stride;
uniform int finer;
uniform float radiusMm;
uniform float fuzz;
uniform vec3 cut;
uniform vec2 focusPoints;

varying vec3 vAcross;
varying vec3 vAlong;
varying vec3 vTowardsEye;
varying vec3 vDye;
varying vec4 vShelter;
varying vec2 vPlace;    // x: −1…1 across the yarn (beyond it the fringe), y: along it, mm
varying vec4 vDepths;   // clip z and w on the centre line, and on the yarn's near side
varying float vFocus;
varying float vWhole;   // 0…1 how much of the yarn is there: nothing at its ends

// yarn-material.ts
const float FRAYED = 48.0 / 255.0;

ivec2 texel(int i) {
  return ivec2(i % wide, i / wide);
}

void main() {
  int segment = gl_VertexID / 6;
  int corner = gl_VertexID % 6;
  int end = (corner == 1 || corner == 2 || corner == 4) ? 1 : 0;
  float side = (corner == 2 || corner == 4 || corner == 5) ? 1.0 : -1.0;
  int last = points - 1;
  int from = min((segment / finer) * stride, last);
  int to = min(from + stride, last);
  // The node lies a part of the way from one point to the next, on the curve through the points
  // (Catmull and Rom 1974).
  int part = segment % finer + end;
  bool onNext = part == finer;
  int here = onNext ? to : from;
  float t = onNext ? 0.0 : float(part) / float(finer);
  vec4 colour = texelFetch(dye, texel(here), 0);
  int before = max(here - stride, 0);
  int next = min(here + stride, last);
  int after = min(next + stride, last);
  if (abs(texelFetch(dye, texel(before), 0).a - colour.a) > 0.2) before = here;
  if (abs(texelFetch(dye, texel(next), 0).a - colour.a) > 0.2) next = here;
  if (abs(texelFetch(dye, texel(after), 0).a - colour.a) > 0.2) after = next;
  vec4 a = texelFetch(centre, texel(before), 0);
  vec4 b = texelFetch(centre, texel(here), 0);
  vec4 c = texelFetch(centre, texel(next), 0);
  vec4 d = texelFetch(centre, texel(after), 0);
  vec4 own = b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)));
  own.w = mix(b.w, c.w, t);
  vec3 along = (c - a + t * (4.0 * a - 10.0 * b + 8.0 * c - 2.0 * d + t * (9.0 * (b - c) + 3.0 * (d - a)))).xyz;
  float run = length(along);
  along = run > 1e-9 ? along / run : vec3(1.0, 0.0, 0.0);

  vec3 towardsEye = normalize(cameraPosition - own.xyz);
  vec3 across = cross(along, towardsEye);
  float turned = length(across);
  across = turned > 1e-5 ? across / turned : vec3(0.0);

  bool broken = from >= last
    || abs(texelFetch(dye, texel(from), 0).a - texelFetch(dye, texel(to), 0).a) > 0.2;
  float reach = 1.0 + fuzz;
  vec3 place = own.xyz + across * (side * reach * radiusMm);
  vec4 clip = projectionMatrix * viewMatrix * vec4(place, 1.0);
  vec4 near = projectionMatrix * viewMatrix * vec4(place + towardsEye * radiusMm, 1.0);

  vAcross = across;
  vAlong = along;
  vTowardsEye = towardsEye;
  vDye = colour.rgb * colour.rgb;
  float nextMark = texelFetch(dye, texel(next), 0).a;
  vWhole = 1.0 - mix(min(colour.a, 1.0 - colour.a), min(nextMark, 1.0 - nextMark), t) / FRAYED;
  if (float(here) >= cut.x) vWhole = min(vWhole, max(0.0, (cut.y - own.w) / cut.z));
  vShelter = mix(texelFetch(shelter, texel(here), 0), texelFetch(shelter, texel(next), 0), t);
  vPlace = vec2(side * reach, own.w);
  vDepths = vec4(clip.zw, near.zw);
  vFocus = float(here) >= focusPoints.x && float(here) < focusPoints.y ? 1.0 : 0.0;
  // A ribbon from the end of one strand to the start of the next has no area.
  gl_Position = broken ? vec4(2.0, 2.0, 2.0, 1.0) : clip;
}
