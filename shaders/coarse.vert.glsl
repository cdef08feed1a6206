// The sheet as it relaxes, one vertex a loop: vertex stage. Attributes: position mm, normal, yarn (linear RGB).

attribute vec3 yarn;

varying vec3 vPlaceMm;
varying vec3 vNormal;
varying vec3 vYarn;

void main() {
  vec4 place = modelMatrix * vec4(position, 1.0);
  vPlaceMm = place.xyz;
  vNormal = mat3(modelMatrix) * normal;
  vYarn = yarn;
  gl_Position = projectionMatrix * viewMatrix * place;
}
