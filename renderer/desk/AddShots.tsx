import { useEffect, useState } from 'react'
import type { ColumnMapping } from '../../shared-core/shots/read-shots-options.ts'
import type { ColumnQuestion } from '../../shared-core/shots/summary-of-columns.ts'
import { dimensionOf } from '../../shared-core/shots/column-names.ts'
import { unitNames } from '../../shared-core/shots/unit.ts'
import { metricNames, type MetricName } from '../../shared-core/model/shot.ts'
import { metricLabel } from '../../shared-core/units.ts'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { Pick } from '../parts/Pick.tsx'
import { Window } from '../parts/Window.tsx'
import { ask } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { addShots, addTables } from '../store/adding.ts'
import { telling } from '../store/messages.ts'
import { questionsOf, type ShotsPreview } from '../store/shots-preview.ts'

interface Answer {
  target: string
  unit: string | null
}

const textTargets = [
  { value: 'club', label: 'club' },
  { value: 'at', label: 'date and time' },
  { value: 'date', label: 'date' },
  { value: 'time', label: 'time of day' },
  { value: 'block', label: 'block' },
  { value: 'shotNumber', label: 'number of the shot' },
]

const mappingOf = ({ target, unit }: Answer): ColumnMapping | null => {
  if (target === 'keep') return null
  if (target === 'ignore') return 'ignore'
  if (textTargets.some((t) => t.value === target)) return target as ColumnMapping
  return { metric: target as MetricName, ...(unit ? { unit } : {}) }
}

const whatToCheck = (columns: number, twice: number): string =>
  [
    ...(columns > 0 ? [columns === 1 ? 'one column' : `${columns} columns`] : []),
    ...(twice > 0 ? [twice === 1 ? 'a row that stands twice' : 'rows that stand twice'] : []),
  ].join(' and ')

const linesInWords = (lines: readonly number[]): string =>
  lines.length <= 4 ? lines.join(', ') : `${lines.slice(0, 4).join(', ')} and ${lines.length - 4} more`

/** Asks the coach what the file itself does not tell: columns nobody knows, units that were guessed, rows that stand twice. */
export function AddShots({
  lessonId,
  file,
  rest,
}: {
  lessonId: string
  file: string
  /** Files that wait for this one. */
  rest: readonly string[]
}) {
  const leave = () => {
    closeDialog()
    void addTables(lessonId, rest)
  }
  const [preview, setPreview] = useState<ShotsPreview | null>(null)
  const [answers, setAnswers] = useState<Record<string, Answer>>({})
  const [doubled, setDoubled] = useState<'once' | 'all'>('once')
  useEffect(() => {
    void telling(ask('shots.preview', { file })).then((answer) => {
      if (answer) setPreview(answer as ShotsPreview)
      else leave()
    })
    // Only another file is read again; leaving is the same for all.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [file])
  if (!preview) return null
  const questions = questionsOf(preview)
  const twice = preview.doubledLines.length
  const others = preview.problems.filter(
    (p) => p.kind !== 'assumed' && !(p.column === null && preview.doubledLines.includes(p.line)),
  )
  const answerOf = (q: ColumnQuestion): Answer =>
    answers[q.header] ?? { target: q.target ?? 'keep', unit: q.unit }
  const set = (q: ColumnQuestion, patch: Partial<Answer>) =>
    setAnswers({ ...answers, [q.header]: { ...answerOf(q), ...patch } })
  const add = async () => {
    const mapping: Record<string, ColumnMapping> = {}
    for (const q of questions) {
      const said = mappingOf(answerOf(q))
      if (said) mapping[q.header] = said
    }
    closeDialog()
    await addShots(lessonId, file, { mapping, doubled })
    await addTables(lessonId, rest)
  }
  return (
    <Window
      wide
      title={`${preview.shots.length} shots: please check ${whatToCheck(questions.length, twice)}`}
      onClose={leave}
      foot={
        <>
          <Action label="Cancel" onPress={leave} />
          <Action tone="lead" label="Add the shots" onPress={() => void add()} />
        </>
      }
    >
      {twice > 0 && (
        <div className="note-box note-box-ask">
          <p>
            {twice === 1 ? 'One row says' : `${twice} rows say`} the same as another, value for value (
            {twice === 1 ? 'line' : 'lines'} {linesInWords(preview.doubledLines)}).{' '}
            {twice === 1 ? 'Is it the same shot' : 'Are they the same shots'} listed twice?
          </p>
          <Choice
            label="Rows that stand twice"
            value={doubled}
            options={[
              { value: 'once', label: 'The same, take once' },
              { value: 'all', label: 'Shots of their own, take all' },
            ]}
            onChange={setDoubled}
          />
        </div>
      )}
      {questions.length > 0 && (
        <>
          <p className="soft">
            Everything else in the file was understood. Columns you leave as they are stay beside the shot,
            word for word.
          </p>
          <table className="columns-table">
            <thead>
              <tr>
                <th>Column</th>
                <th>Looks like</th>
                <th>It is</th>
                <th>In</th>
              </tr>
            </thead>
            <tbody>
              {questions.map((q) => {
                const answer = answerOf(q)
                const isNumber = (metricNames as readonly string[]).includes(answer.target)
                const units = isNumber
                  ? unitNames(dimensionOf[answer.target as MetricName]).filter(Boolean)
                  : []
                return (
                  <tr key={q.header}>
                    <td>
                      <b>{q.header}</b>
                    </td>
                    <td className="soft">{q.samples.slice(0, 3).join(', ')}</td>
                    <td>
                      <Pick
                        hideLabel
                        label={`What ${q.header} is`}
                        value={answer.target}
                        options={[
                          { value: 'keep', label: 'keep it as text' },
                          { value: 'ignore', label: 'leave it out' },
                          ...textTargets,
                          ...metricNames.map((name) => ({ value: name, label: metricLabel(name) })),
                          ...(q.target &&
                          !(metricNames as readonly string[]).includes(q.target) &&
                          !textTargets.some((t) => t.value === q.target)
                            ? [{ value: q.target, label: q.target }]
                            : []),
                        ]}
                        onChange={(target) => set(q, { target, unit: target === q.target ? q.unit : null })}
                      />
                    </td>
                    <td>
                      {units.length > 1 && (
                        <Pick
                          hideLabel
                          label={`Unit of ${q.header}`}
                          value={answer.unit ?? units[0]!}
                          options={units.map((unit) => ({ value: unit, label: unit }))}
                          onChange={(unit) => set(q, { unit })}
                        />
                      )}
                    </td>
                  </tr>
                )
              })}
            </tbody>
          </table>
        </>
      )}
      {others.length > 0 && (
        <div className="note-box note-box-ask fine">
          {others.slice(0, 5).map((p, i) => (
            <div key={i}>
              Line {p.line}
              {p.column ? `, ${p.column}` : ''}: {p.message}
            </div>
          ))}
          {others.length > 5 && <div>and {others.length - 5} more lines like these</div>}
        </div>
      )}
    </Window>
  )
}
