/** What the canvases ask of the graphics: fine edges where there is a graphics card, speed where there is none. */

let software: boolean | null = null;

/** Whether pictures are made by the processor alone. Asked once. */
export function drawsInSoftware(): boolean {
  software ??= askRenderer();
  return software;
}

const PROCESSORS = /swiftshader|llvmpipe|softpipe|software|basic render/i;
/** Names that stand for any card or none. */
const MASKED = /^(?:apple gpu|webkit webgl|mozilla|)$/i;

function askRenderer(): boolean {
  try {
    const gl = document.createElement('canvas').getContext('webgl2');
    if (!gl) return false;
    const info = gl.getExtension('WEBGL_debug_renderer_info');
    const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER) ?? '');
    const found = MASKED.test(name) ? drawsSlowly(gl) : PROCESSORS.test(name);
    gl.getExtension('WEBGL_lose_context')?.loseContext();
    return found;
  } catch {
    return false;
  }
}

/** Side of the trial picture, pixels, and what it may take, ms: a card takes one or two, a processor some hundred. Chosen. */
const TRIAL_PX = 256;
const CARD_MS = 20;

/** One triangle over all of the picture. */
const COVER = `#version 300 es
void main() {
  vec2 corner = vec2(gl_VertexID % 2, gl_VertexID / 2);
  gl_Position = vec4(4.0 * corner - 1.0, 0.0, 1.0);
}`;
const ARITHMETIC = `#version 300 es
precision highp float;
out vec4 shade;
void main() {
  float x = 1.0;
  for (int k = 0; k < 200; k++) x = sin(x + gl_FragCoord.x);
  shade = vec4(x);
}`;

/** Takes the time of a picture that is nothing but arithmetic. */
function drawsSlowly(gl: WebGL2RenderingContext): boolean {
  const program = gl.createProgram();
  const kinds = { [gl.VERTEX_SHADER]: COVER, [gl.FRAGMENT_SHADER]: ARITHMETIC };
  for (const [kind, source] of Object.entries(kinds)) {
    const shader = gl.createShader(Number(kind)) as WebGLShader;
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  gl.linkProgram(program);
  // biome-ignore lint/correctness/useHookAtTopLevel: of the graphics, not of React
  gl.useProgram(program);
  gl.canvas.width = gl.canvas.height = TRIAL_PX;
  gl.viewport(0, 0, TRIAL_PX, TRIAL_PX);
  const draw = () => {
    gl.drawArrays(gl.TRIANGLES, 0, 3);
    // Waits until it is drawn.
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  };
  // The first one is compiled on the way, and any may have to wait for something else.
  const times = Array.from({ length: 4 }, () => {
    const begun = performance.now();
    draw();
    return performance.now() - begun;
  });
  return Math.min(...times) > CARD_MS;
}

/** Properties of a canvas. Smoothed edges cost two to three times as much without a card (measured on SwiftShader). */
export function canvasQuality() {
  const slow = drawsInSoftware();
  return {
    dpr: slow ? Math.min(1, window.devicePixelRatio) : ([1, 2] as [number, number]),
    gl: { antialias: !slow, alpha: true, powerPreference: 'default' as const },
  };
}
