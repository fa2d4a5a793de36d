import path from 'node:path'
import { Command, Option } from 'commander'
import type { CallOutput } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { headings, makeOutput, table } from '../output.ts'
import { findLesson, findStudent, finishJob, withLibrary } from '../with-library.ts'
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { exchangeTexts } from '../../../shared-core/wording/command-line/exchange.ts'

interface Common {
  json?: boolean
  library?: string
}
type Look = CallOutput<'lessonFile.look'>

const standingWords: Record<Look['lessons'][number]['standing'], string> = {
  new: 'new',
  same: exchangeTexts('hereAlready'),
  newer: exchangeTexts('hereInEarlierCopy'),
  older: exchangeTexts('hereAndEarlierCopy'),
}

const lookLines = (look: Look): string[] => [
  exchangeTexts('from', {
    coach: look.coachName || exchangeTexts('colleagueWhoNotNamed'),
    at: look.writtenAt.slice(0, 16).replace('T', ' '),
    student: look.student.name,
    plays: exchangeTexts(look.student.side === 'right' ? 'playsRight' : 'playsLeft'),
    minor: look.student.isMinor ? exchangeTexts('minor') : '',
  }),
  ...table(
    [...headings('date', 'lesson', 'swings', 'clips', 'shots'), ''],
    look.lessons.map((l) => [
      l.date,
      l.title,
      String(l.swings),
      String(l.clips),
      String(l.shots),
      standingWords[l.standing],
    ]),
  ),
  ...(look.withLimits ? [] : [exchangeTexts('injuriesAndLimitsNot')]),
  ...look.knownStudents.map((s) => exchangeTexts('sameStudentHereAlready', { name: s.name, id: s.id })),
  ...(look.refusal ? [exchangeTexts('cantTakenInRefusal', { refusal: look.refusal })] : []),
]

/** Commands for lessons that go to a colleague, and come from one. */
export const exchangeCommands = (): Command[] => [
  new Command('give')
    .description(exchangeTexts('writeLessonOrAll'))
    .argument('[lesson]', commonTexts('idStartIdOr'))
    .option('--student <name>', exchangeTexts('allLessonsStudentBy'))
    .requiredOption('--out <dir>', exchangeTexts('folderInWhichFile'))
    .option('--notes', exchangeTexts('withYourOwnNotes'))
    .option('--limits', exchangeTexts('withStudentsInjuriesAnd'))
    .action(
      async (
        text: string | undefined,
        options: Common & { student?: string; out: string; notes?: boolean; limits?: boolean },
      ) => {
        const output = makeOutput(Boolean(options.json))
        await withLibrary(options.library, output, async (library) => {
          if ((text === undefined) === (options.student === undefined)) {
            throw new Problem('what')
          }
          const lessonId = text === undefined ? null : await findLesson(library, text)
          const studentId =
            lessonId === null
              ? (await findStudent(library, options.student!)).id
              : (await library.ask('lesson.open', { lessonId })).student.id
          const which = { studentId, lessonIds: lessonId === null ? null : [lessonId] }
          const { leftOut } = await library.ask('lessonFile.before', which)
          const { jobId } = await library.ask('lessonFile.give', {
            ...which,
            folder: path.resolve(options.out),
            withNotes: Boolean(options.notes),
            withLimits: Boolean(options.limits),
          })
          const { result } = await finishJob(library, jobId, 'stopped.lessonFile')
          output.result({ file: result, leftOut }, [
            exchangeTexts('lessonFileResultRead', { result: result! }),
            ...leftOut.map((what) => exchangeTexts('notInWhat', { what })),
          ])
        })
      },
    ),
  new Command('take')
    .description(exchangeTexts('takeLessonsColleagues'))
    .argument('<file>', exchangeTexts('lessonFile'))
    .option('--look', commonTexts('onlySayWhatIn'))
    .addOption(new Option('--student <name>', exchangeTexts('theyLessonsStudentBy')).conflicts('newStudent'))
    .option('--new-student', exchangeTexts('newStudentAlsoIf'))
    .option('--beside', exchangeTexts('anotherCopyLessonHere'))
    .action(
      async (
        file: string,
        options: Common & { look?: boolean; student?: string; newStudent?: boolean; beside?: boolean },
      ) => {
        const output = makeOutput(Boolean(options.json))
        await withLibrary(options.library, output, async (library) => {
          const look = await library.ask('lessonFile.look', { file: path.resolve(file) })
          if (options.look) {
            output.result(look, lookLines(look))
            return
          }
          const isNew = look.lessons.some(
            (l) => l.standing === 'new' || (options.beside && l.standing !== 'same'),
          )
          if (isNew && look.knownStudents.length > 0 && !options.student && !options.newStudent) {
            throw new Problem('student-known', {
              name: look.student.name,
              id: look.knownStudents[0]!.id,
              where: file,
            })
          }
          const studentId = options.student ? (await findStudent(library, options.student)).id : null
          const { jobId } = await library.ask('lessonFile.take', {
            file: path.resolve(file),
            studentId,
            otherCopies: options.beside ? 'beside' : 'leave',
          })
          const { result } = await finishJob(library, jobId, 'stopped.taking')
          output.result({ words: result, student: look.student.name }, [`${look.student.name}: ${result}.`])
        })
      },
    ),
]
