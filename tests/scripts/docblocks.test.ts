import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'

/** Exports of the core without a docblock, as "file: name". A type that is only inferred from a schema or list is described there. */
const undescribed = (file: string): string[] => {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true)
  return source.statements
    .filter(
      (statement) =>
        ts.canHaveModifiers(statement) &&
        ts.getModifiers(statement)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword),
    )
    .filter(
      (statement) => !/^export type \w+ = (Known<)?(z\.infer<|\(?(typeof|keyof) )/.test(statement.getText()),
    )
    .filter((statement) => {
      const above = ts.getLeadingCommentRanges(source.text, statement.pos) ?? []
      return !above.some(({ pos }) => source.text.startsWith('/**', pos))
    })
    .map(
      (statement) =>
        `${file}: ${/\w+(?=[\s:=<(])/.exec(statement.getText().replace(/^export (const|function|interface|type|class) /, ''))?.[0]}`,
    )
}

describe('every export of the core', () => {
  it('says in a docblock what it is', () => {
    const files = readdirSync('shared-core', { recursive: true, encoding: 'utf8' }).filter((f) =>
      f.endsWith('.ts'),
    )
    expect(files.length).toBeGreaterThan(100)
    expect(files.flatMap((file) => undescribed(`shared-core/${file}`))).toEqual([])
  })
})
