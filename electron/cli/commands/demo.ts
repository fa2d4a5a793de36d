import fs from 'node:fs'
import path from 'node:path'
import { Command } from 'commander'
import type { SeasonView } from '../../../shared-core/report/season-view.ts'
import { reportOfLesson } from '../../library/queries/report-lesson.ts'
import { makeOutput } from '../output.ts'
import { finishJob, withLibrary } from '../with-library.ts'
import { reportLines } from './numbers.ts'
import { pageFacts, pageLines } from './page-lines.ts'
import { seasonLines } from './season-lines.ts'
import { demoTexts } from '../../../shared-core/wording/command-line/demo.ts'

export const demoCommand = (): Command =>
  new Command('demo')
    .description(demoTexts('runWholeJobOn'))
    .option('--out <dir>', demoTexts('folderForDemoLibrary'), 'demo-out')
    .action(async (options: { json?: boolean; library?: string; out: string }) => {
      const output = makeOutput(Boolean(options.json))
      const out = path.resolve(options.out)
      const folder = options.library ? path.resolve(options.library) : path.join(out, 'library')
      // A demo starts afresh; only a library that the demo itself made is taken away.
      const mark = path.join(folder, 'made-by-demo')
      if (!options.library && fs.existsSync(mark)) fs.rmSync(folder, { recursive: true })
      await withLibrary(folder, output, async (library) => {
        if (!options.library) fs.writeFileSync(mark, '')
        output.say(demoTexts('takingInDemoLesson'))
        const { jobId } = await library.ask('demo.load', {})
        const demo = await finishJob(library, jobId, 'stopped.demo')
        const lessonId = demo.result!
        const opened = await library.ask('lesson.open', { lessonId })
        const impacts = opened.swings
          .flatMap((s) => s.views)
          .filter((v) => v.moments.some((m) => m.name === 'impact')).length
        const pairs = opened.swings.filter((s) => s.shotId !== null && s.views.length > 0).length
        output.say(
          demoTexts('counts', {
            clips: opened.clips.length,
            shots: opened.shots.length,
            pairs,
            impacts,
            swings: opened.swings.flatMap((s) => s.views).length,
          }),
        )
        if (opened.clock) {
          output.say(
            demoTexts('deviceClock', {
              offsetSeconds: opened.clock.offsetSeconds.toFixed(1),
              driftPpm: opened.clock.driftPpm.toFixed(0),
            }),
          )
        }
        output.say(demoTexts('writingHandover'))
        const { jobId: writing } = await library.ask('handOver.write', {
          lessonId,
          folder: path.join(out, 'hand-over'),
          consentSaidBy: null,
        })
        await finishJob(library, writing, 'stopped.handOver')
        const [record] = await library.ask('handOver.list', { lessonId })
        const report = reportOfLesson(library.context, lessonId)
        const season = (await library.ask('season.report', { studentId: opened.student.id })) as SeasonView
        const page = await pageFacts(path.join(record!.folder, 'index.html'), report)
        output.result(
          {
            lessonId,
            library: folder,
            handOver: {
              folder: record!.folder,
              zip: record!.zip,
              byteLength: record!.byteLength,
              remarks: record!.remarks,
            },
            page,
            report,
            season,
          },
          [
            '',
            `${opened.student.name}, ${opened.lesson.date}`,
            '',
            ...reportLines(report, { isFull: false }),
            '',
            ...seasonLines(season),
            '',
            ...pageLines(page),
            '',
            demoTexts('handOver', { page: path.join(record!.folder, 'index.html') }),
            demoTexts('zip', {
              zip: record!.zip,
              byteLength: (record!.byteLength / 1e6).toFixed(1),
            }),
            ...record!.remarks,
            demoTexts('libraryFolder', { folder }),
          ],
        )
      })
    })
