import fs from 'node:fs'
import { createRequire } from 'node:module'
import type bcdData from '@mdn/browser-compat-data'
import postcss from 'postcss'
import { describe, expect, test } from 'vitest'
import { pageHtml } from '../../electron/library/hand-over/page-html.ts'
import type { PageClip, PageContent } from '../../shared-core/hand-over/page.ts'

/*
 * Does the student's page keep to what old browsers know? Against MDN's browser-compat-data, for the oldest versions that
 * a phone may still be updated to, with room: Chromium 109 (the last for Windows 8.1), Firefox 115 (the extended support
 * release for old systems), Safari 15.6 (iOS 15 got security fixes for years after). These three from memory.
 */
const oldest = {
  chrome: 109,
  chrome_android: 109,
  firefox: 115,
  firefox_android: 115,
  safari: 15.6,
  safari_ios: 15.6,
}

// Read as a file: a module of twenty megabytes would be taken apart first.
const bcd = JSON.parse(
  fs.readFileSync(createRequire(import.meta.url).resolve('@mdn/browser-compat-data'), 'utf8'),
) as typeof bcdData

interface Support {
  version_added: string | boolean | null
  flags?: unknown
  prefix?: string
  alternative_name?: string
}
interface Compat {
  __compat?: { support: Record<string, Support | Support[] | undefined> }
  [key: string]: unknown
}

const versionOf = (text: string): number => Number.parseFloat(text.replace('≤', ''))

/** Browsers of `oldest` that don't know it. */
const unknownTo = (entry: Compat | undefined): string[] => {
  const support = entry?.__compat?.support
  if (!support) return []
  return Object.entries(oldest).flatMap(([browser, version]) => {
    const said = support[browser]
    const all: Support[] = said === undefined ? [] : Array.isArray(said) ? said : [said]
    const knows = all.some(
      ({ version_added: added, flags, prefix, alternative_name }) =>
        typeof added === 'string' && !flags && !prefix && !alternative_name && versionOf(added) <= version,
    )
    return knows ? [] : [browser]
  })
}

const clip: PageClip = {
  ...{
    title: 'A clip',
    file: 'clips/a.mp4',
    posterBase64: 'AA',
    width: 640,
    height: 360,
    speed: '8 times slower',
  },
  ...{ text: 'A swing', caption: 'Look', holds: [{ atSeconds: 1, untilSeconds: 2, text: 'top' }] },
}
const still = { jpegBase64: 'AA', width: 640, height: 360, caption: 'top', alt: 'the top' }
const content: PageContent = {
  language: 'en',
  ...{ title: 'Lesson', studentName: 'Robin', date: '2026-05-16', coachName: 'A coach', place: 'A range' },
  logo: { dataUri: 'data:image/png;base64,AA', width: 10, height: 10 },
  message: '**Well** done\n\n- one\n- two',
  accent: '#2f7f79',
  unitNote:
    'The measuring device’s file names no unit for some numbers, so one was assumed: carry (taken as m).',
  blocks: { headers: ['Block', 'Shots'], rows: [['Baseline', '6']] },
  cards: [{ title: 'What changed', text: 'You hit the ball better.', howSure: 'Sure.', caution: 'Warm up.' }],
  moreFindings: [{ sentence: 'More.', howSure: 'Not sure.', caution: 'Warm up.' }],
  charts: [{ title: 'Chart', svg: '<svg></svg>', narrowSvg: '<svg></svg>', text: 'chart' }],
  swings: [
    {
      title: 'Swing 1',
      caption: 'Look',
      numbers: [{ label: 'carry', value: '180 yd' }],
      cues: ['firm'],
      stills: [still],
      clip,
    },
  ],
  comparisons: [clip],
  talkThroughs: [clip],
  plan: {
    items: [
      {
        ...{ name: 'Drill', how: 'So', dose: '10', watchFor: 'this', caution: 'Warm up.' },
        picture: {
          dataUri: 'data:image/png;base64,AA',
          width: 10,
          height: 10,
          file: 'clips/d.mp4',
          alt: 'a drill',
        },
      },
    ],
    note: 'Rest.',
  },
  nextFocus: 'Next',
}
const page = await pageHtml(content)
const css = /<style>([\s\S]*?)<\/style>/.exec(page)![1]!

/** What may be unknown: the page reads as well without it. */
const harmless: Readonly<Record<string, string>> = {
  'text-size-adjust': 'stands beside the prefixed one, which Safari knows',
  '-webkit-text-size-adjust': 'Safari and Chromium on phones; others do not enlarge text by themselves',
  'scrollbar-width': 'without it the contents show a bar where a browser shows bars at all; phones show none',
  'cursor:pointer': 'a phone has no pointer',
  'cursor:zoom-in': 'a phone has no pointer',
  'cursor:zoom-out': 'a phone has no pointer',
  'break-before:avoid': 'print only; a heading may stand alone at a page’s end',
  'break-after:avoid': 'print only; a heading may stand alone at a page’s end',
  orphans: 'print only; without it a line may stand alone',
  widows: 'print only; without it a line may stand alone',
  playsinline: 'Firefox plays in place by itself; it is iPhones that must be told',
}

describe('the student’s page, for the oldest browsers that still get updates', () => {
  const properties = new Set<string>()
  const selectors = new Set<string>()
  const media = new Set<string>()
  const declarations: { prop: string; value: string }[] = []
  postcss.parse(css).walk((node) => {
    if (node.type === 'decl') declarations.push({ prop: node.prop, value: node.value })
    if (node.type === 'decl' && !node.prop.startsWith('--')) properties.add(node.prop)
    if (node.type === 'rule') {
      for (const [, name] of node.selector.matchAll(/::?([a-z-]+)/g)) selectors.add(name!)
    }
    if (node.type === 'atrule' && node.name === 'media') {
      for (const [, name] of node.params.matchAll(/\(([a-z-]+)\s*:/g)) media.add(name!)
    }
  })

  test('uses only properties that they know', () => {
    const all = bcd.css.properties as unknown as Record<string, Compat>
    const unlisted = [...properties].filter((name) => !all[name] && !(name in harmless))
    expect(unlisted, 'MDN does not list these').toEqual([])
    const unknown = [...properties]
      .filter((name) => !(name in harmless))
      .flatMap((name) => unknownTo(all[name]).map((browser) => `${name}: ${browser}`))
    expect(unknown).toEqual([])
    expect(properties.size).toBeGreaterThan(50)
  })

  test('uses only values, units and functions that they know', () => {
    const all = bcd.css.properties as unknown as Record<string, Compat>
    const types = bcd.css.types as unknown as Record<string, Compat>
    const lengths = types['length'] as unknown as Record<string, Compat>
    // The file keeps functions beside their types or below them. `rem` is a function, too.
    const functionOf = (name: string): Compat | undefined =>
      types[name] ??
      Object.values(types)
        .map((type) => type[name] as Compat | undefined)
        .find((entry) => entry?.__compat)
    const entryOf = (kind: string, word: string): Compat | undefined =>
      kind === 'unit'
        ? lengths[word]
        : kind === 'function'
          ? functionOf(word)
          : (all[kind]?.[word] as Compat | undefined)
    const seen = new Set<string>()
    const unknown = declarations.flatMap(({ prop, value }) => {
      const plain = value.replace(/"[^"]*"|url\([^)]*\)|#[0-9a-f]+/gi, ' ')
      const names = [
        ...[...plain.matchAll(/(?<![\w-])-?[a-z][a-z-]*(?![\w(-])/g)].map(([word]) => [prop, word] as const),
        ...[...plain.matchAll(/([a-z-]+)\(/g)].map(([, name]) => ['function', name!] as const),
        ...[...plain.matchAll(/\d([a-z]+)\b/g)].map(([, unit]) => ['unit', unit!] as const),
      ]
      return names.flatMap(([of, word]) => {
        const entry = entryOf(of, word)
        if (!entry?.__compat || prop in harmless || `${of}:${word}` in harmless) return []
        seen.add(`${of}:${word}`)
        return unknownTo(entry).map((browser) => `${prop}: ${word} (${browser})`)
      })
    })
    expect(unknown).toEqual([])
    // Where MDN's data has them; common keywords of old properties it does not list.
    expect([...seen].length, [...seen].join()).toBeGreaterThan(12)
  })

  test('uses only selectors and media queries that they know', () => {
    const all = bcd.css.selectors as unknown as Record<string, Compat>
    expect([...selectors].filter((name) => !all[name])).toEqual([])
    expect([...selectors].flatMap((name) => unknownTo(all[name]).map((b) => `:${name} ${b}`))).toEqual([])
    const queries = bcd.css['at-rules']!.media as unknown as Record<string, Compat>
    const plain = (name: string) => queries[name] ?? queries[name.replace(/^(?:min|max)-/, '')]
    expect([...media].filter((name) => !plain(name))).toEqual([])
    expect([...media].flatMap((name) => unknownTo(plain(name)).map((b) => `${name} ${b}`))).toEqual([])
    expect(media.size).toBeGreaterThan(1)
  })

  test('uses only elements and attributes that they know, and no script', () => {
    const elements = bcd.html.elements as unknown as Record<string, Compat>
    const everywhere = bcd.html.global_attributes as unknown as Record<string, Compat>
    // Names of attributes are the same in small letters and large.
    const body = page.replace(css, '').toLowerCase()
    const unknown = [...body.matchAll(/<([a-z][a-z0-9]*)((?:\s+[a-z-]+(?:="[^"]*")?)*)\s*\/?>/g)].flatMap(
      ([, tag, rest]) => {
        const element = elements[tag!] ?? (/^h[1-6]$/.test(tag!) ? elements['h1'] : undefined)
        if (tag === 'svg') return []
        if (!element) return [`<${tag!}> is not listed`]
        const attributes = [...rest!.matchAll(/\s([a-z-]+)(?:=|(?=\s|$))/g)].map(([, name]) => name!)
        return [
          ...unknownTo(element).map((browser) => `<${tag!}>: ${browser}`),
          ...attributes
            .filter((name) => !/^(aria-|data-|role$)/.test(name) && !(name in harmless))
            .flatMap((name) =>
              unknownTo((element[name] as Compat | undefined) ?? everywhere[name]).map(
                (b) => `<${tag!} ${name}>: ${b}`,
              ),
            ),
        ]
      },
    )
    expect([...new Set(unknown)]).toEqual([])
    expect(page).not.toMatch(/<script|javascript:|\son[a-z]+=/i)
  })
})
