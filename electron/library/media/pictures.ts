import { stripLayout } from '../../../shared-core/model/strip-layout.ts'
import type { ClipFacts } from './probe.ts'
import { keepEveryTimestamp, runFfmpeg, type RunOptions } from './run-ffmpeg.ts'

/** Size at a height, in the proportion as shown: stored pixels need not be square. */
const sizeAt = (shown: Pick<ClipFacts, 'width' | 'height'>, heightPx: number): string => {
  const widthPx = 2 * Math.max(1, Math.round((shown.width * heightPx) / shown.height / 2))
  return `scale=${widthPx}:${heightPx},setsar=1`
}

const stripHeightPx = 72
const posterHeightPx = 360

/** One JPEG out of a clip: the filter chooses its frames by index. */
const writePicture = (
  doing: string,
  file: string,
  target: string,
  picture: { filter: string; quality: number },
  options: RunOptions,
): Promise<void> =>
  runFfmpeg(
    doing,
    (command) =>
      command
        .input(file)
        .outputOptions(['-map', '0:V:0', '-an', '-map_metadata', '-1'])
        .outputOptions(keepEveryTimestamp(options.programs))
        .outputOptions(['-vf', picture.filter, '-frames:v', '1'])
        .outputOptions(['-q:v', String(picture.quality), '-f', 'mjpeg'])
        .output(target),
    options,
  )

/** Writes the row of thumbnails of `stripLayout` as one JPEG. */
export const makeStrip = async (
  file: string,
  target: string,
  facts: ClipFacts,
  options: RunOptions,
): Promise<void> => {
  const { every, count } = stripLayout(facts.frameCount)
  const filter = `select='not(mod(n\\,${every}))',${sizeAt(facts, stripHeightPx)},tile=${count}x1`
  await writePicture('making the thumbnails', file, target, { filter, quality: 4 }, options)
}

/** Writes the picture of one frame (by index) as a JPEG. */
export const makePoster = async (
  file: string,
  target: string,
  frame: number,
  facts: Pick<ClipFacts, 'width' | 'height'>,
  options: RunOptions,
): Promise<void> => {
  const filter = `select='eq(n\\,${frame})',${sizeAt(facts, posterHeightPx)}`
  await writePicture('making the poster', file, target, { filter, quality: 3 }, options)
}
