let isSoftware = true

/** Said once, at the start of the window. */
export const setDrawnInSoftware = (to: boolean) => {
  isSoftware = to
}

/** True where no graphics card draws the window. */
export const isDrawnInSoftware = (): boolean => isSoftware

/**
 * The context a picture is painted into, kept where painting is fastest on this machine: where no graphics card draws,
 * pictures reach the screen faster from ordinary memory.
 */
export const pictureContext = (canvas: HTMLCanvasElement): CanvasRenderingContext2D =>
  canvas.getContext('2d', { willReadFrequently: isSoftware })!
