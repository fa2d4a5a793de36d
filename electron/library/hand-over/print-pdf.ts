import { spawn } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { Problem } from '../../../shared-core/problem.ts'

/**
 * Prints an HTML file with a browser engine. In the window main prints (`webContents.printToPDF`); the library gets it
 * handed in (LibraryOptions.printPdf).
 */
export type PrintPdf = (htmlFile: string, pdfFile: string, signal?: AbortSignal) => Promise<void>

const names = ['chromium', 'chromium-browser', 'chrome', 'google-chrome', 'msedge']
const longestSeconds = 120

/** LEADSIDE_CHROMIUM, else a browser of that engine on the PATH. */
export const findBrowser = (environment: NodeJS.ProcessEnv = process.env): string | null => {
  if (environment.LEADSIDE_CHROMIUM) {
    return fs.existsSync(environment.LEADSIDE_CHROMIUM) ? environment.LEADSIDE_CHROMIUM : null
  }
  for (const folder of (environment.PATH ?? '').split(path.delimiter).filter(Boolean)) {
    for (const name of names) {
      const file = path.join(folder, process.platform === 'win32' ? `${name}.exe` : name)
      if (fs.existsSync(file)) return file
    }
  }
  return null
}

const isRoot = process.getuid?.() === 0
// Chromium's sandbox does not work as root.
export const rootArgs = isRoot ? ['--no-sandbox'] : []

/** Prints with the browser found on this machine; null if there is none. */
export const browserPrinter = (browser = findBrowser()): PrintPdf | null =>
  browser === null
    ? null
    : (htmlFile, pdfFile, signal) =>
        runEngine(browser, pdfFile, signal, (profile) => [
          '--headless',
          ...rootArgs,
          '--disable-gpu',
          '--no-first-run',
          '--disable-extensions',
          '--disable-background-networking',
          // The page asks for nothing; nobody else is asked either.
          '--host-resolver-rules=MAP * ~NOTFOUND',
          `--user-data-dir=${profile}`,
          '--no-pdf-header-footer',
          `--print-to-pdf=${pdfFile}`,
          pathToFileURL(htmlFile).href,
        ])

/** Prints in an Electron of its own, without a window to be seen; for a machine without a browser. */
export const electronPrinter =
  (electron: string): PrintPdf =>
  (htmlFile, pdfFile, signal) =>
    runEngine(electron, pdfFile, signal, (profile) => [
      ...rootArgs,
      '--disable-gpu',
      `--user-data-dir=${profile}`,
      fileURLToPath(new URL('../../main/print-alone.mjs', import.meta.url)),
      htmlFile,
      pdfFile,
    ])

/** Starts a browser engine that writes one file and ends, with a profile of its own. */
export const runEngine = (
  program: string,
  outFile: string,
  signal: AbortSignal | undefined,
  args: (profile: string) => string[],
): Promise<void> =>
  new Promise((resolve, reject) => {
    const profile = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-print-'))
    const { ELECTRON_RUN_AS_NODE: _asNode, ...env } = process.env
    const child = spawn(program, args(profile), {
      stdio: ['ignore', 'ignore', 'pipe'],
      windowsHide: true,
      detached: process.platform !== 'win32',
      env,
    })
    let log = ''
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      log = (log + text).slice(-4000)
    })
    const stop = () => {
      try {
        // Its own group: the engine's helpers end with it.
        if (process.platform === 'win32') child.kill('SIGKILL')
        else process.kill(-child.pid!, 'SIGKILL')
      } catch {
        // It has ended already.
      }
    }
    const timer = setTimeout(stop, longestSeconds * 1000)
    signal?.addEventListener('abort', stop, { once: true })
    const ended = (code: number | null, error?: Error) => {
      clearTimeout(timer)
      signal?.removeEventListener('abort', stop)
      fs.rmSync(profile, { recursive: true, force: true, maxRetries: 5 })
      if (code === 0 && fs.existsSync(outFile)) resolve()
      else {
        reject(
          new Problem('no-pdf', {
            reason: error?.message || log.trim().split('\n').at(-1) || `exit ${code}`,
          }),
        )
      }
    }
    child.once('error', (error) => ended(null, error))
    child.once('close', (code) => ended(code))
    if (signal?.aborted) stop()
  })
