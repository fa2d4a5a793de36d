import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'

/** Functions and values that only tests ask for, each with why it stands. */
const explained: Readonly<Record<string, string>> = {
  clashes: 'two commands on one key are a fault of the list itself, found by a test',
  compareBlocks: 'two blocks alone; the program compares a lesson’s blocks under its budget',
  drawingSchema: 'the stored form of a drawing, in the same file as its reader',
  framesInSeconds: 'capture arithmetic, held against published durations',
  joinTalks: 'parts of a talk-through end to end',
  kindOfUnit: 'which units can stand for each other, for the tests of every pair',
  libraryMark: 'a table that is read by SQL; the migrations are held against it',
  mediaStudent: 'a table that is read by SQL; the migrations are held against it',
  phraseKeys: 'every message is walked by a test',
  quickMoistAirDensity: 'a second way to the density of air, which the first is held against',
  scaleFrom: 'what a ruler of known length gives, held against the ball’s published diameter',
  secondsOfFrames: 'capture arithmetic, held against published speeds',
  soundEnvelope: 'the streamed envelope at one go, which it is held against',
  stillOf: 'a frame with its scene, which every painter is held against',
  talkEventAt: 'what stands at an instant of a talk-through',
  talkFile: 'where a talk-through lies',
  trajectory: 'the flight step by step, held against published trajectories',
  woodenHeadRestitution: 'a published relation that the model is held against',
}

const sources = ['shared-core', 'electron', 'renderer', 'scripts', 'demo-media'].flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => /(?<!\.d)\.m?tsx?$|\.mjs$/.test(file))
    .map((file) => `${folder}/${file}`),
)
const texts = new Map(sources.map((file) => [file, readFileSync(file, 'utf8')]))

/** Names of exported functions, classes and values. */
const exportsOf = (file: string): string[] =>
  ts
    .createSourceFile(file, texts.get(file)!, ts.ScriptTarget.Latest, true)
    .statements.filter(
      (statement) =>
        ts.canHaveModifiers(statement) &&
        ts.getModifiers(statement)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword),
    )
    .flatMap((statement) =>
      ts.isVariableStatement(statement)
        ? statement.declarationList.declarations.map((d) => d.name.getText())
        : (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement)) && statement.name
          ? [statement.name.text]
          : [],
    )
    .filter((name) => /^\w+$/.test(name))

describe('what is exported', () => {
  it('is used by the program somewhere, or is named here with why it stands', () => {
    const uses = new Map<string, number>()
    for (const text of texts.values()) {
      for (const word of text.match(/\b[A-Za-z]\w*\b/g) ?? []) uses.set(word, (uses.get(word) ?? 0) + 1)
    }
    const unused = sources
      .filter((file) => !file.startsWith('scripts/') && file.endsWith('.ts'))
      .flatMap(exportsOf)
      .filter((name) => uses.get(name) === 1)
    expect(unused.filter((name) => !(name in explained)).toSorted()).toEqual([])
    expect(
      Object.keys(explained)
        .filter((name) => !unused.includes(name))
        .toSorted(),
    ).toEqual([])
  })
})
