import { parentPort } from 'node:worker_threads'
import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import type { ReportInput } from '../../shared-core/report/report-input.ts'

// Computes reports in a thread of its own: one of a long lesson takes a second, in which the library goes on answering.
parentPort!.on('message', ({ id, input }: { id: number; input: ReportInput }) => {
  try {
    parentPort!.postMessage({ id, report: lessonReport(input) })
  } catch {
    parentPort!.postMessage({ id, report: null })
  }
})
