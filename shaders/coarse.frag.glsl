// The sheet as it relaxes, without its stitches: fragment stage. As bright as the mean of the stitches in the same light.
//
// Uniforms:
//   lightTowards unit vector towards the key light, world
//   relief       0…1, as in fabric.frag.glsl

uniform vec3 lightTowards;
uniform float relief;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;

// Of a stitch's light so much is left, on average, by the yarn around it: as tests/browser/hand-over.test.ts measures.
const float OPEN = 0.475;

void main() {
  vec3 eye = normalize(cameraPosition - vPlaceMm);
  vec3 normal = normalize(vNormal);
  if (dot(normal, eye) < 0.0) normal = -normal;
  // The room is turned over with the piece, as in wool.glsl.
  float side = cameraPosition.z < 0.0 ? -1.0 : 1.0;
  float wrapped = max(0.0, (dot(normal, lightTowards * vec3(1.0, 1.0, side)) + 0.22) / 1.22);
  float up = 0.5 + 0.5 * normal.z * side;
  vec3 dome = mix(vec3(0.30, 0.275, 0.25), vec3(0.42, 0.45, 0.50), up);
  vec3 light = vec3(1.10, 1.03, 0.92) * wrapped + dome;
  gl_FragColor = vec4(vYarn * light * mix(0.28, 1.14, relief) * mix(1.0, OPEN, relief), 1.0);
  #include <colorspace_fragment>
}
