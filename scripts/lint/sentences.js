import path from 'node:path'

/**
 * ESLint rule: what a person reads is made in `shared-core/wording`. A literal sentence elsewhere in the core, in the library,
 * in the main process, in the command line or in the window can be said in one language only. In the window one word is enough: between the tags,
 * in a label or the like, or as news.
 *
 * A sentence is text with two words beside each other that begins with a capital or has a stop, or that is four words long.
 * Not judged: what is thrown as a plain Error or goes to the log (a bug, nobody's words), statements of SQL, the names of publications (text with a year), tags,
 * attributes and styles of a page (what stands between its tags is judged), types and imports.
 */
const judged = ['shared-core/', 'electron/library/', 'electron/main/', 'electron/cli/']
/** Folders and files of the window; a screen's words stand in `shared-core/wording/window/`. */
export const judgedWindow = ['renderer/']

/** Files that are let out, each with the reason. */
export const letOut = {
  'shared-core/wording/': 'this is where sentences are made',
  'shared-core/contract/': 'says to whoever reads the contract why a change is not undoable; shown nowhere',
  'electron/main/app-protocol.ts':
    'what a page may do, in the words of the browser (Content Security Policy)',
  'shared-core/shots/column-names.ts': 'words of other programs’ files, read and never said',
  'shared-core/shots/more-column-names.ts': 'words of other programs’ files, read and never said',
  'shared-core/shots/summary-row-word.ts': 'words of other programs’ files, read and never said',
}
/** Texts that are let out, wherever they stand. */
const texts = {
  'WEBVTT …': 'the head of a file of captions (W3C WebVTT)',
  'Source Sans 3': 'a font',
  'Application Support': 'a folder of macOS',
  'Leadside (test build)': 'the name by which the system knows the program',
  'Leadside library': 'the folder of a new library, and the name of the process that keeps it',
  'MAP * ~NOTFOUND, EXCLUDE localhost': 'an option of the browser',
  'Source Sans 3, system-ui, sans-serif': 'fonts',
  'SI: m/s, m, s, degrees, rpm, mm; frames count from 0':
    'a value of lesson.json, the same in every language',
}

const place = '\u0000'

/** The text of a literal, a template or a sum of them, with a sign for what is put in; null where it is none. */
const textOf = (node) => {
  if (node.type === 'Literal') return typeof node.value === 'string' ? node.value : null
  if (node.type === 'TemplateLiteral') return node.quasis.map((q) => q.value.cooked ?? '').join(place)
  if (node.type !== 'BinaryExpression' || node.operator !== '+') return null
  const parts = [textOf(node.left), textOf(node.right)]
  return parts.every((part) => part === null) ? null : parts.map((part) => part ?? place).join('')
}

/** What is read of it: without the tags, attributes and styles of a page. */
const readOf = (text) =>
  text
    .replace(/<[^<>]*>/g, ' ')
    .replace(/[^\s{}<>]*\{[^{}]*:[^{}]*\}/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()

const word = "[\\p{L}’']{2,}"
/** What is put in stands for a word. */
const twoWords = new RegExp(`${word},? (?:${word}|${place})|${place},? ${word}`, 'u')
const fourWords = new RegExp(`(?:${word}[,;:]? ){3}${word}`, 'u')
const year = /\b(?:19|20)\d\d\b/

export const isSentence = (text) => {
  const read = readOf(text)
  if (read.replaceAll(place, '…') in texts || year.test(read)) return false
  return (
    fourWords.test(read) || (twoWords.test(read) && (/^\p{Lu}/u.test(read) || /[.!?](?:\s|$)/.test(read)))
  )
}

/** Attributes and properties of the window that a person reads or hears, */
const readAttributes = new Set([
  ...['label', 'title', 'placeholder', 'alt', 'tip', 'hint', 'text', 'textValue', 'keys'],
  ...['aria-label', 'aria-valuetext', 'aria-description', 'aria-roledescription', 'aria-placeholder'],
])
const readProperties = new Set(['label', 'title', 'placeholder', 'tip', 'hint', 'aria-label'])
/** and those that hold no words whatever stands in them. */
const wordless = new Set(['className', 'style', 'd', 'viewBox', 'transform'])
/** Calls that show their argument. */
const tellers = new Set(['sayNews'])

const nameOf = (node) => (node.type === 'Literal' ? node.value : node.name)

/**
 * What becomes of the value of an expression in the window: `read` where a person reads it, `wordless` where it can be no
 * words, null where that isn't seen.
 */
const useOf = (node) => {
  const { parent } = node
  switch (parent.type) {
    case 'JSXExpressionContainer':
      return parent.parent.type === 'JSXAttribute' ? useOf(parent) : 'read'
    case 'JSXAttribute':
      return readAttributes.has(parent.name.name)
        ? 'read'
        : wordless.has(parent.name.name)
          ? 'wordless'
          : null
    case 'ConditionalExpression':
      return parent.test === node ? null : useOf(parent)
    case 'LogicalExpression':
    case 'TSAsExpression':
    case 'TSNonNullExpression':
    case 'TemplateLiteral':
      return useOf(parent)
    case 'BinaryExpression':
      return parent.operator === '+' ? useOf(parent) : null
    case 'Property':
      return parent.value === node && !parent.computed && readProperties.has(nameOf(parent.key))
        ? 'read'
        : null
    case 'CallExpression': {
      const [first] = parent.arguments
      if (parent.callee.property?.name === 'setAttribute') {
        return first !== node && readAttributes.has(first?.value) ? 'read' : null
      }
      return tellers.has(parent.callee.name) ? 'read' : null
    }
    default:
      return null
  }
}

const hasLetters = (text) => /\p{L}/u.test(text)

const isThrown = (node) =>
  node.type === 'NewExpression' && /^(Range|Type)?Error$/.test(node.callee.name ?? '')
const isLogged = (node) => node.type === 'CallExpression' && node.callee.object?.name === 'console'
const sql = /\b(?:SELECT|INSERT|UPDATE|DELETE|CREATE|ALTER TABLE|BEGIN|DROP|PRAGMA|ATTACH|VACUUM|SAVEPOINT)\b/

export default {
  meta: {
    type: 'problem',
    schema: [],
    messages: { no: 'A sentence outside shared-core/wording: “{{text}}”' },
  },
  create(context) {
    const file = path.relative(context.cwd, context.filename).split(path.sep).join('/')
    const isIn = (folders) => folders.some((folder) => file.startsWith(folder))
    const isWindow = isIn(judgedWindow)
    if (!isWindow && !isIn(judged)) return {}
    if (Object.keys(letOut).some((start) => file.startsWith(start))) return {}
    const report = (node, text) =>
      context.report({
        node,
        messageId: 'no',
        data: { text: readOf(text).replaceAll(place, '…').slice(0, 80) },
      })
    const check = (node) => {
      const { parent } = node
      if (parent.type === 'BinaryExpression' && parent.operator === '+') return
      if (
        /^(Import|Export|TSLiteralType|TSImportType)/.test(parent.type) ||
        isThrown(parent) ||
        isLogged(parent)
      ) {
        return
      }
      const text = textOf(node)
      if (text === null || sql.test(text)) return
      const use = isWindow ? useOf(node) : null
      if (use === 'read' ? hasLetters(text) : use !== 'wordless' && isSentence(text)) report(node, text)
    }
    return {
      Literal: check,
      TemplateLiteral: check,
      BinaryExpression: check,
      JSXText: (node) => {
        if (isWindow ? hasLetters(node.value) : isSentence(node.value)) report(node, node.value)
      },
    }
  },
}
