import { createContext, useContext, useEffect, useMemo, useState } from 'react'
import type { Finding } from '../../shared-core/change/findings.ts'
import { clubWords } from '../../shared-core/model/club.ts'
import type { SeasonClub, SeasonLesson, SeasonView } from '../../shared-core/report/season-view.ts'
import { seasonInStudentWords } from '../../shared-core/report/student-words.ts'
import { metricLabel, metricText, type UnitSystem } from '../../shared-core/units.ts'
import { Action } from '../parts/Action.tsx'
import { BackToRoster } from '../parts/BackToRoster.tsx'
import { Chart } from '../parts/Chart.tsx'
import { Check } from '../parts/Check.tsx'
import { FindingText } from '../parts/FindingText.tsx'
import { Pick } from '../parts/Pick.tsx'
import { dateText } from '../roster/LessonRow.tsx'
import { ask, bridge } from '../store/bridge.ts'
import type { Language } from '../../shared-core/wording/language.ts'
import { sayIn } from '../../shared-core/wording/say.ts'
import { goTo } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'
import { Stills } from './Stills.tsx'
import { levelChart, levelWords } from './level-chart.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { seasonWords } from '../../shared-core/wording/window/season.ts'
import './season.css'

/** Findings as the student reads them, for a screen that both look at. */
const StudentWords = createContext<Language | null>(null)

function SaidTexts({ findings }: { findings: readonly Finding[] }) {
  const language = useContext(StudentWords)
  const said = language === null ? findings : seasonInStudentWords(findings, sayIn(language))
  return said.map((finding, index) => <FindingText key={index} finding={finding} />)
}

/** One student's lessons over time: levels, trends, what was kept, what was to be practised. */
export function Season({ studentId }: { studentId: string }) {
  const [season, setSeason] = useState<SeasonView | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [isForStudent, setForStudent] = useState(false)
  useEffect(() => {
    const load = () =>
      void telling(ask('season.report', { studentId })).then((answer) => {
        if (answer) setSeason(answer as SeasonView)
      })
    load()
    return bridge().on('roster.changed', load)
  }, [studentId])
  const club = season?.clubs.find((c) => clubKey(c) === chosen) ?? season?.clubs[0] ?? null
  return (
    <>
      <header className="bar">
        <BackToRoster />
        <h1>{commonWords('season')}</h1>
        <span className="bar-sub">{season?.student.name}</span>
        <span className="push" />
        {club && (
          <Check isOn={isForStudent} onChange={setForStudent}>
            {seasonWords('inStudentsWords')}
          </Check>
        )}
        {season && season.clubs.length > 1 && club && (
          <div className="bar-units">
            <Pick
              hideLabel
              label={commonWords('club')}
              value={clubKey(club)}
              options={season.clubs.map((c) => ({
                value: clubKey(c),
                label: `${clubWords(c.club)} (${c.shots})`,
              }))}
              onChange={setChosen}
            />
          </div>
        )}
      </header>
      <StudentWords value={isForStudent && season ? season.student.language : null}>
        <main className="screen-body season">
          {!season && (
            <p className="soft" role="status">
              {seasonWords('beingComputed')}
            </p>
          )}
          {season && !club && (
            <div className="empty">
              <h2>{seasonWords('noNumbersYet')}</h2>
              <p className="soft">{seasonWords('addShotRecords')}</p>
            </div>
          )}
          {season && club && <ClubSeason club={club} units={season.units} />}
          {season && club && <KeptBefore club={club} />}
          <Stills studentId={studentId} />
          {season && <Plans lessons={season.lessons} club={club} />}
          {season && <Lessons lessons={season.lessons} club={club} units={season.units} />}
        </main>
      </StudentWords>
    </>
  )
}

const clubKey = (club: SeasonClub) => club.club ?? 'none'

function ClubSeason({ club, units }: { club: SeasonClub; units: UnitSystem }) {
  const metrics = club.report.metrics.filter((m) => m.levels.some((l) => l.centre !== null))
  return (
    <>
      <section
        className="season-charts"
        aria-label={seasonWords('levelsWithClub', { club: clubWords(club.club) })}
      >
        {metrics.map((metric) => (
          <LevelPanel key={metric.metric} metric={metric} units={units} />
        ))}
      </section>
      <p className="fine soft season-key">
        {seasonWords('dots')}{' '}
        {metrics.some((m) => m.levels.some((l) => l.shrunken !== null)) && seasonWords('line')}
      </p>
      <section className="season-findings">
        <h2>{seasonWords('whatSeasonSays')}</h2>
        <SaidTexts findings={club.findings} />
      </section>
    </>
  )
}

function LevelPanel({
  metric,
  units,
}: {
  metric: SeasonClub['report']['metrics'][number]
  units: UnitSystem
}) {
  const options = useMemo(() => levelChart(metric, units), [metric, units])
  return (
    <div className="panel">
      <Chart options={options} text={levelWords(metric, units)} height={190} />
    </div>
  )
}

/** What the lessons before the latest kept of the gain of the one before them; the latest is among the findings above. */
function KeptBefore({ club }: { club: SeasonClub }) {
  const before = club.kept.slice(1)
  if (before.length === 0) return null
  return (
    <section className="season-plans">
      <h2>{seasonWords('keptEarlier')}</h2>
      {before.map((kept, place) => (
        <details key={kept.shownOn} className="panel" open={place === 0}>
          <summary>
            {seasonWords('keptOf', {
              shownOn: dateText(kept.shownOn),
              gainedOn: dateText(kept.gainedOn),
            })}
          </summary>
          <div className="season-findings">
            <SaidTexts findings={kept.findings} />
          </div>
        </details>
      ))}
    </section>
  )
}

/** What was to be practised, how it went in the student's words, and what the next lesson showed. */
function Plans({ lessons, club }: { lessons: SeasonLesson[]; club: SeasonClub | null }) {
  const planned = lessons.filter((l) => l.plan !== null).toReversed()
  if (planned.length === 0) return null
  return (
    <section className="season-plans">
      <h2>{seasonWords('plansAndAfter')}</h2>
      {planned.map((lesson, place) => (
        <details key={lesson.id} className="panel" open={place === 0}>
          <summary>
            {dateText(lesson.date)}: {lesson.plan!.items.join(', ') || lesson.plan!.note}
          </summary>
          <p className={lesson.plan!.outcome ? '' : 'soft'}>
            {lesson.plan!.outcome
              ? seasonWords('outcome', { outcome: lesson.plan!.outcome })
              : seasonWords('noOutcome')}
          </p>
          <div className="season-findings">
            <PlanResults club={club} date={lesson.date} />
          </div>
        </details>
      ))}
    </section>
  )
}

function PlanResults({ club, date }: { club: SeasonClub | null; date: string }) {
  const result = club?.plans.find((plan) => plan.plannedOn === date)
  if (!club || !result) {
    return (
      <p className="soft fine">
        {seasonWords('noNumbersToHold', { club: club ? clubWords(club.club) : seasonWords('sameClub') })}
      </p>
    )
  }
  return <SaidTexts findings={result.findings} />
}

/** The same numbers as the charts, as a table, with the way to each lesson. */
function Lessons(props: { lessons: SeasonLesson[]; club: SeasonClub | null; units: UnitSystem }) {
  const { lessons, club, units } = props
  const metrics = club?.report.metrics ?? []
  const levels = new Map(metrics.map((m) => [m.metric, new Map(m.levels.map((l) => [l.date, l]))]))
  return (
    <section className="season-lessons">
      <h2>{seasonWords('lessons')}</h2>
      <div className="scroll-x">
        <table>
          <thead>
            <tr>
              <th scope="col">{commonWords('lesson')}</th>
              {metrics.map((m) => (
                <th scope="col" key={m.metric} className="number">
                  {metricLabel(m.metric)}
                </th>
              ))}
              <th scope="col">{seasonWords('planUntilNext')}</th>
            </tr>
          </thead>
          <tbody>
            {lessons.toReversed().map((lesson) => (
              <tr key={lesson.id}>
                <td>
                  <Action
                    small
                    tone="plain"
                    label={dateText(lesson.date)}
                    onPress={() => goTo({ name: 'desk', lessonId: lesson.id })}
                  />
                  <span className="soft">{lesson.title}</span>
                </td>
                {metrics.map((m) => (
                  <td key={m.metric} className="number">
                    {metricText(m.metric, levels.get(m.metric)?.get(lesson.date)?.centre ?? null, units)}
                  </td>
                ))}
                <td>
                  {lesson.plan ? (
                    lesson.plan.items.join(', ')
                  ) : (
                    <span className="soft">{seasonWords('none')}</span>
                  )}
                  {lesson.plan?.outcome && <span className="soft"> · {lesson.plan.outcome}</span>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  )
}
