/**
 * The filter that brings stored frames to the size as shown, with square pixels: the one space in which drawings, covers
 * and cues have their places. Whatever paints on frames of a clip, or hides parts of them, goes through it first.
 *
 * @param flags of the scaler; ffmpeg's own choice without
 */
export const toShownSize = (shown: { readonly width: number; readonly height: number }, flags = ''): string =>
  `scale=${shown.width}:${shown.height}${flags && `:flags=${flags}`},setsar=1`
