// Table under the fabric: the soft shadow and a measuring grid that fades outwards.
//
// Uniforms:
//   shadow        darkness 0…1 of a square around the middle (red channel)
//   shadowStrength 0…1 opacity of the darkest shadow
//   shadowSpanMm  side of that square, mm
//   gridTurn      cosine and sine of the turn that lays the grid along the piece
//   gridMm        distance of the fine lines, mm; every fifth is stronger
//   reachMm       radius at which the table has faded out, mm
//   shadowColour  sRGB of the shadow
//   underColour   sRGB of what light comes in right under the fabric: from yarn to yarn it takes their colour
//   lineColour    sRGB of the lines
//   lineStrength  0…1

uniform sampler2D shadow;
uniform float shadowSpanMm;
uniform float shadowStrength;
uniform vec2 gridTurn;
uniform float gridMm;
uniform float reachMm;
uniform vec3 shadowColour;
uniform vec3 underColour;
uniform vec3 lineColour;
uniform float lineStrength;

// Darkness of the table where fabric lies on it. By eye.
const float UNDER_FABRIC = 0.9;

varying vec2 vPlaceMm;

float lines(vec2 placeMm, float stepMm, float widthPx) {
  vec2 cell = placeMm / stepMm;
  vec2 width = fwidth(cell) * widthPx;
  vec2 off = abs(fract(cell - 0.5) - 0.5);
  vec2 on = 1.0 - smoothstep(width * 0.5, width * 1.5, off);
  // Lines closer than a few pixels melt away instead of flickering.
  on *= 1.0 - smoothstep(0.12, 0.4, fwidth(cell));
  return max(on.x, on.y);
}

void main() {
  float away = length(vPlaceMm) / reachMm;
  float fade = 1.0 - smoothstep(0.45, 1.0, away);
  vec2 turned = vec2(
    gridTurn.x * vPlaceMm.x + gridTurn.y * vPlaceMm.y,
    gridTurn.x * vPlaceMm.y - gridTurn.y * vPlaceMm.x
  );
  float line = max(lines(turned, gridMm, 0.9) * 0.4, lines(turned, gridMm * 5.0, 1.1)) * lineStrength * fade;
  vec2 uv = vPlaceMm / shadowSpanMm + 0.5;
  float inside = step(0.0, uv.x) * step(uv.x, 1.0) * step(0.0, uv.y) * step(uv.y, 1.0);
  float cover = texture2D(shadow, uv).r * inside;
  // Right under the fabric, where only a gap in it shows the table, hardly any light comes in.
  float under = smoothstep(0.6, 0.82, cover);
  float dark = mix(cover * shadowStrength, UNDER_FABRIC, under);
  float alpha = dark + line * (1.0 - dark);
  vec3 colour = alpha > 0.0 ? mix(lineColour, mix(shadowColour, underColour, under), dark / alpha) : shadowColour;
  // Times its alpha: it is drawn under what is there.
  gl_FragColor = vec4(colour * alpha, alpha);
}
