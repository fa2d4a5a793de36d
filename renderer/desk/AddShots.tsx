import { useEffect, useState } from 'react'
import type { ColumnMapping } from '../../shared-core/shots/read-shots-options.ts'
import type { ColumnQuestion } from '../../shared-core/shots/summary-of-columns.ts'
import { dimensionOf } from '../../shared-core/shots/column-names.ts'
import { unitNames } from '../../shared-core/shots/unit.ts'
import { metricNames, type MetricName } from '../../shared-core/model/shot.ts'
import { metricLabel } from '../../shared-core/units.ts'
import { addShotsWords } from '../../shared-core/wording/window/add-shots.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { andList, sayWord } from '../../shared-core/wording/phrase.ts'
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
  { value: 'club', label: addShotsWords('target.club') },
  { value: 'at', label: addShotsWords('target.at') },
  { value: 'date', label: addShotsWords('target.date') },
  { value: 'time', label: addShotsWords('target.time') },
  { value: 'block', label: addShotsWords('target.block') },
  { value: 'shotNumber', label: addShotsWords('target.shotNumber') },
]

const mappingOf = ({ target, unit }: Answer): ColumnMapping | null => {
  if (target === 'keep') return null
  if (target === 'ignore') return 'ignore'
  if (textTargets.some((t) => t.value === target)) return target as ColumnMapping
  return { metric: target as MetricName, ...(unit ? { unit } : {}) }
}

const whatToCheck = (columns: number, twice: number): string =>
  sayWord(
    andList([
      ...(columns > 0 ? [addShotsWords('columns', { count: columns })] : []),
      ...(twice > 0 ? [addShotsWords('rowsTwice', { count: twice })] : []),
    ]),
  )

const linesInWords = (lines: readonly number[]): string =>
  lines.length <= 4
    ? lines.join(', ')
    : addShotsWords('firstLines', { lines: lines.slice(0, 4).join(', '), count: lines.length - 4 })

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
      title={addShotsWords('check', {
        shots: preview.shots.length,
        what: whatToCheck(questions.length, twice),
      })}
      onClose={leave}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={leave} />
          <Action tone="lead" label={addShotsWords('addShots')} onPress={() => void add()} />
        </>
      }
    >
      {twice > 0 && (
        <div className="note-box note-box-ask">
          <p>{addShotsWords('askTwice', { count: twice, lines: linesInWords(preview.doubledLines) })}</p>
          <Choice
            label={addShotsWords('areTwice')}
            value={doubled}
            options={[
              { value: 'once', label: addShotsWords('twiceOnce') },
              { value: 'all', label: addShotsWords('twiceAll') },
            ]}
            onChange={setDoubled}
          />
        </div>
      )}
      {questions.length > 0 && (
        <>
          <p className="soft">{addShotsWords('allUnderstood')}</p>
          <table className="columns-table">
            <thead>
              <tr>
                <th>{addShotsWords('column')}</th>
                <th>{addShotsWords('looksLike')}</th>
                <th>{addShotsWords('itIs')}</th>
                <th>{addShotsWords('inUnit')}</th>
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
                        label={addShotsWords('whatIs', { column: q.header })}
                        value={answer.target}
                        options={[
                          { value: 'keep', label: addShotsWords('keepAsText') },
                          { value: 'ignore', label: addShotsWords('leaveOut') },
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
                          label={addShotsWords('unitOf', { column: q.header })}
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
              {p.column
                ? addShotsWords('faultInColumn', { line: p.line, column: p.column, fault: p.message })
                : addShotsWords('faultAtLine', { line: p.line, fault: p.message })}
            </div>
          ))}
          {others.length > 5 && <div>{addShotsWords('moreLines', { count: others.length - 5 })}</div>}
        </div>
      )}
    </Window>
  )
}
