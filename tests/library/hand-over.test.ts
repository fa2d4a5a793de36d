import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { describe, expect, it } from 'vitest'
import { browserPrinter, findBrowser } from '../../electron/library/hand-over/print-pdf.ts'
import { missingConsent } from '../../shared-core/model/consent.ts'
import { readPicture } from '../../electron/library/hand-over/talk-pictures.ts'
import { handOverPlan } from '../../electron/library/hand-over/plan.ts'
import { draftOf } from '../../electron/library/hand-over/draft.ts'
import { reportOfLesson } from '../../electron/library/queries/report-lesson.ts'
import { openLesson } from '../../electron/library/queries/open-lesson.ts'
import { Library } from '../../electron/library/library.ts'
import { noConsent, type Student } from '../../shared-core/model/entities.ts'
import { hasPoppler } from './support/has-poppler.ts'
import { ffmpegFile } from './support/make-clip.ts'
import { lessonWithDrawing, writePackage, type LessonWithDrawing } from './support/lesson-with-drawing.ts'
import { filesBelow } from './support/temporary-library.ts'
import { sourceFrameOn } from '../../shared-core/hand-over/slow-clip-plan.ts'
import { sayOrNull } from '../../shared-core/wording/phrase.ts'

const withLesson = async (
  work: (opened: LessonWithDrawing) => Promise<void>,
  options: Parameters<typeof lessonWithDrawing>[0] = {},
) => {
  const opened = await lessonWithDrawing(options)
  try {
    await work(opened)
  } finally {
    await opened.library.close()
    fs.rmSync(opened.folder, { recursive: true, force: true })
  }
}

describe('the package', () => {
  it('is a folder and a zip, about as large as said before; a later version leaves the earlier as sent', () =>
    withLesson(async (opened) => {
      const { library, lessonId, folder } = opened
      const quick = await library.ask('handOver.preview', { lessonId, isQuick: true })
      const preview = await library.ask('handOver.preview', { lessonId })
      // At once it is the same page with stand-ins; once the pictures are made, with those.
      expect(quick.estimatedBytes).toBeNull()
      const words = (html: string) =>
        html.replace(/base64,[A-Za-z0-9+/=]+/g, '').replace(/(width|height)="\d+"/g, '')
      expect(words(quick.html)).toBe(words(preview.html))
      expect(quick.html).not.toBe(preview.html)
      const again = await library.ask('handOver.preview', { lessonId, isQuick: true })
      expect(again.html).toBe(preview.html)
      expect(preview.needsConsent).toBeNull()
      expect(preview.html).toContain('Well struck, &lt;Robin&gt; &amp; co.')
      expect(preview.html).not.toContain('<video')
      expect(preview.html.match(/<img/g)!.length).toBeGreaterThanOrEqual(3)
      const out = path.join(folder, 'out')
      expect(await writePackage(opened, out)).toMatchObject({ state: 'done', problem: null })
      const [first] = await library.ask('handOver.list', { lessonId })
      expect(path.basename(first!.folder)).toBe('2026-05-01-Robin-Testing')
      expect(filesBelow(first!.folder)).toEqual(
        [
          'clips',
          'clips/swing-1-not-said-baseline.mp4',
          'clips/swing-2-not-said-baseline.mp4',
          'clips/then-and-now-1.mp4',
          'index.html',
          'lesson.json',
          'shots.csv',
        ].map((name) =>
          expect.stringMatching(name.startsWith('clips/swing') ? /^clips\/swing-\d.*\.mp4$/ : name),
        ),
      )
      expect(first!.byteLength).toBe(fs.statSync(first!.zip).size)
      expect(Math.abs(preview.estimatedBytes! / first!.byteLength - 1)).toBeLessThan(0.3)
      const { swings, comparisonIds } = await library.ask('handOver.draft', { lessonId })
      expect(preview.clips.map((c) => c.id)).toEqual([...swings.map((s) => s.viewId), ...comparisonIds])
      for (const { bytes } of preview.clips) expect(bytes).toBeGreaterThan(1000)
      const asSent = fs.readFileSync(path.join(first!.folder, 'index.html'), 'utf8')
      const draft = await library.ask('handOver.draft', { lessonId })
      await library.ask('handOver.saveDraft', { ...draft, message: 'Another message', slowBy: 2 })
      await writePackage(opened, out)
      const list = await library.ask('handOver.list', { lessonId })
      expect(new Set(list.map((r) => r.folder)).size).toBe(2)
      expect(fs.readFileSync(path.join(first!.folder, 'index.html'), 'utf8')).toBe(asSent)
      const second = list.find((r) => r.id !== first!.id)!
      const page = fs.readFileSync(path.join(second.folder, 'index.html'), 'utf8')
      expect(page).toContain('Another message')
      expect(page).toContain('1/2 of real speed')
      expect(list.find((r) => r.id === first!.id)!.draft.message).toBe('Well struck, <Robin> & co.')
      expect(fs.readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([])
    }))

  it('names nothing outside itself', () =>
    withLesson(async (opened) => {
      const job = await writePackage(opened, path.join(opened.folder, 'out'))
      const page = fs.readFileSync(path.join(job.result!, 'index.html'), 'utf8')
      const named = [...page.matchAll(/(?:src|href|poster|data|action)="([^"]*)"/g)].map((m) => m[1]!)
      expect(named.length).toBeGreaterThan(5)
      for (const name of named) expect(name).toMatch(/^(data:|#[a-z]+$|clips\/[a-z0-9-]+\.mp4$)/)
      expect(page.replaceAll('http://www.w3.org/', '')).not.toMatch(/https?:\/\/|url\(|@import/)
    }))

  it('lays a comparison over, mirrored and stretched where it is kept so, and says which speed is true', () =>
    withLesson(async ({ library, lessonId, views, folder }) => {
      for (const [i, viewId] of views.entries()) {
        await library.ask('moment.place', { viewId, name: 'top', frame: i ? 5 : 15 })
      }
      const [kept] = (await library.ask('lesson.open', { lessonId })).comparisons
      const figure = async (patch: Partial<NonNullable<typeof kept>>) => {
        await library.ask('comparison.save', { ...kept!, ...patch })
        const { html } = await library.ask('handOver.preview', { lessonId })
        const found = /<h3>Then and now<[^]*?<\/figure>/.exec(html)
        const file = path.join(folder, 'pair.jpg')
        fs.writeFileSync(file, Buffer.from(/base64,([^"]+)"/.exec(found![0])![1]!, 'base64'))
        const { width, height } = await readPicture(file)
        const words = /<figcaption>([^]*?)<\/figcaption>/.exec(found![0])![1]!.replace(/<[^>]+>/g, ' ')
        return { shape: width / height, words }
      }
      const beside = await figure({})
      expect(beside.shape).toBeCloseTo((2 * 16) / 9, 1)
      expect(beside.words).toMatch(/1\/6 of real speed +left .*, right .* \(mirrored\); together at impact/)
      expect(beside.words).not.toContain('stretched')
      const stretched = await figure({ isStretched: true })
      expect(stretched.words).toMatch(
        /1\/6 of real speed \(left swing\) +left .*; together at top, impact; right swing stretched to match/,
      )
      const over = await figure({ isStretched: true, arrangement: 'over', mirrorSecond: false })
      expect(over.shape).toBeCloseTo(16 / 9, 1)
      expect(over.words).toMatch(
        /1\/6 of real speed \(lower swing\) +.* laid over .*; together at top, impact; upper swing stretched to match/,
      )
      expect(over.words).not.toContain('mirrored')
    }))

  it('makes a comparison’s clip with what is kept: its opacity, and each side’s frames by the shared moments', () =>
    withLesson(async ({ library, lessonId, views }) => {
      // In first and second: top and finish lie apart, impact does not.
      for (const [name, frames] of [
        ['top', [15, 5]],
        ['finish', [40, 50]],
      ] as const) {
        for (const [i, viewId] of views.entries()) {
          await library.ask('moment.place', { viewId, name, frame: frames[i]! })
        }
      }
      const [kept] = (await library.ask('lesson.open', { lessonId })).comparisons
      const chosen = async (patch: Partial<NonNullable<typeof kept>>) => {
        await library.ask('comparison.save', { ...kept!, ...patch })
        const { context } = library
        const [lesson, draft] = [openLesson(context, lessonId), draftOf(context, lessonId)]
        const report = reportOfLesson(context, lessonId)
        const [planned] = handOverPlan(context, { lesson, draft, report }).comparisons
        const { timeLines, ...made } = planned!.made
        /** The second's frame that is seen while the first's begins. */
        const follow = (frame: number) =>
          sourceFrameOn(timeLines[1], timeLines[0].begins[frame - timeLines[0].fromFrame]!)
        return { ...made, follow }
      }
      const plain = await chosen({})
      expect(plain.arrangement).toBe('beside')
      expect([15, 30, 40].map(plain.follow), 'at real speed from impact').toEqual([15, 30, 40])
      const { arrangement, opacity, follow } = await chosen({
        isStretched: true,
        arrangement: 'over',
        opacity: 0.3,
      })
      expect([arrangement, opacity]).toEqual(['over', 0.3])
      expect([15, 30, 40].map(follow), 'shared moments').toEqual([5, 30, 50])
      // Half way between moments, and at real speed beyond them.
      expect([35, 14].map(follow)).toEqual([40, 4])
      expect([0, 59].map(follow), 'never beyond the clip').toEqual([0, 59])
    }))

  it('is printed by the engine that is handed in, else goes without lesson.pdf', () =>
    withLesson(
      async (opened) => {
        const job = await writePackage(opened, path.join(opened.folder, 'out'))
        expect(job.state).toBe('done')
        expect(fs.readFileSync(path.join(job.result!, 'lesson.pdf'), 'utf8')).toBe('printed true')
      },
      {
        printPdf: (html, pdf) => {
          fs.writeFileSync(pdf, `printed ${fs.readFileSync(html, 'utf8').includes('size:A4')}`)
          return Promise.resolve()
        },
      },
    ))

  it('goes without lesson.pdf when printing fails; that stays said with it', () =>
    withLesson(
      async (opened) => {
        const job = await writePackage(opened, path.join(opened.folder, 'out'))
        expect(job.state).toBe('done')
        expect(fs.existsSync(path.join(job.result!, 'lesson.pdf'))).toBe(false)
        const [record] = await opened.library.ask('handOver.list', { lessonId: opened.lessonId })
        expect(record!.remarks).toEqual(['Without lesson.pdf: it could not be printed (out of paper)'])
      },
      { printPdf: () => Promise.reject(new Error('out of paper')) },
    ))

  const browser = findBrowser()
  const canPrint = browser !== null && hasPoppler()
  if (!canPrint) console.warn('skipped: lesson.pdf by a real engine: needs chromium and poppler-utils')
  it.skipIf(!canPrint && !process.env.CI)('has a lesson.pdf with pages of A4 and fonts inside', () =>
    withLesson(
      async (opened) => {
        const job = await writePackage(opened, path.join(opened.folder, 'out'))
        const pdf = path.join(job.result!, 'lesson.pdf')
        const info = execFileSync('pdfinfo', [pdf]).toString()
        expect(Number(/Pages:\s+(\d+)/.exec(info)![1])).toBeGreaterThanOrEqual(1)
        expect(info).toMatch(/Page size:\s+59[45]\S* x 84[12]\S* pts \(A4\)/)
        const fonts = execFileSync('pdffonts', [pdf]).toString().split('\n').slice(2).filter(Boolean)
        expect(fonts.length).toBeGreaterThan(0)
        for (const row of fonts) expect(row).toMatch(/\s(yes)\s+(yes|no)\s+(yes|no)\s+\d+\s+\d+\s*$/)
        expect(execFileSync('pdftotext', [pdf, '-']).toString()).toContain('Well struck, <Robin> & co.')
        expect(filesBelow(job.result!).filter((name) => name.includes('print'))).toEqual([])
      },
      { printPdf: browserPrinter(browser) },
    ),
  )
})

describe('when the package can’t be written', () => {
  /** Runs the job, expects it to fail, and that nothing was left behind or changed. */
  const failsCleanly = async (opened: LessonWithDrawing, folder: string, seen = folder) => {
    const { library, lessonId } = opened
    const before = JSON.stringify(await library.ask('lesson.open', { lessonId }))
    const there = filesBelow(seen)
    const job = await writePackage(opened, folder)
    expect(job.state).toBe('failed')
    expect(job.problem!.toDo).toBeTruthy()
    expect(filesBelow(seen)).toEqual(there)
    expect(JSON.stringify(await library.ask('lesson.open', { lessonId }))).toBe(before)
    expect(await library.ask('handOver.list', { lessonId })).toEqual([])
    return job.problem!
  }

  it('because the folder is not writable, it says so', () =>
    withLesson(async (opened) => {
      // A file stands where the folder should be: nobody can write into it, not even root.
      const file = path.join(opened.folder, 'taken')
      fs.writeFileSync(file, 'a file')
      const problem = await failsCleanly(opened, path.join(file, 'inside'), opened.folder)
      expect(problem.what).toBe('this folder can’t be written to')
      expect((await failsCleanly(opened, file, opened.folder)).what).toBe('this folder can’t be written to')
      expect(fs.readFileSync(file, 'utf8')).toBe('a file')
    }))

  /** A disk of its own, for those who may mount one; false, with the reason said, for the others. */
  const mounted = (folder: string, options: string): boolean => {
    fs.mkdirSync(folder)
    try {
      execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', folder], { stdio: 'ignore' })
      return true
    } catch {
      console.warn(`skipped: a disk with ${options}: this user may not mount one`)
      return false
    }
  }

  it('because the disk is full, it says so', (test) =>
    withLesson(async (opened) => {
      const small = path.join(opened.folder, 'small')
      if (!mounted(small, 'size=48k')) test.skip()
      try {
        const problem = await failsCleanly(opened, small)
        expect(problem.what).toBe('there is no room on the disk for the package')
      } finally {
        execFileSync('umount', [small])
      }
    }))

  it('because only the zip no longer finds room, it says so, and the folder goes, too', (test) =>
    withLesson(async (opened) => {
      const { library, lessonId } = opened
      // How large it is: written once where there is room, then forgotten, for `failsCleanly` expects none.
      const job = await writePackage(opened, path.join(opened.folder, 'out'))
      const bytes = filesBelow(job.result!).reduce((sum, name) => {
        const stat = fs.statSync(path.join(job.result!, name))
        return sum + (stat.isFile() ? Math.ceil(stat.size / 4096) * 4096 : 4096)
      }, 0)
      const [record] = await library.ask('handOver.list', { lessonId })
      expect(record!.byteLength).toBeGreaterThan(bytes / 2)
      library.context.sqlite.prepare('delete from hand_over').run()
      const small = path.join(opened.folder, 'small')
      // The overlays of the clips lie there while it is made, a few pages.
      if (!mounted(small, `size=${Math.round((bytes * 1.4) / 1024)}k`)) test.skip()
      const steps: string[] = []
      const { jobs } = library.context
      const watch = setInterval(() => steps.push(...jobs.list().map((one) => one.step)), 5)
      try {
        const problem = await failsCleanly(opened, small)
        expect(problem.what).toBe('there is no room on the disk for the package')
        expect(steps.some((step) => step.startsWith('zipping'))).toBe(true)
      } finally {
        clearInterval(watch)
        execFileSync('umount', [small])
      }
    }))

  it('because the disk can only be read, it says so', (test) =>
    withLesson(async (opened) => {
      const readOnly = path.join(opened.folder, 'read-only')
      if (!mounted(readOnly, 'ro')) test.skip()
      try {
        expect((await failsCleanly(opened, readOnly)).what).toBe('this folder can’t be written to')
        const deeper = path.join(readOnly, 'Robin', 'May')
        expect((await failsCleanly(opened, deeper)).what).toBe('this folder can’t be written to')
      } finally {
        execFileSync('umount', [readOnly])
      }
    }))

  it.each([
    ['a clip', '*overlay*', /^writing the clip failed/, ['first.mp4', 'second.mp4'], 1],
    ['a comparison', '*under*', /^writing the comparison failed/, ['first.mp4', 'second.mp4'], 2],
  ] as const)(
    'because ffmpeg is killed half way through %s, it says which',
    (_what, pattern, what, files, named) =>
      withLesson(async (opened) => {
        const wrapper = path.join(opened.folder, 'ffmpeg')
        fs.writeFileSync(
          wrapper,
          `#!/bin/sh
case "$*" in
  ${pattern}) "${ffmpegFile}" "$@" & child=$!; sleep 0.05; kill -9 $child; kill -9 $$;;
  *) exec "${ffmpegFile}" "$@";;
esac
`,
          { mode: 0o755 },
        )
        await opened.library.ask('settings.set', { ffmpegPath: wrapper })
        await opened.library.close()
        const library = new Library({ folder: path.join(opened.folder, 'library'), printPdf: null })
        opened.library = library
        const problem = await failsCleanly(opened, path.join(opened.folder, 'out'), opened.folder)
        expect(problem.what).toMatch(what)
        // Which of the two was taken in first is left to the jobs.
        const where = problem.where!.split(' and ')
        expect(where).toHaveLength(named)
        expect(where.filter((file) => !(files as readonly string[]).includes(file))).toEqual([])
      }),
  )

  it('because a clip’s file is missing, it names the clip', () =>
    withLesson(async (opened) => {
      const { library, lessonId } = opened
      const clip = (await library.ask('lesson.open', { lessonId })).clips.find(
        (c) => c.fileName === 'second.mp4',
      )!
      fs.rmSync((await library.ask('media.resolve', { clipId: clip.id, kind: 'original' })).file)
      const problem = await failsCleanly(opened, path.join(opened.folder, 'out'))
      expect(problem).toMatchObject({
        where: 'second.mp4',
        what: 'the file of this clip is missing in the library',
      })
    }))

  it('because it is cancelled, it stops at once', () =>
    withLesson(
      async (opened) => {
        const { library, lessonId, folder } = opened
        const out = path.join(folder, 'out')
        const { jobId } = await library.ask('handOver.write', { lessonId, folder: out, consentSaidBy: null })
        // Half way: something has been written already.
        for (let i = 0; i < 600 && !filesBelow(out).some((name) => name.endsWith('.mp4')); i++) await wait(20)
        expect(filesBelow(out).some((name) => name.endsWith('.mp4'))).toBe(true)
        const before = performance.now()
        await library.ask('job.cancel', { id: jobId })
        expect((await library.context.jobs.ended(jobId)).state).toBe('cancelled')
        expect(performance.now() - before).toBeLessThan(2000)
        expect(filesBelow(out)).toEqual([])
        expect(await library.ask('handOver.list', { lessonId })).toEqual([])
      },
      { seconds: 6 },
    ))
})

describe('consent', () => {
  const student: Student = {
    id: 's',
    name: 'Robin Testing',
    side: 'right',
    isMinor: false,
    limits: '',
    note: '',
    units: 'mph-yd',
    language: 'en',
    consent: { ...noConsent, filming: true, storing: true, sharing: true, givenBy: 'Robin Testing' },
  }
  const today = '2026-05-01'
  it.each([
    ['all there', student, null],
    [
      'no sharing',
      { ...student, consent: { ...student.consent, sharing: false } },
      /no recorded consent to sharing/,
    ],
    ['no filming', { ...student, consent: { ...student.consent, filming: false } }, /consent to filming/],
    ['ends today', { ...student, consent: { ...student.consent, until: today } }, null],
    [
      'ended yesterday',
      { ...student, consent: { ...student.consent, until: '2026-04-30' } },
      /ran out on 2026-04-30/,
    ],
    ['a minor’s own', { ...student, isMinor: true }, /not a guardian’s/],
    ['a guardian’s', { ...student, isMinor: true, consent: { ...student.consent, isGuardian: true } }, null],
  ] as [string, Student, RegExp | null][])('%s', (_name, who, expected) => {
    const found = sayOrNull(missingConsent(who, today))
    if (expected === null) expect(found).toBeNull()
    else expect(found).toMatch(expected)
  })

  it('missing: the package stops, is written after an explicit yes, and keeps who said it', () =>
    withLesson(
      async (opened) => {
        const { library, lessonId, folder } = opened
        expect((await library.ask('handOver.preview', { lessonId })).needsConsent).toMatch(
          /no recorded consent/,
        )
        const stopped = await writePackage(opened, path.join(folder, 'out'))
        expect(stopped.state).toBe('failed')
        expect(stopped.problem!.what).toMatch(/no recorded consent/)
        expect(fs.existsSync(path.join(folder, 'out'))).toBe(false)
        expect((await writePackage(opened, path.join(folder, 'out'), 'Robin Testing')).state).toBe('done')
        const [record] = await library.ask('handOver.list', { lessonId })
        expect(record!.consentSaidBy).toBe('Robin Testing')
      },
      { hasConsent: false },
    ))
})
