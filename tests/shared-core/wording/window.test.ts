import fs from 'node:fs'
import path from 'node:path'
import { parse, TYPE, type MessageFormatElement } from '@formatjs/icu-messageformat-parser'
import { isValidElement } from 'react'
import { describe, expect, it } from 'vitest'
import { nodes } from '../../../renderer/parts/nodes.tsx'
import { formatMessage } from '../../../shared-core/wording/message.ts'
import { windowWords, type WindowWords } from '../../../shared-core/wording/window/window-words.ts'

const root = path.resolve(import.meta.dirname, '../../..')
const folders = ['shared-core/wording/window', 'shared-core/wording/command-line']
/** Modules of words, with their folders. */
const files = folders.flatMap((folder) =>
  fs
    .readdirSync(path.join(root, folder))
    .filter((file) => file !== 'window-words.ts')
    .map((file) => `${folder}/${file}`),
)

/** Every source of the program by its path, wording left out. */
const sources = ['shared-core', 'electron', 'renderer', 'cli']
  .filter((top) => fs.existsSync(path.join(root, top)))
  .flatMap((top) =>
    fs
      .readdirSync(path.join(root, top), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => `${top}/${name}`),
  )
  .filter((name) => !name.startsWith('shared-core/wording/'))
  .map((name) => ({ name, text: fs.readFileSync(path.join(root, name), 'utf8') }))

const isWords = (value: unknown): value is WindowWords<Record<string, string>> =>
  typeof value === 'function' && 'messages' in value

/** The words of every screen: by which name they are said, and what. */
const screens = (
  await Promise.all(
    files.map(async (file) => {
      const module = (await import(path.join(root, file))) as Record<string, unknown>
      return Object.entries(module).flatMap(([name, words]) =>
        isWords(words) ? [{ file, name, messages: words.messages }] : [],
      )
    }),
  )
).flat()
const messages = screens.flatMap(({ file, name, messages: own }) =>
  Object.entries(own).map(([key, message]) => ({ at: `${file} ${name} ${key}`, name, key, message })),
)

const elementsOf = (message: string) => parse(message, { ignoreTag: true })
const places = (elements: MessageFormatElement[]): string[] =>
  elements.flatMap((e) => (e.type === TYPE.argument || e.type === TYPE.plural ? [e.value] : []))

describe('the words of the window and of the command line', () => {
  it('stand in one module for each screen or command, which says them by one name', () => {
    expect([...new Set(screens.map((s) => s.file))].toSorted()).toEqual(files.toSorted())
    expect(new Set(screens.map((s) => s.name)).size).toBe(screens.length)
    expect(messages.length).toBeGreaterThan(400)
  })

  it('are no empty text', () => {
    for (const { at, message } of messages) expect(message, at).toMatch(/\S/)
  })

  it('are messages whose places can be told from their types', () => {
    for (const { at, message } of messages) {
      for (const element of elementsOf(message)) {
        expect([TYPE.literal, TYPE.argument, TYPE.plural], at).toContain(element.type)
        if (element.type !== TYPE.plural) continue
        for (const { value } of Object.values(element.options)) {
          expect(places(value), at).toEqual([])
          expect(Object.keys(element.options), at).toEqual(expect.arrayContaining(['one', 'other']))
        }
      }
    }
  })

  it('are said with their places filled, and not without', () => {
    for (const { at, message } of messages) {
      const values = Object.fromEntries(
        elementsOf(message).flatMap((e): [string, string | number][] =>
          e.type === TYPE.plural
            ? [[e.value, 7]]
            : e.type === TYPE.argument
              ? [[e.value, `<${e.value}>`]]
              : [],
        ),
      )
      const said = formatMessage(message, 'en-GB', values)
      for (const value of Object.values(values)) if (value !== 7) expect(said, at).toContain(value)
      expect(said, at).not.toMatch(/[{}]|undefined/)
      if (Object.keys(values).length > 0) expect(() => formatMessage(message, 'en-GB', {}), at).toThrow()
    }
  })

  it('count in the singular too: no number stands before a plural that it may not fit', () => {
    const counted =
      /\{\w+\} (?:\w+ )?(?:shots|clips|swings|files|lessons|students|pairs|days|rows|blocks|pictures|drawings|lines|values|hand-overs|backups|were|are|have)\b/
    // Never one: `least…` and `min…` are two and more, the others stand before what is many anyway.
    const neverOne = /\{(?:least|min)\w*\}|\{(?:add|rate|slowBy|maxHeight|plan)\}/
    expect(
      messages.filter((m) => counted.test(m.message) && !neverOne.test(m.message)).map((m) => m.at),
    ).toEqual([])
  })

  it('claim no cause', () => {
    for (const { at, message } of messages) {
      expect(message, at).not.toMatch(/\b(because|due to|caused by|thanks to)\b/i)
    }
  })

  it('are all said somewhere, by files that know them', () => {
    const knowing = new Map(
      screens.map(({ name }) => [
        name,
        sources.flatMap(({ text }) => (new RegExp(`\\b${name}\\b`).test(text) ? [text] : [])).join('\n'),
      ]),
    )
    const isUsed = ({ name, key }: { name: string; key: string }) => {
      const text = knowing.get(name)!
      const dot = key.indexOf('.')
      return text.includes(`'${key}'`) || (dot > 0 && text.includes(`\`${key.slice(0, dot)}.\${`))
    }
    expect(messages.filter((m) => !isUsed(m)).map((m) => m.at)).toEqual([])
  })
})

const words = windowWords({
  plain: 'Tray',
  places: '{n} of {all}',
  swings: '{count, plural, one {# swing} other {# swings}}',
  press: 'Press {key}, then {count, plural, one {# swing} other {# swings}}',
})

describe('saying them', () => {
  it('fills places and counts by the rules of the language', () => {
    expect(words('plain')).toBe('Tray')
    expect(words('places', { n: 2, all: 3 })).toBe('2 of 3')
    expect([1, 2, 1200].map((count) => words('swings', { count }))).toEqual([
      '1 swing',
      '2 swings',
      '1,200 swings',
    ])
  })

  it('puts elements in their places, the text around them whole', () => {
    const key = { type: 'kbd', key: null, props: { children: 'T' } } as never
    const parts = words.parts('press', { key, count: 2 })
    expect(parts).toEqual(['Press ', key, ', then 2 swings'])
    const made = nodes(words, 'press', { key: 'T', count: 1 }) as { props: { children: unknown } }[]
    expect(made.every((part) => isValidElement(part))).toBe(true)
    expect(made.map((part) => part.props.children).join('')).toBe('Press T, then 1 swing')
  })
})
