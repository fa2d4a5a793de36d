import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { Choice } from '../parts/Choice.tsx'
import { dateText } from '../roster/LessonRow.tsx'
import { goTo } from '../store/app-store.ts'
import { ask, bridge, mediaUrl } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { seasonWords } from '../../shared-core/wording/window/season.ts'

type StillOfSeason = CallOutput<'season.stills'>[number]

/** One kind of still picture over the lessons, the grip first: a row by date. */
export function Stills({ studentId }: { studentId: string }) {
  const [stills, setStills] = useState<StillOfSeason[]>([])
  const [chosen, setChosen] = useState<string | null>(null)
  useEffect(() => {
    const load = () =>
      void telling(ask('season.stills', { studentId })).then((answer) => answer && setStills(answer))
    load()
    return bridge().on('roster.changed', load)
  }, [studentId])
  const kinds = [...new Set(stills.map((s) => s.kind))].sort(
    (a, b) => Number(b === 'grip') - Number(a === 'grip') || a.localeCompare(b),
  )
  const kind = chosen !== null && kinds.includes(chosen) ? chosen : kinds[0]
  if (kind === undefined) return null
  return (
    <section className="season-stills" aria-label={seasonWords('picturesOverTime')}>
      <div className="row">
        <h2>{seasonWords('picturesOverTime')}</h2>
        {kinds.length > 1 && (
          <Choice
            small
            label={seasonWords('whatPicturesShow')}
            value={kind}
            options={kinds.slice(0, 5).map((value) => ({ value, label: value }))}
            onChange={setChosen}
          />
        )}
      </div>
      <ul>
        {stills
          .filter((s) => s.kind === kind)
          .map((still) => (
            <li key={still.clipId}>
              <button type="button" onClick={() => goTo({ name: 'desk', lessonId: still.lessonId })}>
                <img
                  src={mediaUrl(still.clipId, 'poster')}
                  alt={seasonWords('openStill', { kind, date: dateText(still.date) })}
                  loading="lazy"
                />
                <span className="fine">{dateText(still.date)}</span>
              </button>
            </li>
          ))}
      </ul>
    </section>
  )
}
