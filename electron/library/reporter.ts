import { Worker } from 'node:worker_threads'
import { computeReport, type ReportInputs, type ReportKind, type ReportOutputs } from './report-kinds.ts'
import { threadFile } from './run-in-thread.ts'

type Answer = ReportOutputs[ReportKind] | null

/** Computes reports beside the library's own work, in a thread that is started with the first one. */
export class Reporter {
  #worker: Worker | null = null
  #asked = 0
  #isClosed = false
  readonly #waiting = new Map<number, (report: Answer) => void>()

  /** @throws what the report of this kind throws */
  async report<K extends ReportKind>(kind: K, input: ReportInputs[K]): Promise<ReportOutputs[K]> {
    const report = this.#isClosed ? null : ((await this.#ask(kind, input)) as ReportOutputs[K] | null)
    // Whatever the thread could not do is done here, and fails here with its reason.
    return report ?? computeReport(kind, input)
  }

  async close() {
    this.#isClosed = true
    this.#giveUp()
    await this.#worker?.terminate()
    this.#worker = null
  }

  #ask(kind: ReportKind, input: ReportInputs[ReportKind]): Promise<Answer> {
    return new Promise((resolve) => {
      const worker = (this.#worker ??= this.#start())
      const id = (this.#asked += 1)
      this.#waiting.set(id, resolve)
      // The program stays for an answer, not for the thread.
      worker.ref()
      worker.postMessage({ id, kind, input })
    })
  }

  #start(): Worker {
    const worker = new Worker(threadFile(import.meta.dirname, 'report-worker'), { execArgv: [] })
    worker.on('message', ({ id, report }: { id: number; report: Answer }) => {
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
