/** What the canvases ask of the graphics: fine edges where there is a graphics card, speed where there is none. */

let software: boolean | null = null;

/** Whether pictures are made by the processor alone. Asked once; a browser that does not say counts as having a card. */
export function drawsInSoftware(): boolean {
  software ??= askRenderer();
  return software;
}

function askRenderer(): boolean {
  try {
    const gl = document.createElement('canvas').getContext('webgl2');
    if (!gl) return false;
    const info = gl.getExtension('WEBGL_debug_renderer_info');
    const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
    gl.getExtension('WEBGL_lose_context')?.loseContext();
    return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
  } catch {
    return false;
  }
}

/** Properties of a canvas. Smoothed edges cost two to three times as much without a card (measured on SwiftShader). */
export function canvasQuality() {
  const slow = drawsInSoftware();
  return {
    dpr: slow ? Math.min(1, window.devicePixelRatio) : ([1, 2] as [number, number]),
    gl: { antialias: !slow, alpha: true, powerPreference: 'default' as const },
  };
}
