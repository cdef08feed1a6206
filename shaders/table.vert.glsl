// Table under the fabric: vertex stage. Attributes: position, mm. No uniforms of its own.

varying vec2 vPlaceMm;

void main() {
  vec4 place = modelMatrix * vec4(position, 1.0);
  vPlaceMm = place.xy;
  gl_Position = projectionMatrix * viewMatrix * place;
}
