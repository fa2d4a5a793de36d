import path from 'node:path'

/**
 * ESLint rule: the folders' rules of DEVELOPERS.md ("Where the code lives"), checked.
 * Each folder has an allow-list; an import that is not on it is an error, type imports included.
 * A new package therefore gets a decision (one line here), not a drift.
 */
const corePackages = [
  'zod',
  'papaparse',
  'pure-rand',
  'ml-matrix',
  'simple-statistics',
  'fft.js',
  'react',
  'intl-messageformat',
  /^@stdlib\//,
]

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
    // What React makes of the student's page is text; nothing else of it is wanted here.
    forbidden: ['react', /^react-dom(?!\/server$)/],
    says: 'electron/ does not import from renderer/',
  },
]

/**
 * Inside a folder the arrows run one way: a file imports from its own level or from a later one. All that lies there is named,
 * or the linter says so. Types of the context's own services (the queue, the reports) are the exception: it holds them, it runs none.
 */
const levels = {
  'electron/library': [
    ['start.ts'],
    ['process.ts'],
    ['host.ts', 'library-place.ts'],
    ['library.ts'],
    ['handlers', 'sweep.ts', 'starter-records.ts'],
    ['live'],
    ['hand-over', 'jobs', 'queries', 'exchange', 'custody', 'deletion'],
    ['body', 'following', 'reporter.ts', 'report-worker.ts'],
    ['report-kinds.ts', 'run-in-thread.ts'],
    ['media', 'moments', 'scene', 'coach'],
    ['database', 'migrations', 'process-registry.ts', 'disk-full.ts'],
    ['context.ts'],
  ],
  renderer: [
    ['main.tsx', 'css.d.ts'],
    ['app'],
    ['desk', 'roster', 'hand-over', 'season', 'works', 'live', 'talk', 'keys'],
    ['parts'],
    ['store'],
    ['stage-engine'],
    ['theme'],
  ],
}
const isContext = (file) => file === 'electron/library/context.ts'
const levelOf = (folder, order, file) =>
  order.findIndex((names) => names.includes(file.slice(folder.length + 1).split('/')[0]))

/** What is said of a file that stands in no level; undefined where it stands in one, or in none of these folders. */
const unnamed = (file) => {
  for (const [folder, order] of Object.entries(levels)) {
    if (file.startsWith(`${folder}/`) && !isContext(file) && levelOf(folder, order, file) < 0) {
      return `${file} stands in no level of ${folder}: name it in scripts/lint/boundaries.js`
    }
  }
  return undefined
}

/** How a later level is imported upwards, in words; undefined where the import is in order. */
const upwards = (file, target) => {
  for (const [folder, order] of Object.entries(levels)) {
    if (!file.startsWith(`${folder}/`) || !target.startsWith(`${folder}/`) || isContext(file)) continue
    const [from, to] = [levelOf(folder, order, file), levelOf(folder, order, target)]
    if (from >= 0 && to >= 0 && to < from) {
      return `in ${folder} the order is ${order.map((names) => names.join(', ')).join(' → ')}; no import runs back up`
    }
  }
  return undefined
}

const matches = (list, name) =>
  list.some((entry) =>
    typeof entry === 'string' ? name === entry || name.startsWith(`${entry}/`) : entry.test(name),
  )

export default {
  meta: { type: 'problem', schema: [], messages: { no: '{{says}} (found "{{source}}")', level: '{{says}}' } },
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
        const says = upwards(file, target.split(path.sep).join('/'))
        if (says) context.report({ node, messageId: 'no', data: { says, source } })
      } else if (rule.packages) ok = matches(rule.packages, source)
      else ok = !matches(rule.forbidden, source)
      if (!ok) context.report({ node, messageId: 'no', data: { says: rule.says, source } })
    }
    return {
      Program: (node) => {
        const says = unnamed(file)
        if (says) context.report({ node, messageId: 'level', data: { says } })
      },
      ImportDeclaration: (node) => check(node, node.source.value),
      ExportNamedDeclaration: (node) => node.source && check(node, node.source.value),
      ExportAllDeclaration: (node) => check(node, node.source.value),
      ImportExpression: (node) => check(node, node.source.value),
      TSImportType: (node) => check(node, node.source?.value ?? node.argument?.literal?.value),
    }
  },
}
