import fs from 'node:fs'
import { stripLayout } from '../../../shared-core/model/strip-layout.ts'
import type { ClipFacts } from './probe.ts'
import { Cancelled, keepEveryTimestamp, runFfmpeg, type Doing, type RunOptions } from './run-ffmpeg.ts'

/** Size at a height, in the proportion as shown: stored pixels need not be square. */
const sizeAt = (shown: Pick<ClipFacts, 'width' | 'height'>, heightPx: number): string => {
  const widthPx = 2 * Math.max(1, Math.round((shown.width * heightPx) / shown.height / 2))
  return `scale=${widthPx}:${heightPx},setsar=1`
}

const stripHeightPx = 72
const posterHeightPx = 360

/** Output arguments of one JPEG out of a clip: the filter chooses its frames by index. */
const pictureArgs = (
  target: string,
  picture: { filter: string; quality: number },
  programs: RunOptions['programs'],
): string[] => [
  ...['-map', '0:V:0', '-an', '-map_metadata', '-1'],
  ...keepEveryTimestamp(programs),
  ...['-vf', picture.filter, '-frames:v', '1'],
  ...['-q:v', String(picture.quality), '-f', 'mjpeg', target],
]

/** Output arguments of the row of thumbnails of `stripLayout` as one JPEG. */
export const stripArgs = (
  target: string,
  facts: Pick<ClipFacts, 'width' | 'height' | 'frameCount'>,
  programs: RunOptions['programs'],
): string[] => {
  const { every, count } = stripLayout(facts.frameCount)
  const filter = `select='not(mod(n\\,${every}))',${sizeAt(facts, stripHeightPx)},tile=${count}x1`
  return pictureArgs(target, { filter, quality: 4 }, programs)
}

/**
 * Output arguments of the picture of one frame (by index), out of a clip that is read from its beginning; `before` are filters,
 * each with a comma behind it, that make the frames out of the file's.
 */
export const posterArgs = (
  target: string,
  frame: number,
  facts: Pick<ClipFacts, 'width' | 'height'>,
  programs: RunOptions['programs'],
  before = '',
  heightPx = posterHeightPx,
): string[] =>
  pictureArgs(
    target,
    { filter: `${before}select='eq(n\\,${frame})',${sizeAt(facts, heightPx)}`, quality: 3 },
    programs,
  )

const write = (doing: Doing, before: string[], file: string, args: string[], options: RunOptions) =>
  runFfmpeg(
    doing,
    (command) => {
      const target = args.at(-1)!
      const input = command.input(file)
      return (before.length > 0 ? input.inputOptions(before) : input)
        .outputOptions(args.slice(0, -1))
        .output(target)
    },
    options,
  )

/** Writes the row of thumbnails. */
export const makeStrip = (file: string, target: string, facts: ClipFacts, options: RunOptions) =>
  write('doing.thumbnails', [], file, stripArgs(target, facts, options.programs), options)

/** Writes the picture of one frame (by index) as a JPEG. */
export const makePoster = async (
  file: string,
  target: string,
  frame: number,
  facts: Pick<ClipFacts, 'width' | 'height' | 'atSeconds' | 'firstSeconds'>,
  options: RunOptions,
  heightPx = posterHeightPx,
): Promise<void> => {
  const size = sizeAt(facts, heightPx)
  const doing = 'doing.poster'
  // First a jump to the key frame before it; where a file can't be jumped in, all of it is read.
  const between = ((facts.atSeconds[frame - 1] ?? facts.atSeconds[frame]! - 1) + facts.atSeconds[frame]!) / 2
  const at = Math.max(0, facts.firstSeconds + between)
  const jump = ['-seek_timestamp', '1', '-ss', at.toFixed(6)]
  const picture = { filter: size, quality: 3 }
  try {
    await write(doing, jump, file, pictureArgs(target, picture, options.programs), options)
    if (fs.existsSync(target) && fs.statSync(target).size > 0) return
  } catch (error) {
    if (error instanceof Cancelled) throw error
  }
  await write(doing, [], file, posterArgs(target, frame, facts, options.programs, '', heightPx), options)
}
