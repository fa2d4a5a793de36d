// node exchange-and-be-killed.ts LIBRARY FILE STUDENT OUT: takes a lesson file in and gives a student's lessons until it is killed.
import { Library } from '../../../electron/library/library.ts'

const [folder, file, studentId, out] = process.argv.slice(2) as [string, string, string, string]
const library = new Library({ folder, printPdf: null })
// What an earlier one of these began is taken up again by itself.
const tasks = JSON.stringify(library.context.sqlite.prepare('SELECT task FROM job').all())
if (!tasks.includes(file)) await library.ask('lessonFile.take', { file, studentId: null })
if (!tasks.includes(out)) await library.ask('lessonFile.give', { studentId, lessonIds: null, folder: out })
process.send?.({ begun: true })
setInterval(() => {}, 1000)
