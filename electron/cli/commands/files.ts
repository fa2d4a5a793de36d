import path from 'node:path'
import { Command } from 'commander'
import { Problem } from '../../../shared-core/problem.ts'
import { parseQuantity } from '../../../shared-core/units.ts'
import { findMediaPrograms } from '../../library/media/ffmpeg-path.ts'
import { findMoments } from '../../library/moments/find-moments.ts'
import { expectShots, readShotsFile } from '../../library/handlers/shots.ts'
import { columnWords, readingLines } from '../reading-lines.ts'
import { headings, makeOutput, table } from '../output.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { filesTexts } from '../../../shared-core/wording/command-line/files.ts'

/** Commands on one file; no library is needed. */
export const fileCommands = (): Command[] => [
  new Command('moments')
    .description(filesTexts('findImpactAndOther'))
    .argument('<file>', commonTexts('videoFile'))
    .option('--mic-distance <metres>', filesTexts('distanceFromBallTo'), '3')
    .option('--capture-rate <rate>', commonTexts('framesPerSecondAt'))
    .action(async (file: string, options: { json?: boolean; micDistance: string; captureRate?: string }) => {
      const output = makeOutput(Boolean(options.json))
      const captureRate = options.captureRate === undefined ? undefined : Number(options.captureRate)
      if (captureRate !== undefined && !(captureRate > 0)) {
        throw new Problem('usage.frameRate', { text: options.captureRate!, where: '--capture-rate' })
      }
      const programs = await findMediaPrograms(null)
      const found = await findMoments(file, {
        ffmpegPath: programs.ffmpeg.file,
        ffprobePath: programs.ffprobe.file,
        micDistanceM: parseQuantity(options.micDistance, 'length', '--mic-distance'),
        ...(captureRate === undefined ? {} : { captureRate }),
      })
      output.result(found, [
        filesTexts('facts', {
          path: path.basename(file),
          frames: found.frames,
          playbackRate: found.playbackRate.toFixed(2),
          captureRate: found.captureRate.toFixed(2),
          captureRateHow: found.captureRateHow,
        }),
        ...(found.moments.length
          ? table(
              headings('moment', 'frame', 'atSeconds', 'confidence', 'how'),
              found.moments.map((m) => [
                m.name,
                String(m.frame),
                m.atSeconds.toFixed(3),
                `${Math.round(m.confidence * 100)} %`,
                m.how,
              ]),
            )
          : [filesTexts('noSwingFound')]),
      ])
    }),
  new Command('shots')
    .description(filesTexts('readFileShotRecords'))
    .argument('<file>', commonTexts('csvOrTsv'))
    .action(async (file: string, options: { json?: boolean }) => {
      const output = makeOutput(Boolean(options.json))
      const reading = await readShotsFile(file)
      expectShots(reading, file)
      output.result(
        {
          shots: reading.shots,
          unmapped: reading.unmapped,
          problems: reading.problems,
          columns: reading.columns,
          order: reading.order,
        },
        [
          filesTexts('shotsIn', { shots: reading.shots.length, path: path.basename(file) }),
          ...reading.columns.map((c) => `  ${c.header} → ${columnWords(c)}`),
          ...readingLines(reading),
        ],
      )
    }),
]
