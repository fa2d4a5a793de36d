import path from 'node:path'

/**
 * ESLint rule: the folders' rules of DEVELOPERS.md ("Where the code lives"), checked.
 * Each folder has an allow-list; an import that is not on it is an error, type imports included.
 * A new package therefore gets a decision (one line here), not a drift.
 */
const corePackages = ['zod', 'papaparse', 'pure-rand', 'ml-matrix', 'simple-statistics', /^@stdlib\//]

const rules = [
  {
    folder: 'shared-core',
    folders: ['shared-core'],
    packages: corePackages,
    says: 'shared-core is pure: it imports only itself and the packages listed in scripts/lint/boundaries.js',
  },
  {
    folder: 'renderer',
    folders: ['renderer', 'shared-core'],
    forbidden: [/^node:/, 'electron', 'better-sqlite3', 'fluent-ffmpeg', /^@napi-rs\//],
    says: 'the renderer has no Node and meets electron/ only in shared-core/contract',
  },
  {
    folder: 'electron',
    folders: ['electron', 'shared-core'],
    forbidden: ['react', 'react-dom', 'react-konva'],
    says: 'electron/ does not import from renderer/',
  },
]

const matches = (list, name) =>
  list.some((entry) =>
    typeof entry === 'string' ? name === entry || name.startsWith(`${entry}/`) : entry.test(name),
  )

export default {
  meta: { type: 'problem', schema: [], messages: { no: '{{says}} (found "{{source}}")' } },
  create(context) {
    const root = context.cwd
    const file = path.relative(root, context.filename).split(path.sep).join('/')
    const rule = rules.find((r) => file.startsWith(`${r.folder}/`))
    if (!rule) return {}
    const check = (node, source) => {
      if (typeof source !== 'string') return
      let ok
      if (source.startsWith('.')) {
        const target = path.relative(root, path.resolve(path.dirname(context.filename), source))
        const folder = target.split(path.sep)[0]
        ok = rule.folders.includes(folder)
      } else if (rule.packages) ok = matches(rule.packages, source)
      else ok = !matches(rule.forbidden, source)
      if (!ok) context.report({ node, messageId: 'no', data: { says: rule.says, source } })
    }
    return {
      ImportDeclaration: (node) => check(node, node.source.value),
      ExportNamedDeclaration: (node) => node.source && check(node, node.source.value),
      ExportAllDeclaration: (node) => check(node, node.source.value),
      ImportExpression: (node) => check(node, node.source.value),
      TSImportType: (node) => check(node, node.source?.value ?? node.argument?.literal?.value),
    }
  },
}
