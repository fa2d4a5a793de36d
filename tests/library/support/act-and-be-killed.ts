// node act-and-be-killed.ts LIBRARY LESSON-ID CLIP OUT: takes in, edits, hands over and backs up until it is killed; tells what
// was acknowledged.
import { Library } from '../../../electron/library/library.ts'

const [folder, lessonId, clip, out] = process.argv.slice(2) as [string, string, string, string]
const library = new Library({ folder, printPdf: null })
process.send?.({ opened: true })
const jobs = [
  library.ask('clips.add', { lessonId, files: [clip] }),
  library.ask('handOver.write', { lessonId, folder: out, consentSaidBy: 'the test' }),
  library.ask('backup.make', { folder: `${out}-backups` }),
]
await Promise.all(jobs)
for (let n = 0; ; n += 1) {
  const { id } = await library.ask('student.create', { name: `kept ${process.pid} ${n}`, side: 'left' })
  process.send?.({ acknowledged: id })
  await new Promise((resolve) => setTimeout(resolve, 3))
}
