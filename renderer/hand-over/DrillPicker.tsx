import { Pencil, Plus } from 'lucide-react'
import { useState } from 'react'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { useDesk } from '../store/desk-store.ts'
import { CoachThumb } from './CoachPicture.tsx'
import { closeComposerDialog, openComposerDialog, useComposer } from './composer-store.ts'
import { drillsForLesson, itemOfDrill, type OfferedDrill } from './plan-edits.ts'
import { takeItems } from './take-items.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** The coach's drills, those first that serve this lesson. */
export function DrillPicker({ lesson }: { lesson: OpenLesson }) {
  const drills = useComposer((s) => s.drills)
  const plan = useComposer((s) => s.plan)!
  const cueKinds = useDesk((s) => s.cueKinds)
  const report = useComposer((s) => s.report)
  const [search, setSearch] = useState('')
  const wanted = search.trim().toLowerCase()
  const offered = drillsForLesson({
    drills,
    lesson,
    cueKinds,
    findings: report && 'findings' in report ? report.findings : [],
  }).filter(({ drill }) =>
    [drill.name, drill.purpose, drill.how].some((text) => text.toLowerCase().includes(wanted)),
  )
  const serving = offered.filter((o) => o.serves.length > 0)
  const rest = offered.filter((o) => o.serves.length === 0)
  const chosen = new Set(plan.items.map((i) => i.drillId))
  const list = (title: string, some: OfferedDrill[]) =>
    some.length > 0 && (
      <section className="column" aria-label={title}>
        <h3>{title}</h3>
        <ul className="composer-list">
          {some.map((o) => (
            <li key={o.drill.id} className="composer-card">
              <OfferedEntry offered={o} isIn={chosen.has(o.drill.id)} lesson={lesson} />
            </li>
          ))}
        </ul>
      </section>
    )
  return (
    <Window
      wide
      title={handOverWords('chooseDrill')}
      onClose={closeComposerDialog}
      foot={
        <>
          <Action
            withLabel
            icon={<Plus size={16} />}
            label={handOverWords('writeNewDrill')}
            onPress={() => openComposerDialog({ name: 'drill', drill: null })}
          />
          <span className="push" />
          <Action label={commonWords('close')} onPress={closeComposerDialog} />
        </>
      }
    >
      <input
        className="input"
        type="search"
        aria-label={handOverWords('searchDrills')}
        placeholder={handOverWords('searchHint')}
        value={search}
        onChange={(event) => setSearch(event.target.value)}
      />
      {list(handOverWords('forThisLesson'), serving)}
      {list(serving.length > 0 ? handOverWords('yourOtherDrills') : handOverWords('yourDrills'), rest)}
      {offered.length === 0 && (
        <p className="soft">
          {drills.length === 0 ? handOverWords('noDrillsYet') : handOverWords('noneFound')}
        </p>
      )}
    </Window>
  )
}

function OfferedEntry(props: { offered: OfferedDrill; isIn: boolean; lesson: OpenLesson }) {
  const { offered, isIn, lesson } = props
  const { drill, serves } = offered
  return (
    <>
      <div className="row row-wrap">
        <h4>{drill.name}</h4>
        {drill.isLoading && <span className="badge badge-ask">{handOverWords('loadsBody')}</span>}
        {isIn && <span className="badge badge-lead">{handOverWords('inPlan')}</span>}
        <span className="push" />
        <Action
          small
          tone="plain"
          icon={<Pencil size={14} />}
          label={handOverWords('editName', { name: drill.name })}
          onPress={() => openComposerDialog({ name: 'drill', drill })}
        />
        <Action
          small
          withLabel
          icon={<Plus size={14} />}
          label={handOverWords('takeInName', { name: drill.name })}
          onPress={() => takeItems([itemOfDrill(drill)], lesson.student)}
        />
      </div>
      <CoachThumb pictureId={drill.pictureId} alt="" />
      {drill.purpose && <p>{drill.purpose}</p>}
      {serves.length > 0 && (
        <p className="fine drill-serves">{handOverWords('serves', { serves: serves.join(' · ') })}</p>
      )}
      {drill.dose && <p className="soft fine">{drill.dose}</p>}
    </>
  )
}
