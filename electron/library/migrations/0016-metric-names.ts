/** Old and new name of a metric or finding, as they stand inside JSON texts. The columns of `shot` keep their names. */
const renamed = [
  ['startLineDeg', 'launchDirectionDeg'],
  ['landDeg', 'descentDeg'],
  ['loftDeg', 'dynamicLoftDeg'],
  ['change:bounce-back:', 'change:regression-to-mean:'],
] as const

const inNewNames = (column: string): string =>
  `${column} = ${renamed.reduce((text, [before, after]) => `replace(${text}, '${before}', '${after}')`, column)}`

const places: readonly (readonly [table: string, columns: readonly string[]])[] = [
  ['shot', ['flags', 'assumed']],
  ['hand_over_draft', ['draft']],
  ['hand_over', ['draft']],
  ['setting', ['value']],
  ['edit_row', ['before', 'after']],
]

/** Metrics by the names that golf uses for them, wherever a text of the library names one; undo and redo included. */
export const newMetricNames = {
  version: 16,
  name: 'metric-names',
  sql: places
    .map(([table, columns]) => `UPDATE ${table} SET ${columns.map(inNewNames).join(', ')};`)
    .join('\n'),
} as const
