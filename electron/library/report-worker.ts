import { parentPort } from 'node:worker_threads'
import { computeReport, type ReportInputs, type ReportKind } from './report-kinds.ts'

interface Asked {
  id: number
  kind: ReportKind
  input: ReportInputs[ReportKind]
}

// Computes reports in a thread of its own: one of a long lesson takes a second, in which the library goes on answering.
parentPort!.on('message', ({ id, kind, input }: Asked) => {
  try {
    parentPort!.postMessage({ id, report: computeReport(kind, input) })
  } catch {
    parentPort!.postMessage({ id, report: null })
  }
})
