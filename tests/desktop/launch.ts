import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { _electron, type ElectronApplication, type Page } from 'playwright-core'

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..')

export interface LaunchOptions {
  /** The library's folder; made by the program if it is not there. */
  library: string
  /** More arguments for the program. */
  args?: string[]
  /** More variables for the program. */
  env?: Record<string, string>
  /** The program's own folder, kept afterwards; without it a fresh one that is removed at the end. */
  profile?: string
  /** How long the window may take to appear. */
  timeoutSeconds?: number
}

export interface LaunchedApp {
  app: ElectronApplication
  /** The first window. */
  page: Page
  /** What the window complained of so far: uncaught errors and console errors. */
  complaints: string[]
  /** What the program printed so far, for a failing test's message. */
  output(): string
  /** Ends the program, by force if it doesn't answer, and removes its profile. */
  close(): Promise<void>
}

/**
 * Opens the built program (out/main/index.js) on a library of its own, with a fresh profile, so that tests don't meet.
 * `npm test -- tests/desktop/…` prepares what it needs: the build, an Electron (LEADSIDE_ELECTRON) and a display.
 * The window is drawn in software, the same on every machine, as it is on one without a graphics card.
 */
export async function launchApp(options: LaunchOptions): Promise<LaunchedApp> {
  const executablePath = process.env.LEADSIDE_ELECTRON
  if (!executablePath) {
    throw new Error('LEADSIDE_ELECTRON is not set. Run these tests with: npm test -- tests/desktop')
  }
  if (!existsSync(path.join(root, 'out/main/index.js'))) {
    throw new Error('The window is not built. Run these tests with: npm test -- tests/desktop')
  }

  const profile = options.profile ?? mkdtempSync(path.join(os.tmpdir(), 'leadside-profile-'))
  const env: Record<string, string> = {}
  for (const [name, value] of Object.entries(process.env)) {
    // Vitest's own variables would make React and Vite in the program behave as under test.
    if (value !== undefined && !/^(VITEST|NODE_ENV$|ELECTRON_RUN_AS_NODE$)/.test(name)) env[name] = value
  }
  const timeout = (options.timeoutSeconds ?? 60) * 1000
  const removeProfile = () => {
    if (options.profile) return
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 })
  }

  let app: ElectronApplication
  try {
    app = await _electron.launch({
      executablePath,
      cwd: root,
      args: [
        ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
        '--disable-gpu',
        `--user-data-dir=${profile}`,
        root,
        ...(options.args ?? []),
      ],
      env: { ...env, LEADSIDE_LIBRARY: options.library, LEADSIDE_USER_DATA: profile, ...options.env },
      timeout,
    })
  } catch (error) {
    removeProfile()
    throw error
  }

  let printed = ''
  const keep = (chunk: Buffer) => {
    printed += chunk.toString()
  }
  const program = app.process()
  program.stdout?.on('data', keep)
  program.stderr?.on('data', keep)

  const close = async () => {
    const force = setTimeout(() => program.kill('SIGKILL'), 10_000)
    await app.close().catch(() => program.kill('SIGKILL'))
    clearTimeout(force)
    removeProfile()
  }

  const complaints: string[] = []
  try {
    const page = await app.firstWindow({ timeout })
    page.on('pageerror', (error) => complaints.push(String(error)))
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text())
    })
    return { app, page, complaints, output: () => printed, close }
  } catch (error) {
    await close()
    throw new Error(`The window did not open. The program printed:\n${printed}`, { cause: error })
  }
}

/** The same, and opens the newest lesson on the Roster; it is there once the swing of that number stands in its Tray. */
export async function launchAtLesson(library: string, swingNumber: number): Promise<LaunchedApp> {
  const launched = await launchApp({ library })
  const { page } = launched
  page.setDefaultTimeout(15_000)
  try {
    await page.getByRole('button', { name: /2026/ }).first().click()
    await page.getByRole('row', { name: new RegExp(`^Swing ${swingNumber}\\b`) }).waitFor()
  } catch (error) {
    await launched.close()
    throw error
  }
  return launched
}
