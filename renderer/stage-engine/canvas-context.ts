let isDrawnInSoftware = true

/** Said once, at the start of the window. */
export const setDrawnInSoftware = (isSoftware: boolean) => {
  isDrawnInSoftware = isSoftware
}

/**
 * The context a picture is painted into, kept where painting is fastest on this machine: where no graphics card draws,
 * pictures reach the screen faster from ordinary memory.
 */
export const pictureContext = (canvas: HTMLCanvasElement): CanvasRenderingContext2D =>
  canvas.getContext('2d', { willReadFrequently: isDrawnInSoftware })!
