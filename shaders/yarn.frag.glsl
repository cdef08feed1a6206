// Yarn as a ribbon that faces the eye: fragment stage. The round normal and the depth are computed, the
// plies and their twist are a pattern on them, the edge is loosened by single fibres.
//
// Uniforms:
//   radiusMm     radius of the yarn, mm
//   fuzz         width of the fringe of loose fibres, in radii
//   plies        number of plies
//   layMm        length of yarn in which a ply goes once round, mm (S twist)
//   sheltering   how strongly neighbouring yarn darkens, 1 is usual
//   lightTowards unit vector towards the key light, in the eye's frame
//   focusColour  linear RGB of the mark

uniform float radiusMm;
uniform float fuzz;
uniform float plies;
uniform float layMm;
uniform float sheltering;
uniform vec3 lightTowards;
uniform vec3 focusColour;

varying vec3 vAcross;
varying vec3 vAlong;
varying vec3 vTowardsEye;
varying vec3 vDye;
varying vec4 vShelter;
varying vec2 vPlace;
varying vec4 vDepths;
varying float vFocus;

const float TURN = 6.2831853;

float grain(vec2 p) {
  return fract(sin(dot(floor(p), vec2(127.1, 311.7))) * 43758.5453);
}

// Value noise, smooth.
float drift(vec2 p) {
  vec2 i = floor(p);
  vec2 f = p - i;
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(grain(i), grain(i + vec2(1.0, 0.0)), f.x),
    mix(grain(i + vec2(0.0, 1.0)), grain(i + vec2(1.0, 1.0)), f.x),
    f.y
  );
}

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
  float turn = plies * (phi / TURN + along / layMm);
  float detail = 1.0 - smoothstep(0.22, 0.6, fwidth(along) * plies / layMm + pixel * 0.25);
  float ply = (fract(turn) - 0.5) * 2.0;
  float groove = smoothstep(0.55, 1.0, abs(ply));
  vec3 round_ = across * out_ - face * c;
  vec3 over = normalize(round_ * (1.0 / (TURN * radiusMm)) + forward / layMm);
  // Single fibres run along their ply.
  float streak = drift(vec2(ply * 5.0 + floor(turn) * 13.0, along / radiusMm * 1.3 + phi));
  vec3 lit = normalize(normal + over * (ply * 0.62 + (streak - 0.5) * 0.5) * detail * out_);

  // Light comes over the viewer's shoulder from either side of the fabric.
  vec3 light_ = normalize((vec4(lightTowards, 0.0) * viewMatrix).xyz);
  float key = dot(lit, light_);
  float wrapped = max(0.0, (key + 0.3) / 1.3);
  float fill = max(0.0, dot(lit, eye));

  // Neighbours in the half space that the normal looks into: the first two terms of a clamped cosine.
  float hidden = max(0.0, 0.25 * vShelter.w + 0.5 * dot(normal, vShelter.xyz));
  float open = exp(-sheltering * hidden);

  vec3 light = vec3(1.06, 1.02, 0.95) * wrapped * 0.80 * mix(0.45, 1.0, open)
    + vec3(0.33, 0.34, 0.36) * open
    + vec3(0.15) * fill * open;
  float shade = mix(1.0, mix(1.05, 0.60, groove) * (0.90 + 0.20 * streak), detail);
  shade *= mix(1.0, 0.86, smoothstep(0.7, 1.0, min(edge, 1.0)));
  vec3 colour = vDye * light * shade;
  // Loose fibres at the edge of the form catch the light.
  float halo = pow(1.0 - out_, 2.5);
  colour += (0.05 + 0.30 * vDye) * halo * 0.32 * open;
  if (fibre > 0.0) colour = mix(colour, vDye * (0.30 + 0.75 * open), 0.6);
  if (vFocus > 0.5) colour = mix(colour, focusColour * (0.35 + 0.65 * shade) * mix(0.5, 1.0, open), 0.6);

  vec2 depth = mix(vDepths.xy, vDepths.zw, out_);
  gl_FragDepth = clamp(0.5 * depth.x / depth.y + 0.5, 0.0, 1.0);
  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}
