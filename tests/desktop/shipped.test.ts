import { execFile, execFileSync, spawn, type ChildProcess } from 'node:child_process'
import fs from 'node:fs'
import http from 'node:http'
import net, { type AddressInfo } from 'node:net'
import path from 'node:path'
import { createPackage, extractAll, listPackage } from '@electron/asar'
import { chromium, type Browser, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import { tally } from '../../scripts/tally.mjs'
import { addressesIn } from './net-log.ts'
import { readFuses, wantedFuses } from '../../scripts/dist/fuses.mjs'
import { filesBelow, temporaryFolder } from '../library/support/temporary-library.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** The program as it would be shipped, made from this tree, started and taken through the demo lesson. */
const root = path.resolve(import.meta.dirname, '../..')
const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : []
/** In the tests as long as it takes; `npm run faults` makes it ten minutes. */
const sessionMinutes = Number(process.env.LEADSIDE_SESSION_MINUTES ?? 0)
let unpacked: string
let program: string
let folder: string

beforeAll(() => {
  const printed = execFileSync(
    process.execPath,
    [path.join(root, 'scripts/dist/make.mjs'), '--test-build', '--unpacked-only'],
    { cwd: root, encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] },
  )
  unpacked = path.join(root, printed.trim().split('\n').at(-1)!)
  program = path.join(unpacked, 'leadside-test-build')
  folder = temporaryFolder()
})
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }))

interface Started {
  child: ChildProcess
  /** What it printed so far. */
  printed: () => string
  browser: Browser
  page: Page
  close: () => Promise<void>
}

const environment = (name: string, more: Record<string, string> = {}): Record<string, string> => ({
  ...(Object.fromEntries(
    Object.entries(process.env).filter(([key]) => !/^(VITEST|NODE_ENV$|ELECTRON_|LEADSIDE_)/.test(key)),
  ) as Record<string, string>),
  LEADSIDE_LIBRARY: path.join(folder, name),
  LEADSIDE_USER_DATA: path.join(folder, `${name}-profile`),
  ...more,
})

/** Until a line comes that matches; its first group. */
const lineOf = (child: ChildProcess, printed: () => string, pattern: RegExp): Promise<string> =>
  new Promise((resolve, reject) => {
    const look = () => {
      const found = pattern.exec(printed())?.[1]
      if (found) resolve(found)
    }
    child.stderr!.on('data', look)
    child.once('exit', (code) => reject(new Error(`it ended with ${code}:\n${printed()}`)))
    look()
  })

/** Why no program can be run without a network here; null if it can. */
const noNamespace = ((): string | null => {
  try {
    execFileSync('unshare', ['-n', 'ip', 'link', 'set', 'lo', 'up'], { stdio: 'pipe' })
    return null
  } catch (error) {
    return String((error as { stderr?: unknown }).stderr ?? error).trim() || (error as Error).message
  }
})()
if (noNamespace !== null) console.log(`skipped "without a way out": no name space here (${noNamespace})`)

/** An address outside that leads to a program's port in its own network. */
const leadTo = async (socket: string): Promise<{ port: number; close: () => void }> => {
  const server = net.createServer((outer) => {
    const inner = net.connect(socket)
    outer.pipe(inner).pipe(outer)
    for (const end of [outer, inner]) end.on('error', () => end.destroy())
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return { port: (server.address() as AddressInfo).port, close: () => server.close() }
}

const start = async (
  name: string,
  args: string[] = [],
  { NODE_OPTIONS, ...more }: Record<string, string> = {},
): Promise<Started> => {
  const socket = path.join(folder, `${name}-port`)
  const isCutOff = noNamespace === null
  const command = [
    ...(isCutOff
      ? ['unshare', '-n', process.execPath, path.join(import.meta.dirname, 'in-no-network.mjs'), socket]
      : []),
    // Only the program is to be steered by it, not the Node that cuts it off.
    ...(NODE_OPTIONS === undefined ? [] : ['env', `NODE_OPTIONS=${NODE_OPTIONS}`]),
    program,
    ...asRoot,
    '--disable-gpu',
    `--user-data-dir=${path.join(folder, `${name}-profile`)}`,
    '--remote-debugging-port=0',
    ...args,
  ]
  const child = spawn(command[0]!, command.slice(1), {
    env: environment(name, more),
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let text = ''
  for (const stream of [child.stdout, child.stderr]) stream!.on('data', (chunk) => (text += String(chunk)))
  const printed = () => text
  const inside = await lineOf(child, printed, /DevTools listening on (ws:\S+)/)
  const way = isCutOff ? await leadTo(socket) : null
  const browser = await chromium.connectOverCDP(way ? inside.replace(/:\d+\//, `:${way.port}/`) : inside)
  const [context] = browser.contexts()
  const page = context!.pages()[0] ?? (await context!.waitForEvent('page'))
  const ended = new Promise((resolve) => child.once('exit', resolve))
  const close = async () => {
    await page.close().catch(() => {})
    const force = setTimeout(() => child.kill('SIGKILL'), 15_000)
    await ended
    clearTimeout(force)
    way?.close()
    await browser.close().catch(() => {})
  }
  return { child, printed, browser, page, close }
}

const ask = async <N extends CallName>(page: Page, name: N, input: CallInput<N>): Promise<CallOutput<N>> => {
  const answer = await page.evaluate(
    ([call, body]) => window.leadside.ask(call as 'roster.list', body as never),
    [name, input] as const,
  )
  if (!answer.ok) throw new Error(answer.problem.what)
  return answer.output as CallOutput<N>
}

describe('the shipped program', () => {
  test('has its fuses set, in the file itself', async () => {
    expect(await readFuses(program)).toEqual(wantedFuses('linux'))
  })

  test(
    'takes the demo lesson from the Roster to a hand-over, and asks nobody',
    async () => {
      const asked: string[] = []
      const server = http.createServer((request, response) => {
        asked.push(request.url ?? '')
        response.end('<h1>not ours</h1>')
      })
      await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
      const elsewhere = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`
      const loaded = path.join(folder, 'was-loaded')
      const other = path.join(folder, 'other.cjs')
      fs.writeFileSync(other, `require('node:fs').writeFileSync(${JSON.stringify(loaded)}, '')`)
      const netLog = path.join(folder, 'net-log.json')
      const started = await start('demo', ['--inspect=0', `--log-net-log=${netLog}`], {
        ELECTRON_RENDERER_URL: elsewhere,
        NODE_OPTIONS: `--require=${other}`,
        LEADSIDE_NODE: '/bin/false',
      })
      const { page, browser } = started
      const until = Date.now() + sessionMinutes * 60_000
      try {
        await page.getByRole('button', { name: 'Open the demo lesson' }).click({ timeout: 60_000 })
        expect(page.url()).toMatch(/^app:\/\/leadside\//)
        // Opened: the clips taken in, the shots paired, the cues and drawings placed.
        await page.getByRole('grid', { name: 'Swings' }).waitFor({ timeout: 180_000 })
        const lesson = await untilLesson(
          page,
          'the demo lesson',
          (l) => l.swings.some((s) => s.views.some((v) => v.cues.length > 0)),
          120,
        )
        expect(lesson.clips.length).toBeGreaterThan(10)
        // Marked: a key puts a moment at the playhead.
        await page.getByRole('row', { name: /^Swing 1\b/ }).click()
        await page.waitForSelector('canvas[data-frame]')
        await page.keyboard.press('Home')
        await page.waitForSelector('canvas[data-frame="0"]')
        await page.keyboard.press('Shift+ArrowRight')
        await page.waitForSelector('canvas[data-frame="10"]')
        await page.keyboard.press('1')
        await untilLesson(page, 'setup at 10', (l) =>
          l.swings.some((s) =>
            s.views.some((v) => v.moments.some((m) => m.name === 'setup' && m.frame === 10)),
          ),
        )
        const { lesson: about } = await lessonOf(page)
        // Reported: sentences out of the numbers, computed in the library's thread.
        const report = await ask(page, 'lesson.report', { lessonId: about.id })
        expect(JSON.stringify(report).length).toBeGreaterThan(1000)
        // Handed over: clips, stills and a printed page. The folder comes from the system's own dialog, which nobody can press here.
        const out = path.join(folder, 'handed-over')
        const draft = await ask(page, 'handOver.draft', { lessonId: about.id })
        // One clip is enough to see that clips are written.
        await ask(page, 'handOver.saveDraft', {
          ...draft,
          swings: draft.swings.slice(0, 1),
          comparisonIds: [],
          maxHeight: 720,
        })
        const { jobId } = await ask(page, 'handOver.write', {
          lessonId: about.id,
          folder: out,
          consentSaidBy: 'the test',
        })
        await expect
          .poll(async () => (await ask(page, 'jobs.list', {})).find((j) => j.id === jobId)?.state, {
            timeout: 180_000,
          })
          .toBe('done')
        const written = filesBelow(out)
        for (const name of ['index.html', 'lesson.pdf', 'shots.csv', 'lesson.json']) {
          expect(written.some((file) => file.endsWith(`/${name}`))).toBe(true)
        }
        expect(written.filter((file) => file.endsWith('.mp4')).length).toBeGreaterThan(0)
        // A longer session does something every minute: goes round the screens, types words that a spell checker would look up,
        // and one after the other backs up, hands over, makes and deletes a student, computes, checks.
        const jobDone = async (id: string) => {
          await expect
            .poll(async () => (await ask(page, 'jobs.list', {})).find((j) => j.id === id)?.state, {
              timeout: 180_000,
            })
            .toBe('done')
        }
        const works: (() => Promise<unknown>)[] = [
          async () => {
            const { jobId: id } = await ask(page, 'backup.make', { folder: path.join(folder, 'backups') })
            await jobDone(id)
          },
          async () => {
            const { jobId: again } = await ask(page, 'handOver.write', {
              lessonId: about.id,
              folder: out,
              consentSaidBy: 'the test',
            })
            await jobDone(again)
          },
          async () => {
            const { id } = await ask(page, 'student.create', { name: 'Sam Passing', side: 'left' })
            await ask(page, 'student.deleteForGood', { id, typedName: 'Sam Passing' })
          },
          async () => {
            await ask(page, 'season.report', { studentId: about.studentId })
            await ask(page, 'lesson.report', { lessonId: about.id })
          },
          () => ask(page, 'library.check', {}),
        ]
        let rounds = 0
        for (; Date.now() < until; rounds += 1) {
          const began = Date.now()
          for (const hash of [
            '#/',
            '#/works',
            `#/season/${about.studentId}`,
            `#/hand-over/${about.id}`,
            `#/lesson/${about.id}`,
          ]) {
            await page.evaluate((to) => void (location.hash = to), hash)
            await page.waitForTimeout(500)
          }
          await page.getByRole('row', { name: /^Swing 1\b/ }).click()
          await page
            .getByRole('textbox', { name: 'Notes on this swing' })
            .fill(`teh quik brwon fox ${rounds}`)
          await works[rounds % works.length]!()
          await page.waitForTimeout(Math.max(0, Math.min(began + 60_000, until) - Date.now()))
        }
        if (rounds > 0) console.log(`a session of ${sessionMinutes} minutes, ${rounds} rounds of work`)
        // A live lesson takes in what arrives.
        const arriving = path.join(folder, 'arriving')
        fs.mkdirSync(arriving)
        const { id: liveId } = await ask(page, 'lesson.create', {
          studentId: about.studentId,
          date: '2026-08-01',
        })
        await ask(page, 'live.start', { lessonId: liveId, clipsFolder: arriving, shotsPath: null })
        fs.copyFileSync(path.join(root, 'demo-media', 'swing-01.mp4'), path.join(arriving, 'new.mp4'))
        await expect
          .poll(async () => (await ask(page, 'lesson.open', { lessonId: liveId })).clips.length, {
            timeout: 60_000,
          })
          .toBe(1)
        await ask(page, 'live.stop', { lessonId: liveId })
        // Which programs are in use, and every file by its hash.
        const { lines } = await ask(page, 'library.check', {})
        expect(lines.filter((l) => !l.ok)).toEqual([])
        // No developer tools, by no key.
        for (const keys of ['F12', 'Control+Shift+I', 'Control+Shift+J', 'Control+R']) {
          await page.keyboard.press(keys)
        }
        expect(browser.contexts().flatMap((c) => c.pages()).length).toBe(1)
      } finally {
        await started.close()
        server.close()
      }
      expect(started.printed()).not.toMatch(/Debugger listening/)
      // Taking in, the report, the hand-over with its print, a live lesson: nothing of it was to go anywhere.
      const others = addressesIn(fs.readFileSync(netLog, 'utf8'))
      expect(others).toEqual([])
      tally('connections seen', others.length + asked.length)
      if (noNamespace === null) {
        const [, without] = /no way out for: (\d+)/.exec(started.printed())!
        expect(Number(without)).toBe(0)
        tally('connections seen', Number(without))
      }
      expect(fs.existsSync(loaded)).toBe(false)
      expect(asked).toEqual([])
    },
    400_000 + 120_000 * sessionMinutes,
  )

  test('is no Node, and is steered by nobody once it is no test build', async () => {
    const asNode = await new Promise<string>((resolve) => {
      execFile(
        program,
        [...asRoot, '-e', 'console.log("it is " + "Node")'],
        { env: environment('as-node', { ELECTRON_RUN_AS_NODE: '1' }), timeout: 6000, killSignal: 'SIGKILL' },
        (_error, stdout, stderr) => resolve(stdout + stderr),
      )
    })
    expect(asNode).not.toContain('it is Node')
    // The same program without the mark.
    const copy = path.join(folder, 'unmarked')
    fs.cpSync(unpacked, copy, { recursive: true, mode: fs.constants.COPYFILE_FICLONE })
    const archive = path.join(copy, 'resources', 'app.asar')
    const inside = path.join(folder, 'inside')
    extractAll(archive, inside)
    fs.rmSync(path.join(inside, 'library'), { recursive: true })
    const about = path.join(inside, 'package.json')
    fs.writeFileSync(
      about,
      fs.readFileSync(about, 'utf8').replace('"isTestBuild": true', '"isTestBuild": false'),
    )
    await createPackage(inside, archive)
    const refused = await new Promise<string>((resolve) => {
      execFile(
        path.join(copy, 'leadside-test-build'),
        [...asRoot, '--disable-gpu', '--remote-debugging-port=0'],
        { env: environment('refused'), timeout: 30_000, killSignal: 'SIGKILL' },
        (error, _stdout, stderr) => resolve(`${error?.code} ${stderr}`),
      )
    })
    expect(refused).toMatch(/^1 [\s\S]*not started with a remote debugging switch/)
  })

  test('holds no program under the GPL, nothing of the tools that made it, and every licence', () => {
    const files = filesBelow(unpacked)
    const archived = listPackage(path.join(unpacked, 'resources', 'app.asar'), { isPack: false })
    const names = [...files, ...archived].map((name) => name.replaceAll('\\', '/'))
    expect(
      names.filter((name) =>
        /(^|\/)(ffmpeg|ffprobe)(\.exe)?$|ffmpeg-static|ff(mpeg|probe)-installer/.test(name),
      ),
    ).toEqual([])
    expect(
      names.filter((name) =>
        /node_modules\/(vite|vitest|typescript|electron|playwright-core|eslint)\//.test(name),
      ),
    ).toEqual([])
    // A build of ffmpeg says how it was configured; GPL parts would be named there. Chromium's page of licences is only text.
    const withGpl = files.filter((name) => {
      const file = path.join(unpacked, name)
      return (
        name !== 'LICENSES.chromium.html' &&
        fs.statSync(file).isFile() &&
        fs.readFileSync(file).includes('--enable-gpl')
      )
    })
    expect(withGpl).toEqual([])
    // Each package inside names a licence that fits.
    const packages = files.filter((name) => /node_modules\/(@[^/]+\/)?[^/]+\/package\.json$/.test(name))
    expect(packages.length).toBeGreaterThan(5)
    const licences = fs.readFileSync(path.join(unpacked, 'resources', 'LICENCES.txt'), 'utf8')
    for (const file of packages) {
      const { name, version } = JSON.parse(fs.readFileSync(path.join(unpacked, file), 'utf8')) as Record<
        string,
        string
      >
      expect(licences).toContain(`${name} ${version} (`)
    }
    for (const part of ['MoveNet', 'SIL OPEN FONT LICENSE', 'libffmpeg', 'Electron']) {
      expect(licences).toContain(part)
    }
    expect(names).toEqual(expect.arrayContaining(['LICENSES.chromium.html', 'resources/LICENCES.txt']))
  })
})
