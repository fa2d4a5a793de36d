import fs from 'node:fs'
import path from 'node:path'
import { Linter } from 'eslint'
import tseslint from 'typescript-eslint'
import { describe, expect, it } from 'vitest'
import sentences, { isSentence, letOut } from '../../scripts/lint/sentences.js'

const root = path.resolve(import.meta.dirname, '../..')

/** What the rule says of some code, as if it stood in this file. */
const found = (code: string, filename = 'shared-core/report/notes.ts'): string[] =>
  new Linter({ cwd: root })
    .verify(
      code,
      {
        files: ['**/*.ts', '**/*.tsx'],
        languageOptions: {
          parser: tseslint.parser as Linter.Parser,
          parserOptions: { ecmaFeatures: { jsx: true } },
        },
        plugins: { leadside: { rules: { sentences } } },
        rules: { 'leadside/sentences': 'error' },
      },
      path.join(root, filename),
    )
    .map(({ message }) => message)

describe('a literal sentence outside wording', () => {
  it.each([
    ["const a = 'Too few shots.'", 'a string'],
    ['const a = `${n} of the shots were left out`', 'a template, begun with a number'],
    ["const a = 'Nothing was ' + 'recorded here'", 'a sum of strings'],
    ["const a = n > 1 ? 'ok' : `Only ${n} shot`", 'one side of a choice'],
    ["throw new Problem('gone', 'this clip is no longer there')", 'a problem told in words'],
    ['const a = `<p class="sure">We are sure of this.</p>`', 'between the tags of a page'],
    ["const a = 'the ball never rose from the ground'", 'four words, neither capital nor stop'],
    ["const a = { label: 'Top left corner' }", 'the name of a thing that is shown'],
  ])('is found: %s (%s)', (code) => {
    expect(found(code)).toHaveLength(1)
    expect(found(code, 'electron/library/hand-over/write.ts')).toHaveLength(1)
  })

  it('is found in JSX', () => {
    expect(found('const a = <p>Too few shots.</p>', 'shared-core/report/notes.tsx')).toHaveLength(1)
  })

  it.each([
    ["const a = phrase('compare.tooFew', { shots })", 'a key'],
    ["import a from './Some folder of mine.ts'", 'an import'],
    ["type A = 'Too few shots.'", 'a type'],
    ["throw new Error('this can only be a bug of ours')", 'a bug'],
    ["const source = 'Efron & Morris 1977; Barnett, van der Pols & Dobson 2005'", 'publications'],
    ['const a = `<figure class="one two three four" alt="${x}">${y}</figure>`', 'tags'],
    ['const css = `.card{margin:0 auto;padding:1rem 2rem} .sure{color:var(--soft)}`', 'styles'],
    ["const a = 'pitching wedge'", 'two words in a row of a list'],
  ])('is not found: %s (%s)', (code) => {
    expect(found(code)).toEqual([])
  })

  it('is judged in the core and in the hand-over only, and not where sentences are made', () => {
    const code = "const a = 'Too few shots.'"
    expect(found(code, 'shared-core/wording/coach/findings.ts')).toEqual([])
    expect(found(code, 'renderer/desk/Desk.tsx')).toEqual([])
    expect(isSentence('Too few shots.')).toBe(true)
  })

  it('lets out files that are there, each with its reason', () => {
    for (const [file, why] of Object.entries(letOut)) {
      expect(fs.existsSync(path.join(root, file)), file).toBe(true)
      expect(why.length).toBeGreaterThan(3)
    }
  })
})
