import fs from 'node:fs'
import path from 'node:path'
import { Linter } from 'eslint'
import tseslint from 'typescript-eslint'
import { describe, expect, it } from 'vitest'
import sentences, { isSentence, judgedWindow, letOut } from '../../scripts/lint/sentences.js'

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
    // A line that lets out another rule is no matter here.
    .filter(({ ruleId }) => ruleId !== 'react-hooks/exhaustive-deps')
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
    for (const file of [
      'library/hand-over/write.ts',
      'library/jobs/add-clip.ts',
      'main/menu.ts',
      'cli/output.ts',
    ]) {
      expect(found(code, `electron/${file}`)).toHaveLength(1)
    }
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
    ['console.error(`the end of job ${id} could not be kept yet`)', 'the log'],
    ['const a = db.prepare(`SELECT name FROM clip WHERE hash = ?`)', 'a statement of SQL'],
  ])('is not found: %s (%s)', (code) => {
    expect(found(code)).toEqual([])
  })

  it('is judged in the program only, and not where sentences are made', () => {
    const code = "const a = 'Too few shots.'"
    expect(found(code, 'shared-core/wording/coach/findings.ts')).toEqual([])
    expect(found(code, 'scripts/bench.ts')).toEqual([])
    expect(isSentence('Too few shots.')).toBe(true)
  })

  it('lets out files that are there, each with its reason', () => {
    for (const [file, why] of Object.entries(letOut)) {
      expect(fs.existsSync(path.join(root, file)), file).toBe(true)
      expect(why.length).toBeGreaterThan(3)
    }
  })
})

describe('a literal text in the window', () => {
  const screen = 'renderer/desk/tray/Tray.tsx'

  it.each([
    ['const a = <h2>Tray</h2>', 'between the tags, one word'],
    ['const a = <p>{n} more</p>', 'beside a number'],
    ["const a = <p>{isOpen ? words('close') : 'Mark'}</p>", 'one side of a choice between the tags'],
    ["const a = <p>{isOpen && 'open'}</p>", 'after a condition'],
    ['const a = <span>{`${n} ms`}</span>', 'the unit of a number'],
    ['const a = <Action label="Remove" />', 'a label'],
    ["const a = <Action label={isOn ? 'Hide' : words('show')} />", 'one side of a choice in a label'],
    ['const a = <Button aria-label={`Edit ${name}`} />', 'what a screen reader says'],
    ['const a = <input placeholder="Name" />', 'a placeholder'],
    ['const a = <span title="starred" />', 'a tip'],
    ['const a = <MenuItem textValue="Keys" />', 'what a menu is searched by'],
    ["const a = [{ value: 'all', label: 'all' }]", 'the label of an option'],
    ["slider.setAttribute('aria-valuetext', `frame ${frame}`)", 'an attribute that is set'],
    ["sayNews('Saved')", 'news'],
    ["const a = ['Too few shots.']", 'a sentence anywhere'],
  ])('is found: %s (%s)', (code) => {
    expect(found(code, screen)).toHaveLength(1)
  })

  it.each([
    ["const a = <Action label={trayWords('remove')} />", 'a key'],
    ['const a = <div className="button button-small soft fine" />', 'classes'],
    ["const a = <div className={`row ${isOn ? 'is on for all of them' : ''}`} />", 'chosen classes'],
    ['const a = <path d="M 0 0 H 5" viewBox="0 0 24 24" />', 'shapes'],
    ['const a = <p>{first} · {second}</p>', 'signs between texts'],
    ["const a = <p>{a === 'toe' ? words('toe') : words('heel')}</p>", 'what is compared with'],
    ["const a = <p>{formatMetric('ballSpeedMps', value).text}</p>", 'a name for the program'],
    ["const a = <Choice value={'beside'} onChange={() => set({ arrangement: 'beside' })} />", 'a value'],
    ["slider.setAttribute('aria-valuenow', 'x')", 'an attribute that nobody reads'],
    ["edit('pair.run', { lessonId })", 'a call'],
  ])('is not found: %s (%s)', (code) => {
    expect(found(code, screen)).toEqual([])
  })

  it('is judged in the folders whose words are data, which are there and hold none', () => {
    expect(judgedWindow.length).toBeGreaterThan(0)
    for (const folder of judgedWindow) expect(fs.existsSync(path.join(root, folder)), folder).toBe(true)
    const files = judgedWindow.flatMap((folder) =>
      fs
        .readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })
        .filter((name) => /\.tsx?$/.test(name))
        .map((name) => `${folder}${name}`),
    )
    expect(files.length).toBeGreaterThan(20)
    for (const file of files) {
      expect(found(fs.readFileSync(path.join(root, file), 'utf8'), file), file).toEqual([])
    }
  })

  it('put back where a message is said, is found', () => {
    const code = fs.readFileSync(path.join(root, screen), 'utf8')
    const said = code.match(/trayWords\('\w+'\)/g) ?? []
    expect(said.length).toBeGreaterThan(15)
    const literal = code.replaceAll(/(label=)?\{trayWords\('(\w+)'\)\}/g, (_, label?: string) =>
      label ? `${label}"Words"` : 'Words',
    )
    expect(found(literal, screen).length).toBeGreaterThan(10)
  })
})
