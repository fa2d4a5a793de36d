import path from 'node:path'
import { Command, Option } from 'commander'
import type { CallOutput } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { makeOutput, table } from '../output.ts'
import { findLesson, findStudent, finishJob, withLibrary } from '../with-library.ts'

interface Common {
  json?: boolean
  library?: string
}
type Look = CallOutput<'lessonFile.look'>

const standingWords: Record<Look['lessons'][number]['standing'], string> = {
  new: 'new',
  same: 'here already',
  newer: 'here in an earlier copy',
  older: 'here, and this is an earlier copy or one changed elsewhere',
}

const lookLines = (look: Look): string[] => [
  `From ${look.coachName || 'a colleague who is not named'}, written ${look.writtenAt.slice(0, 16).replace('T', ' ')} UTC: ${look.student.name}, plays ${look.student.side}-handed${look.student.isMinor ? ', minor' : ''}`,
  ...table(
    ['date', 'lesson', 'swings', 'clips', 'shots', ''],
    look.lessons.map((l) => [
      l.date,
      l.title,
      String(l.swings),
      String(l.clips),
      String(l.shots),
      standingWords[l.standing],
    ]),
  ),
  ...(look.withLimits ? [] : ['Injuries and limits are not in it: ask about them.']),
  ...look.knownStudents.map((s) => `The same student is here already: ${s.name} (--student ${s.id})`),
  ...(look.refusal ? [`It can’t be taken in: ${look.refusal}`] : []),
]

/** Commands for lessons that go to a colleague, and come from one. */
export const exchangeCommands = (): Command[] => [
  new Command('give')
    .description('write a lesson, or all lessons of a student, into one file for a colleague')
    .argument('[lesson]', 'id, start of an id, or "last"')
    .option('--student <name>', 'all lessons of this student, by name or id')
    .requiredOption('--out <dir>', 'folder in which the file is written')
    .option('--notes', 'with your own notes on student, lesson and blocks')
    .option('--limits', 'with the student’s injuries and limits')
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
            `Lesson file: ${result}, read back and in order.`,
            ...leftOut.map((what) => `Not in it: ${what}`),
          ])
        })
      },
    ),
  new Command('take')
    .description('take lessons of a colleague’s file in; what is here already is not doubled')
    .argument('<file>', 'lesson file')
    .option('--look', 'only say what is in it')
    .addOption(
      new Option('--student <name>', 'they are lessons of this student, by name or id').conflicts(
        'newStudent',
      ),
    )
    .option('--new-student', 'a new student, also if the same one came with an earlier file')
    .option('--beside', 'another copy of a lesson that is here: take it in beside that one')
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
