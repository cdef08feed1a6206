// Knitted fabric, one patch per stitch: vertex stage.
//
// Attributes (lengths mm): position, normal (towards the right side), yarn (linear RGB),
// uv (0…1 across from right to left, 0…1 up from foot to head),
// stitch (tile of the right side and of the wrong side, each with a fraction that differs from stitch to
// stitch; course; −1…1: how far the place is shut in on the right side, or on the wrong one where negative),
// raise (yarn diameters from the sheet to where the yarn is seen, on the right side and on the wrong one).
//
// Uniforms:
//   yarnMm  diameter of the pressed yarn, mm
//   backMm  how far the stitches stand back from the eye: strands are drawn in front of them

uniform float yarnMm;
uniform float backMm;

attribute vec3 yarn;
attribute vec4 stitch;
attribute vec2 raise;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;
varying vec2 vUv;
varying vec4 vStitch;
varying float vRaise;

void main() {
  vec4 place = modelMatrix * vec4(position, 1.0);
  vNormal = mat3(modelMatrix) * normal;
  // The patch lies where its yarn is seen, on the side of the eye; seen edge on in between.
  float side = clamp(4.0 * dot(normalize(cameraPosition - place.xyz), vNormal), -1.0, 1.0);
  vRaise = abs(side) * (side > 0.0 ? raise.x : raise.y);
  place.xyz += vNormal * (sign(side) * vRaise * yarnMm);
  vPlaceMm = place.xyz;
  vYarn = yarn;
  vUv = uv;
  vStitch = stitch;
  vec4 seen = viewMatrix * place;
  // The dark behind the stitches stands back from the eye, on whichever side the eye is.
  // Further where the fabric is seen edge on, so as not to come before the ground of cables.
  vec3 ray = normalize(seen.xyz);
  float facing = max(0.15, abs(dot(mat3(viewMatrix) * vNormal, ray)));
  float behind = stitch.x > 62.5 && stitch.x < 63.99 ? 1.8 * yarnMm / facing : 0.0;
  seen.xyz += ray * (backMm + behind);
  gl_Position = projectionMatrix * seen;
}
