import { Command, Option } from 'commander'
import { isoDateSchema } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricText } from '../../../shared-core/units.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { languageCaution, languages, type Language } from '../../../shared-core/wording/language.ts'
import { makeOutput, table } from '../output.ts'
import { findLesson, findStudent, finishJob, finishJobs, withLibrary } from '../with-library.ts'
import { problemLines } from '../reading-lines.ts'

interface Common {
  json?: boolean
  library?: string
}

/** Commands that keep and list records: students, lessons, clips, shots, pairs, the library's health. */
export const recordCommands = (): Command[] => {
  const student = new Command('student').description('students of the library')
  student
    .command('add')
    .description('add a student')
    .argument('<name>', 'name of the student')
    .addOption(new Option('--side <side>', 'playing side').choices(['right', 'left']).makeOptionMandatory())
    .option('--minor', 'the student is a minor')
    .addOption(
      new Option('--units <units>', 'units shown').choices(['mph-yd', 'kmh-m', 'mps-m']).default('mph-yd'),
    )
    .addOption(
      new Option('--language <language>', 'language of the student’s page').choices(languages).default('en'),
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
            `Added ${name} (${options.side}-handed): ${id}`,
            ...(caution === null ? [] : [caution]),
          ])
        })
      },
    )
  student
    .command('list')
    .description('list students')
    .action(async (options: Common) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const students = await library.ask('roster.list', {})
        output.result(
          students,
          students.length
            ? table(
                ['id', 'name', 'side', 'lessons'],
                students.map((s) => [s.id, s.name, s.side, String(s.lessons.length)]),
              )
            : ['No students yet.'],
        )
      })
    })
  student
    .command('delete')
    .description('delete everything about a student, for good')
    .argument('<student>', 'name or id')
    .requiredOption('--type-name <name>', 'the student’s full name, to be sure')
    .option('--with-packages', 'also the written hand-overs that are still where they were written')
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
          `Deleted ${found.name}: ${gone.lessons} lessons, ${gone.filesDeleted} files, ${gone.packagesDeleted} written hand-overs.`,
          ...gone.stays.map(({ where, why }) => `Still there: ${where}: ${why}`),
        ])
      })
    })

  const lesson = new Command('lesson').description('lessons of a student')
  lesson
    .command('new')
    .description('start a lesson')
    .argument('<student>', 'name or id')
    .requiredOption('--date <date>', 'YYYY-MM-DD')
    .option('--title <title>', 'title', '')
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
        output.result({ id, studentId, date: options.date }, [`Lesson of ${name} on ${options.date}: ${id}`])
      })
    })
  lesson
    .command('list')
    .description('list lessons, newest first')
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
                ['id', 'date', 'student', 'title', 'swings', 'clips', 'shots'],
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
            : ['No lessons yet.'],
        )
      })
    })
  lesson
    .command('show')
    .description('show one lesson: blocks, swings, pairs')
    .argument('<lesson>', 'id, start of an id, or "last"')
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
                s.views.map((v) => clips.get(v.clipId)?.fileName ?? '').join(' + ') || 'no clip',
                shot ? clubWords(shot.club) : 'no shot',
                metricText('clubSpeedMps', shot?.clubSpeedMps, opened.student.units),
                metricText('ballSpeedMps', shot?.ballSpeedMps, opened.student.units),
                impact ? `frame ${impact.frame} (${Math.round(impact.confidence * 100)} %)` : '–',
                s.pairHow ? `${s.pairHow} ${Math.round(s.pairConfidence * 100)} %` : '–',
              ]
            })
          lines.push(...table(['#', 'clip', 'club', 'club speed', 'ball speed', 'impact', 'pair'], rows))
        }
        output.result(opened, lines)
      })
    })

  const addClips = new Command('add-clips')
    .description('take clips into a lesson')
    .argument('<lesson>', 'id, start of an id, or "last"')
    .argument('<files...>', 'video files')
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
    .description('take a file of shot records (CSV or TSV) into a lesson')
    .argument('<lesson>', 'id, start of an id, or "last"')
    .argument('<file>', 'CSV or TSV')
    .addOption(
      new Option('--doubled <how>', 'rows that list a shot a second time: take them once, or all')
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
          `${result.added} shots added${result.alreadyThere ? `, ${result.alreadyThere} already there` : ''}.`,
          ...(result.doubled
            ? [
                `${result.doubled} ${result.doubled === 1 ? 'row lists a shot' : 'rows list a shot'} a second time: ${options.doubled === 'once' ? 'taken once (--doubled all takes them all)' : 'taken in too'}.`,
              ]
            : []),
          ...(result.pairs
            ? [`${result.pairs} ${result.pairs === 1 ? 'pair' : 'pairs'} of clip and shot in this lesson.`]
            : []),
          `${result.order}.`,
          ...(result.unmapped.length
            ? [`Columns not recognised (kept as they are): ${result.unmapped.join(', ')}`]
            : []),
          ...problemLines(result.problems),
        ])
      })
    })

  const pair = new Command('pair')
    .description('pair clips and shots again by their clocks')
    .argument('<lesson>', 'id, start of an id, or "last"')
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
          `${counts.pairs} pairs; ${counts.unpairedClips} clips without a shot, ${counts.unpairedShots} shots without a clip.`,
          ...(unsure ? [`${unsure} pairs are unsure; check them in the Tray.`] : []),
          ...(clock
            ? [
                `Device clock: ${clock.offsetSeconds.toFixed(1)} s from the camera's, drift ${clock.driftPpm.toFixed(0)} ppm, scatter ${clock.residualSdSeconds.toFixed(2)} s.`,
              ]
            : ['No clock times to fit.']),
        ])
      })
    })

  const check = new Command('check')
    .description(
      'which ffmpeg and Electron are in use, and whether the library is in order, every file by its hash',
    )
    .option('--repair', 'first make again what can be: working copies, and clips from set-aside and backups')
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
            output.say(`Repair: ${result}`)
          }
          const checked = await library.ask('library.check', {})
          const lines = [
            { ok: true, text: `Node ${process.versions.node}` },
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
