/** Thumbnails in a clip's strip at most. */
const most = 40

/** Which frames the row of thumbnails shows: every `every`-th from frame 0, `count` of them. */
export const stripLayout = (frameCount: number): { every: number; count: number } => {
  const every = Math.max(1, Math.ceil(frameCount / most))
  return { every, count: Math.ceil(frameCount / every) }
}
