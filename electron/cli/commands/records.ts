import { Command, Option } from 'commander'
import { isoDateSchema } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricText } from '../../../shared-core/units.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { languageCaution, languages, type Language } from '../../../shared-core/wording/language.ts'
import { headings, makeOutput, table } from '../output.ts'
import { findLesson, findStudent, finishJob, finishJobs, withLibrary } from '../with-library.ts'
import { problemLines } from '../reading-lines.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { recordsTexts } from '../../../shared-core/wording/command-line/records.ts'

interface Common {
  json?: boolean
  library?: string
}

/** Commands that keep and list records: students, lessons, clips, shots, pairs, the library's health. */
export const recordCommands = (): Command[] => {
  const student = new Command('student').description(recordsTexts('studentsLibrary'))
  student
    .command('add')
    .description(recordsTexts('addStudent'))
    .argument('<name>', recordsTexts('nameStudent'))
    .addOption(
      new Option('--side <side>', recordsTexts('playingSide'))
        .choices(['right', 'left'])
        .makeOptionMandatory(),
    )
    .option('--minor', recordsTexts('studentMinor'))
    .addOption(
      new Option('--units <units>', commonTexts('unitsShown'))
        .choices(['mph-yd', 'kmh-m', 'mps-m'])
        .default('mph-yd'),
    )
    .addOption(
      new Option('--language <language>', recordsTexts('languageStudentsPage'))
        .choices(languages)
        .default('en'),
    )
    .action(
      async (
        name: string,
        options: Common & {
          side: 'right' | 'left'
          minor?: boolean
          units: 'mph-yd' | 'kmh-m' | 'mps-m'
          language: Language
        },
      ) => {
        const output = makeOutput(Boolean(options.json))
        await withLibrary(options.library, output, async (library) => {
          const { id } = await library.ask('student.create', {
            name,
            side: options.side,
            isMinor: Boolean(options.minor),
            units: options.units,
            language: options.language,
          })
          const caution = languageCaution(options.language)
          output.result({ id, name, side: options.side }, [
            recordsTexts('added', { name, side: options.side, id }),
            ...(caution === null ? [] : [caution]),
          ])
        })
      },
    )
  student
    .command('list')
    .description(recordsTexts('listStudents'))
    .action(async (options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const students = await library.ask('roster.list', {})
        output.result(
          students,
          students.length
            ? table(
                headings('id', 'name', 'side', 'lessons'),
                students.map((s) => [s.id, s.name, s.side, String(s.lessons.length)]),
              )
            : [recordsTexts('noStudentsYet')],
        )
      })
    })
  student
    .command('delete')
    .description(recordsTexts('deleteEverythingAbout'))
    .argument('<student>', recordsTexts('nameOrId'))
    .requiredOption('--type-name <name>', recordsTexts('studentsFullNameTo'))
    .option('--with-packages', recordsTexts('alsoWrittenHandovers'))
    .action(async (text: string, options: Common & { typeName: string; withPackages?: boolean }) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const found = await findStudent(library, text)
        const gone = await library.ask('student.deleteForGood', {
          id: found.id,
          typedName: options.typeName,
          withPackages: Boolean(options.withPackages),
        })
        output.result(gone, [
          recordsTexts('deletedNameLessons', {
            name: found.name,
            lessons: gone.lessons,
            filesDeleted: gone.filesDeleted,
            packagesDeleted: gone.packagesDeleted,
          }),
          ...gone.stays.map(({ where, why }) => recordsTexts('stillWhereWhy', { where, why })),
        ])
      })
    })

  const lesson = new Command('lesson').description(recordsTexts('lessonsStudent'))
  lesson
    .command('new')
    .description(recordsTexts('startLesson'))
    .argument('<student>', recordsTexts('nameOrId'))
    .requiredOption('--date <date>', recordsTexts('dayFormat'))
    .option('--title <title>', recordsTexts('title'), '')
    .action(async (text: string, options: Common & { date: string; title: string }) => {
      const output = makeOutput(Boolean(options.json))
      if (!isoDateSchema.safeParse(options.date).success || Number.isNaN(Date.parse(options.date))) {
        throw new Problem('usage.date', { text: options.date, where: '--date' })
      }
      await withLibrary(options.library, output, async (library) => {
        const { id: studentId, name } = await findStudent(library, text)
        const { id } = await library.ask('lesson.create', {
          studentId,
          date: options.date,
          title: options.title,
        })
        output.result({ id, studentId, date: options.date }, [
          recordsTexts('lessonNameOnDate', { name, date: options.date, id }),
        ])
      })
    })
  lesson
    .command('list')
    .description(recordsTexts('listLessonsNewestFirst'))
    .action(async (options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const lessons = (await library.ask('roster.list', {}))
          .flatMap((s) => s.lessons.map((l) => ({ ...l, student: s.name })))
          .toSorted((a, b) => b.date.localeCompare(a.date))
        output.result(
          lessons,
          lessons.length
            ? table(
                headings('id', 'date', 'student', 'title', 'swings', 'clips', 'shots'),
                lessons.map((l) => [
                  l.id,
                  l.date,
                  l.student,
                  l.title || '–',
                  String(l.swingCount),
                  String(l.clipCount),
                  String(l.shotCount),
                ]),
              )
            : [recordsTexts('noLessonsYet')],
        )
      })
    })
  lesson
    .command('show')
    .description(recordsTexts('showOneLessonBlocks'))
    .argument('<lesson>', commonTexts('idStartIdOr'))
    .action(async (text: string, options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const opened = await library.ask('lesson.open', { lessonId: await findLesson(library, text) })
        const shots = new Map(opened.shots.map((s) => [s.id, s]))
        const clips = new Map(opened.clips.map((c) => [c.id, c]))
        const lines = [
          `${opened.student.name}, ${opened.lesson.date}${opened.lesson.title ? `, ${opened.lesson.title}` : ''}`,
        ]
        for (const block of opened.blocks) {
          lines.push(
            '',
            `${block.name}${block.isBaseline ? ' (baseline)' : ''}${block.focus ? `: ${block.focus}` : ''}`,
          )
          const rows = opened.swings
            .filter((s) => s.blockId === block.id)
            .map((s) => {
              const shot = s.shotId ? shots.get(s.shotId) : undefined
              const impact = s.views[0]?.moments.find((m) => m.name === 'impact')
              return [
                String(s.order),
                s.views.map((v) => clips.get(v.clipId)?.fileName ?? '').join(' + ') || recordsTexts('noClip'),
                shot ? clubWords(shot.club) : recordsTexts('noShot'),
                metricText('clubSpeedMps', shot?.clubSpeedMps, opened.student.units),
                metricText('ballSpeedMps', shot?.ballSpeedMps, opened.student.units),
                impact
                  ? recordsTexts('impactFrame', {
                      frame: impact.frame,
                      confidence: Math.round(impact.confidence * 100),
                    })
                  : '–',
                s.pairHow ? `${s.pairHow} ${Math.round(s.pairConfidence * 100)} %` : '–',
              ]
            })
          lines.push(
            ...table(
              [
                '#',
                ...headings('clip', 'club'),
                recordsTexts('clubSpeed'),
                recordsTexts('ballSpeed'),
                ...headings('impact', 'pair'),
              ],
              rows,
            ),
          )
        }
        output.result(opened, lines)
      })
    })

  const addClips = new Command('add-clips')
    .description(recordsTexts('takeClipsIntoLesson'))
    .argument('<lesson>', commonTexts('idStartIdOr'))
    .argument('<files...>', recordsTexts('videoFiles'))
    .action(async (text: string, files: string[], options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const lessonId = await findLesson(library, text)
        const { jobIds } = await library.ask('clips.add', { lessonId, files })
        const jobs = await finishJobs(library, jobIds)
        const failed = jobs.filter((j) => j.state !== 'done')
        const problemText = (j: (typeof jobs)[number]) =>
          [j.problem?.what ?? j.state, j.problem?.toDo].filter(Boolean).join('. ')
        output.result(
          {
            added: jobs.filter((j) => j.state === 'done').map((j) => ({ file: j.label, result: j.result })),
            failed: failed.map((j) => ({ file: j.label, problem: j.problem })),
          },
          jobs.map((j) => (j.state === 'done' ? `${j.label}: ${j.result}` : `${j.label}: ${problemText(j)}`)),
        )
        if (failed.length) {
          const names = failed.map((j) => j.label).join(', ')
          throw failed.length === jobs.length
            ? new Problem('some-failed.all', { all: jobs.length, names })
            : new Problem('some-failed.some', { failed: failed.length, all: jobs.length, names })
        }
      })
    })

  const addShots = new Command('add-shots')
    .description(recordsTexts('takeFileShotRecords'))
    .argument('<lesson>', commonTexts('idStartIdOr'))
    .argument('<file>', commonTexts('csvOrTsv'))
    .addOption(
      new Option('--doubled <how>', recordsTexts('rowsListShotSecond'))
        .choices(['once', 'all'])
        .default('once'),
    )
    .action(async (text: string, file: string, options: Common & { doubled: 'once' | 'all' }) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const result = await library.ask('shots.add', {
          lessonId: await findLesson(library, text),
          file,
          options: { doubled: options.doubled },
        })
        output.result(result, [
          recordsTexts('shotsAdded', {
            added: result.added,
            alreadyThere: result.alreadyThere
              ? recordsTexts('alreadyThere', { shots: result.alreadyThere })
              : '',
          }),
          ...(result.doubled
            ? [
                recordsTexts(options.doubled === 'once' ? 'doubledTakenOnce' : 'doubledTaken', {
                  rows: result.doubled,
                }),
              ]
            : []),
          ...(result.pairs ? [recordsTexts('pairsInLesson', { pairs: result.pairs })] : []),
          `${result.order}.`,
          ...(result.unmapped.length
            ? [recordsTexts('columnsNotRecognised', { unmapped: result.unmapped.join(', ') })]
            : []),
          ...problemLines(result.problems),
        ])
      })
    })

  const pair = new Command('pair')
    .description(recordsTexts('pairClipsAndShots'))
    .argument('<lesson>', commonTexts('idStartIdOr'))
    .action(async (text: string, options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const lessonId = await findLesson(library, text)
        const counts = await library.ask('pair.run', { lessonId })
        const { clock, swings } = await library.ask('lesson.open', { lessonId })
        const unsure = swings.filter(
          (s) => s.pairHow !== null && s.pairHow !== 'coach' && s.pairConfidence < 0.5,
        ).length
        output.result({ ...counts, unsure, clock }, [
          recordsTexts('pairCounts', {
            pairs: counts.pairs,
            unpairedClips: counts.unpairedClips,
            unpairedShots: counts.unpairedShots,
          }),
          ...(unsure ? [recordsTexts('unsurePairs', { unsure })] : []),
          ...(clock
            ? [
                recordsTexts('deviceClock', {
                  offsetSeconds: clock.offsetSeconds.toFixed(1),
                  driftPpm: clock.driftPpm.toFixed(0),
                  residualSdSeconds: clock.residualSdSeconds.toFixed(2),
                }),
              ]
            : [recordsTexts('noClockTimesTo')]),
        ])
      })
    })

  const check = new Command('check')
    .description(recordsTexts('whichFfmpegAndElectron'))
    .option('--repair', recordsTexts('firstMakeAgainWhat'))
    .action(async (options: Common & { repair?: boolean }) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(
        options.library,
        output,
        async (library) => {
          const { electronInUse } = await import('../electron-in-use.ts')
          if (options.repair) {
            const { jobId } = await library.ask('library.repair', {})
            const { result } = await finishJob(library, jobId, 'stopped.repair')
            output.say(recordsTexts('repairResult', { result: result ?? '' }))
          }
          const checked = await library.ask('library.check', {})
          const lines = [
            { ok: true, text: recordsTexts('node', { node: process.versions.node }) },
            electronInUse(),
            ...checked.lines,
          ]
          output.result(
            { isSound: checked.isSound, lines },
            lines.map((l) => `${l.ok ? 'ok  ' : 'LOOK'}  ${l.text}`),
          )
          if (!checked.isSound) {
            throw new Problem('not-sound')
          }
        },
        { mayOnlyLook: true },
      )
    })

  return [student, lesson, addClips, addShots, pair, check]
}
