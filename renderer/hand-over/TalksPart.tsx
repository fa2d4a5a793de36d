import { Trash2 } from 'lucide-react'
import { useState } from 'react'
import type { TalkThrough } from '../../shared-core/model/hand-over.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { problemPlaces } from '../parts/problem-places.ts'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { changeDraft, reloadTalks, useComposer } from './composer-store.ts'
import { toggleId } from './draft-edits.ts'
import { Part } from './Part.tsx'
import { useOpenJobs } from './use-open-jobs.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

const clock = (seconds: number) => {
  const whole = Math.round(seconds)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** Recorded talk-throughs of this lesson, and what is being made of a recording. */
export function TalksPart({ lessonId }: { lessonId: string }) {
  const talks = useComposer((s) => s.talks)
  const open = useOpenJobs('talk-through', lessonId, reloadTalks)
  return (
    <Part id="talks" title={handOverWords('talkthroughs')}>
      {talks.length === 0 && open.length === 0 && (
        <p className="soft">{handOverWords('noTalkYet', { keys: keysOf('talk') ?? '' })}</p>
      )}
      {open.map((job) =>
        job.state === 'failed' ? (
          <div key={job.id} className="note-box note-box-ask column" role="status">
            <p>
              {handOverWords('talkFailed', {
                label: job.label,
                ...problemPlaces(job.problem),
              })}
            </p>
            <div>
              <Action
                small
                label={commonWords('tryAgain')}
                onPress={() => void telling(ask('job.retry', { id: job.id }))}
              />
            </div>
          </div>
        ) : (
          <p key={job.id} className="soft" role="status">
            {handOverWords('talkBeingMade', {
              label: job.label,
              step: job.step || handOverWords('waiting'),
            })}
          </p>
        ),
      )}
      <ul className="composer-list">
        {talks.map((talk) => (
          <li key={talk.id} className="composer-card composer-row">
            <TalkEntry talk={talk} />
          </li>
        ))}
      </ul>
    </Part>
  )
}

function TalkEntry({ talk }: { talk: TalkThrough }) {
  const ids = useComposer((s) => s.draft!.talkThroughIds)
  const [asksToDelete, setAsks] = useState(false)
  const name = talk.name || commonWords('talkThrough')
  const choose = (isIn: boolean) =>
    changeDraft((d) => ({ ...d, talkThroughIds: toggleId(d.talkThroughIds, talk.id, isIn) }))
  const remove = async () => {
    if ((await telling(ask('talk.remove', { id: talk.id }))) === null) return
    choose(false)
    await reloadTalks(talk.lessonId)
  }
  return (
    <>
      <div className="row">
        <Check isOn={ids.includes(talk.id)} onChange={choose}>
          {name} <span className="soft fine">{clock(talk.durationSeconds)}</span>
        </Check>
        <span className="push" />
        <Action
          small
          tone="plain"
          icon={<Trash2 size={15} />}
          label={handOverWords('deleteNamed', { name })}
          onPress={() => setAsks(true)}
        />
      </div>
      {asksToDelete && (
        <div className="note-box note-box-ask row row-wrap" role="alert">
          <span>{handOverWords('deleteRecording')}</span>
          <Action small tone="wrong" label={handOverWords('yesDeleteIt')} onPress={() => void remove()} />
          <Action small label={handOverWords('keepIt')} onPress={() => setAsks(false)} />
        </div>
      )}
    </>
  )
}
