import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { LessonSync, type SyncedDesk } from '../../renderer/store/lesson-sync.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { Problem } from '../../shared-core/problem.ts'
import { phrase } from '../../shared-core/wording/phrase.ts'

/** A library that is nothing but a row of edits, and answers in whatever order the scheduler likes. */
class SmallLibrary {
  readonly edits: string[] = []
  shots: object[] = [{ id: 'shot' }]
  clips: object[] = []
  readonly undone: string[][] = []
  opened(): OpenLesson {
    return {
      revision: this.edits.length,
      undoLabel: this.edits.at(-1) ?? null,
      redoLabel: null,
      shots: this.shots,
      clips: this.clips,
      student: { units: 'mph-yd' },
    } as unknown as OpenLesson
  }
}

const deskOver = (
  library: SmallLibrary,
  late: <T>(name: string, answer: () => T) => Promise<T>,
  over: Partial<SyncedDesk> = {},
) => {
  const seen = {
    opened: null as OpenLesson | null,
    taken: [] as number[],
    report: undefined as unknown,
    news: [] as string[],
    problems: [] as unknown[],
    isGone: false,
  }
  let lessonId: string | null = 'lesson'
  const ask = (name: string, input: unknown) => {
    if (name === 'lesson.open') {
      // Read at once, told later: what comes back may be old.
      const opened = library.opened()
      return late('read', () => opened)
    }
    if (name === 'lesson.report') return late('report', () => ({ of: library.edits.length }))
    if (name.startsWith('edits.')) {
      library.undone.push([...library.edits])
      const label = library.edits.pop() ?? null
      return late('step', () => ({ label }))
    }
    library.edits.push((input as { label: string }).label)
    return late('edit', () => ({}))
  }
  const desk: SyncedDesk = {
    ask: ask as SyncedDesk['ask'],
    lessonId: () => lessonId,
    opened: () => seen.opened,
    hasPicture: () => true,
    takeView: (opened) => {
      seen.opened = opened
      seen.taken.push(opened.revision)
    },
    takeGone: () => void (seen.isGone = true),
    takeReport: (report) => void (seen.report = report),
    sayNews: (what) => void seen.news.push(what),
    sayProblem: (error) => void seen.problems.push(error),
    ...over,
  }
  return { desk, seen, leave: () => void (lessonId = null) }
}

const editNamed = (sync: LessonSync, label: string) =>
  sync.edit('lesson.update', { label } as unknown as { id: string; patch: object })

const never = () => new Promise<never>(() => undefined)

describe('the Desk and the library', () => {
  it('show the newest lesson once everything is answered, in whatever order the answers come', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.scheduler(),
        fc.array(fc.constantFrom('edit', 'elsewhere', 'reload'), { minLength: 1, maxLength: 8 }),
        async (s, steps) => {
          const library = new SmallLibrary()
          const { desk, seen } = deskOver(library, (name, answer) =>
            s.schedule(Promise.resolve(), name).then(answer),
          )
          const sync = new LessonSync(desk, never)
          const works = steps.map((step, i) => {
            if (step === 'edit') return editNamed(sync, `edit ${i}`)
            if (step === 'elsewhere') library.edits.push(`other ${i}`)
            return sync.reload()
          })
          await s.waitFor(Promise.all(works))
          expect(seen.taken.at(-1)).toBe(library.edits.length)
          expect(seen.problems).toEqual([])
        },
      ),
    )
  })

  it('never take an edit off the screen that is made and not yet answered', async () => {
    await fc.assert(
      fc.asyncProperty(fc.scheduler(), fc.integer({ min: 1, max: 3 }), async (s, count) => {
        const library = new SmallLibrary()
        const made: string[] = []
        const { desk, seen } = deskOver(library, (name, answer) =>
          s.schedule(Promise.resolve(), name).then(answer),
        )
        const wrongs: string[] = []
        const sync = new LessonSync(
          {
            ...desk,
            takeView: (opened) => {
              // The coach sees what was asked for at once; a lesson read before that would take it back.
              if (opened.revision < made.length) wrongs.push(`${opened.revision} of ${made.length}`)
              desk.takeView(opened)
            },
          },
          never,
        )
        const works: Promise<unknown>[] = [sync.reload()]
        for (let i = 0; i < count; i++) {
          made.push(`edit ${i}`)
          works.push(editNamed(sync, `edit ${i}`))
        }
        await s.waitFor(Promise.all(works))
        expect(wrongs).toEqual([])
        expect(seen.taken.at(-1)).toBe(count)
      }),
    )
  })

  it('take a step back only over edits that were answered, and in their order', async () => {
    await fc.assert(
      fc.asyncProperty(fc.scheduler(), fc.integer({ min: 1, max: 4 }), async (s, count) => {
        const library = new SmallLibrary()
        let open = 0
        const openAtStep: number[] = []
        const { desk, seen } = deskOver(library, (name, answer) =>
          s.schedule(Promise.resolve(), name).then(answer),
        )
        const sync = new LessonSync(
          {
            ...desk,
            ask: ((name: string, input: never) => {
              if (name === 'lesson.update') open += 1
              if (name === 'edits.undo') openAtStep.push(open)
              return desk.ask(name as 'lesson.update', input).finally(() => {
                if (name === 'lesson.update') open -= 1
              })
            }) as SyncedDesk['ask'],
          },
          never,
        )
        const works: Promise<unknown>[] = []
        for (let i = 0; i < count; i++) works.push(editNamed(sync, `edit ${i}`))
        works.push(sync.step('undo'))
        await s.waitFor(Promise.all(works))
        expect(library.undone).toEqual([Array.from({ length: count }, (_, i) => `edit ${i}`)])
        expect(openAtStep).toEqual([0])
        expect(seen.news).toEqual([`Undone: edit ${count - 1}`])
        expect(seen.taken.at(-1)).toBe(count - 1)
      }),
    )
  })

  it('go on reading when an edit is not answered: patience has an end', async () => {
    const library = new SmallLibrary()
    const { desk, seen } = deskOver(library, async (name, answer) => (name === 'edit' ? never() : answer()))
    const sync = new LessonSync(desk, () => Promise.resolve())
    void editNamed(sync, 'stuck')
    await sync.reload()
    expect(seen.taken).toEqual([1])
  })

  it('ask for the report of clips without shots, which has their tempo, and for none of an empty lesson', async () => {
    for (const clips of [[], [{ id: 'clip' }]]) {
      const library = new SmallLibrary()
      Object.assign(library, { shots: [], clips })
      const { desk, seen } = deskOver(library, (_name, answer) => Promise.resolve(answer()))
      await new LessonSync(desk, () => Promise.resolve()).reload()
      await new Promise((resolve) => setImmediate(resolve))
      expect(seen.report).toEqual(clips.length > 0 ? { of: 0 } : null)
    }
  })

  it('let a key that goes by the screen wait for the edit before it', async () => {
    const library = new SmallLibrary()
    const { desk, seen } = deskOver(library, async (_name, answer) => {
      await new Promise(setImmediate)
      return answer()
    })
    const sync = new LessonSync(desk, never)
    void editNamed(sync, 'cut')
    await sync.settled()
    expect(seen.opened?.revision).toBe(1)
  })

  it('ask for one report when the coach stops, of the lesson that is then on the Desk', async () => {
    const library = new SmallLibrary()
    const waits: (() => void)[] = []
    const { desk, seen, leave } = deskOver(library, async (_, answer) => answer())
    const sync = new LessonSync(desk, () => new Promise<void>((resolve) => waits.push(resolve)))
    await sync.reload()
    await editNamed(sync, 'again')
    waits.forEach((go) => go())
    await new Promise(setImmediate)
    expect(seen.report).toEqual({ of: 1 })
    await sync.reload()
    leave()
    waits.forEach((go) => go())
    await new Promise(setImmediate)
    expect(seen.report).toBeNull()
  })

  it('say once that a step is another window’s, and take it when the coach insists', async () => {
    const library = new SmallLibrary()
    const { desk, seen } = deskOver(library, async (_, answer) => answer())
    const confirmed: unknown[] = []
    const sync = new LessonSync(
      {
        ...desk,
        ask: ((name: string, input: { confirmedRevision?: number | null }) => {
          if (name === 'edits.undo') {
            confirmed.push(input.confirmedRevision)
            if (input.confirmedRevision === null) {
              return Promise.reject(new Problem('made-elsewhere.undo', { step: 'tag cue' }))
            }
          }
          return desk.ask(name as 'lesson.update', input as never)
        }) as SyncedDesk['ask'],
      },
      never,
    )
    await editNamed(sync, 'elsewhere')
    await sync.step('undo')
    expect(seen.problems).toHaveLength(1)
    expect(library.edits).toEqual(['elsewhere'])
    await sync.step('undo')
    expect(confirmed).toEqual([null, 1])
    expect(library.edits).toEqual([])
  })

  it('know a lesson that is not there', async () => {
    const library = new SmallLibrary()
    const { desk, seen } = deskOver(library, async (_, answer) => answer())
    const gone = new Problem('gone.record', { record: phrase('record.lesson') })
    const sync = new LessonSync({ ...desk, ask: () => Promise.reject(gone) }, never)
    await sync.reload()
    expect(seen.isGone).toBe(true)
    expect(seen.problems).toEqual([gone])
  })
})
