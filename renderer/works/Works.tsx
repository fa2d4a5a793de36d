import { useEffect, useMemo, useState } from 'react'
import { clubWords } from '../../shared-core/model/club.ts'
import {
  withoutNames,
  worksMethod,
  worksSource,
  worksText,
  worksWarnings,
} from '../../shared-core/students/what-works-words.ts'
import {
  minStudents,
  worksMetrics,
  type WhatWorks,
  type WorksMetricName,
  type WorksRow,
} from '../../shared-core/students/what-works.ts'
import { metricLabel } from '../../shared-core/units.ts'
import { BackToRoster } from '../parts/BackToRoster.tsx'
import { Check } from '../parts/Check.tsx'
import { Choice } from '../parts/Choice.tsx'
import { Pick } from '../parts/Pick.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { ForestPlot } from './ForestPlot.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { worksWords } from '../../shared-core/wording/window/works.ts'
import './works.css'

/** Across the coach's students: what came with each focus and cue. For the coach alone; names are hidden until asked for. */
export function Works() {
  const [club, setClub] = useState<string | null | undefined>(undefined)
  const [metric, setMetric] = useState<WorksMetricName>('clubSpeedMps')
  const [withNames, setWithNames] = useState(false)
  const found = useWorks(club)
  const works = useMemo(() => (found && !withNames ? withoutNames(found) : found), [found, withNames])
  return (
    <>
      <header className="bar">
        <BackToRoster />
        <h1>{commonWords('whatWorks')}</h1>
        <span className="bar-sub">{worksWords('withMyStudents')}</span>
        <span className="push" />
        {works && works.rows.length > 0 && (
          <Check isOn={withNames} onChange={setWithNames}>
            {worksWords('names')}
          </Check>
        )}
        {works && works.clubs.length > 1 && (
          <div className="bar-units">
            <Pick
              hideLabel
              label={commonWords('club')}
              value={works.club ?? ''}
              options={works.clubs.map((c) => ({
                value: c.club ?? '',
                label: `${clubWords(c.club)} (${c.shots})`,
              }))}
              onChange={(code) => setClub(code === '' ? null : code)}
            />
          </div>
        )}
      </header>
      <main className="screen-body works">
        {works && works.rows.length === 0 && <NothingYet works={works} />}
        {works && works.rows.length > 0 && (
          <>
            <div className="works-head">
              <Choice
                label={worksWords('number')}
                value={metric}
                options={worksMetrics.map((value) => ({ value, label: metricLabel(value) }))}
                onChange={setMetric}
              />
              <p className="soft fine">
                {worksWords('ofStudentsAndClub', {
                  students: works.students,
                  club: clubWords(works.club),
                })}
              </p>
            </div>
            <Rows works={works} metric={metric} />
            <Warnings works={works} />
          </>
        )}
      </main>
    </>
  )
}

const useWorks = (club: string | null | undefined): WhatWorks | null => {
  const [works, setWorks] = useState<WhatWorks | null>(null)
  useEffect(() => {
    const load = () =>
      void telling(ask('works.report', { club })).then((answer) => answer && setWorks(answer as WhatWorks))
    load()
    return bridge().on('roster.changed', load)
  }, [club])
  return works
}

function NothingYet({ works }: { works: WhatWorks }) {
  return (
    <div className="empty">
      <h2>{worksWords('nothingYet')}</h2>
      <p className="soft">
        {worksWords('whatItTakes', {
          minStudents,
          students: works.students,
          withoutConsent:
            works.withoutConsent > 0 ? worksWords('withoutConsent', { students: works.withoutConsent }) : '',
        })}
      </p>
    </div>
  )
}

/** Those of which something can be said, each with its picture; the others in one line. */
function Rows({ works, metric }: { works: WhatWorks; metric: WorksMetricName }) {
  const hasSummary = (row: WorksRow) => row.metrics.some((m) => m.metric === metric && m.summary !== null)
  const said = works.rows.filter(hasSummary)
  const few = works.rows.filter((row) => !hasSummary(row))
  return (
    <>
      {said.length === 0 && (
        <p>{worksWords('noneWithEnough', { minStudents, metric: metricLabel(metric) })}</p>
      )}
      {said.map((row) => (
        <RowPanel key={`${row.kind} ${row.key}`} row={row} works={works} metric={metric} />
      ))}
      {few.length > 0 && (
        <p className="soft">
          {worksWords('tooFew', {
            minStudents,
            few: few
              .map((row) => `${row.label} (${row.metrics.find((m) => m.metric === metric)!.students.length})`)
              .join(', '),
          })}
        </p>
      )}
    </>
  )
}

function RowPanel({ row, works, metric }: { row: WorksRow; works: WhatWorks; metric: WorksMetricName }) {
  const found = row.metrics.find((m) => m.metric === metric)!
  const text = worksText(row, found, { units: works.units }, works.lookedAt)
  return (
    <section className={`works-row panel${text.isSure ? ' is-sure' : ''}`} aria-label={row.label}>
      <div className="works-said">
        <h2>
          {row.label} <span className="soft fine">{row.kind}</span>
        </h2>
        <p className="works-short">{text.short}</p>
        <p>{text.sentence}</p>
        <p className="soft fine">{text.howSure}</p>
      </div>
      <ForestPlot row={row} found={found} units={works.units} />
    </section>
  )
}

function Warnings({ works }: { works: WhatWorks }) {
  return (
    <section className="works-warnings note-box" aria-label={worksWords('mind')}>
      <h2>{worksWords('mind')}</h2>
      <ul>
        {worksWarnings(works).map((warning) => (
          <li key={warning}>{warning}</li>
        ))}
      </ul>
      <details className="fine">
        <summary>{commonWords('howDoWeKnow')}</summary>
        <p>{worksMethod(works)}</p>
        <p>{worksSource}</p>
      </details>
    </section>
  )
}
