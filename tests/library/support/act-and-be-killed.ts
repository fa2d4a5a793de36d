// node act-and-be-killed.ts LIBRARY LESSON-ID CLIP OUT: takes in, edits, undoes, deletes, hands over (two at once) and backs up
// until it is killed; tells what was acknowledged.
import { Library } from '../../../electron/library/library.ts'

const [folder, lessonId, clip, out] = process.argv.slice(2) as [string, string, string, string]
const library = new Library({ folder, printPdf: null })
process.send?.({ opened: true })
const jobs = [
  library.ask('clips.add', { lessonId, files: [clip] }),
  library.ask('handOver.write', { lessonId, folder: out, consentSaidBy: 'the test' }),
  library.ask('handOver.write', { lessonId, folder: out, consentSaidBy: 'the test' }),
  library.ask('backup.make', { folder: `${out}-backups` }),
]
await Promise.all(jobs)
for (let n = 0; ; n += 1) {
  const { id } = await library.ask('student.create', { name: `kept ${process.pid} ${n}`, side: 'left' })
  process.send?.({ acknowledged: id })
  await library.ask('lesson.update', { id: lessonId, patch: { place: `range ${process.pid} ${n}` } })
  process.send?.({ place: `range ${process.pid} ${n}` })
  if (n % 10 === 5) {
    // Gone for good, and said so: never there again.
    const name = `gone ${process.pid} ${n}`
    const { id: gone } = await library.ask('student.create', { name, side: 'left' })
    await library.ask('student.deleteForGood', { id: gone, typedName: name })
    process.send?.({ deleted: gone })
  }
  await new Promise((resolve) => setTimeout(resolve, 3))
}
