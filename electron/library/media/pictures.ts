import { stripLayout } from '../../../shared-core/model/strip-layout.ts'
import type { ClipFacts } from './probe.ts'
import { keepEveryTimestamp, runFfmpeg, type RunOptions } from './run-ffmpeg.ts'

const stripHeightPx = 72
const posterHeightPx = 360

/** Writes the row of thumbnails of `stripLayout` as one JPEG. */
export const makeStrip = async (
  file: string,
  target: string,
  facts: ClipFacts,
  options: RunOptions,
): Promise<void> => {
  const { every, count } = stripLayout(facts.frameCount)
  await runFfmpeg(
    'making the thumbnails',
    (command) =>
      command
        .input(file)
        .outputOptions([
          '-map',
          '0:V:0',
          '-an',
          '-map_metadata',
          '-1',
          ...keepEveryTimestamp(options.programs),
        ])
        .outputOptions(['-vf', `select='not(mod(n\\,${every}))',scale=-2:${stripHeightPx},tile=${count}x1`])
        .outputOptions(['-frames:v', '1', '-q:v', '4', '-f', 'mjpeg'])
        .output(target),
    options,
  )
}

/** Writes the picture of one frame (by index) as a JPEG. */
export const makePoster = async (
  file: string,
  target: string,
  frame: number,
  options: RunOptions,
): Promise<void> =>
  runFfmpeg(
    'making the poster',
    (command) =>
      command
        .input(file)
        .outputOptions([
          '-map',
          '0:V:0',
          '-an',
          '-map_metadata',
          '-1',
          ...keepEveryTimestamp(options.programs),
        ])
        .outputOptions([
          '-vf',
          `select='eq(n\\,${frame})',scale=-2:${posterHeightPx}`,
          '-frames:v',
          '1',
          '-q:v',
          '3',
          '-f',
          'mjpeg',
        ])
        .output(target),
    options,
  )
