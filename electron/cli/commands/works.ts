import { Command, Option } from 'commander'
import { clubWords } from '../../../shared-core/model/club.ts'
import { minStudents } from '../../../shared-core/students/what-works.ts'
import type { WhatWorks } from '../../../shared-core/students/what-works.ts'
import {
  worksMethod,
  worksSource,
  worksText,
  worksWarnings,
  withoutNames,
} from '../../../shared-core/students/what-works-words.ts'
import { metricLabel, unitSystems, type UnitSystem } from '../../../shared-core/units.ts'
import { makeOutput } from '../output.ts'
import { withLibrary } from '../with-library.ts'

interface Options {
  json?: boolean
  library?: string
  club?: string
  units?: UnitSystem
}

/** What came with each focus and cue across the coach's students; no names, on paper or in a file. */
export const worksCommand = (): Command =>
  new Command('works')
    .description(
      'what works with my students: what came with each focus and cue, across students, without names',
    )
    .option('--club <code>', 'club looked at, such as driver or 7-iron (default: the one hit most)')
    .addOption(new Option('--units <units>', 'units shown').choices([...unitSystems]))
    .action(async (options: Options) => {
      const output = makeOutput(Boolean(options.json))
      await withLibrary(options.library, output, async (library) => {
        const works = withoutNames(
          (await library.ask('works.report', { club: options.club, units: options.units })) as WhatWorks,
        )
        output.result(works, worksLines(works))
      })
    })

const worksLines = (works: WhatWorks): string[] => {
  const wording = { units: works.units }
  const said = works.rows.filter((row) => row.metrics.some((m) => m.summary !== null))
  const few = works.rows.filter((row) => !said.includes(row))
  return [
    `What works with my students, with the ${clubWords(works.club)}: ${works.students} students whose consent allows it`,
    ...said.flatMap((row) => [
      '',
      `${row.kind === 'focus' ? 'Focus' : 'Cue'} “${row.label}”`,
      ...row.metrics
        .filter((m) => m.students.length > 0)
        .map((m) => {
          const { short, isSure } = worksText(row, m, wording, works.lookedAt)
          return `  ${metricLabel(m.metric)}: ${short}${isSure ? ', clear' : ''}`
        }),
    ]),
    ...(few.length > 0
      ? [
          '',
          `Fewer than ${minStudents} students: ${few.map((row) => `${row.label} (${row.students})`).join(', ')}`,
        ]
      : []),
    ...(works.rows.length === 0
      ? ['', 'No focus or cue can be held against a baseline yet: it takes three shots on either side.']
      : []),
    '',
    ...worksWarnings(works),
    worksMethod(works),
    `Source: ${worksSource}`,
  ]
}
