import path from 'node:path'

/**
 * ESLint rule: what a person reads is made in `shared-core/wording`. A literal sentence elsewhere in the core or in the
 * hand-over can be said in one language only.
 *
 * A sentence is text with two words beside each other that begins with a capital or has a stop, or that is four words long.
 * Not judged: what is thrown as a plain Error (a bug, nobody's words), the names of publications (text with a year), tags,
 * attributes and styles of a page (what stands between its tags is judged), types and imports.
 */
const judged = ['shared-core/', 'electron/library/hand-over/']

/** Files that are let out, each with the reason. */
export const letOut = {
  'shared-core/wording/': 'this is where sentences are made',
  'shared-core/contract/': 'says to whoever reads the contract why a change is not undoable; shown nowhere',
  'shared-core/shots/column-names.ts': 'words of other programs’ files, read and never said',
  'shared-core/shots/more-column-names.ts': 'words of other programs’ files, read and never said',
  'shared-core/shots/summary-row-word.ts': 'words of other programs’ files, read and never said',
}
/** Texts that are let out, wherever they stand. */
const texts = {
  'WEBVTT …': 'the head of a file of captions (W3C WebVTT)',
  'Source Sans 3': 'a font',
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

const isThrown = (node) =>
  node.type === 'NewExpression' && /^(Range|Type)?Error$/.test(node.callee.name ?? '')

export default {
  meta: {
    type: 'problem',
    schema: [],
    messages: { no: 'A sentence outside shared-core/wording: “{{text}}”' },
  },
  create(context) {
    const file = path.relative(context.cwd, context.filename).split(path.sep).join('/')
    if (!judged.some((folder) => file.startsWith(folder))) return {}
    if (Object.keys(letOut).some((start) => file.startsWith(start))) return {}
    const check = (node) => {
      const { parent } = node
      if (parent.type === 'BinaryExpression' && parent.operator === '+') return
      if (/^(Import|Export|TSLiteralType|TSImportType)/.test(parent.type) || isThrown(parent)) return
      const text = textOf(node)
      if (text === null || !isSentence(text)) return
      context.report({
        node,
        messageId: 'no',
        data: { text: readOf(text).replaceAll(place, '…').slice(0, 80) },
      })
    }
    return {
      Literal: check,
      TemplateLiteral: check,
      BinaryExpression: check,
      JSXText: (node) => {
        if (isSentence(node.value)) {
          context.report({ node, messageId: 'no', data: { text: node.value.trim().slice(0, 80) } })
        }
      },
    }
  },
}
