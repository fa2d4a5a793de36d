import fs from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import { lessonReport, type LessonReport } from '../../shared-core/report/lesson-report.ts'
import type { ReportInput } from '../../shared-core/report/report-input.ts'

/** Beside this file: bundled with the program, or as it is in the repository. */
const workerFile = (): string => {
  const bundled = path.join(import.meta.dirname, 'report-worker.js')
  return fs.existsSync(bundled) ? bundled : path.join(import.meta.dirname, 'report-worker.ts')
}

/** Computes reports beside the library's own work, in a thread that is started with the first one. */
export class Reporter {
  #worker: Worker | null = null
  #asked = 0
  #isClosed = false
  readonly #waiting = new Map<number, (report: LessonReport | null) => void>()

  /** @throws what `lessonReport` throws */
  async report(input: ReportInput): Promise<LessonReport> {
    const report = this.#isClosed ? null : await this.#ask(input)
    // Whatever the thread could not do is done here, and fails here with its reason.
    return report ?? lessonReport(input)
  }

  async close() {
    this.#isClosed = true
    this.#giveUp()
    await this.#worker?.terminate()
    this.#worker = null
  }

  #ask(input: ReportInput): Promise<LessonReport | null> {
    return new Promise((resolve) => {
      const worker = (this.#worker ??= this.#start())
      const id = (this.#asked += 1)
      this.#waiting.set(id, resolve)
      // The program stays for an answer, not for the thread.
      worker.ref()
      worker.postMessage({ id, input })
    })
  }

  #start(): Worker {
    const worker = new Worker(workerFile(), { execArgv: [] })
    worker.on('message', ({ id, report }: { id: number; report: LessonReport | null }) => {
      const done = this.#waiting.get(id)
      this.#waiting.delete(id)
      if (this.#waiting.size === 0) worker.unref()
      done?.(report)
    })
    const ended = () => {
      if (this.#worker === worker) this.#worker = null
      this.#giveUp()
    }
    worker.once('error', ended)
    worker.once('exit', ended)
    return worker
  }

  #giveUp() {
    for (const done of this.#waiting.values()) done(null)
    this.#waiting.clear()
  }
}
