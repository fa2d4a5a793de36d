import { notForWindows, type CallName } from '../../shared-core/contract/index.ts'
import type { FromLibrary, ToLibrary } from '../../shared-core/contract/envelope.ts'
import { Problem, type ProblemBody } from '../../shared-core/problem.ts'
import type { PrintPdf } from './hand-over/print-pdf.ts'
import { LibraryHost } from './host.ts'
import { choosePlace, tidyPlace } from './library-place.ts'
import { Cancelled } from './media/run-ffmpeg.ts'

/**
 * The library process: owns the database and the jobs, answers main's messages one by one.
 * It runs as an Electron utility process, or as a child of main under Node 24 where Electron's own Node is older.
 */
interface ParentPort {
  postMessage(message: FromLibrary): void
  on(event: 'message', listener: (event: { data: ToLibrary }) => void): void
}

const parentPort = (process as unknown as { parentPort?: ParentPort }).parentPort
const send = (message: FromLibrary) => {
  if (parentPort) parentPort.postMessage(message)
  else if (process.connected) process.send?.(message)
}
const onMessage = (listener: (message: ToLibrary) => void) => {
  if (parentPort) parentPort.on('message', (event) => listener(event.data))
  else process.on('message', (message) => listener(message as ToLibrary))
}

const bodyOf = (error: unknown): ProblemBody => {
  if (error instanceof Problem) return error.body
  console.error(error)
  return new Problem('bug.call', { reason: (error as Error).message }).body
}

/** Calls slower than this are named on the log. */
const slowMs = 40

const answer = async (library: LibraryHost, call: Extract<ToLibrary, { type: 'call' }>) => {
  const start = performance.now()
  try {
    const output = await library.ask(call.name as CallName, call.input as never, call.from)
    send({ type: 'answer', seq: call.seq, output })
  } catch (error) {
    send({ type: 'failed', seq: call.seq, problem: bodyOf(error) })
  }
  const took = performance.now() - start
  if (took > slowMs && !notForWindows.includes(call.name as CallName)) {
    console.error(`slow call ${call.name}: ${took.toFixed(0)} ms`)
  }
}

/** Prints in main, which has the engine; the answers come as `printed`. */
const printing = new Map<number, (reason: string | null) => void>()
let lastPrint = 0
const printInMain: PrintPdf = (htmlFile, pdfFile, signal) =>
  new Promise((resolve, reject) => {
    lastPrint += 1
    const seq = lastPrint
    printing.set(seq, (reason) => (reason === null ? resolve() : reject(new Problem('print', { reason }))))
    signal?.addEventListener('abort', () => reject(new Cancelled()), { once: true })
    send({ type: 'print', seq, htmlFile, pdfFile })
  })

/** Main says where the window keeps its own data; without, the place of the library is given from outside. */
const placeKeeper = () => {
  const userData = process.argv[3]
  if (!userData) return null
  tidyPlace(userData)
  return (folder: string, movingTo?: string) => choosePlace(folder, userData, movingTo)
}

const start = () => {
  const folder = process.argv[2]
  if (!folder) throw new Error('the library process needs a folder')
  let library: LibraryHost
  try {
    library = new LibraryHost({
      folder,
      choosePlace: placeKeeper(),
      dailyBackup: true,
      resumesLive: true,
      emit: (name, body) => send({ type: 'event', name, body }),
      printPdf: printInMain,
      sweepAfterMs: 10_000,
    })
  } catch (error) {
    send({ type: 'refused', problem: bodyOf(error) })
    setTimeout(() => process.exit(1), 200)
    return
  }
  const close = () => void library.close().finally(() => process.exit(0))
  onMessage((message) => {
    if (message.type === 'printed') {
      printing.get(message.seq)?.(message.reason)
      printing.delete(message.seq)
    } else if (message.type === 'close') close()
    else void answer(library, message)
  })
  process.on('disconnect', close)
  send({ type: 'ready' })
}

start()
