let known: boolean | null = null

/** True where no graphics card draws: pictures then reach the screen faster from ordinary memory. */
const isDrawnInSoftware = (): boolean => {
  if (known !== null) return known
  const gl = document.createElement('canvas').getContext('webgl')
  const info = gl?.getExtension('WEBGL_debug_renderer_info')
  const renderer = gl && info ? String(gl.getParameter(info.UNMASKED_RENDERER_WEBGL)) : ''
  known = gl === null || /swiftshader|llvmpipe|software|basic render/i.test(renderer)
  gl?.getExtension('WEBGL_lose_context')?.loseContext()
  return known
}

/** The context a picture is painted into, kept where painting is fastest on this machine. */
export const pictureContext = (canvas: HTMLCanvasElement): CanvasRenderingContext2D =>
  canvas.getContext('2d', { willReadFrequently: isDrawnInSoftware() })!
