import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { parse, TYPE, type MessageFormatElement } from '@formatjs/icu-messageformat-parser'
import { Problem } from '../../../shared-core/problem.ts'
import { findingPhrases } from '../../../shared-core/wording/coach/findings.ts'
import { remarkPhrases } from '../../../shared-core/wording/coach/remarks.ts'
import { problems } from '../../../shared-core/wording/coach/problems.ts'
import { formatMessage } from '../../../shared-core/wording/message.ts'
import {
  problemWords,
  type ProblemKey,
  type ProblemValues,
} from '../../../shared-core/wording/problem-words.ts'
import {
  messageOf,
  phrase,
  phraseKeys,
  sayWord,
  type PhraseKey,
} from '../../../shared-core/wording/phrase.ts'

const root = path.resolve(import.meta.dirname, '../../..')
const sources = ['shared-core', 'electron', 'renderer']
  .flatMap((folder) =>
    fs
      .readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => `${folder}/${name}`),
  )
  .filter((name) => !name.startsWith('shared-core/wording/coach/'))
  .map((name) => fs.readFileSync(path.join(root, name), 'utf8'))
  .join('\n')

const problemKeys = Object.keys(problems) as ProblemKey[]
/** Every message for the coach by its name. */
const messages: [string, string][] = [
  ...problemKeys.flatMap((key) =>
    Object.entries<string>(problems[key]).map(([part, text]): [string, string] => [`${key} ${part}`, text]),
  ),
  ...phraseKeys.map((key): [string, string] => [key, messageOf(key)]),
]

const places = (elements: MessageFormatElement[]): string[] =>
  elements.flatMap((e) => (e.type === TYPE.argument || e.type === TYPE.plural ? [e.value] : []))
/** Places of a message filled: a name stands for itself, a count is a number. */
const filled = (message: string): Record<string, string | number> =>
  Object.fromEntries(
    parse(message).flatMap((e): [string, string | number][] =>
      e.type === TYPE.plural ? [[e.value, 2]] : e.type === TYPE.argument ? [[e.value, `<${e.value}>`]] : [],
    ),
  )

describe('every problem and phrase', () => {
  it('is a message whose places can be told from its type', () => {
    const elements = messages.flatMap(([name, message]) =>
      parse(message, { ignoreTag: true }).map((element) => ({
        name,
        message,
        element,
      })),
    )
    for (const { name, element } of elements) {
      expect([TYPE.literal, TYPE.argument, TYPE.plural], name).toContain(element.type)
      if (element.type !== TYPE.plural) continue
      for (const { value } of Object.values(element.options)) {
        expect(places(value), name).toEqual([])
      }
    }
  })

  it('is said with its places filled, and not without', () => {
    for (const [name, message] of messages) {
      const values = filled(message)
      const said = formatMessage(message, 'en-GB', values)
      for (const value of Object.values(values)) if (value !== 2) expect(said, name).toContain(value)
      expect(said, name).not.toMatch(/[{}]|undefined/)
      if (Object.keys(values).length > 0) {
        expect(() => formatMessage(message, 'en-GB', {}), name).toThrow()
      }
    }
  })

  it('has no full stop at its end, which whoever shows it adds', () => {
    const whole = new Set<string>(Object.keys({ ...findingPhrases, ...remarkPhrases }))
    for (const [name, message] of messages) {
      expect(message, name).not.toMatch(whole.has(name) ? /^\s|\s$/ : /[.!]$|^\s|\s$/)
    }
  })

  it('claims no cause of what is found; why a unit was assumed may be said', () => {
    for (const [name, message] of messages.filter(([key]) => !key.startsWith('unit.'))) {
      expect(message, name).not.toMatch(/\b(because|due to|caused by|thanks to)\b/i)
    }
  })

  it('stands somewhere in the code', () => {
    const isUsed = (key: string): boolean => {
      const dot = key.indexOf('.')
      return (
        sources.includes(`'${key}'`) ||
        (dot > 0 &&
          (sources.includes(`\`${key.slice(0, dot)}.\${`) || sources.includes(`}${key.slice(dot)}\``)))
      )
    }
    expect([...problemKeys, ...phraseKeys].filter((key) => !isUsed(key))).toEqual([])
  })
})

describe('a problem', () => {
  const all = problemKeys.map((key) => {
    const { what, toDo = '' }: { what: string; toDo?: string } = problems[key]
    const values = { ...filled(what), ...filled(toDo), where: phrase('place.line', { line: 7 }) }
    return new Problem(key, values as unknown as ProblemValues<ProblemKey>)
  })

  it('of every code keeps what its sentences are made of, and its code', () => {
    for (const problem of all) {
      expect(problem.code, problem.key).toBe(problem.key.split('.')[0])
      expect(problemWords(problem.key, problem.values)).toEqual({ what: problem.what, toDo: problem.toDo })
      expect(problem.where).toBe('line 7')
    }
  })

  it('of every code crosses to another process as JSON and is said the same there', () => {
    for (const problem of all) {
      const there = Problem.from(JSON.parse(JSON.stringify(problem.body)))
      expect(there.body).toEqual(problem.body)
      expect(there.message).toBe(problem.message)
    }
  })

  it('is said as a sentence with where and what to do', () => {
    const fault = phrase('fault.at', { place: 'lessons.0', fault: phrase('fault.shotTwice') })
    const problem = new Problem('lesson-file-damaged', { fault, where: 'one.leadside-lesson' })
    expect(problem.message).toBe(
      'one.leadside-lesson: this lesson file is damaged or was made by something else: lessons.0: a shot twice. ' +
        'Ask your colleague to send it again; nothing was changed here',
    )
  })

  it('told of a file instead of a line keeps both', () => {
    const there = new Problem('shots-delimiter', { where: phrase('place.lineAndOthers', { line: 3 }) })
    const place = phrase('place.inFile', { file: 'shots.csv', place: there.place! })
    expect(there.at(place).where).toBe('shots.csv, line 3 and others')
    expect(there.at(place).what).toBe(there.what)
  })

  it('that an older or newer Leadside kept is said as it was kept', () => {
    const kept = { what: 'the camera was eaten', where: 'a.mp4', toDo: 'Buy another' }
    const others: Parameters<typeof Problem.from>[0][] = [
      kept,
      { ...kept, key: 'camera-eaten', values: {}, place: null },
      // A key that is known here, without a place of it, or with a phrase that is not.
      { ...kept, key: 'no-job-of-this-name' },
      { ...kept, key: 'gone.record', values: {} },
      {
        ...kept,
        key: 'gone.record',
        values: { record: { phrase: 'record.bagpipe' as PhraseKey, values: {} } },
      },
    ]
    for (const unknown of others) {
      const { what, where, toDo } = Problem.from(unknown)
      expect({ what, where, toDo }).toEqual(kept)
    }
    expect(Problem.from({ ...kept, toDo: null }).toDo).toBeNull()
  })

  it('counts by the rules of the language', () => {
    const said = (clips: number) => sayWord(phrase('trouble.missing', { clips }))
    expect([1, 2].map(said)).toEqual([
      'the library’s records are missing; 1 clip of it is there',
      'the library’s records are missing; 2 clips of it are there',
    ])
    expect([1, 8].map((count) => new Problem('no-shots.unusable', { count }).what)).toEqual([
      'the one line of this file has no usable number of a shot',
      'none of the 8 lines of this file has a usable number of a shot',
    ])
  })
})
