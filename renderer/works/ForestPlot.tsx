import { formatMetric, metricLabel, metricUnit, type UnitSystem } from '../../shared-core/units.ts'
import type { StudentChange, WorksMetric, WorksRow } from '../../shared-core/students/what-works.ts'
import { worksWords } from '../../shared-core/wording/window/works.ts'

/** Each student's change with its interval about zero, and all together; a table, so that it is read aloud as one. */
export function ForestPlot(props: { row: WorksRow; found: WorksMetric; units: UnitSystem }) {
  const { row, found, units } = props
  const { metric, students, summary } = found
  const ends = [
    ...students.flatMap((s) => s.ci95 ?? [s.change]),
    ...(summary?.ci ?? []),
    ...(summary?.prediction ?? []),
  ].map(Math.abs)
  // A student of three shots may have an interval that would press all others flat: it is cut at the edge.
  const reach = Math.min(Math.max(...ends), 3 * Math.max(...students.map((s) => Math.abs(s.change)), 1e-9))
  const at = (value: number) => 50 + 48 * Math.max(-1, Math.min(1, value / reach))
  const text = (value: number, ci: readonly [number, number] | null) =>
    formatMetric(metric, value, units, { signed: true, sd: ci && (ci[1] - ci[0]) / 3.92 }).text
  const span = (ci: readonly [number, number] | null) =>
    ci === null
      ? worksWords('noInterval')
      : worksWords('fromTo', { from: text(ci[0], ci), to: text(ci[1], ci) })
  const unit = metricUnit(metric, units)
  return (
    <table className="forest">
      <caption className="unseen">
        {worksWords('changeOfEach', { metric: metricLabel(metric), label: row.label })}
      </caption>
      <thead>
        <tr className="soft fine">
          <th scope="col">{worksWords('student')}</th>
          <th scope="col">{worksWords('shots')}</th>
          <th scope="col" aria-hidden>
            {worksWords('lessMore')}
          </th>
          <th scope="col" className="number">
            {worksWords('changeUnit', { unit: unit ? `, ${unit}` : '' })}
          </th>
          <th scope="col" className="number">
            {worksWords('interval95')}
          </th>
        </tr>
      </thead>
      <tbody>
        {students.map((student) => (
          <tr key={student.studentId}>
            <th scope="row">{student.name}</th>
            <td className="soft fine">{shotsWords(student)}</td>
            <td className="forest-plot">
              <svg aria-hidden>
                <line x1="50%" x2="50%" y1="0" y2="100%" className="forest-zero" />
                {student.ci95 && (
                  <line
                    x1={`${at(student.ci95[0])}%`}
                    x2={`${at(student.ci95[1])}%`}
                    y1="50%"
                    y2="50%"
                    className="forest-span"
                  />
                )}
                <circle cx={`${at(student.change)}%`} cy="50%" r="4" className="forest-dot" />
              </svg>
            </td>
            <td className="number">{text(student.change, student.ci95)}</td>
            <td className="number soft">{span(student.ci95)}</td>
          </tr>
        ))}
      </tbody>
      {summary && (
        <tfoot>
          <tr>
            <th scope="row">{worksWords('allTogether')}</th>
            <td className="soft fine">{worksWords('students', { k: summary.k })}</td>
            <td className="forest-plot">
              <svg aria-hidden>
                <line x1="50%" x2="50%" y1="0" y2="100%" className="forest-zero" />
                <line
                  x1={`${at(summary.ci[0])}%`}
                  x2={`${at(summary.ci[1])}%`}
                  y1="50%"
                  y2="50%"
                  className="forest-all"
                />
                <circle cx={`${at(summary.estimate)}%`} cy="50%" r="5" className="forest-middle" />
              </svg>
            </td>
            <td className="number">{text(summary.estimate, summary.ci)}</td>
            <td className="number">{span(summary.ci)}</td>
          </tr>
          {summary.prediction && (
            <tr className="soft">
              <th scope="row">{worksWords('oneStudentMore')}</th>
              <td />
              <td className="forest-plot">
                <svg aria-hidden>
                  <line x1="50%" x2="50%" y1="0" y2="100%" className="forest-zero" />
                  <line
                    x1={`${at(summary.prediction[0])}%`}
                    x2={`${at(summary.prediction[1])}%`}
                    y1="50%"
                    y2="50%"
                    className="forest-next"
                  />
                </svg>
              </td>
              <td />
              <td className="number">{span(summary.prediction)}</td>
            </tr>
          )}
        </tfoot>
      )}
    </table>
  )
}

const shotsWords = ({ n, lessons }: StudentChange): string =>
  `${n[0]} + ${n[1]}${lessons > 1 ? worksWords('ofLessons', { lessons }) : ''}`
