import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { handlersOf } from '../../electron/library/handlers/index.ts'
import type { Library } from '../../electron/library/library.ts'
import { LiveLessons } from '../../electron/library/live/live-lessons.ts'
import { hostCalls } from '../../shared-core/contract/custody.ts'
import { contract, type CallName } from '../../shared-core/contract/index.ts'
import { openWithLesson } from '../library/support/temporary-library.ts'

let opened: { library: Library; folder: string; lessonId: string; studentId: string }
beforeAll(async () => {
  opened = await openWithLesson()
})
afterAll(async () => {
  await opened.library.close()
  fs.rmSync(opened.folder, { recursive: true, force: true })
})

describe('the contract', () => {
  it('has a handler for each of its calls, and no handler has no call', () => {
    const { context } = opened.library
    const live = new LiveLessons(context, (name, input) => opened.library.ask(name, input))
    // The calls about the library's own place are answered around it, where it can be closed and opened again.
    const answered = [...Object.keys(handlersOf(context, live)), ...Object.keys(hostCalls)]
    expect(answered.toSorted()).toEqual(Object.keys(contract).toSorted())
  })

  it('has somebody who asks each of its calls: the window, the main process or the command line', () => {
    const root = path.resolve(import.meta.dirname, '../..')
    const asked = ['renderer', 'electron/main', 'electron/preload', 'electron/cli']
      .flatMap((folder) =>
        fs.globSync('**/*.{ts,tsx}', { cwd: path.join(root, folder) }).map((file) => path.join(folder, file)),
      )
      .map((file) => fs.readFileSync(path.join(root, file), 'utf8'))
      .join('\n')
    expect(Object.keys(contract).filter((name) => !asked.includes(`'${name}'`))).toEqual([])
  })

  it('says for every call that changes something whether it can be undone, or why not', () => {
    for (const [name, call] of Object.entries(contract)) {
      if (call.changes) {
        expect(call.undo === true || (typeof call.undo === 'string' && call.undo.length > 10), name).toBe(
          true,
        )
      } else expect(call.undo, name).toBeNull()
    }
  })

  it('is kept by the answers of the calls that only read', async () => {
    const { library, lessonId, studentId } = opened
    const inputs: Partial<Record<CallName, unknown>> = {
      'roster.list': {},
      'library.info': {},
      'student.get': { id: studentId },
      'lesson.open': { lessonId },
      'live.state': { lessonId },
      'jobs.list': {},
      'cueKind.list': {},
      'drill.list': {},
      'plan.get': { lessonId },
      'handOver.draft': { lessonId },
      'handOver.list': { lessonId },
      'handOver.templates': {},
      'talk.list': { lessonId },
      'settings.get': {},
    }
    for (const [name, input] of Object.entries(inputs)) {
      const output = await library.ask(name as CallName, input as never)
      const parsed = contract[name as CallName].output.safeParse(output)
      expect(parsed.success ? null : parsed.error.issues, name).toBeNull()
    }
  })

  it('refuses what does not fit it, and says which field', async () => {
    await expect(opened.library.ask('student.create', { name: '', side: 'right' })).rejects.toMatchObject({
      code: 'bad-input',
      where: 'student.create name',
    })
    await expect(opened.library.ask('no.such.call' as CallName, {} as never)).rejects.toMatchObject({
      code: 'no-call',
    })
  })
})
