import path from 'node:path'
import { Command } from 'commander'
import { makeOutput } from '../output.ts'
import { findLesson, finishJob, withLibrary } from '../with-library.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { handOverTexts } from '../../../shared-core/wording/command-line/hand-over.ts'

export const handOverCommand = (): Command =>
  new Command('hand-over')
    .description(handOverTexts('writeLessonPackageFor'))
    .argument('<lesson>', commonTexts('idStartIdOr'))
    .requiredOption('--out <dir>', handOverTexts('folderInWhichPackage'))
    .option('--consent-by <name>', handOverTexts('whoSaysYesIf'))
    .action(
      async (
        text: string,
        options: { json?: boolean; library?: string; out: string; consentBy?: string },
      ) => {
        const output = makeOutput(Boolean(options.json))
        await withLibrary(options.library, output, async (library) => {
          const lessonId = await findLesson(library, text)
          const { jobId } = await library.ask('handOver.write', {
            lessonId,
            folder: path.resolve(options.out),
            consentSaidBy: options.consentBy ?? null,
          })
          await finishJob(library, jobId, 'stopped.handOver')
          const [record] = await library.ask('handOver.list', { lessonId })
          output.result(record, [
            handOverTexts('package', { folder: record!.folder }),
            handOverTexts('zip', {
              zip: record!.zip,
              byteLength: (record!.byteLength / 1e6).toFixed(1),
            }),
            ...record!.remarks,
          ])
        })
      },
    )
