import { ChevronDown, ChevronRight, Plus, TriangleAlert, X } from 'lucide-react'
import { sayIn, standingCautions } from '../../shared-core/wording/say.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import type { PlanItem } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { CoachThumb } from './CoachPicture.tsx'
import { changeDraft, changePlan, openComposerDialog, useComposer } from './composer-store.ts'
import { moved } from './draft-edits.ts'
import { MoveButtons } from './MoveButtons.tsx'
import { Part } from './Part.tsx'
import { changeItem, loadingConcern, ownItem } from './plan-edits.ts'
import { Words } from './Words.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** What to do until next time: drills with doses and cautions. */
export function PlanPart({ lesson }: { lesson: OpenLesson }) {
  const plan = useComposer((s) => s.plan)!
  const withPlan = useComposer((s) => s.draft!.withPlan)
  return (
    <Part
      id="plan"
      title={handOverWords('practicePlan')}
      side={
        <Check isOn={withPlan} onChange={(on) => changeDraft((d) => ({ ...d, withPlan: on }))}>
          {handOverWords('inHandOver')}
        </Check>
      }
    >
      <LimitsNote lesson={lesson} />
      {plan.items.length === 0 && <p className="soft">{handOverWords('nothingToPractise')}</p>}
      <ol className="composer-list" aria-label={handOverWords('practicePlan')}>
        {plan.items.map((item, index) => (
          <li key={index} className="composer-card">
            <PlanEntry item={item} index={index} count={plan.items.length} lesson={lesson} />
          </li>
        ))}
      </ol>
      <div className="row row-wrap">
        <Action
          withLabel
          icon={<Plus size={16} />}
          label={handOverWords('chooseDrillNow')}
          onPress={() => openComposerDialog({ name: 'drills' })}
        />
        <Action
          tone="plain"
          label={handOverWords('addOwnItem')}
          onPress={() => {
            changePlan((p) => ({ ...p, items: [...p.items, ownItem] }))
            useComposer.setState({ openItem: plan.items.length })
          }}
        />
      </div>
      <Words
        lines={2}
        label={handOverWords('howToGoAboutIt')}
        placeholder={handOverWords('howToGoAboutItHint')}
        maxLength={8000}
        value={plan.note}
        onChange={(note) => changePlan((p) => ({ ...p, note }))}
      />
      <details className="fine standing">
        <summary>{handOverWords('standingCautions')}</summary>
        <ul>
          {standingCautions(sayIn('en')).map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </details>
    </Part>
  )
}

function LimitsNote({ lesson }: { lesson: OpenLesson }) {
  const concern = loadingConcern(lesson.student)
  if (!concern) return null
  return (
    <p className="note-box note-box-ask">
      {concern.limits && (
        <>{handOverWords('limitsOf', { name: lesson.student.name, limits: concern.limits })} </>
      )}
      {concern.isMinor && handOverWords('minorPractise', { name: lesson.student.name })}
    </p>
  )
}

function PlanEntry(props: { item: PlanItem; index: number; count: number; lesson: OpenLesson }) {
  const { item, index, count, lesson } = props
  const isOpen = useComposer((s) => s.openItem === index)
  const name = item.name || handOverWords('thisItem')
  const change = (patch: Partial<PlanItem>) => changePlan((p) => changeItem(p, index, patch))
  const move = (to: number) => {
    changePlan((p) => ({ ...p, items: moved(p.items, index, to) }))
    if (isOpen) useComposer.setState({ openItem: to })
  }
  const remove = () => {
    changePlan((p) => ({ ...p, items: p.items.filter((_, i) => i !== index) }))
    useComposer.setState({ openItem: null })
  }
  return (
    <>
      <div className="row">
        <Action
          small
          tone="plain"
          icon={isOpen ? <ChevronDown size={16} /> : <ChevronRight size={16} />}
          label={isOpen ? handOverWords('closeItem', { name }) : handOverWords('editName', { name })}
          onPress={() => useComposer.setState({ openItem: isOpen ? null : index })}
        />
        <h3 className="plan-name">{item.name || <span className="soft">{handOverWords('ownItem')}</span>}</h3>
        {item.isLoading && <span className="badge badge-ask">{handOverWords('loadsBody')}</span>}
        <span className="push" />
        <span className="row tight">
          <MoveButtons what={name} index={index} count={count} onMove={move} />
          <Action
            small
            tone="plain"
            icon={<X size={15} />}
            label={handOverWords('takeItemOut', { name })}
            onPress={remove}
          />
        </span>
      </div>
      {isOpen ? (
        <div className="column indented">
          {item.drillId === null && (
            <Words
              label={commonWords('name')}
              placeholder={handOverWords('ownItemHint')}
              maxLength={200}
              value={item.name}
              onChange={(text) => change({ name: text })}
            />
          )}
          <Words
            lines={2}
            label={handOverWords('how')}
            maxLength={8000}
            value={item.how}
            onChange={(how) => change({ how })}
          />
          <Words
            label={handOverWords('dose')}
            maxLength={1000}
            value={item.dose}
            onChange={(dose) => change({ dose })}
          />
          <Words
            lines={2}
            label={handOverWords('watchFor')}
            maxLength={2000}
            value={item.watchFor}
            onChange={(watchFor) => change({ watchFor })}
          />
          <Words
            lines={2}
            label={handOverWords('caution')}
            maxLength={2000}
            value={item.caution}
            onChange={(caution) => change({ caution })}
          />
          {item.drillId === null && (
            <Check
              isOn={item.isLoading}
              onChange={(isLoading) => {
                if (isLoading && loadingConcern(lesson.student)) {
                  openComposerDialog({ name: 'loading', items: [item], index })
                } else change({ isLoading })
              }}
            >
              {handOverWords('loadsBodyItem')}
            </Check>
          )}
        </div>
      ) : (
        <div className="indented column snug">
          <CoachThumb pictureId={item.pictureId} alt={handOverWords('looksLike', { name })} />
          {item.dose && <p>{item.dose}</p>}
          {item.watchFor && (
            <p className="soft fine">{handOverWords('watchForThis', { watchFor: item.watchFor })}</p>
          )}
          {item.isLoading && item.caution && (
            <p className="fine plan-caution">
              <TriangleAlert size={14} aria-hidden />
              <span>{item.caution}</span>
            </p>
          )}
        </div>
      )}
      {item.isLoading && item.despite && <DespiteNote despite={item.despite} />}
    </>
  )
}

/** For the coach only: the page does not say it. */
function DespiteNote({ despite }: { despite: NonNullable<PlanItem['despite']> }) {
  const knew = [despite.isMinor ? handOverWords('aMinor') : '', despite.limits].filter(Boolean).join('; ')
  return (
    <p className="soft fine indented">
      {handOverWords('tookInKnowing', {
        day: new Date(despite.at).toLocaleDateString(undefined, { dateStyle: 'medium' }),
        knew,
      })}
    </p>
  )
}
