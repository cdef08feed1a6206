// Knitted fabric, one patch per stitch: vertex stage.
//
// Attributes (lengths mm): position, normal (towards the right side), yarn (linear RGB),
// uv (0…1 across from right to left, 0…1 up from foot to head),
// stitch (kind, twisted 0/1, course, shelter 0…1: how far the place is shut in).
//
// Uniforms:
//   stitchMm  mean stitch width, mm

uniform float stitchMm;

attribute vec3 yarn;
attribute vec4 stitch;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;
varying vec2 vUv;
varying vec4 vStitch;

void main() {
  vec4 place = modelMatrix * vec4(position, 1.0);
  vPlaceMm = place.xyz;
  vNormal = mat3(modelMatrix) * normal;
  vYarn = yarn;
  vUv = uv;
  vStitch = stitch;
  vec4 seen = viewMatrix * place;
  // The dark behind the stitches stands back from the eye, on whichever side the eye is.
  if (stitch.x > 4.5) seen.xyz += normalize(seen.xyz) * stitchMm * 0.45;
  gl_Position = projectionMatrix * seen;
}
