// Yarn as a ribbon that faces the eye: fragment stage. The round normal and the depth are computed, the
// plies and their twist are a pattern on them, the edge is loosened by single fibres. wool.glsl goes in front.
//
// Uniforms:
//   radiusMm     radius of the yarn, mm
//   fuzz         width of the fringe of loose fibres, in radii
//   plies        number of plies
//   layMm        length of yarn in which a ply goes once round, mm (S twist)
//   lightTowards unit vector towards the key light
//   lightInEye   1 where that is in the eye's frame, 0 in the world
//   yarnMm       diameter of the pressed yarn, mm
//   relief       0…1 how strongly the form is shaded (lower where colours carry numbers)
//   focusColour  linear RGB of the mark
//   opacity      0…1 how much of the strands is seen
//   under        1 where they are drawn under what is there: colours times their alpha

uniform float radiusMm;
uniform float fuzz;
uniform float plies;
uniform float layMm;
uniform vec3 lightTowards;
uniform float lightInEye;
uniform float yarnMm;
uniform float relief;
uniform vec3 focusColour;
uniform float opacity;
uniform float under;

varying vec3 vAcross;
varying vec3 vAlong;
varying vec3 vTowardsEye;
varying vec3 vDye;
varying vec4 vShelter;
varying vec2 vPlace;
varying vec4 vDepths;
varying float vFocus;
varying float vWhole;

const float TURN = 6.2831853;

void main() {
  float s = vPlace.x;
  float along = vPlace.y;
  // A pixel's width in yarn radii; along the yarn a pixel may cover more.
  float pixel = fwidth(s);
  float edge = abs(s);

  float fibre = 0.0;
  if (edge > 1.0) {
    // Single fibres leave the yarn here and there, each leaning its own way; from afar too fine to see.
    float out1 = edge - 1.0;
    float side = sign(s);
    float where = along / radiusMm * 5.5 + side * 17.0;
    float bent = out1 * 15.0 * (drift(vec2(where * 0.37, 3.0 + side)) - 0.35);
    float place = where + bent + 0.8 * drift(vec2(where * 0.9, 11.0));
    float own = grain(vec2(place, 7.0 + side));
    float reach = fuzz * (0.25 + 0.75 * grain(vec2(place, 23.0)));
    float thin = abs(fract(place) - 0.5);
    bool there = own > 0.60 && out1 < reach && thin < 0.20 * (1.0 - 0.7 * out1 / reach);
    if (pixel > 0.12 || !there) discard;
    fibre = 1.0;
  }

  float c = clamp(s, -1.0, 1.0);
  float out_ = sqrt(max(0.0, 1.0 - c * c));
  vec3 across = normalize(vAcross);
  vec3 forward = normalize(vAlong);
  vec3 eye = normalize(vTowardsEye);
  // The ribbon stands square to the eye only where the yarn crosses the line of sight.
  vec3 face = normalize(cross(across, forward));
  vec3 normal = normalize(across * c + face * out_);

  float phi = asin(c);
  // Towards its end yarn comes apart: its fibres, which run along their ply, end one by one.
  if (vWhole < 1.0) {
    float strand = floor((phi + TURN * along / layMm / plies) * 9.0);
    if (0.15 + 0.85 * grain(vec2(strand, 41.0)) > vWhole) discard;
  }
  float turn = plies * (phi / TURN + along / layMm);
  float detail = 1.0 - smoothstep(0.22, 0.6, fwidth(along) * plies / layMm + pixel * 0.25);
  float ply = (fract(turn) - 0.5) * 2.0;
  float groove = smoothstep(0.55, 1.0, abs(ply));
  vec3 round_ = across * out_ - face * c;
  vec3 over = normalize(round_ * (1.0 / (TURN * radiusMm)) + forward / layMm);
  // Single fibres run along their ply.
  float streak = drift(vec2(ply * 5.0 + floor(turn) * 13.0, along / radiusMm * 1.3 + phi));
  vec3 lit = normalize(normal + over * (ply * 0.62 + (streak - 0.5) * 0.5) * detail * out_);

  // On a table the light stays; a close-up has it over the viewer's shoulder, on either side of the fabric.
  vec3 light_ = lightInEye > 0.5 ? normalize((vec4(lightTowards, 0.0) * viewMatrix).xyz) : lightTowards * vec3(1.0, 1.0, roomSide());

  vec2 left_ = woolOpenness(normal, light_, vShelter);
  float open = left_.x;
  float sun = left_.y;

  float shade = mix(1.0, mix(1.0, 0.62, groove) * (0.93 + 0.14 * streak), detail * relief);
  open = mix(1.0, open, 0.35 + 0.65 * relief);
  sun = mix(1.0, sun, 0.4 + 0.6 * relief);
  vec3 own = marled(vDye, mix(1.0 / plies, mod(floor(turn), plies) < 0.5 ? 1.0 : 0.0, detail));
  vec3 dyed = woolDye(own, vec2(along, phi * radiusMm) / yarnMm, detail);
  vec3 colour = woolLight(dyed * shade, lit, normal, eye, light_, open, sun, relief);
  if (fibre > 0.0) colour = mix(colour, vDye * (0.50 + 0.65 * open), 0.6);
  if (vFocus > 0.5) colour = mix(colour, focusColour * (0.35 + 0.75 * shade * open), 0.62);

  vec2 depth = mix(vDepths.xy, vDepths.zw, out_);
  gl_FragDepth = clamp(0.5 * depth.x / depth.y + 0.5, 0.0, 1.0);
  gl_FragColor = vec4(colour, opacity);
  #include <colorspace_fragment>
  gl_FragColor.rgb *= mix(1.0, opacity, under);
}
