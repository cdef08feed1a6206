// Wool: its colour along the yarn and how it takes light. Put in front of fabric.frag.glsl and yarn.frag.glsl.
//
// Uniforms:
//   spin       x: strength of the heather 0…1, y: share of tweed neps 0…1, z: 1 where the plies are marled
//   sheltering how strongly neighbouring yarn darkens, 1 is usual

uniform vec3 spin;
uniform float sheltering;

float grain(vec2 p) {
  p = fract(floor(p) * vec2(0.1031, 0.1030));
  p += dot(p, p.yx + 33.33);
  return fract((p.x + p.y) * p.x);
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

// A marled yarn has one ply of another shade: darker, or paler where the yarn is dark.
vec3 marled(vec3 dye, float onPly) {
  vec3 other = dot(dye, vec3(1.0)) < 0.25 ? mix(dye, vec3(0.6, 0.56, 0.48), 0.6) : dye * 0.22;
  return mix(dye, other, onPly * spin.z);
}

// Colour of the yarn at a place: along it and round it, in yarn diameters. `fine` fades what is too small to see.
vec3 woolDye(vec3 dye, vec2 place, float fine) {
  float slow = drift(vec2(place.x * 0.11, 5.0)) - 0.5;
  float quick = drift(place * vec2(0.9, 2.6)) - 0.5;
  vec3 colour = dye * (1.0 + spin.x * (0.34 * slow + 0.42 * quick * fine));
  // Neps: small tufts of other wool, three invented shades.
  vec2 cell = place * vec2(0.42, 0.8);
  float chance = grain(cell);
  if (chance < spin.y) {
    float which = grain(cell + 71.0);
    vec3 nep = which < 0.4 ? vec3(0.80, 0.72, 0.56) : which < 0.7 ? vec3(0.55, 0.22, 0.08) : vec3(0.045, 0.05, 0.06);
    vec2 off = fract(cell) - 0.5;
    colour = mix(colour, nep, (1.0 - smoothstep(0.06, 0.20, dot(off, off))) * mix(0.30, 0.85, fine));
  }
  return colour;
}

// The room is turned over with the piece: what is looked at from below is lit from below.
float roomSide() {
  return cameraPosition.z < 0.0 ? -1.0 : 1.0;
}

// What yarn nearby leaves of the sky (x) and of the key light (y). `shelter`: sum of weighted unit vectors towards it, and of
// the weights (ambient-occlusion.ts). Neighbours in the half space that the normal looks into: the first two terms of a
// clamped cosine.
vec2 woolOpenness(vec3 normal, vec3 key, vec4 shelter) {
  float hidden = max(0.0, 0.25 * shelter.w + 0.5 * dot(normal, shelter.xyz));
  float behind = max(0.0, 0.12 * shelter.w + 0.75 * dot(key, shelter.xyz));
  return exp(-sheltering * vec2(hidden, 0.7 * behind));
}

// Light sent to the eye. `fine` is the normal of the plies, `form` that of the yarn or cloth; `open` how much of the sky
// is seen from there, `sun` how much of the key light reaches it, `relief` less where colours carry numbers.
vec3 woolLight(vec3 dye, vec3 fine, vec3 form, vec3 eye, vec3 key, float open, float sun, float relief) {
  // Wool scatters: the edge of the shade is soft.
  float facing = dot(fine, key);
  float wrapped = max(0.0, (facing + 0.22) / 1.22);
  // Light that has met several fibres takes their colour (Jimenez and others 2016, cubic fit).
  vec3 a = 2.0404 * dye - 0.3324;
  vec3 b = -4.7951 * dye + 0.6417;
  vec3 c = 2.7552 * dye + 0.6903;
  vec3 sky = max(vec3(open), ((open * a + b) * open + c) * open);
  float up = 0.5 + 0.5 * fine.z * roomSide();
  vec3 dome = mix(vec3(0.30, 0.275, 0.25), vec3(0.42, 0.45, 0.50), up);
  float fill = max(0.0, dot(fine, eye));
  vec3 light = vec3(1.10, 1.03, 0.92) * wrapped * sun * mix(0.42, 1.0, open) + dome * sky + vec3(0.12) * fill * open;
  // Loose fibres at the edge of the form catch the light.
  float rim = pow(1.0 - max(0.0, dot(form, eye)), 3.0);
  vec3 halo = (0.05 + 0.30 * dye) * rim * (0.35 + 0.65 * wrapped * sun) * open * relief;
  // Without the shade between stitches the same light would bleach colours that carry numbers.
  return dye * light * mix(0.28, 1.14, relief) + halo;
}
