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
import { commonTexts } from '../../../shared-core/wording/command-line/common.ts'
import { worksTexts } from '../../../shared-core/wording/command-line/works.ts'

interface Options {
  json?: boolean
  library?: string
  club?: string
  units?: UnitSystem
}

/** What came with each focus and cue across the coach's students; no names, on paper or in a file. */
export const worksCommand = (): Command =>
  new Command('works')
    .description(worksTexts('whatWorksWithMy'))
    .option('--club <code>', worksTexts('clubLookedAtSuch'))
    .addOption(new Option('--units <units>', commonTexts('unitsShown')).choices([...unitSystems]))
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
    worksTexts('whatWorksWithMyStudents', { club: clubWords(works.club), students: works.students }),
    ...said.flatMap((row) => [
      '',
      worksTexts(row.kind === 'focus' ? 'focus' : 'cue', { label: row.label }),
      ...row.metrics
        .filter((m) => m.students.length > 0)
        .map((m) => {
          const { short, isSure } = worksText(row, m, wording, works.lookedAt)
          return worksTexts(isSure ? 'isClear' : 'isSaid', { metric: metricLabel(m.metric), short })
        }),
    ]),
    ...(few.length > 0
      ? [
          '',
          worksTexts('tooFew', {
            minStudents,
            few: few.map((row) => `${row.label} (${row.students})`).join(', '),
          }),
        ]
      : []),
    ...(works.rows.length === 0 ? ['', worksTexts('noFocusOrCue')] : []),
    '',
    ...worksWarnings(works),
    worksMethod(works),
    worksTexts('source', { worksSource }),
  ]
}
