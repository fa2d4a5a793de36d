// node edit-often.ts LIBRARY LESSON-ID COUNT NAME: adds COUNT lines to the lesson's note, one edit each; says what was refused.
import { Library } from '../../../electron/library/library.ts'

const [folder, lessonId, count, name] = process.argv.slice(2) as [string, string, string, string]
const library = new Library({ folder, printPdf: null })
const refused: string[] = []
let kept = 0
for (let n = 0; n < Number(count); n += 1) {
  try {
    const { lesson } = await library.ask('lesson.open', { lessonId })
    const note = lesson.note ? `${lesson.note}\n${name}${n}` : `${name}${n}`
    await library.ask('lesson.update', { id: lessonId, patch: { note }, noteBefore: lesson.note })
    await library.ask('student.create', { name: `${name}${n}`, side: 'right' })
    kept += 1
    process.send?.({ kept: `${name}${n}` })
  } catch (error) {
    refused.push((error as Error).message)
  }
}
await library.close()
process.send?.({ refused, count: kept })
process.disconnect?.()
